"""The invented jobs."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(__name__, submod_attrs={"jobs": ["raw_rows", "write"]})
