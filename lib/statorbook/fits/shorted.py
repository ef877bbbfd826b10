"""Rows of the shorted-lead log against the model: EMF through ohms and inductance, and the henries they give."""

from dataclasses import dataclass
from functools import cached_property
from math import hypot, pi, sqrt

import numpy as np

from statorbook.bench import Reading
from statorbook.errors import count_of
from statorbook.fits.fit import ONE_READING_SHARE
from statorbook.fits.line import slope_through_origin
from statorbook.fits.odd_rows import odd_points
from statorbook.fits.shared_errors import all_shared
from statorbook.quantities import Estimate
from statorbook.winding import Stator, magnet_factor, resistance_factor

_LEAST_EXCESS = 0.03


@dataclass(frozen=True, kw_only=True)
class ShortedRows:
    """Usable rows of the shorted log with the machine as warm as it was; rows are named by their place, from 0."""

    readings: tuple[Reading, ...]
    stator: Stator
    emf: Estimate  # star-equivalent phase, rms, magnets as warm as in the readings [V/rpm]
    ohm: Estimate  # star-equivalent phase, copper as warm as in the readings

    @classmethod
    def at(cls, readings, emf, ohm, stator, *, machine_c=None, conductor="copper", magnet="ferrite"):
        """Rows of a machine that was so warm, 20 °C when None, from EMF and ohms at 20 °C."""
        at_c = 20.0 if machine_c is None else machine_c
        return cls(
            readings=tuple(readings),
            stator=stator,
            emf=emf.times(magnet_factor(at_c, magnet=magnet)),
            ohm=ohm.times(resistance_factor(at_c, conductor=conductor)),
        )

    @cached_property
    def amps(self):
        """Line currents, rms [A]."""
        return np.array([r.line_amps_rms for r in self.readings])

    @cached_property
    def sigma_share(self):
        """Likely error of each current, one sigma, as a share of it [-]."""
        return np.array([r.line_amps_sigma / r.line_amps_rms for r in self.readings])

    @cached_property
    def omega_squared(self):
        """Square of the electrical angular frequency of each row [1/s²]."""
        return (2.0 * pi * self.stator.electrical_hz(self.rpm)) ** 2

    @cached_property
    def rpm(self):
        """Rotor speeds [rpm]."""
        return np.array([r.speed_rpm for r in self.readings])

    @cached_property
    def shared_shifts(self):
        """What all rows share at the end of its ±, for `excess`: EMF [-], ohms [Ω], and the amps' share by row [-]."""
        # Amps too small by a share look the same as an EMF too large by it.
        amps, emf = all_shared(self.readings), self.emf.plus_minus / self.emf.value
        return {"emf_share": emf}, {"shift_ohm": self.ohm.plus_minus}, {"emf_share": amps}

    def excess(self, emf_share=0.0, shift_ohm=0.0):
        """(ωL)² of each row and its sigma [Ω²], with the EMF shifted by a share of it and the ohms by some Ω."""
        z_squared = (self.emf.value * (1.0 + emf_share) * self.rpm / self.amps) ** 2
        return z_squared - (self.ohm.value + shift_ohm) ** 2, 2.0 * z_squared * self.sigma_share

    def line(self, rows, emf_share=0.0, shift_ohm=0.0):
        """The line (ωL)² = L² ω² through some rows; its value is the square of the inductance [H²]."""
        rows = list(rows)
        excess, sigma = self.excess(emf_share, shift_ohm)
        return slope_through_origin(self.omega_squared[rows], excess[rows], sigma[rows])

    def share_off(self, henry_squared, emf_share=0.0, shift_ohm=0.0):
        """How far each current is off the model, as a share of what it should be; a square below 0 counts as 0 [-]."""
        impedance = np.sqrt((self.ohm.value + shift_ohm) ** 2 + max(henry_squared, 0.0) * self.omega_squared)
        return self.amps * impedance / (self.emf.value * (1.0 + emf_share) * self.rpm) - 1.0

    def impossible(self):
        """Rows with more amps than EMF and ohms alone allow."""
        allowed = _LEAST_EXCESS + self.emf.plus_minus / self.emf.value + self.ohm.plus_minus / self.ohm.value
        return [i for i, share in enumerate(self.share_off(0.0)) if share > allowed]

    def odd_among(self, possible):
        """Those of some rows that do not belong to the others."""
        excess, sigma = self.excess()
        found = odd_points(
            self.omega_squared[possible],
            excess[possible],
            sigma[possible],
            lambda slope: self.share_off(slope)[possible],
        )
        return [possible[i] for i in found]

    def estimate(self, rows):
        """The henries that some rows give, with ± 95 %."""
        line = self.line(rows)
        squared, reach = max(line.value, 0.0), self._half_width(rows, line)
        henry = sqrt(squared)
        scatter = max(henry - sqrt(max(squared - reach, 0.0)), sqrt(squared + reach) - henry)
        shifted = (self.line(rows, **shift) for shift in self.shared_shifts)
        emf, ohm, amps = (sqrt(max(other.value, 0.0)) - henry for other in shifted)
        spread = "scatter (Student's t)" if line.freedom else "5 % assumed for a single reading"
        return Estimate(
            value=henry,
            plus_minus=hypot(scatter, emf, ohm, amps),
            unit="H",
            moved_by={"emf": emf, "ohm": ohm},
            how=f"one phase of the equivalent star from {count_of(line.freedom + 1, 'row')} of the shorted "
            f"log; ± 95 % from {spread}, meter class, and the ± of EMF and ohms",
        )

    def _half_width(self, rows, line):
        if line.freedom:
            return line.half_width_95
        z_squared = (self.emf.value * self.rpm / self.amps) ** 2
        return 2.0 * ONE_READING_SHARE.value * float((z_squared / self.omega_squared)[list(rows)][0])

    def highest_rpm(self, rows):
        """Highest speed of some rows [rpm]."""
        return max(self.rpm[list(rows)])

    def telling_rpm(self, henry):
        """Speed where reactance equals resistance [rpm]."""
        return self.stator.speed_rpm(self.ohm.value / (2.0 * pi * henry))
