"""Panels of the stator, the logs and the constants."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "coil_constants": ["CoilPanel", "describe_coil"],
        "coil_survey": ["CoilSurveyPanel"],
        "inductance_ways": ["InductanceWaysPanel"],
        "meters": ["MetersPanel"],
        "model_checks": ["ModelChecksPanel"],
        "ohms_log": ["OhmsPanel", "describe_ohms"],
        "spin_log": ["ShortedPanel", "SpinPanel"],
        "stator_facts": ["StatorPanel", "describe_stator"],
    },
)
