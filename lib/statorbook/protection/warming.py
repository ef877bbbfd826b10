"""How fast a winding warms under given amps, and where it settles: loss, cooling and the heat that its wire takes."""

from dataclasses import dataclass
from math import inf, nan

import numpy as np

from statorbook.cable import adiabatic_constant
from statorbook.winding import wire_area_mm2

HOTTEST_C = 200.0  # what is known of copper's ohms ends here, and so does every enamel
_STEPS = 120


@dataclass(frozen=True, kw_only=True)
class Warming:
    """A winding with the loss that it has at each temperature, straight between those told."""

    temperatures_c: tuple  # rising, the last the hottest that is looked at
    watts: tuple  # lost in all coils at each of them
    k_per_w: float  # rise over the air for each watt; infinite when nothing cools
    air_c: float
    joule_per_k: float  # heat that a kelvin takes; nan when not known

    def spare_watts(self, copper_c):
        """Watts that warm it further at a temperature or several: the loss less what the air takes [W]."""
        return np.interp(copper_c, self.temperatures_c, self.watts) - (copper_c - self.air_c) / self.k_per_w

    @property
    def settles_c(self):
        """Where it settles when it comes from the air's temperature; infinite when it never does [°C]."""
        inside = [at for at in self.temperatures_c if at > self.air_c]
        at = np.array([self.air_c, *inside])
        spare = self.spare_watts(at)
        if spare[0] <= 0.0:
            return self.air_c
        first = int(np.argmax(spare <= 0.0))
        if spare[first] > 0.0:
            return inf
        low, high = spare[first - 1], spare[first]
        return float(at[first - 1] + (at[first] - at[first - 1]) * low / (low - high))

    def seconds(self, start_c, end_c):
        """Time from one temperature to a hotter one; infinite when it never comes there, nan when not known [s]."""
        if start_c >= end_c:
            return 0.0
        at = np.array([start_c, *(c for c in self.temperatures_c if start_c < c < end_c), end_c])
        spare = self.spare_watts(at)
        if (spare <= 0.0).any():
            return inf
        return float(self.joule_per_k * (np.diff(at) / _mean_of_rates(spare[:-1], spare[1:])).sum())

    def seconds_to(self, limit_c, start_c):
        """The same to a limit that is still allowed: infinite when it settles there or below [s]."""
        return inf if self.settles_c <= limit_c else self.seconds(start_c, limit_c)

    def course(self, start_c, until_s):
        """Seconds and temperatures for a curve, up to a time or the hottest that is looked at, whichever is first."""
        if self.joule_per_k != self.joule_per_k:
            return np.array([nan]), np.array([nan])
        end = min(self.settles_c, self.temperatures_c[-1])
        if end <= start_c:
            return np.array([0.0, until_s]), np.array([start_c, start_c])
        # Closer to where it settles, which it never quite reaches.
        at = end - (end - start_c) * np.geomspace(1.0, 1e-4, _STEPS)
        spare = np.maximum(self.spare_watts(at), 1e-12)
        seconds = np.concatenate([[0.0], np.cumsum(np.diff(at) / _mean_of_rates(spare[:-1], spare[1:]))])
        seconds *= self.joule_per_k
        keep = seconds <= until_s
        last = float(np.interp(until_s, seconds, at))
        return np.append(seconds[keep], until_s if not keep.all() else seconds[-1]), np.append(at[keep], last)


def _mean_of_rates(first, second):
    """Logarithmic mean: C Δθ over it is the time in which a rate goes in a straight line from first to second."""
    ratio = second / first
    close = np.abs(ratio - 1.0) < 1e-6
    safe = np.where(close, 2.0, ratio)
    return np.where(close, 0.5 * (first + second), first * (safe - 1.0) / np.log(safe))


def copper_joule_per_k(plant):
    """Heat that a kelvin takes in the wire of all coils, iron and enamel left out; nan without its diameter [J/K]."""
    # k² A² is the I² t that warms a wire by a kelvin, so that C = R k² A²; all at 20 °C.
    setting, coil = plant.machine.setting, plant.machine.coil
    if not setting.wire_diameter_mm:
        return nan
    area = wire_area_mm2(setting.wire_diameter_mm, setting.wires_in_hand)
    k = adiabatic_constant(19.5, 20.5, metal=coil.conductor)
    return plant.machine.stator.slots * coil.ohm * (k * area) ** 2
