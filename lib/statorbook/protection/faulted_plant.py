"""The plant with a fault between machine and bank: where it settles then, and the most that can flow."""

from dataclasses import dataclass
from functools import lru_cache
from math import isinf

import numpy as np

from statorbook.bridge import BridgeFault, faulted_bridge
from statorbook.quantities import RAD_S_PER_RPM

_SLOWER, _FASTER, _CLOSER = 5, 8, 5  # speeds at which drive and faulted machine are held against each other
_LEAST_SHARE = 0.02  # of the working speed, where the look begins

ONE_OPEN = BridgeFault(open_diodes=("A+",))
ONE_SHORTED = BridgeFault(shorted_diodes=("A+",))
LEAD_OFF = BridgeFault(lead_off="A")
PHASE_OFF = BridgeFault(phase_off="A")
FAULTS = (ONE_OPEN, ONE_SHORTED, LEAD_OFF, PHASE_OFF)


@dataclass(frozen=True, kw_only=True)
class FaultedRun:
    """What flows and stands where with a fault, at one speed."""

    speed_rpm: float
    dc_amps: float  # into the bank, mean
    lead_amps_rms: float  # the most in one lead
    phase_amps_rms: float  # the most in one phase as it is wound
    reverse_volts_peak: float  # the most over one diode that blocks
    loose_volts_peak: float  # of what has come off, against what it was joined to; 0 without
    emf_watts: float  # what the machine takes from the shaft besides drag


@dataclass(frozen=True, kw_only=True)
class FaultedPlant:
    """What a fault does, at work and at the worst that the plant can do with the bank on."""

    working: FaultedRun  # where it settles on the half-full bank, the source as it is described
    worst: FaultedRun  # at the speed of the most amps, machine cold, bank empty

    def most(self, name):
        """The larger of both runs in one of their fields."""
        return max(getattr(self.working, name), getattr(self.worst, name))


def faulted_plants(plant, faults=FAULTS):
    """What each of several faults does to the plant, a tuple of `FaultedPlant`."""
    # Mean torque P/Ω + drag of the faulted bridge against the drive's, straight between the speeds of the last look.
    # The fault comes while it works, so the rotor goes up or down from there. A converter holds what it holds at work.
    return _found(plant.machine, plant.grouping, type(plant), plant.rotor, tuple(faults))


@lru_cache(maxsize=16)
def _found(machine, grouping, kind, rotor, faults):
    """By what counts alone, so that a new fuse or place need not be reckoned again."""
    plant = kind(machine=machine, grouping=grouping, rotor=rotor)
    speeds, worst = _settled_rpm(plant, faults), np.full(len(faults), plant.most.speed_rpm)
    runs = (
        _runs(rpm, _bridged(plant, faults, rpm, conditions, state), plant, conditions)
        for rpm, conditions, state in ((speeds, plant.conditions, 1), (worst, plant.worst, 0))
    )
    return tuple(FaultedPlant(working=at_work, worst=at_worst) for at_work, at_worst in zip(*runs, strict=True))


def _runs(speed_rpm, found, plant, conditions):
    """One `FaultedRun` for each row."""
    largest = ("lead_amps_rms", "phase_amps_rms", "reverse_volts_peak")
    columns = {name: getattr(found, name).max(axis=1) for name in largest}
    columns |= {name: getattr(found, name) for name in ("loose_volts_peak", "emf_watts")}
    columns |= {"speed_rpm": speed_rpm, "dc_amps": _bank_amps(found, plant, conditions)}
    return [
        FaultedRun(**{name: float(column[row]) for name, column in columns.items()}) for row in range(len(speed_rpm))
    ]


def _bank_amps(found, plant, conditions):
    """Mean amps into the bank; behind a converter its watts over the half-full volts, the inner ohms left out."""
    converter = conditions.converter
    if converter is None:
        return found.dc_amps
    return np.maximum(converter.efficiency * found.dc_watts - converter.idle_watts, 0.0) / plant.bank.half_volts


def _bridged(plant, faults, speed_rpm, conditions, state):
    """The bridges of several faults, each at its speed, one row each."""
    star = plant.winding.star_equivalent(conditions.copper_c, conditions.magnet_c)
    bank = plant.bank.states[state]
    volts, ohm = bank.volts, bank.ohm + conditions.cable_ohm
    if conditions.converter is not None:
        volts, ohm = plant.working.held_dc_volts or conditions.converter.high_volts, conditions.cable_ohm
    return faulted_bridge(
        faults,
        np.sqrt(2.0) * star.emf_v_per_rpm * speed_rpm,
        star.ohm,
        2.0 * np.pi * plant.winding.stator.electrical_hz(speed_rpm) * star.henry,
        volts,
        diode_drop_v=conditions.diode_drop_v,
        dc_resistance_ohm=ohm,
        lead_ohm=conditions.ac_cable_ohm,
        connection=plant.grouping.connection,
    )


def _settled_rpm(plant, faults):
    """Speed to which the drive goes from where it is at work, shape (faults,)."""
    drive, working_rpm = plant.drive, plant.working.speed_rpm
    if working_rpm == 0.0 or isinf(drive.torque_nm(0.0)):
        return np.full(len(faults), working_rpm)

    def surplus_nm(speeds):
        flat = speeds.ravel()
        every = [fault for fault in faults for _ in range(speeds.shape[1])]
        taken = _bridged(plant, every, flat, plant.conditions, 1).emf_watts / (flat * RAD_S_PER_RPM)
        return (drive.torque_nm(flat) - taken - plant.conditions.drag_at_nm(flat)).reshape(speeds.shape)

    slower = np.linspace(_LEAST_SHARE * working_rpm, working_rpm, _SLOWER)
    faster = np.linspace(working_rpm, drive.free_speed_rpm, _FASTER)[1:]
    speeds = np.tile(np.concatenate([slower, faster]), (len(faults), 1))
    low, high, _ = _bracket(speeds, surplus_nm(speeds), _SLOWER - 1)
    speeds = low[:, None] + (high - low)[:, None] * np.linspace(0.0, 1.0, _CLOSER)
    surplus = surplus_nm(speeds)
    low, high, share = _bracket(speeds, surplus, 0)
    return low + (high - low) * share


def _bracket(speeds, surplus_nm, start):
    """Around the first speed, from a start on up or down, at which drive and machine agree, and its place between."""
    found = []
    for row, surplus in zip(speeds, surplus_nm, strict=True):
        behind = surplus <= 0.0
        if behind[start]:
            after = int(np.flatnonzero(~behind[:start])[-1]) + 1 if (~behind[:start]).any() else 1
        else:
            after = start + int(behind[start:].argmax()) if behind[start:].any() else len(row) - 1
        ahead, short = surplus[after - 1], -surplus[after]
        found.append((row[after - 1], row[after], np.clip(ahead / (ahead + short), 0.0, 1.0) if ahead + short else 0.0))
    return (np.array(column) for column in zip(*found, strict=True))
