"""What the finished machine should do at the settings of the run log, and how far it is off."""

import numpy as np

from statorbook.drives import with_quantities
from statorbook.errors import BadInput
from statorbook.first_run.flows import Moved, amps_table, flows_at
from statorbook.quantities import RAD_S_PER_RPM
from statorbook.winding import Winding

# How closely a drive's torque curve can be trusted to give the speed.
_SPEED_SHARE = 0.03
_OUT_OF_REACH = 1e6  # sigma, where the drive refuses what the source would have to give
_STEP, _LEAST_SLOPE = 0.01, 1e-5  # of the speed; N·m per rpm, so that a flat crossing divides by something


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
    Equation: as `first_run.flows.flows_at`.
    Valid: as `first_run.flows.flows_at`.
    Source: as `first_run.flows.flows_at`.
    """
    return amps_table(case, [moved])[0]


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
    speed, sigma = case.readings_of("speed_rpm"), case.readings_of("speed_sigma_rpm")
    at, faster = (flows_at(case, [Moved()], rpm).dc_amps[0] for rpm in (speed, speed + sigma))
    return np.hypot(case.readings_of("dc_amps_sigma"), faster - at)


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
    return moved.emf_share * case.kept("line volts", _line_volts)


def _line_volts(case):
    machine = case.machine
    winding = Winding(stator=machine.stator, coil=machine.coil, grouping=case.grouping)
    speed = np.array([each.speed_rpm for each in case.open_leads])
    return winding.line_volts_rms(speed, machine.setting.conditions.magnet_c)


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
    return _speeds_off(case, [moved], flows_at(case, [moved], case.readings_of("speed_rpm")))[0]


def _speeds_off(case, moves, flows):
    return -_surplus_nm(case, moves, flows, 1.0) / case.kept("slope", _slope)


def _slope(case):
    """How much more torque a turn a minute more takes than the drive gives [N·m/rpm]."""
    speed = case.readings_of("speed_rpm")
    sides = [(share, flows_at(case, [Moved()], speed * share)) for share in (1.0 + _STEP, 1.0 - _STEP)]
    up, down = (_surplus_nm(case, [Moved()], flows, share)[0] for share, flows in sides)
    return np.maximum((down - up) / (2.0 * _STEP * speed[case.is_driven]), _LEAST_SLOPE)


def _surplus_nm(case, moves, flows, speed_share):
    """Torque that the drive gives beyond what the generator takes, shape (moves, driven rows)."""
    speed, at = case.readings_of("speed_rpm") * speed_share, case.machine.setting.conditions
    drag = at.drag_at_nm(speed) + np.array([[each.drag_nm] for each in moves])
    taken = flows.emf_watts / (speed * RAD_S_PER_RPM) + drag
    given = case.kept("given", lambda case: {})
    for share in {each.source_share for each in moves} - {known for known, at in given if at == speed_share}:
        given[share, speed_share] = _given_nm(case, share, speed_share)
    return np.array([given[each.source_share, speed_share] for each in moves]) - taken[:, case.is_driven]


def _given_nm(case, source_share, speed_share):
    """Torque of the drive at the source and speed of each driven row; nan where the drive refuses such a source."""
    drive, found = case.machine.drive, []
    for row in case.driven:
        try:
            as_read = with_quantities(drive, {drive.quantities[0].field: row.source * source_share})
            found.append(float(as_read.torque_nm(row.speed_rpm * speed_share)))
        except BadInput:
            found.append(np.nan)
    return np.array(found)


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
    Equation: see `misfit_table`.
    Valid: see `misfit_table`.
    Source: see `misfit_table`.
    """
    return misfit_table(case, [moved], speeds=speeds)[0]


def misfit_table(case, moves, *, speeds=True):
    """How many sigma each reading is off for many differences at once.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    moves : sequence of Moved
        What is taken to be different, one after the other.
    speeds : bool
        False leaves the drive's speeds out.

    Returns
    -------
    ndarray
        (read − predicted) / sigma, shape (moves, readings); readings as `labels` orders them [-].

    Notes
    -----
    Equation: sigma of amps by `amps_sigma`; of volts the meter's and the speed's error; of speeds 3 % of trust
        in the drive's torque curve and the speed's error, in quadrature.
    Valid: errors independent of each other.
    Source: JCGM 100 (from memory); the 3 % common practice, no source.
    """
    parts = []
    if case.charging:
        flows = flows_at(case, moves, case.readings_of("speed_rpm"))
        parts.append((case.readings_of("dc_amps") - flows.dc_amps) / case.kept("sigma", amps_sigma))
    if case.open_leads:
        rows, volts = case.open_leads, np.array([line_volts_at(case, each) for each in moves])
        share = [np.hypot(r.line_volts_sigma / r.line_volts, r.speed_sigma_rpm / r.speed_rpm) for r in rows]
        parts.append((np.array([each.line_volts for each in rows]) - volts) / (np.array(share) * volts))
    if speeds and case.driven:
        sigma = [np.hypot(_SPEED_SHARE * each.speed_rpm, each.speed_sigma_rpm) for each in case.driven]
        parts.append(np.nan_to_num(_speeds_off(case, moves, flows) / np.array(sigma), nan=_OUT_OF_REACH))
    return np.concatenate(parts, axis=1) if parts else np.zeros((len(moves), 0))


def labels(case):
    """What each column of `misfit_table` is.

    Parameters
    ----------
    case : RunCase
        Machine and rows.

    Returns
    -------
    tuple
        Pairs of "amps", "volts" or "speed" and the RunReading.
    """
    groups = (("amps", case.charging), ("volts", case.open_leads), ("speed", case.driven))
    return tuple((name, row) for name, rows in groups for row in rows)
