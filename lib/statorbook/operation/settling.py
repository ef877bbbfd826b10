"""Where drives settle on windings that were swept over speed once: quick, for many drives and surroundings at once."""

from functools import lru_cache
from math import ceil, isinf, log

import numpy as np

from statorbook.operation.loads import loads
from statorbook.operation.seeking import best_volts, between, peak, trial_volts
from statorbook.quantities import RAD_S_PER_RPM, hashable

SETTLED = ("speed_rpm", "dc_amps", "bank_watts")
_WITH_LEADS = (*SETTLED, "phase_amps_rms")
_PAST_THE_BEST = 1.05  # a drive that holds its speed is looked at up to here
_SPEEDS = 528  # of one sweep for all settings of a year, closer together at the slow end
_SPEEDS_EACH = 240  # of each of the volts tried, between which errors drop out
_CLOSER = 1.5
_ROUND = 1.1  # times the one before: tops of sweeps
_TRIES = 16  # volts that a converter may hold, through its window, and closer round the best of them
_NEAR_TRIES = 7
_FEW, _MANY = 48, 160  # speeds at which they are looked at


def settled_in(machines, windings, *, speeds=240):
    """Speed, amps and watts at the half-full bank of windings in machines that differ in drive, bank or setting only.

    Parameters
    ----------
    machines : sequence of Machine
        m machines.
    windings : sequence of Winding
        w windings of their stator.
    speeds : int
        How many speeds are swept [-].

    Returns
    -------
    dict of str to ndarray
        "speed_rpm" [rpm], "dc_amps" [A] and "bank_watts" [W], shape (m, w); 0 where the drive cannot turn it, as in
        `settled`.
    """
    top = max(_last_speed(now.drive) for now in machines)
    surroundings = [(now.bank.states[1], now.setting.conditions) for now in machines]
    different = list(dict.fromkeys(surroundings))
    every = [(winding, *around) for around in different for winding in windings]
    column, states, conditions = (list(column) for column in zip(*every, strict=True))
    swept = sweep_to_settle(column, np.linspace(top / speeds, top, speeds), states, conditions)
    found, rows = [], len(windings) * swept.tries
    for now, around in zip(machines, surroundings, strict=True):
        first = different.index(around) * rows
        found.append(settled(now.drive, swept.only(slice(first, first + rows))))
    return {name: np.array([row[name] for row in found]) for name in SETTLED}


def _last_speed(drive):
    return _PAST_THE_BEST * drive.best_speed_rpm if isinf(drive.torque_nm(0.0)) else drive.free_speed_rpm


def settled_at(drives, windings, bank_state, conditions, *, also=()):
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

    also : sequence of str
        Further columns of the sweep that are wanted, such as "cable_watts".

    Returns
    -------
    dict of str to ndarray
        "speed_rpm" [rpm], "dc_amps" and "phase_amps_rms" [A] and "bank_watts" [W], shape (k, w); 0 where the drive
        cannot turn it; with a converter "held_dc_volts" too, at its input [V].

    Notes
    -----
    Equation: see `settled`.
    Valid: within 0.2 % of `operating_points`, since the sweep is fine; 0.3 % with a converter that seeks.
    Source: mechanics of steady operation.
    """
    around = conditions if isinstance(conditions, (list, tuple)) else [conditions]
    top, many = max(map(_last_speed, drives)), _SPEEDS_EACH
    if all(now.converter is None for now in around):  # else the volts tried hang on the top
        top, many = round_top(top), _SPEEDS
    swept = _swept_to(top, many, *hashable(windings, bank_state, conditions))
    names = (*_WITH_LEADS, *also, *(() if swept.held_dc_volts is None else ("held_dc_volts",)))
    found = [settled(drive, swept, names=names) for drive in drives]
    return {name: np.array([row[name] for row in found]) for name in names}


# The same sweep serves every move of the source's slider up to the same top, and every setting of a year at once.
@lru_cache(maxsize=16)
def _swept_to(top_rpm, many, windings, bank_state, conditions):
    speeds = top_rpm * np.linspace(0.0, 1.0, many + 1)[1:] ** _CLOSER
    return sweep_to_settle(windings, speeds, bank_state, conditions)


def round_top(speed_rpm):
    """The next of a few round speeds, at most a tenth above: sources of nearly one speed share their sweeps [rpm]."""
    return _ROUND ** ceil(log(speed_rpm, _ROUND) - 1e-9)


def sweep_to_settle(windings, speed_rpm, bank_state, conditions):
    """A sweep in which `settled` finds where a drive settles, whatever stands between rectifier and bank.

    Parameters
    ----------
    windings : sequence of Winding
        g windings of one stator.
    speed_rpm : ndarray
        Rising speeds above 0, shape (n,) [rpm].
    bank_state : BankState or sequence of BankState
        As in `sweep`.
    conditions : Conditions or sequence of Conditions
        As in `sweep`.

    Returns
    -------
    Sweep
        Shape (g, n); with a converter several rows a winding, `tries`, each with other volts held.
    """
    load = loads(windings, bank_state, conditions)
    if load.converter is None or load.converter.holds:
        return load.at(speed_rpm)
    return _with_tries(load, speed_rpm, trial_volts(load, speed_rpm[-1], _TRIES))


def _with_tries(load, speed_rpm, volts):
    """One row for each of the volts of shape (g, tries)."""
    every = load.only(np.repeat(np.arange(len(volts)), volts.shape[1]))
    return every.held_at(volts.reshape(-1, 1)).at(speed_rpm, tries=volts.shape[1])


def settled_volts(drive, load):
    """Volts which a converter that seeks slowly comes to hold on each winding of Loads, shape (g, 1)."""
    # It tries volts, waits until the rotor has settled, and keeps those with most watts into the bank.
    if load.converter.holds:
        return load.converter.low_volts
    top = _last_speed(drive)
    if isinf(drive.torque_nm(0.0)):
        return best_volts(load, np.full((len(load.ohm), 1), drive.best_speed_rpm))
    volts = trial_volts(load, top, _TRIES)
    for speeds in (_FEW, _MANY):
        swept = _with_tries(load, np.linspace(top / speeds, top, speeds), volts)
        watts = _settled_rows(drive, swept, ("bank_watts",))["bank_watts"].reshape(volts.shape)
        best = np.argmax(watts, axis=1)[:, None]
        rows, last = np.arange(len(volts))[:, None], volts.shape[1] - 1
        low, high = (volts[rows, np.clip(best + side, 0, last)] for side in (-1, 1))
        at, volts = volts[rows, best], between(low, high, _NEAR_TRIES)
    return at


def held_for(drive, winding, bank_state, conditions):
    """The conditions with a converter that holds the volts to which it comes with a drive; themselves without one."""
    if conditions.converter is None:
        return conditions
    load = loads([winding], bank_state, conditions)
    return conditions if load.converter.holds else conditions.held_at(float(settled_volts(drive, load)[0, 0]))


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
    Equation: drive torque = generator torque, the crossing that is met first; of the volts tried those of most power,
        by a parabola through the best three.
    Valid: as exact as the sweep is fine; `operating_points` finds the crossing itself.
    Source: mechanics of steady operation.
    """
    if swept.tries == 1:
        return _settled_rows(drive, swept, names)
    found = _settled_rows(drive, swept, {*names, "bank_watts"})
    found = {name: values.reshape(-1, swept.tries) for name, values in found.items()}
    place = peak(np.broadcast_to(np.arange(swept.tries), found["bank_watts"].shape), found["bank_watts"])
    got = {name: _at_place(found[name], place) for name in names}
    # A limit is a corner, over which a parabola would reach: no row of the sweep goes beyond it.
    for name in {"bank_watts", "dc_amps"}.intersection(names):
        got[name] = np.minimum(got[name], getattr(swept, name).reshape(len(place), -1).max(axis=1))
    return got


def _at_place(values, place):
    """Values of shape (g, tries) at a place between them, shape (g, 1), by a parabola through the nearest three."""
    rows, middle = np.arange(len(values))[:, None], np.clip(np.rint(place), 1, values.shape[1] - 2).astype(int)
    before, at, after = (values[rows, middle + side] for side in (-1, 0, 1))
    off = place - middle
    return (at + 0.5 * off * (after - before) + 0.5 * off**2 * (before - 2.0 * at + after))[:, 0]


def _settled_rows(drive, swept, names):
    """What `settled` gives for each row as it stands."""
    speeds = swept.speed_rpm[0]
    if isinf(drive.torque_nm(0.0)):
        at = drive.best_speed_rpm
        return {name: np.array([np.interp(at, speeds, row) for row in getattr(swept, name)]) for name in names}
    surplus = drive.torque_nm(speeds) - swept.torque_nm
    rows, after = np.arange(len(surplus)), np.maximum(np.argmax(surplus <= 0.0, axis=1), 1)
    left, right = surplus[rows, after - 1], surplus[rows, after]
    share = np.clip(np.divide(left, left - right, out=np.ones_like(left), where=left > right), 0.0, 1.0)
    turns = drive.torque_nm(0.0) > swept.drag_watts[:, 0] / (speeds[0] * RAD_S_PER_RPM)

    def settles_at(name):
        values = getattr(swept, name)
        # A converter draws from the bank at standstill too, what it draws at a crawl.
        still = 0.0 if swept.held_dc_volts is None or name == "speed_rpm" else values[:, 0]
        return np.where(turns, (1.0 - share) * values[rows, after - 1] + share * values[rows, after], still)

    return {name: settles_at(name) for name in names}
