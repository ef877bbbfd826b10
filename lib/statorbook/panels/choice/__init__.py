"""Panels of the bank and the grouping."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "accepted_volts": ["AcceptedVolts"],
        "bank": ["BankPanel"],
        "follow_bank": ["ChooseForBank"],
        "grouping_slider": ["GroupingSlider"],
        "groupings": ["written_words"],
        "other_ways": ["OtherWaysPanel"],
        "settle": ["SettlePanel"],
    },
)
