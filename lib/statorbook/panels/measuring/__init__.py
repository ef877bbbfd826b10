"""Panels of the stator, the logs and the constants."""
