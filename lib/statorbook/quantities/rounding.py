"""Numbers rounded to two figures to the safe side: up for what must be reached, down for what must not be passed."""

from math import ceil, floor, log10

_HAIR = 1e-12  # a number that has two figures already keeps them in spite of its last bit


def rounded_up(value):
    """Round up to two figures, as for a shopping list.

    Parameters
    ----------
    value : float
        A number above 0; others go up to a whole one [-].

    Returns
    -------
    float
        Never below it [-].
    """
    step = _step(value)
    return float(f"{ceil(value / step * (1.0 - _HAIR)) * step:.3g}")


def rounded_down(value):
    """Round down to two figures, for what may be at most so much.

    Parameters
    ----------
    value : float
        A number above 0; others go down to a whole one [-].

    Returns
    -------
    float
        Never above it [-].
    """
    step = _step(value)
    return float(f"{floor(value / step * (1.0 + _HAIR)) * step:.3g}")


def _step(value):
    """What the second figure counts."""
    return 10.0 ** (floor(log10(value)) - 1) if value > 0.0 else 1.0
