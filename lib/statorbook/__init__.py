"""Workbook library: from a measured salvaged stator to a coil grouping for a battery bank."""

__version__ = "0.1.0"
