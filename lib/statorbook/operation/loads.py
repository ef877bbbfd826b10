"""Windings of one stator with their banks and surroundings, and what they do at given speeds."""

from dataclasses import dataclass

import numpy as np

from statorbook.bridge import bridge
from statorbook.quantities import RAD_S_PER_RPM


@dataclass(frozen=True, kw_only=True)
class Sweep:
    """What g windings do at given speeds; every array but the first has shape (g, n)."""

    speed_rpm: np.ndarray
    dc_amps: np.ndarray  # mean, into the bank
    bank_watts: np.ndarray  # at the bank's terminals
    phase_amps_rms: np.ndarray  # in one lead
    copper_watts: np.ndarray  # lost in the winding
    diode_watts: np.ndarray
    cable_watts: np.ndarray
    drag_watts: np.ndarray  # lost in bearings, seals and iron
    voltage_ratio: np.ndarray  # u, DC volts over line EMF peak

    def only(self, rows):
        """Some of its rows, by slice or indices."""
        return Sweep(**{name: value[rows] for name, value in vars(self).items()})

    def one_by_one(self):
        """A list of sweeps of one row."""
        return [self.only([row]) for row in range(len(self.dc_amps))]

    @property
    def shaft_watts(self):
        """Power that the shaft must give, shape (g, n) [W]."""
        return self.bank_watts + self.copper_watts + self.diode_watts + self.cable_watts + self.drag_watts

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
    diode_drop_v: np.ndarray  # of one diode
    drag_nm: np.ndarray  # extrapolated to rest
    drag_nm_per_1000rpm: np.ndarray

    def only(self, rows):
        """Some of them, by indices."""
        columns = {name: value[rows] for name, value in vars(self).items() if name != "pole_pairs"}
        return Loads(pole_pairs=self.pole_pairs, **columns)

    def at(self, speed_rpm, *, method="chart"):
        """What they do at speeds above 0, of shape (n,) or (g, n), by the method of `bridge`, as a Sweep."""
        speed = np.broadcast_to(np.asarray(speed_rpm, dtype=float), (len(self.ohm), np.shape(speed_rpm)[-1]))
        outside = self.cable_ohm + self.bank_ohm
        got = bridge(
            np.sqrt(2.0) * self.emf_v_per_rpm * speed,
            self.ohm,
            2.0 * np.pi * self.pole_pairs * speed / 60.0 * self.henry,
            self.bank_volts,
            diode_drop_v=self.diode_drop_v,
            dc_resistance_ohm=outside,
            method=method,
        )
        share = np.divide(self.cable_ohm, outside, out=np.zeros_like(outside), where=outside > 0.0)
        cable = got.cable_watts * share
        return Sweep(
            speed_rpm=speed,
            dc_amps=got.dc_amps,
            bank_watts=got.dc_watts + got.cable_watts - cable,
            phase_amps_rms=got.phase_amps_rms,
            copper_watts=got.copper_watts,
            diode_watts=got.diode_watts,
            cable_watts=cable,
            drag_watts=(self.drag_nm + self.drag_nm_per_1000rpm * speed / 1000.0) * speed * RAD_S_PER_RPM,
            voltage_ratio=got.voltage_ratio,
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
        **{name: column(around, name) for name in ("cable_ohm", "diode_drop_v", "drag_nm", "drag_nm_per_1000rpm")},
    )


def _one_each(given, count):
    return list(given) if isinstance(given, (list, tuple)) else [given] * count
