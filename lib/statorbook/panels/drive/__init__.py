"""Panels of what turns the machine."""
