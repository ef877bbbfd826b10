"""Panels of the first run and the service."""
