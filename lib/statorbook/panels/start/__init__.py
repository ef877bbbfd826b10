"""Panels of the start page."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "job_care": ["JobCare"],
        "job_units": ["UnitsPanel"],
        "quick": ["QuickPanel"],
        "start": ["StartPanel"],
        "units_choice": ["UnitsChoice"],
    },
)
