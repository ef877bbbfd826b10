"""Bench drawings: a plan drawn as the stator lies on the bench, from the plan alone."""
