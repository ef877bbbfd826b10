"""Where drives settle on windings that were swept over speed once: quick, for many drives and surroundings at once."""

from math import isinf

import numpy as np

from statorbook.operation.speed_sweep import sweep
from statorbook.quantities import RAD_S_PER_RPM

SETTLED = ("speed_rpm", "dc_amps", "bank_watts")
_WITH_LEADS = (*SETTLED, "phase_amps_rms")
_PAST_THE_BEST = 1.05  # a drive that holds its speed is looked at up to here
_SPEEDS = 480  # of one sweep for all settings of a year, closer together at the slow end
_CLOSER = 1.5


def settled_in(machines, windings, state=1, *, speeds=240):
    """Speed, amps and watts of windings in several machines that differ in drive, bank or setting only.

    Parameters
    ----------
    machines : sequence of Machine
        m machines.
    windings : sequence of Winding
        w windings of their stator.
    state : int
        Which of the bank's states: 0 empty, 1 half full, 2 charging [-].
    speeds : int
        How many speeds are swept [-].

    Returns
    -------
    dict of str to ndarray
        "speed_rpm" [rpm], "dc_amps" [A] and "bank_watts" [W], shape (m, w); 0 where the drive cannot turn it, as in
        `settled`.
    """
    top = max(_last_speed(now.drive) for now in machines)
    surroundings = [(now.bank.states[state], now.setting.conditions) for now in machines]
    different = list(dict.fromkeys(surroundings))
    every = [(winding, *around) for around in different for winding in windings]
    column, states, conditions = (list(column) for column in zip(*every, strict=True))
    swept = sweep(column, np.linspace(top / speeds, top, speeds), states, conditions)
    found = []
    for now, around in zip(machines, surroundings, strict=True):
        first = different.index(around) * len(windings)
        found.append(settled(now.drive, swept.only(slice(first, first + len(windings)))))
    return {name: np.array([row[name] for row in found]) for name in SETTLED}


def _last_speed(drive):
    return _PAST_THE_BEST * drive.best_speed_rpm if isinf(drive.torque_nm(0.0)) else drive.free_speed_rpm


def settled_at(drives, windings, bank_state, conditions):
    """Speed, amps and watts of windings at many settings of their source, from one sweep over speed.

    Parameters
    ----------
    drives : sequence of Drive
        k settings of the source.
    windings : sequence of Winding
        w windings of one stator.
    bank_state : BankState or sequence of BankState
        The bank, one for all or one for each winding.
    conditions : Conditions or sequence of Conditions
        Temperatures, drag, rectifier, cable, one for all or one for each winding.

    Returns
    -------
    dict of str to ndarray
        "speed_rpm" [rpm], "dc_amps" and "phase_amps_rms" [A] and "bank_watts" [W], shape (k, w); 0 where the drive
        cannot turn it.

    Notes
    -----
    Equation: see `settled`.
    Valid: within 0.2 % of `operating_points`, since the sweep is fine.
    Source: mechanics of steady operation.
    """
    top = max(map(_last_speed, drives))
    speeds = top * np.linspace(0.0, 1.0, _SPEEDS + 1)[1:] ** _CLOSER
    swept = sweep(windings, speeds, bank_state, conditions)
    found = [settled(drive, swept, names=_WITH_LEADS) for drive in drives]
    return {name: np.array([row[name] for row in found]) for name in _WITH_LEADS}


def settled(drive, swept, *, names=SETTLED):
    """Speed, amps and watts where a drive settles with each winding of a sweep, straight between the speeds swept.

    Parameters
    ----------
    drive : Drive
        What turns it.
    swept : Sweep
        Shape (g, n), the same rising speeds in each row.
    names : sequence of str
        Columns of the sweep that are wanted.

    Returns
    -------
    dict of str to ndarray
        By name, shape (g,), each in its unit; 0 where the drive cannot turn it.

    Notes
    -----
    Equation: drive torque = generator torque, the crossing that is met first.
    Valid: as exact as the sweep is fine; `operating_points` finds the crossing itself.
    Source: mechanics of steady operation.
    """
    speeds = swept.speed_rpm[0]
    if isinf(drive.torque_nm(0.0)):
        at = drive.best_speed_rpm
        return {name: np.array([np.interp(at, speeds, row) for row in getattr(swept, name)]) for name in names}
    surplus = drive.torque_nm(speeds) - swept.torque_nm
    rows, after = np.arange(len(surplus)), np.maximum(np.argmax(surplus <= 0.0, axis=1), 1)
    left, right = surplus[rows, after - 1], surplus[rows, after]
    share = np.clip(np.divide(left, left - right, out=np.ones_like(left), where=left > right), 0.0, 1.0)
    turns = drive.torque_nm(0.0) > swept.drag_watts[:, 0] / (speeds[0] * RAD_S_PER_RPM)

    def between(values):
        return np.where(turns, (1.0 - share) * values[rows, after - 1] + share * values[rows, after], 0.0)

    return {name: between(getattr(swept, name)) for name in names}
