"""Windings of one stator with their banks and surroundings, and what they do at given speeds."""

from dataclasses import dataclass

import numpy as np

from statorbook.bridge import bridge
from statorbook.quantities import RAD_S_PER_RPM


@dataclass(frozen=True, kw_only=True)
class Sweep:
    """What g windings do at given speeds; every array but the first has shape (g, n).

    Parameters
    ----------
    speed_rpm : ndarray
        Speeds [rpm].
    dc_amps : ndarray
        Mean current into the bank [A].
    bank_watts : ndarray
        Power at the bank's terminals [W].
    phase_amps_rms : ndarray
        Current in one lead, rms [A].
    copper_watts : ndarray
        Loss in the winding [W].
    diode_watts : ndarray
        Loss in the rectifier [W].
    cable_watts : ndarray
        Loss in the DC cable [W].
    drag_watts : ndarray
        Loss in bearings, seals and iron [W].
    voltage_ratio : ndarray
        u, DC volts over line EMF peak [-].
    """

    speed_rpm: np.ndarray
    dc_amps: np.ndarray
    bank_watts: np.ndarray
    phase_amps_rms: np.ndarray
    copper_watts: np.ndarray
    diode_watts: np.ndarray
    cable_watts: np.ndarray
    drag_watts: np.ndarray
    voltage_ratio: np.ndarray

    def only(self, rows):
        """Some of its rows.

        Parameters
        ----------
        rows : slice or ndarray of int
            Which, in what order [-].

        Returns
        -------
        Sweep
            Shape (r, n).
        """
        return Sweep(**{name: value[rows] for name, value in vars(self).items()})

    def each(self):
        """Its rows one by one.

        Returns
        -------
        list of Sweep
            g sweeps of one winding.
        """
        return [self.only([row]) for row in range(len(self.dc_amps))]

    @property
    def shaft_watts(self):
        """Power that the shaft must give, shape (g, n) [W]."""
        return self.bank_watts + self.copper_watts + self.diode_watts + self.cable_watts + self.drag_watts

    @property
    def efficiency(self):
        """Power at the bank over power at the shaft, 0 where neither flows, shape (g, n) [-]."""
        shaft = self.shaft_watts
        return np.divide(self.bank_watts, shaft, out=np.zeros_like(shaft), where=shaft > 0.0)

    @property
    def torque_nm(self):
        """Torque that the shaft must give, shape (g, n) [N·m]."""
        return self.shaft_watts / (self.speed_rpm * RAD_S_PER_RPM)


@dataclass(frozen=True, kw_only=True)
class Loads:
    """Windings with bank and surroundings as columns, ready to be looked at again and again at other speeds.

    Parameters
    ----------
    emf_v_per_rpm : ndarray
        EMF of one star phase, rms, shape (g, 1) as all others [V/rpm].
    ohm : ndarray
        Resistance of one star phase [Ω].
    henry : ndarray
        Inductance of one star phase [H].
    pole_pairs : int
        Pairs of poles [-].
    bank_volts : ndarray
        Volts of the bank [V].
    bank_ohm : ndarray
        Inner resistance of the bank [Ω].
    cable_ohm : ndarray
        Resistance of the DC cable [Ω].
    diode_drop_v : ndarray
        Drop of one diode [V].
    drag_nm : ndarray
        Drag, extrapolated to rest [N·m].
    drag_nm_per_1000rpm : ndarray
        What the drag gains for each 1000 rpm [N·m per 1000 rpm].
    """

    emf_v_per_rpm: np.ndarray
    ohm: np.ndarray
    henry: np.ndarray
    pole_pairs: int
    bank_volts: np.ndarray
    bank_ohm: np.ndarray
    cable_ohm: np.ndarray
    diode_drop_v: np.ndarray
    drag_nm: np.ndarray
    drag_nm_per_1000rpm: np.ndarray

    def only(self, rows):
        """Some of them.

        Parameters
        ----------
        rows : ndarray of int
            Which, in what order [-].

        Returns
        -------
        Loads
            Shape (r, 1).
        """
        columns = {name: value[rows] for name, value in vars(self).items() if name != "pole_pairs"}
        return Loads(pole_pairs=self.pole_pairs, **columns)

    def at(self, speed_rpm, *, method="chart"):
        """What they do at given speeds.

        Parameters
        ----------
        speed_rpm : ndarray
            Speeds above 0, shape (n,) or (g, n) [rpm].
        method : str
            As in `bridge.rectifier.bridge`.

        Returns
        -------
        Sweep
            Arrays of shape (g, n).
        """
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
    """Put windings, bank and surroundings together.

    Parameters
    ----------
    windings : sequence of Winding
        g windings of one stator.
    bank_state : BankState or sequence of BankState
        The bank, one for all or one for each winding.
    conditions : Conditions or sequence of Conditions
        Temperatures, drag, rectifier, cable, one for all or one for each winding.

    Returns
    -------
    Loads
        g rows.
    """
    banks, around = (_one_each(given, len(windings)) for given in (bank_state, conditions))
    stars = [w.star_equivalent(c.copper_c, c.magnet_c) for w, c in zip(windings, around, strict=True)]

    def column(things, name):
        return np.array([getattr(each, name) for each in things], dtype=float)[:, None]

    return Loads(
        **{name: column(stars, name) for name in ("emf_v_per_rpm", "ohm", "henry")},
        pole_pairs=windings[0].stator.pole_pairs,
        bank_volts=column(banks, "volts"),
        bank_ohm=column(banks, "ohm"),
        **{name: column(around, name) for name in ("cable_ohm", "diode_drop_v", "drag_nm", "drag_nm_per_1000rpm")},
    )


def _one_each(given, count):
    return list(given) if isinstance(given, (list, tuple)) else [given] * count
