"""Numbers with unit, ± and source, and what a person types."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "cells": [
            "TypedNumber",
            "cell_text",
            "day_of",
            "days_meant",
            "holds_anything",
            "tidy_day",
            "typed_day",
            "typed_number",
            "typed_word",
        ],
        "estimate": ["Estimate", "NORMAL_95"],
        "facts": [
            "BRAKE_OVERSHOOT",
            "CHEAP_METER_HZ",
            "CONDUCTORS",
            "COPPER_OHM_MM2_PER_M",
            "DIODE_DROP_V",
            "DRY_AC_VOLTS",
            "DRY_DC_VOLTS",
            "ELV_AC_VOLTS",
            "ELV_DC_VOLTS",
            "FURLING_OVERSHOOT",
            "Fact",
            "GRAVITY_M_PER_S2",
            "LV_AC_VOLTS",
            "LV_DC_VOLTS",
            "MAGNETS",
            "METER_DIODE_DROP_V",
            "TIP_M_S",
            "WATER_KG_PER_M3",
            "WET_AC_VOLTS",
            "WET_DC_VOLTS",
            "ZERO_SEQUENCE_SHARE",
        ],
        "turning": ["RAD_S_PER_RPM"],
        "typed_quantity": ["awg_diameter_mm", "parse_count", "parse_quantity", "usual_units"],
        "unit_systems": ["SYSTEMS", "from_shown", "retold", "say", "shown_unit", "to_shown"],
    },
)
