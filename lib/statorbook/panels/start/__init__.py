"""Panels of the start page."""
