"""Panels of what turns the machine."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__, submod_attrs={"drag_log": ["CoastPanel", "DrillPanel"], "drive": ["DrivePanel"]}
)
