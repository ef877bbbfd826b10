"""Stator, coils, groupings, how ends are tied, and what the leads show."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "coil": ["CoilConstants", "StarEquivalent"],
        "derivations": ["regrouped", "third_round_delta", "tooth_coil_factors", "warm_factors"],
        "grouping": ["Grouping"],
        "stator": ["Stator", "workable_counts_near"],
        "temperature": ["magnet_factor", "resistance_factor"],
        "third_harmonic": ["OpenCorner", "circulating"],
        "winding": ["Winding", "coil_from_star"],
        "wire": ["wire_area_mm2"],
        "wire_names": ["naming_words"],
        "wiring": [
            "CoilEnd",
            "PHASES",
            "STAR_POINT",
            "Wiring",
            "angle_class",
            "ends_in_order",
            "found_from_words",
            "found_wiring",
        ],
    },
)
