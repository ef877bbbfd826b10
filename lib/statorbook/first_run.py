"""What the finished machine should do at the settings of the run log, and how far it is off."""

from dataclasses import dataclass, replace
from math import pi, sqrt

import numpy as np

from statorbook.bank import BankState
from statorbook.drives.quantity import turned
from statorbook.estimate import NORMAL_95
from statorbook.fit_rows import METER_CLASS
from statorbook.grouping import Winding
from statorbook.heat import magnet_factor, resistance_factor
from statorbook.rectifier import bridge
from statorbook.sweep import sweep

# How closely a drive's torque curve can be trusted to give the speed.
_SPEED_SHARE = 0.03
_STEP, _LEAST_SLOPE = 0.01, 1e-5  # of the speed; N·m per rpm, so that a flat crossing divides by something


@dataclass(frozen=True, kw_only=True)
class Moved:
    """What is taken to be different from the promise; the default is nothing.

    Parameters
    ----------
    emf_share : float
        EMF over the one promised [-].
    ohm_share : float
        Coil ohms over those promised [-].
    henry_share : float
        Inductance over that promised [-].
    diode_v : float
        Added to the drop of each diode, DC [V].
    cable_ohm : float
        Added to the cable [Ω].
    drag_nm : float
        Added to the drag [N·m].
    source_share : float
        What the source gives over what was read [-].
    """

    emf_share: float = 1.0
    ohm_share: float = 1.0
    henry_share: float = 1.0
    diode_v: float = 0.0
    cable_ohm: float = 0.0
    drag_nm: float = 0.0
    source_share: float = 1.0


def amps_at(case, moved=Moved()):
    """Amps into the bank at the speed and bank volts of each charging row.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    moved : Moved
        What is taken to be different.

    Returns
    -------
    ndarray
        DC amps, shape (rows,) [A].

    Notes
    -----
    Equation: `rectifier.bridge` with the row's speed, bank volts and winding temperature.
    Valid: volts read at the bank's terminals; winding as warm as promised where its temperature was not read.
    Source: as `rectifier.bridge`.
    """
    return _amps(case, *_settings(case)[:3], moved)


def amps_sigma(case):
    """Likely error of each charging row as seen in amps: the ammeter's and the speed's.

    Parameters
    ----------
    case : RunCase
        Machine and rows.

    Returns
    -------
    ndarray
        One sigma, shape (rows,) [A].

    Notes
    -----
    Equation: √(ammeter² + (amps at one sigma more speed − amps)²).
    Valid: small errors.
    Source: JCGM 100:2008 (GUM), 5.1.2 (from memory).
    """
    speed, volts, copper, sigma = _settings(case)
    at, faster = (_amps(case, rpm, volts, copper, Moved()) for rpm in (speed, speed + sigma))
    return np.hypot([each.dc_amps_sigma for each in case.charging], faster - at)


def _settings(case):
    names = ("speed_rpm", "dc_volts", "copper_c", "speed_sigma_rpm")
    return [np.array([getattr(each, name) for each in case.charging]) for name in names]


def _amps(case, speed, volts, copper_c, moved):
    machine = case.machine
    conditions = machine.setting.conditions
    star = Winding(stator=machine.stator, coil=machine.coil, grouping=case.grouping).star_equivalent()
    warm = np.where(np.isnan(copper_c), conditions.copper_c, copper_c)
    emf = moved.emf_share * star.emf_v_per_rpm * magnet_factor(conditions.magnet_c, magnet=machine.coil.magnet)
    ohm = moved.ohm_share * star.ohm * resistance_factor(warm, conductor=machine.coil.conductor)
    reactance = 2.0 * pi * machine.stator.electrical_hz(speed) * star.henry * moved.henry_share
    return bridge(
        sqrt(2.0) * emf * speed,
        ohm,
        reactance,
        volts,
        diode_drop_v=conditions.diode_drop_v + moved.diode_v,
        dc_resistance_ohm=conditions.cable_ohm + moved.cable_ohm,
    ).dc_amps


def line_volts_at(case, moved=Moved()):
    """Line volts at open leads of each row without current.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    moved : Moved
        What is taken to be different.

    Returns
    -------
    ndarray
        AC volts, line, rms, shape (rows,) [V].
    """
    machine = case.machine
    winding = Winding(stator=machine.stator, coil=machine.coil, grouping=case.grouping)
    speed = np.array([each.speed_rpm for each in case.open_leads])
    return moved.emf_share * winding.line_volts_rms(speed, machine.setting.conditions.magnet_c)


def speeds_off(case, moved=Moved()):
    """How much faster each row with a known source ran than drive and generator agree on.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    moved : Moved
        What is taken to be different.

    Returns
    -------
    ndarray
        Speed read − speed expected, shape (rows,) [rpm].

    Notes
    -----
    Equation: Newton's step, −(T_drive − T_generator) / (slope of the generator's − slope of the drive's), all at the
        speed read, slopes as promised.
    Valid: near the speed where both agree.
    Source: torque balance.
    """
    speed = np.array([each.speed_rpm for each in case.driven])
    return -_surplus_nm(case, speed, moved) / case.kept("slope", _slope)


def _slope(case):
    """How much more torque a turn a minute more takes than the drive gives [N·m/rpm]."""
    speed = np.array([each.speed_rpm for each in case.driven])
    up, down = (_surplus_nm(case, speed * share, Moved()) for share in (1.0 + _STEP, 1.0 - _STEP))
    return np.maximum((down - up) / (2.0 * _STEP * speed), _LEAST_SLOPE)


def _surplus_nm(case, speed, moved):
    """Torque that the drive gives beyond what the generator takes, at the source and bank volts of each row."""
    machine, rows = case.machine, case.driven
    coil, at, field = machine.coil, machine.setting.conditions, machine.drive.quantities[0].field
    emf, ohm, henry = (getattr(coil, name) for name in ("emf_v_per_rpm", "ohm", "henry"))
    shares = {"emf_v_per_rpm": emf * moved.emf_share, "ohm": ohm * moved.ohm_share, "henry": henry * moved.henry_share}
    winding = Winding(stator=machine.stator, coil=replace(coil, **shares), grouping=case.grouping)
    read_c = [each.copper_c for each in rows if not np.isnan(each.copper_c)]
    conditions = replace(
        at,
        copper_c=float(np.mean(read_c)) if read_c else at.copper_c,
        drag_nm=at.drag_nm + moved.drag_nm,
        diode_drop_v=at.diode_drop_v + moved.diode_v,
        cable_ohm=at.cable_ohm + moved.cable_ohm,
    )
    bank = BankState(name="as read", volts=np.array([each.dc_volts for each in rows]), ohm=0.0)
    taken = sweep([winding], speed, bank, conditions).torque_nm[0]
    drives = [turned(machine.drive, {field: each.source * moved.source_share}) for each in rows]
    given = np.array([float(drive.torque_nm(rpm)) for drive, rpm in zip(drives, speed, strict=True)])
    return given - taken


def misfits(case, moved=Moved(), *, speeds=True):
    """How many sigma each reading is off, amps first, then open volts, then speeds.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    moved : Moved
        What is taken to be different.
    speeds : bool
        False leaves the drive's speeds out.

    Returns
    -------
    ndarray
        (read − predicted) / sigma [-].

    Notes
    -----
    Equation: sigma of amps by `amps_sigma`; of volts the meter's class and the speed's error; of speeds 3 % of trust
        in the drive's torque curve and the speed's error, in quadrature.
    Valid: errors independent of each other.
    Source: JCGM 100 (from memory); the 3 % common practice, no source.
    """
    parts = []
    if case.charging:
        read = np.array([each.dc_amps for each in case.charging])
        parts.append((read - amps_at(case, moved)) / case.kept("sigma", amps_sigma))
    if case.open_leads:
        rows, volts = case.open_leads, line_volts_at(case, moved)
        share = np.hypot(METER_CLASS["volts"].value / NORMAL_95, [r.speed_sigma_rpm / r.speed_rpm for r in rows])
        parts.append((np.array([each.line_volts for each in rows]) - volts) / (share * volts))
    if speeds and case.driven:
        sigma = [np.hypot(_SPEED_SHARE * each.speed_rpm, each.speed_sigma_rpm) for each in case.driven]
        parts.append(speeds_off(case, moved) / np.array(sigma))
    return np.concatenate(parts) if parts else np.array([])
