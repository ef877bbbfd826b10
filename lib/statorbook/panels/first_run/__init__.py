"""Panels of the first run and the service."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__, submod_attrs={"first_run": ["FirstRunPanel"], "service": ["ServicePanel"]}
)
