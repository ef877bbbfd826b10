"""Drawings: a plan as the stator lies on the bench, a plant as a single line."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "bench_drawing": ["BenchDrawing"],
        "control_wiring": ["ControlWiring"],
        "single_line": ["SingleLine"],
        "stator_ring": ["StatorRing"],
    },
)
