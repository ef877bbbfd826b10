"""What the finished machine should do at the settings of the run log, and how far it is off."""

import numpy as np

from statorbook.drives import with_quantities
from statorbook.errors import BadInput
from statorbook.first_run.flows import Deviation, amps_table, flows_at
from statorbook.quantities import RAD_S_PER_RPM
from statorbook.winding import Winding

# How closely a drive's torque curve can be trusted to give the speed: common practice, no source.
_SPEED_SHARE = 0.03
_OUT_OF_REACH = 1e6  # sigma, where the drive refuses what the source would have to give
_STEP, _LEAST_SLOPE = 0.01, 1e-5  # of the speed; N·m per rpm, so that a flat crossing divides by something


def amps_at(case, deviation=Deviation()):
    """Amps into the bank at the speed and bank volts of each charging row.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    deviation : Deviation
        What is taken to be different.

    Returns
    -------
    ndarray
        DC amps, shape (rows,) [A].

    Notes
    -----
    Equation: `bridge.bridge` with the row's speed, bank volts and winding temperature.
    Valid: volts read at the bank's terminals; winding as warm as promised where its temperature was not read.
    Source: as `bridge.bridge`.
    """
    return amps_table(case, [deviation])[0]


def amps_sigma(case):
    """Likely error of each charging row as seen in amps, one sigma: the ammeter's and the speed's [A]."""
    # √(ammeter² + (amps at one sigma more speed − amps)²), small errors: JCGM 100:2008 (GUM), 5.1.2 (from memory).
    speed, sigma = case.readings_of("speed_rpm"), case.readings_of("speed_sigma_rpm")
    at, faster = (flows_at(case, [Deviation()], rpm).dc_amps[0] for rpm in (speed, speed + sigma))
    return np.hypot(case.readings_of("dc_amps_sigma"), faster - at)


def meter_pulls(case):
    """What one sigma of ammeter and of voltmeter moves each misfit by, shape (2, readings)."""
    # The meter's share is the same in all rows; over the row's own sigma, as `misfit_table` has it with `own`.
    amps = case.readings_of("dc_amps_shared") / _own_amps_sigma(case) if case.charging else ()
    volts = [row.line_volts_shared / row.line_volts / _own_volts_share(row) for row in case.open_leads]
    return np.block([[np.array(amps), np.zeros(len(volts))], [np.zeros(len(amps)), np.array(volts)]])


def _own_amps_sigma(case):
    return np.sqrt(case.kept("sigma", amps_sigma) ** 2 - case.readings_of("dc_amps_shared") ** 2)


def _volts_share(row):
    return np.hypot(row.line_volts_sigma / row.line_volts, row.speed_sigma_rpm / row.speed_rpm)


def _own_volts_share(row):
    return np.sqrt(_volts_share(row) ** 2 - (row.line_volts_shared / row.line_volts) ** 2)


def line_volts_at(case, deviation=Deviation()):
    """Line volts, rms, at open leads of each row without current [V]."""
    return deviation.emf_share * case.kept("line volts", _line_volts)


def _line_volts(case):
    machine = case.machine
    winding = Winding(stator=machine.stator, coil=machine.coil, grouping=case.grouping)
    speed = np.array([row.speed_rpm for row in case.open_leads])
    return winding.line_volts_rms(speed, machine.setting.conditions.magnet_c)


def speeds_off(case, deviation=Deviation()):
    """How much faster each row with a known source ran than drive and generator agree on [rpm]."""
    # Newton's step of the torque balance, −(T_drive − T_generator) / (slope of the generator's − slope of the drive's),
    # all at the speed read, slopes as promised. Valid: near the speed where both agree.
    return _speeds_off(case, [deviation], flows_at(case, [deviation], case.readings_of("speed_rpm")))[0]


def _speeds_off(case, deviations, flows):
    return -_surplus_nm(case, deviations, flows, 1.0) / case.kept("slope", _slope)


def _slope(case):
    """How much more torque a turn a minute more takes than the drive gives [N·m/rpm]."""
    speed = case.readings_of("speed_rpm")
    sides = [(share, flows_at(case, [Deviation()], speed * share)) for share in (1.0 + _STEP, 1.0 - _STEP)]
    up, down = (_surplus_nm(case, [Deviation()], flows, share)[0] for share, flows in sides)
    return np.maximum((down - up) / (2.0 * _STEP * speed[case.is_driven]), _LEAST_SLOPE)


def _surplus_nm(case, deviations, flows, speed_share):
    """Torque that the drive gives beyond what the generator takes, shape (deviations, driven rows)."""
    speed, at = case.readings_of("speed_rpm") * speed_share, case.machine.setting.conditions
    drag = at.drag_at_nm(speed) + np.array([[deviation.drag_nm] for deviation in deviations])
    taken = flows.emf_watts / (speed * RAD_S_PER_RPM) + drag
    given = case.kept("given", lambda case: {})
    shares = [deviation.source_share for deviation in deviations]
    for share in set(shares) - {known for known, at in given if at == speed_share}:
        given[share, speed_share] = _given_nm(case, share, speed_share)
    return np.array([given[share, speed_share] for share in shares]) - taken[:, case.is_driven]


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


def misfits(case, deviation=Deviation(), *, speeds=True):
    """How many sigma each reading is off for one difference, as a row of `misfit_table`."""
    return misfit_table(case, [deviation], speeds=speeds)[0]


def misfit_table(case, deviations, *, speeds=True, own=False):
    """(read − predicted) / sigma, shape (deviations, readings), as `labels` orders them; `own` without meters."""
    # Sigma of amps by `amps_sigma`; of volts the meter's and the speed's error; of speeds the trust in the drive's
    # torque curve and the speed's error, in quadrature: JCGM 100 (from memory). Valid: errors independent.
    parts = []
    if case.charging:
        flows = flows_at(case, deviations, case.readings_of("speed_rpm"))
        sigma = _own_amps_sigma(case) if own else case.kept("sigma", amps_sigma)
        parts.append((case.readings_of("dc_amps") - flows.dc_amps) / sigma)
    if case.open_leads:
        rows, volts = case.open_leads, np.array([line_volts_at(case, deviation) for deviation in deviations])
        share = [(_own_volts_share if own else _volts_share)(row) for row in rows]
        parts.append((np.array([row.line_volts for row in rows]) - volts) / (np.array(share) * volts))
    if speeds and case.driven:
        sigma = [np.hypot(_SPEED_SHARE * row.speed_rpm, row.speed_sigma_rpm) for row in case.driven]
        parts.append(np.nan_to_num(_speeds_off(case, deviations, flows) / np.array(sigma), nan=_OUT_OF_REACH))
    return np.concatenate(parts, axis=1) if parts else np.zeros((len(deviations), 0))


def labels(case):
    """What each column of `misfit_table` is: pairs of "amps", "volts" or "speed" and the `RunReading`."""
    groups = (("amps", case.charging), ("volts", case.open_leads), ("speed", case.driven))
    return tuple((name, row) for name, rows in groups for row in rows)
