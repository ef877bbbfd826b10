"""Turning speed: from revolutions a minute to radians a second."""

from math import pi

RAD_S_PER_RPM = 2.0 * pi / 60.0  # definition
