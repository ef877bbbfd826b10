"""How many more readings would halve the ± of a constant, at what speed, and when none would."""

from math import hypot, sqrt

import numpy as np

from statorbook.cautions import SPUN, STILL, Exposure, Instruction
from statorbook.errors import count_of
from statorbook.fits.line import students_t

_MOST_ROWS = 200
_NEARLY_FULL = 0.9
_HOT = (*SPUN, Exposure.HEAT)
# By log: where more readings are best taken, what else would help, what a row exposes to.
_WHERE = {
    "spin": (
        "near the highest speed that is safe with the meter clipped on, where its last digit counts least",
        Instruction("Take a volt meter of a better class.", SPUN),
        SPUN,
    ),
    "ohms": (
        "on all three pairs, probes pressed hard on bright copper",
        Instruction(
            "Instead of a plain ohm range take a known current of about 1 A and the volts across the leads.",
            (Exposure.STANDING, Exposure.SUPPLY),
        ),
        STILL,
    ),
}


def rows_to_halve(rows, plus_minus_share, class_share):
    """Rows to add so that the ± is half of what it is; None when no number of rows is enough."""
    # random = √(±² − class²); wanted √((± / 2)² − class²); random ∝ t(0.975, n − 1) / √n: JCGM 100:2008 (GUM), 4.2 and
    # G.3 (from memory). Valid: rows as good as those at hand, each with the same relative error.
    wanted = (plus_minus_share / 2.0) ** 2 - class_share**2
    have = plus_minus_share**2 - class_share**2
    if wanted <= 0.0 or have <= 0.0 or rows < 2:
        return None
    per_row = sqrt(have) * sqrt(rows) / students_t(0.975, rows - 1)
    for total in range(rows + 1, rows + _MOST_ROWS + 1):
        if per_row * students_t(0.975, total - 1) / sqrt(total) <= sqrt(wanted):
            return total - rows
    return None


def more_rows_words(log, fit, class_share, where=""):
    """Say what would halve the ± of a fit.

    Parameters
    ----------
    log : str
        "spin" or "ohms".
    fit : Fit
        The fit.
    class_share : float
        The part of its ± that all rows share, over the value [-].
    where : str
        At what speed, in words, when the rows tell; the usual advice when empty.

    Returns
    -------
    Instruction
        A sentence.
    """
    usual, better, exposures = _WHERE[log]
    where = where or usual
    rows = len(fit.used_rows)
    if rows < 2:
        return Instruction(f"One more row, {where}, tells how far the readings scatter.", exposures)
    more = rows_to_halve(rows, fit.estimate.plus_minus / fit.estimate.value, class_share)
    if more is None:
        return better.within("More rows would not halve the ±: the meter's own error, the same in every row, sets it. ")
    words = f"About {count_of(more, 'more row')}, {where}, would halve the ±."
    return Instruction(words, exposures)


def spin_where(readings, used_rows):
    """At what speed a further spin row counts, by the real weights of the rows at hand.

    Parameters
    ----------
    readings : sequence of SpinReading
        The spin log.
    used_rows : sequence of int
        Row numbers that the fit uses [-].

    Returns
    -------
    str
        Words for a sentence; empty without a row.

    Notes
    -----
    Equation: what a row tells about the slope = (n / σ)², against the best row; 0.9 of it counts as nearly full.
    Valid: sigmas right.
    Source: weight of a point in weighted least squares, Draper and Smith (from memory).
    """
    used = sorted((r for r in readings if r.row in used_rows), key=lambda r: r.speed_rpm)
    if not used:
        return ""
    worth = np.array([(r.speed_rpm / r.star_emf_sigma_v) ** 2 for r in used])
    weak = np.flatnonzero(worth < _NEARLY_FULL * np.max(worth))
    if not len(weak):
        return f"at any speed from {used[0].speed_rpm:.0f} rpm up, since all such rows are worth nearly the same"
    if weak[-1] == len(used) - 1:  # the fastest rows are the weak ones
        best = used[int(np.argmax(worth))]
        return f"near {best.speed_rpm:.0f} rpm, where a row is worth most"
    return (
        f"at {used[weak[-1] + 1].speed_rpm:.0f} rpm or faster if that is safe with the meter clipped on; a row at "
        f"{used[0].speed_rpm:.0f} rpm is worth {100 * worth[0] / np.max(worth):.0f} % of one there"
    )


def more_shorted_words(rows, fit):
    """Say what would halve the ± of the inductance, and at which speed a row is worth the most.

    Parameters
    ----------
    rows : ShortedRows
        All usable rows.
    fit : Fit
        From `fit_inductance`.

    Returns
    -------
    Instruction
        A sentence or two.
    """
    kept = [i for i, r in enumerate(rows.readings) if r.row in fit.used_rows]
    if len(kept) < 2:
        return Instruction("One more row, as fast as the leads stay cool, tells how far the readings scatter.", _HOT)
    slow, fast = min(kept, key=lambda i: rows.rpm[i]), max(kept, key=lambda i: rows.rpm[i])
    worth = row_worth(rows)
    said = (
        f"A row at {rows.rpm[fast]:.0f} rpm is worth {worth[fast] / worth[slow]:.1f} times as much for the "
        f"inductance as one at {rows.rpm[slow]:.0f} rpm."
    )
    more = shorted_rows_to_halve(rows, kept, fit.estimate)
    if more is None:
        said += " More rows would not halve the ±: EMF, ohms and the class of the clamp meter set it."
    else:
        said += f" About {count_of(more, 'more row')} there, seconds only, would halve the ±."
    return Instruction(said, _HOT)


def row_worth(rows):
    """What each shorted row tells about the inductance, in a unit of its own."""
    # (ω² / σ)² of the line (ωL)² = L² ω², σ = 2 Z² × share of the amps: it rises as (ωL / Z)⁴ and levels off.
    # Weight of a point in weighted least squares, Draper and Smith (from memory).
    # Valid: amps read with the same share of error at every speed.
    return (rows.omega_squared / rows.excess()[1]) ** 2


def shorted_rows_to_halve(rows, kept, henry):
    """Rows to add at the fastest speed so that the ± of the inductance halves; None when no number is enough."""
    # Random part ∝ t(0.975, n − 1) / √(Σ weights); the part from EMF, ohms and meter class stays: JCGM 100:2008 (GUM),
    # 4.2 and G.3 (from memory). Valid: further rows as good as the fastest one at hand.
    middle = sqrt(max(rows.line(kept).value, 0.0))
    moved = (sqrt(max(rows.line(kept, **shift).value, 0.0)) - middle for shift in rows.shared_shifts)
    shared, wanted = hypot(*moved), henry.plus_minus / 2.0
    if wanted <= shared:
        return None
    worth, count = row_worth(rows)[list(kept)], len(kept)
    fastest, total = worth[int(np.argmax(rows.rpm[list(kept)]))], np.sum(worth)
    random = sqrt(max(henry.plus_minus**2 - shared**2, 0.0)) / students_t(0.975, count - 1)
    for more in range(1, _MOST_ROWS + 1):
        left = random * students_t(0.975, count + more - 1) * sqrt(total / (total + more * fastest))
        if hypot(left, shared) <= wanted:
            return more
    return None
