"""Panels of cuts, joins and meter checks."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(__name__, submod_attrs={"cut_and_join": ["CutPanel"]})
