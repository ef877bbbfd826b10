"""Panels of the bank and the grouping."""
