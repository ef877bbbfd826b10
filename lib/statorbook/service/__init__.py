"""Bearings, hours and due dates."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "due_dates": ["STOP", "due_items", "findings"],
        "life": ["SIZES", "l10_hours"],
        "rows": ["WORDS", "read_service"],
        "words": ["life_words", "limit_words"],
    },
)
