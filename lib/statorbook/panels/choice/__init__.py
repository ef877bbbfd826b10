"""Panels of the bank and the grouping."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "bank": ["BankPanel"],
        "follow_bank": ["ChooseForBank"],
        "groupings": ["written_words"],
        "other_ways": ["OtherWaysPanel"],
        "settle": ["SettlePanel"],
    },
)
