"""Bench drawings: a plan drawn as the stator lies on the bench, from the plan alone."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__, submod_attrs={"bench_drawing": ["BenchDrawing"], "stator_ring": ["StatorRing"]}
)
