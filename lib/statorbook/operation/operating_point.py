"""Where the torque of the drive and of the generator agree, and what reaches the bank there."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from statorbook.operation.loads import loads
from statorbook.operation.settling import held_for, round_top, settled_volts
from statorbook.operation.speed_sweep import sweep
from statorbook.quantities import hashable

_SPEEDS = 176  # points of the sweep in which a crossing is looked for
_AT_ONCE = 1500  # speeds times windings, going up until every winding has met its crossing
_HAIR = 1e-9
_FOUND = {"xrtol": 1e-9}  # of the speed
_LEAST_RPM = 1e-9  # stands for no speed at all, where power over speed has no value


def operating_points(drive, windings, bank_state, conditions):
    """Speed at which the drive settles with each winding, and the flows there.

    Parameters
    ----------
    drive : Drive
        What turns it.
    windings : sequence of Winding
        g windings of one stator.
    bank_state : BankState or sequence of BankState
        Volts and inner resistance of the bank, one for all or one for each winding.
    conditions : Conditions or sequence of Conditions
        Temperatures, drag, rectifier, cable, one for all or one for each winding.

    Returns
    -------
    Sweep
        One column: the flows at the speed found, shape (g, 1); speed is 0 where the drive cannot turn it.

    Notes
    -----
    Equation: drive torque = generator torque; the crossing that is met first when starting from rest; with a converter
        that seeks, the volts held of which that crossing gives most.
    Valid: there the drive's torque falls below the generator's, so the crossing is stable.
    Source: mechanics of steady operation.
    """
    return _settled(drive, *hashable(windings, bank_state, conditions))


# The panels of a page, and the corners of a ±, ask for the same machine again and again.
@lru_cache(maxsize=64)
def _settled(drive, windings, bank_state, conditions):
    """The same for what can be looked up again."""
    load, rest_nm = loads(windings, bank_state, conditions), drive.torque_nm(0.0)
    if load.converter is not None:
        load = load.held_at(settled_volts(drive, load))
    speed = np.zeros((len(windings), 1))
    turning = np.flatnonzero(rest_nm > load.drag_nm[:, 0])
    if np.isinf(rest_nm):
        speed[:] = drive.best_speed_rpm
    elif turning.size:
        given = (windings, bank_state, conditions)
        taken = _Taken(load, _top(drive)) if load.converter else _taken(*given, _top(drive))
        speed[turning, 0] = _first_crossing(drive, load.only(turning), _first_behind(drive, taken, turning), taken)
    return load.at(np.maximum(speed, _LEAST_RPM))


def _first_crossing(drive, load, first, taken):
    """Speed at which each winding asks for more torque than the drive has, before a place on the grid, shape (g,)."""
    from scipy.optimize.elementwise import find_root

    def surplus_nm(speed_rpm, which):
        return drive.torque_nm(speed_rpm) - load.only(which).at(speed_rpm[:, None]).torque_nm[:, 0]

    # A hair wider than the grid: a crossing that lies on it may change sides by rounding.
    bracket = taken.speed_rpm[np.maximum(first - 1, 0)] * (1.0 - _HAIR), taken.speed_rpm[first] * (1.0 + _HAIR)
    return find_root(surplus_nm, bracket, args=(np.arange(len(load.ohm)),), tolerances=_FOUND).x


def _first_behind(drive, taken, rows):
    """Where on the grid the drive first falls behind each winding of some rows, shape (g,)."""
    first, ahead = np.zeros(len(rows), dtype=int), np.arange(len(rows))
    for start, speeds, torque_nm in taken.pieces():
        behind = drive.torque_nm(speeds) - torque_nm[rows[ahead]] <= 0.0
        met = behind.any(axis=1)
        first[ahead[met]] = start + np.argmax(behind[met], axis=1)
        ahead = ahead[~met]
        if not ahead.size:
            break
    return first


class _Taken:
    """The torque that windings take at speeds up to a top, worked out piece by piece as somebody asks for it."""

    def __init__(self, load, top_rpm):
        self.speed_rpm = np.concatenate([[_LEAST_RPM], np.linspace(0.0, top_rpm, _SPEEDS + 1)[1:]])
        self._load, self._torque_nm = load, []

    def pieces(self):
        """Where each piece begins, its speeds, and the torque at them, shape (g, n)."""
        step = max(_AT_ONCE // len(self._load.ohm), 1)
        for number, start in enumerate(range(0, len(self.speed_rpm), step)):
            speeds = self.speed_rpm[start : start + step]
            if number == len(self._torque_nm):
                self._torque_nm.append(self._load.at(speeds).torque_nm)
            yield start, speeds, self._torque_nm[number]


# A move of the source's slider changes nothing of this until the top is another one.
@lru_cache(maxsize=64)
def _taken(windings, bank_state, conditions, top_rpm):
    return _Taken(loads(windings, bank_state, conditions), top_rpm)


def _top(drive):
    """Where the drive's own torque has ended; nothing can settle beyond it [rpm]."""
    return round_top(drive.free_speed_rpm)


@dataclass(frozen=True, kw_only=True)
class Crossing:
    """A speed at which drive and generator pull alike."""

    speed_rpm: float
    torque_nm: float  # of both
    stable: bool  # it comes back there after a knock; else it runs away from it, up or down


def crossings(drive, winding, bank_state, conditions):
    """Every crossing of the torque curves of drive and generator, slow to fast; one if a drive holds its speed."""
    # Stable where the drive pulls harder just below. Those further apart than 1/160 of the free speed are all found.
    conditions = held_for(drive, winding, bank_state, conditions)
    if np.isinf(drive.torque_nm(0.0)):
        speed = drive.best_speed_rpm
        torque = sweep([winding], np.array([speed]), bank_state, conditions).torque_nm[0, 0]
        return (Crossing(speed_rpm=speed, torque_nm=float(torque), stable=True),)
    from scipy.optimize import brentq

    def surplus_nm(speed_rpm):
        speeds = np.atleast_1d(speed_rpm)
        return drive.torque_nm(speeds) - load.at(speeds).torque_nm[0]

    load = loads([winding], bank_state, conditions)
    grid = _Taken(load, _top(drive)).speed_rpm
    ahead = surplus_nm(grid) > 0.0
    changes = np.flatnonzero(ahead[1:] != ahead[:-1])
    ends = [(grid[at] * (1.0 - _HAIR), grid[at + 1] * (1.0 + _HAIR)) for at in changes]
    found = [brentq(lambda n: surplus_nm(n)[0], low, high) for low, high in ends]
    return tuple(
        Crossing(speed_rpm=speed, torque_nm=float(drive.torque_nm(speed)), stable=bool(ahead[at]))
        for speed, at in zip(found, changes, strict=True)
    )


@dataclass(frozen=True, kw_only=True)
class OperatingPoint:
    """One winding at the speed where its drive settles.

    Parameters
    ----------
    speed_rpm : float
        Speed found; 0 when the drive cannot turn it [rpm].
    dc_amps : float
        Mean current into the bank [A].
    bank_watts : float
        Power at the bank's terminals [W].
    phase_amps_rms : float
        Current in one lead, rms [A].
    speed_over_best : float
        Speed found over the drive's best speed [-].
    voltage_ratio : float
        u, DC volts over line EMF peak [-].
    chain_watts : tuple
        (name, watts) from the source to the bank; a loss is negative [W].
    held_dc_volts : float or None
        What a converter holds at its input; None without one [V].
    """

    speed_rpm: float
    dc_amps: float
    bank_watts: float
    phase_amps_rms: float
    speed_over_best: float
    voltage_ratio: float
    chain_watts: tuple
    held_dc_volts: float | None = None

    @property
    def charges(self):
        """True when current flows into the bank."""
        return self.dc_amps > 0.0


def operating_point(drive, winding, bank_state, conditions):
    """Where one winding settles, as an OperatingPoint."""
    return points_from(drive, operating_points(drive, [winding], bank_state, conditions))[0]


def point_at(drive, winding, bank_state, conditions, speed_rpm):
    """The flows of one winding at a speed that is known already, such as where a start ends.

    Parameters
    ----------
    drive : Drive
        What turns it.
    winding : Winding
        The winding.
    bank_state : BankState
        Volts and inner resistance of the bank.
    conditions : Conditions
        Temperatures, drag, rectifier, cable.
    speed_rpm : float
        Where it settles; 0 when the drive cannot turn it [rpm].

    Returns
    -------
    OperatingPoint
        The flows there.

    Notes
    -----
    Valid: at a crossing; elsewhere the chain's first losses would also hold what speeds the rotor up.
    """
    at = np.array([max(speed_rpm, _LEAST_RPM)])
    around = held_for(drive, winding, bank_state, conditions)
    return points_from(drive, loads([winding], bank_state, around).at(at))[0]


def points_from(drive, found):
    """Split the columns that `operating_points` returns into one value per winding.

    Parameters
    ----------
    drive : Drive
        The drive that was used.
    found : Sweep
        Shape (g, 1).

    Returns
    -------
    list of OperatingPoint
        g points.
    """
    points = []
    arrays = {name: value for name, value in vars(found).items() if isinstance(value, np.ndarray)}
    columns = {name: np.broadcast_to(value, found.dc_amps.shape)[:, 0].tolist() for name, value in arrays.items()}
    lost = [name for name in ("drag", "copper", "diode", "cable", "converter") if f"{name}_watts" in columns]
    for row in range(len(found.dc_amps)):
        at = {name: column[row] for name, column in columns.items()}
        losses = tuple((name, -at[f"{name}_watts"]) for name in lost)
        shaft = at["bank_watts"] - sum(watts for _, watts in losses)
        steps = drive.source_steps
        head = (*steps, (drive.loss_name, shaft - sum(watts for _, watts in steps))) if steps else ()
        turning = at["speed_rpm"] > 1e-6
        points.append(
            OperatingPoint(
                speed_rpm=at["speed_rpm"] if turning else 0.0,
                dc_amps=at["dc_amps"],
                bank_watts=at["bank_watts"],
                phase_amps_rms=at["phase_amps_rms"],
                speed_over_best=at["speed_rpm"] / drive.best_speed_rpm,
                voltage_ratio=at["voltage_ratio"],
                chain_watts=(*head, ("shaft", shaft), *losses, ("bank", at["bank_watts"])),
                held_dc_volts=at.get("held_dc_volts"),
            )
        )
    return points
