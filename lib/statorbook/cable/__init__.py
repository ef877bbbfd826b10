"""Cable: sizes, ohms, and what it carries."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "adiabatic": ["SHORT_CIRCUIT_C", "adiabatic_constant", "short_circuit_area_mm2"],
        "sizes": ["CABLE_AWG", "CABLE_MM2", "CONTINUOUS", "cable_ohm", "carried_amps"],
    },
)
