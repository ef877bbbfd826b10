"""From readings to constants with their ±; readings that do not belong; whether the models hold."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "checks_by_log": ["log_checks", "shorted_rows_of"],
        "coil_survey": ["Survey", "fit_survey"],
        "constants": ["coil_estimates", "terminal_constants", "warmth_words"],
        "derivations": ["henry_share", "ohm_share", "slope_share", "weighted_line"],
        "drag": ["INERTIA_SHARE", "fit_coast", "fit_drill"],
        "emf": ["fit_emf"],
        "fit": ["Fit", "unusable_words"],
        "inertia": ["inertia_from_coast"],
        "inductance": ["assumed_inductance"],
        "inductance_other_ways": ["combined", "from_lcr", "from_load", "from_resistors"],
        "meter_limit": ["volts_limit"],
        "model_checks": ["ohms_checks", "session_warnings", "spin_checks"],
        "more_readings": ["more_rows_words", "more_shorted_words", "spin_where"],
        "odd_rows": ["beyond_luck", "odd_among", "odd_row"],
        "ohms": ["fit_ohms"],
        "pair_balance": ["BALANCE_SHARE"],
        "shorted_model": ["shorted_checks"],
    },
)
