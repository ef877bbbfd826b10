"""The year of a job's source: one module a kind of drive, put together in `part`."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(__name__, submod_attrs={"part": ["YearPart"]})
