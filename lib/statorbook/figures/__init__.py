"""Figures: functions that draw on given axes and return them."""
