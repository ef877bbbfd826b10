"""Bearings, hours and due dates."""
