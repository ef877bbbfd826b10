"""Windings of one stator at given speeds into a bank: amps, watts, torque, and where charging starts."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.bridge import bridge_waveforms
from statorbook.operation.converter import Converter
from statorbook.operation.loads import loads
from statorbook.operation.seeking import lowest_volts
from statorbook.quantities import DIODE_DROP_V, require_number


@dataclass(frozen=True, kw_only=True)
class Conditions:
    """What surrounds the winding: temperatures, drag, rectifier and cable.

    Parameters
    ----------
    copper_c : float
        Winding temperature at work [°C].
    magnet_c : float
        Magnet temperature at work [°C].
    drag_nm : float
        Torque lost in bearings, seals and iron, extrapolated to rest [N·m].
    diode_drop_v : float
        Drop of one rectifier diode [V].
    cable_ohm : float
        Resistance of the DC cable, there and back [Ω].
    ac_cable_ohm : float
        Resistance of each of the three wires between the machine's leads and the rectifier [Ω].
    drag_nm_per_1000rpm : float
        What that torque gains for each 1000 rpm [N·m per 1000 rpm].
    converter : Converter or None
        What stands between rectifier and bank; None for the bank straight on the rectifier.

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    copper_c: float = 80.0
    magnet_c: float = 50.0
    drag_nm: float = 0.3
    diode_drop_v: float = DIODE_DROP_V.value
    cable_ohm: float = 0.0
    ac_cable_ohm: float = 0.0
    drag_nm_per_1000rpm: float = 0.0
    converter: Converter | None = None

    def __post_init__(self):
        require_number(self.copper_c, "winding temperature", "°C", at_least=-40, at_most=200)
        require_number(self.magnet_c, "magnet temperature", "°C", at_least=-40, at_most=100)
        require_number(self.drag_nm, "drag", "N·m", at_least=0, at_most=1000)
        require_number(self.diode_drop_v, "diode drop", "V", at_least=0, at_most=3)
        require_number(self.cable_ohm, "cable resistance", "Ω", at_least=0, at_most=100)
        require_number(self.ac_cable_ohm, "resistance of an AC wire", "Ω", at_least=0, at_most=100)
        rise = "N·m per 1000 rpm"
        require_number(self.drag_nm_per_1000rpm, "rise of the drag", rise, at_least=0, at_most=1000)

    def held_at(self, dc_volts):
        """The same with a converter that holds its input at given volts; itself without a converter.

        Parameters
        ----------
        dc_volts : float
            Input volts of the converter [V].

        Returns
        -------
        Conditions
            With that converter.
        """
        return replace(self, converter=self.converter.held_at(dc_volts)) if self.converter else self

    def drag_at_nm(self, speed_rpm):
        """Torque lost in bearings, seals and iron at a speed.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Rotor speed [rpm].

        Returns
        -------
        float or ndarray
            Drag, same shape [N·m].

        Notes
        -----
        Equation: drag at rest + rise × n / 1000.
        """
        return self.drag_nm + self.drag_nm_per_1000rpm * speed_rpm / 1000.0


def sweep(windings, speed_rpm, bank_state, conditions, *, method="chart"):
    """Amps, watts and torque of several windings at many speeds.

    Parameters
    ----------
    windings : sequence of Winding
        g windings of one stator.
    speed_rpm : ndarray
        Speeds above 0, shape (n,) or (g, n) [rpm].
    bank_state : BankState or sequence of BankState
        Volts and inner resistance of the bank, one for all or one for each winding.
    conditions : Conditions or sequence of Conditions
        Temperatures, drag, rectifier, cable, one for all or one for each winding.
    method : str
        As in `bridge.bridge`.

    Returns
    -------
    Sweep
        Arrays of shape (g, n).

    Notes
    -----
    Equation: torque = (bank + converter + copper + diode + cable + drag power) / Ω; a converter that seeks holds at
        each speed the volts of most power there.
    Valid: as `bridge.bridge`; drag torque a straight line of the speed.
    Source: energy balance.
    """
    return loads(windings, bank_state, conditions).at(speed_rpm, method=method)


def winding_waveforms(winding, speed_rpm, bank_state, conditions, *, points=361):
    """Currents and volts of one winding over one electrical period, at the leads of the machine.

    Parameters
    ----------
    winding : Winding
        The winding.
    speed_rpm : float
        Speed above 0 [rpm].
    bank_state : BankState
        Volts and inner resistance of the bank.
    conditions : Conditions
        Temperatures, rectifier, cable.
    points : int
        Angles from 0° to 360°, both included [-].

    Returns
    -------
    Waveforms
        See `bridge.bridge_waveforms`, which solves them exactly.

    Notes
    -----
    Equation: the AC cable stands in series with each phase; behind it, at the rectifier, the line volts are lower by
        its ohms times the difference of two lead currents.
    Valid: as `bridge.bridge_waveforms`.
    Source: Kirchhoff's laws.
    """
    star = winding.star_equivalent(conditions.copper_c, conditions.magnet_c)
    volts, outside = bank_state.volts, conditions.cable_ohm + bank_state.ohm
    if conditions.converter is not None:
        at = sweep([winding], np.array([speed_rpm]), bank_state, conditions)
        volts, outside = float(at.held_dc_volts[0, 0]), conditions.cable_ohm
    found = bridge_waveforms(
        2.0**0.5 * star.emf_v_per_rpm * speed_rpm,
        star.ohm + conditions.ac_cable_ohm,
        2.0 * np.pi * winding.stator.electrical_hz(speed_rpm) * star.henry,
        volts,
        diode_drop_v=conditions.diode_drop_v,
        dc_resistance_ohm=outside,
        points=points,
    )
    dropped = conditions.ac_cable_ohm * (found.phase_amps - np.roll(found.phase_amps, -1, axis=1))
    return replace(found, line_volts=found.line_volts + dropped)


def cut_in_rpm(winding, bank_state, conditions):
    """Speed at which current into the bank starts.

    Parameters
    ----------
    winding : Winding
        The winding.
    bank_state : BankState
        Volts of the bank.
    conditions : Conditions
        Magnet temperature and diode drop.

    Returns
    -------
    float
        Cut-in speed [rpm].

    Notes
    -----
    Equation: √2 × line volts rms = bank volts + two diode drops (the peak convention); with a converter the lowest
        volts of its window instead, where they are higher.
    Valid: no load before cut-in. The mean convention, 1.35 × line rms, gives a speed 4.7 % higher.
    Source: definition; both conventions are in use.
    """
    per_rpm = np.sqrt(2.0) * winding.line_volts_rms(1.0, conditions.magnet_c)
    least = bank_state.volts
    if conditions.converter is not None:
        least = lowest_volts(conditions.converter, bank_state)
    return float((least + 2.0 * conditions.diode_drop_v) / per_rpm)
