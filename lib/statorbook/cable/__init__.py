"""Cable: sizes, ohms, and what it carries."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "adiabatic": ["SHORT_CIRCUIT_C", "adiabatic_constant", "short_circuit_area_mm2"],
        "ampacity": ["INSULATIONS", "IN_CONDUIT", "PVC", "WAYS_LAID", "carried_amps"],
        "derivations": ["short_circuit_heating"],
        "ohms": ["FINE", "STRANDS", "WARM_C", "cable_ohm"],
        "sizes": ["CONTINUOUS", "size_name", "sold_mm2"],
    },
)
