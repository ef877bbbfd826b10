"""The battery bank: its volts and its resistance."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "battery": ["Bank", "BankState", "cells_for", "chemistries"],
        "short_circuit": ["ShortCircuit", "short_circuit"],
        "ventilation": ["ventilation"],
    },
)
