"""Windings of one stator with their banks and surroundings, and what they do at given speeds."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.bridge import bridge
from statorbook.operation.seeking import OPEN_VOLTS, Limits, bank_amps, best_volts, raised_volts
from statorbook.quantities import RAD_S_PER_RPM

_AROUND = ("cable_ohm", "ac_cable_ohm", "diode_drop_v", "drag_nm", "drag_nm_per_1000rpm")


@dataclass(frozen=True, kw_only=True)
class Sweep:
    """What g windings do at given speeds; every array but the first has shape (g, n)."""

    speed_rpm: np.ndarray
    dc_amps: np.ndarray  # mean, into the bank
    bank_watts: np.ndarray  # at the bank's terminals
    phase_amps_rms: np.ndarray  # in one lead
    copper_watts: np.ndarray  # lost in the winding
    diode_watts: np.ndarray
    cable_watts: np.ndarray  # lost in the cable, AC and DC
    drag_watts: np.ndarray  # lost in bearings, seals and iron
    voltage_ratio: np.ndarray  # u, DC volts over line EMF peak
    converter_watts: np.ndarray | None = None  # lost in the converter; None without one, as the next
    held_dc_volts: np.ndarray | None = None  # at the converter's input
    tries: int = 1  # rows of one winding one after the other, each with other volts held

    def only(self, rows):
        """Some of its rows, by slice or indices."""
        columns = {name: value[rows] for name, value in vars(self).items() if isinstance(value, np.ndarray)}
        return Sweep(**columns, tries=self.tries)

    def one_by_one(self):
        """A list of sweeps of one row."""
        return [self.only([row]) for row in range(len(self.dc_amps))]

    @property
    def shaft_watts(self):
        """Power that the shaft must give, shape (g, n) [W]."""
        taken = self.bank_watts + self.copper_watts + self.diode_watts + self.cable_watts + self.drag_watts
        return taken if self.converter_watts is None else taken + self.converter_watts

    @property
    def torque_nm(self):
        """Torque that the shaft must give, shape (g, n) [N·m]."""
        return self.shaft_watts / (self.speed_rpm * RAD_S_PER_RPM)


@dataclass(frozen=True, kw_only=True)
class Loads:
    """Windings with bank and surroundings as columns of shape (g, 1), to be looked at again at other speeds."""

    emf_v_per_rpm: np.ndarray  # of one star phase, rms, as the next two
    ohm: np.ndarray
    henry: np.ndarray
    pole_pairs: int
    bank_volts: np.ndarray
    bank_ohm: np.ndarray  # inside the bank
    cable_ohm: np.ndarray
    ac_cable_ohm: np.ndarray  # of one of three wires
    diode_drop_v: np.ndarray  # of one diode
    drag_nm: np.ndarray  # extrapolated to rest
    drag_nm_per_1000rpm: np.ndarray
    converter: Limits | None = None

    def only(self, rows):
        """Some of them, by indices."""
        kept = ("pole_pairs", "converter")
        columns = {name: value[rows] for name, value in vars(self).items() if name not in kept}
        return Loads(pole_pairs=self.pole_pairs, converter=self.converter and self.converter.only(rows), **columns)

    def held_at(self, dc_volts):
        """The same behind converters that hold their inputs at volts of shape (g, 1)."""
        return replace(self, converter=self.converter.held_at(dc_volts))

    def open_dc_volts(self, speed_rpm):
        """DC volts at which current starts, at speeds of shape (n,) or (g, n)."""
        return np.sqrt(6.0) * self.emf_v_per_rpm * speed_rpm - 2.0 * self.diode_drop_v

    def bridged(self, speed_rpm, dc_volts, dc_ohm, *, method="chart"):
        """The bridge into given volts behind a resistance, a BridgeResult."""
        # The cable before the rectifier stands in series with each star phase.
        return bridge(
            np.sqrt(2.0) * self.emf_v_per_rpm * speed_rpm,
            self.ohm + self.ac_cable_ohm,
            2.0 * np.pi * self.pole_pairs * speed_rpm / 60.0 * self.henry,
            dc_volts,
            diode_drop_v=self.diode_drop_v,
            dc_resistance_ohm=dc_ohm,
            method=method,
        )

    def at(self, speed_rpm, *, method="chart", tries=1):
        """What they do at speeds above 0, of shape (n,) or (g, n), by the method of `bridge`, as a Sweep."""
        speed = np.broadcast_to(np.asarray(speed_rpm, dtype=float), (len(self.ohm), np.shape(speed_rpm)[-1]))
        if self.converter is not None:
            return self._converted(speed, method, tries)
        outside = self.cable_ohm + self.bank_ohm
        got = self.bridged(speed, self.bank_volts, outside, method=method)
        share = np.divide(self.cable_ohm, outside, out=np.zeros_like(outside), where=outside > 0.0)
        cable, before = got.cable_watts * share, self._ac_cable_watts(got)
        return Sweep(
            speed_rpm=speed,
            dc_amps=got.dc_amps,
            bank_watts=got.dc_watts + got.cable_watts - cable,
            phase_amps_rms=got.phase_amps_rms,
            copper_watts=got.copper_watts - before,
            diode_watts=got.diode_watts,
            cable_watts=cable + before,
            drag_watts=self._drag_watts(speed),
            voltage_ratio=got.voltage_ratio,
        )

    def _ac_cable_watts(self, got):
        return got.copper_watts * self.ac_cable_ohm / (self.ohm + self.ac_cable_ohm)

    def _drag_watts(self, speed):
        return (self.drag_nm + self.drag_nm_per_1000rpm * speed / 1000.0) * speed * RAD_S_PER_RPM

    def _converted(self, speed, method, tries):
        """The same with a converter that holds the volts of most power at each speed, or those it is told to hold."""
        volts = best_volts(self, speed)
        got = self.bridged(speed, volts, self.cable_ohm, method=method)
        over = self.converter.exceeded(volts * got.dc_amps, got.dc_amps)
        if over.any():
            volts = raised_volts(self, speed, volts, over, tries=tries)
            got = self.bridged(speed, volts, self.cable_ohm, method=method)
        given, before = self.converter.given_watts(got.dc_watts), self._ac_cable_watts(got)
        return Sweep(
            speed_rpm=speed,
            dc_amps=bank_amps(given, self.bank_volts, self.bank_ohm),
            bank_watts=given,
            phase_amps_rms=got.phase_amps_rms,
            copper_watts=got.copper_watts - before,
            diode_watts=got.diode_watts,
            cable_watts=got.cable_watts + before,
            drag_watts=self._drag_watts(speed),
            voltage_ratio=got.voltage_ratio,
            converter_watts=got.dc_watts - given,
            held_dc_volts=np.where(volts < OPEN_VOLTS, volts, np.nan),
            tries=tries,
        )


def loads(windings, bank_state, conditions):
    """Windings of one stator with bank and surroundings, one for all or one for each, as Loads."""
    banks, around = (_one_each(given, len(windings)) for given in (bank_state, conditions))
    stars = [w.star_equivalent(c.copper_c, c.magnet_c) for w, c in zip(windings, around, strict=True)]

    def column(things, name):
        return np.array([getattr(thing, name) for thing in things], dtype=float)[:, None]

    return Loads(
        **{name: column(stars, name) for name in ("emf_v_per_rpm", "ohm", "henry")},
        pole_pairs=windings[0].stator.pole_pairs,
        bank_volts=column(banks, "volts"),
        bank_ohm=column(banks, "ohm"),
        **{name: column(around, name) for name in _AROUND},
        converter=Limits.of([c.converter for c in around], banks),
    )


def _one_each(given, count):
    return list(given) if isinstance(given, (list, tuple)) else [given] * count
