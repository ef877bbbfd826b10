"""The plan of cuts and joins, its steps, and the circuit coil by coil."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "circuit": ["coil_values", "finished", "paths_alone"],
        "joining_limit": ["ParallelLimit", "parallel_limit"],
        "path_balance": ["circulating_amps", "survey_path_differences"],
        "plan": [
            "JUMPER_ALLOWANCE_MM",
            "JUMPER_A_PER_MM2",
            "LAYOUTS",
            "Plan",
            "WIRE_SIZES_MM2",
            "cut_and_join",
            "wire_mm2",
        ],
        "probes": ["LEAD_PAIRS", "probes_of"],
        "work_steps": ["steps"],
    },
)
