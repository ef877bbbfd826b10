"""Which single fault explains the readings, and the next best reading."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__, submod_attrs={"finder": ["Measured", "find_faults"], "table": ["place_named", "places_to_measure"]}
)
