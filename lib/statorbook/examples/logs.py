"""The bench logs of an invented machine, as an invented reader with cheap meters would have typed them."""

from dataclasses import dataclass
from math import pi, sqrt

import numpy as np

from statorbook.quantities import METER_DIODE_DROP_V
from statorbook.winding import Winding

_LEAD_ZERO_OHM = 0.2


@dataclass(frozen=True, kw_only=True)
class MadeUp:
    """An invented machine and what was done on its bench."""

    winding: Winding  # what it truly is, wired as found; the fit has to find it again
    spins: tuple  # speed [rpm], pair of leads, what was read, "rpm", "Hz" or "both"
    shorts: tuple  # speed [rpm] and lead
    planted_row: int  # row of the spin log that is wrong on purpose
    planted_factor: float  # by how much it is wrong
    seed: int  # of the noise
    notes: tuple  # note of a slow row, of a fast row, of a shorted row, of an ohms row
    fast_rpm: float  # above it a row is fast
    days: tuple  # day of the ohms and the slow rows, day of the fast and the shorted rows
    noise: float = 0.008  # one sigma of a reading, as a share [-]; ohms have a quarter of it
    machine_c: float = 16.0  # machine and magnets
    ohm_decimals: int = 1  # decimals of the ohm-meter

    def raw_rows(self):
        """The spin, shorted and ohms logs as typed, raw rows of text by log; the same on every call."""
        # The model of `fits.constants`, each reading times a normal error, rounded as a meter shows it; all invented.
        # One spin row is planted; nothing in its note says so.
        noise = np.random.default_rng(self.seed)
        star = self.winding.star_equivalent(copper_c=self.machine_c, magnet_c=self.machine_c)
        spin = [
            self._spin_row(number, star, 1.0 + self.noise * noise.standard_normal(), *spec)
            for number, spec in enumerate(self.spins, 1)
        ]
        shorted = [self._shorted_row(star, 1.0 + self.noise * noise.standard_normal(), *spec) for spec in self.shorts]
        ohms = [
            self._ohms_row(star, 1.0 + 0.25 * self.noise * noise.standard_normal(), pair) for pair in ("AB", "BC", "CA")
        ]
        return {"spin": spin, "shorted": shorted, "ohms": ohms}

    @property
    def _connection(self):
        return self.winding.grouping.connection

    def _spin_row(self, number, star, error, true_rpm, pair, quantity, by):
        line_volts = sqrt(3.0) * star.emf_v_per_rpm * true_rpm
        drop = 2.0 * METER_DIODE_DROP_V.value
        volts = {
            "AC line rms": line_volts,
            "DC bridge, bare": line_volts * 3.0 * sqrt(2.0) / pi - drop,
            "DC bridge, capacitor": line_volts * sqrt(2.0) - drop,
        }[quantity]
        volts *= error * (self.planted_factor if number == self.planted_row else 1.0)
        hz = self.winding.stator.electrical_hz(true_rpm)
        return {
            "speed_rpm": f"{true_rpm:d}" if by in ("rpm", "both") else "",
            "electrical_hz": f"{hz:.1f}" if by in ("Hz", "both") else "",
            "volts": _as_shown(volts),
            "terminals": pair,
            "connection": self._connection,
            "quantity": quantity,
            "meter": "averaging",
            "speed_by": "",
            "volts_by": "",
            "taken_on": self.days[true_rpm > self.fast_rpm],
            "note": self.notes[true_rpm > self.fast_rpm],
        }

    def _shorted_row(self, star, error, true_rpm, lead):
        reactance = 2.0 * pi * self.winding.stator.electrical_hz(true_rpm) * star.henry
        amps = error * star.emf_v_per_rpm * true_rpm / sqrt(star.ohm**2 + reactance**2)
        return {
            "speed_rpm": f"{true_rpm:d}",
            "electrical_hz": "",
            "amps": f"{amps:.2f}",
            "lead": lead,
            "connection": self._connection,
            "meter": "averaging",
            "taken_on": self.days[1],
            "note": self.notes[2],
        }

    def _ohms_row(self, star, error, pair):
        places = self.ohm_decimals
        return {
            "terminals": pair,
            "ohms": f"{2.0 * star.ohm * error + _LEAD_ZERO_OHM:.{places}f}",
            "lead_zero_ohm": f"{_LEAD_ZERO_OHM:.{places}f}",
            "copper_c": f"{self.machine_c:g}",
            "taken_on": self.days[0],
            "note": self.notes[3],
        }


def _as_shown(volts):
    """A 2000-count display: four digits up to 199.9, then whole volts."""
    decimals = 2 if volts < 20 else 1 if volts < 200 else 0
    return f"{volts:.{decimals}f}"
