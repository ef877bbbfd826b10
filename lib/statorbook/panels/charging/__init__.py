"""Panels of chapter 07: where the power goes when the bank is full, and the controller that sends it there."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "check": ["CheckPanel"],
        "contacts": ["ContactsPanel"],
        "days": ["DaysPanel"],
        "dump": ["DumpPanel"],
        "house": ["HousePanel"],
        "page": ["ChargingPage"],
        "points": ["SetPointsPanel"],
        "program": ["ProgramPanel"],
        "rules": ["RulesPanel"],
    },
)
