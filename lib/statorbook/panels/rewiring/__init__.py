"""Panels of cuts, joins and meter checks."""
