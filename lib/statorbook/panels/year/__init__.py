"""Panels of the source over a year and of what may stand between machine and bank."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "converter": ["BetweenOverYear"],
        "groupings_over_year": ["AddedUp"],
        "need": ["NeedOverYear"],
        "pays": ["PaysOverYear"],
        "switching": ["SwitchingOverYear"],
        "year_source": ["YearSourcePanel"],
    },
)
