"""How many more readings would halve the ± of a constant, and when none would."""

from math import sqrt

from statorbook.fit_line import students_t

_MOST_ROWS = 200
# Where more readings are best taken, and what else would help, by the log that they belong to.
_WHERE = {
    "spin": (
        "near the highest speed that is safe with the meter clipped on, where its last digit counts least",
        "Take a volt meter of a better class.",
    ),
    "ohms": (
        "on all three pairs, probes pressed hard on bright copper",
        "Instead of a plain ohm range take a known current of about 1 A and the volts across the leads.",
    ),
}


def rows_to_halve(rows, plus_minus_share, class_share):
    """Rows to add so that the ± is half of what it is.

    Parameters
    ----------
    rows : int
        Rows used so far, two or more [-].
    plus_minus_share : float
        95 % half-width over the value [-].
    class_share : float
        The part of it that all rows share, such as the meter's class [-].

    Returns
    -------
    int or None
        Rows to add; None when no number of rows is enough [-].

    Notes
    -----
    Equation: random = √(±² − class²); wanted √((± / 2)² − class²); random ∝ t(0.975, n − 1) / √n.
    Valid: rows as good as those at hand, each with the same relative error.
    Source: JCGM 100:2008 (GUM), 4.2 and G.3 (from memory).
    """
    wanted = (plus_minus_share / 2.0) ** 2 - class_share**2
    have = plus_minus_share**2 - class_share**2
    if wanted <= 0.0 or have <= 0.0 or rows < 2:
        return None
    per_row = sqrt(have) * sqrt(rows) / students_t(0.975, rows - 1)
    for total in range(rows + 1, rows + _MOST_ROWS + 1):
        if per_row * students_t(0.975, total - 1) / sqrt(total) <= sqrt(wanted):
            return total - rows
    return None


def more_rows_words(log, fit, class_share):
    """Say what would halve the ± of a fit.

    Parameters
    ----------
    log : str
        "spin" or "ohms".
    fit : Fit
        The fit.
    class_share : float
        The part of its ± that all rows share, over the value [-].

    Returns
    -------
    str
        A sentence.
    """
    where, better = _WHERE[log]
    rows = len(fit.used_rows)
    if rows < 2:
        return f"One more row, {where}, tells how far the readings scatter."
    more = rows_to_halve(rows, fit.estimate.plus_minus / fit.estimate.value, class_share)
    if more is None:
        return f"More rows would not halve the ±: what all rows share sets it. {better}"
    return f"About {more} more {'row' if more == 1 else 'rows'}, {where}, would halve the ±."
