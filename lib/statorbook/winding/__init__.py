"""Stator, coils, groupings, how ends are tied, and what the leads show."""
