"""The battery bank: its volts, its resistance, what it drives through a spanner, and the air that it needs."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "battery": ["Bank", "BankState", "cells_for", "chemistries"],
        "cell_model": [
            "amps_at_once",
            "bank_amps",
            "bank_table",
            "next_slow_volts",
            "rest_volts_of",
            "slow_wh",
            "stored_at_once",
            "stored_wh",
        ],
        "short_circuit": ["ShortCircuit", "short_circuit"],
        "tables": ["table_facts"],
        "ventilation": ["ventilation"],
    },
)
