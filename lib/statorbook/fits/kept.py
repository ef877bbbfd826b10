"""Fits kept by what they were worked out from: the panels of a page ask for the same one, one after the other."""

from functools import lru_cache, wraps

from statorbook.quantities import hashable, units_now

_MOST = 8  # more than the panels of a page ask for between two changes


def kept_fit(fit):
    """A fit that is worked out once for the same readings and options; what it says is in the reader's units."""

    @lru_cache(maxsize=_MOST)
    def made(units, *given, **how):
        return fit(*given, **how)

    @wraps(fit)
    def once(*given, **how):
        return made(units_now(), *hashable(*given), **how)

    return once
