"""The arrays in which simulated days are worked out, and what stands at which place of them."""

from typing import NamedTuple

import numpy as np

from statorbook.charging.control import INPUT_NAMES, MEASURED_NAMES, OUTPUT_NAMES, OUTPUTS
from statorbook.charging.day_result import FLOWS, TALLIES

TRICKLE = 0.005  # of the capacity in amps: below it nothing is charged


class DayPlan(NamedTuple):
    """What does not change over the days."""

    bank: np.ndarray
    capacity_ah: float
    bank_air_c: float
    limits: np.ndarray  # most and least volts as at 25 °C, volts per K, least and most °C for charging
    rules: tuple  # `RuleTable`
    per_unit: np.ndarray  # code units of each measured input
    missing: np.ndarray  # measured inputs without a sensor
    closed_at_rest: np.ndarray  # outputs
    volts: np.ndarray  # of the supply's table, and next its settings, amps and speed
    settings: np.ndarray
    amps: np.ndarray
    rpm: np.ndarray
    by_hour: np.ndarray
    stops_source: bool
    siemens: np.ndarray  # of each output's dump load
    guard: np.ndarray  # high on, high off, low off, low on; empty for none
    inverter: np.ndarray  # rated and surge watts, efficiency, idle watts, trips below, back above, trips above; empty
    house: np.ndarray  # watts in each minute of a day
    surge: np.ndarray  # watts more in its first second
    cylinder: np.ndarray  # heater watts, inlet, thermostat, W/K, Wh/K; empty for none
    draws: np.ndarray  # litres in a second, by hour
    room: np.ndarray  # heater watts, outside mean, swing, share of the way in a second, K of a watt


class DayState(NamedTuple):
    """What is carried from second to second."""

    now: np.ndarray
    mode: np.ndarray
    watts: np.ndarray  # in the order of FLOWS
    latches: np.ndarray  # of the rules
    inputs: np.ndarray  # as the controller read them
    coils: np.ndarray  # outputs as it wants them
    on: np.ndarray  # outputs as they are
    amps_row: np.ndarray  # of the supply at the setting of the hour
    rpm_row: np.ndarray


class DayRecord(NamedTuple):
    """What is kept of it."""

    minutes: np.ndarray  # (minute, STATES, FLOWS and outputs)
    ends: np.ndarray  # (minute, least and most bank volts)
    tallies: np.ndarray
    operations: np.ndarray
    trips: np.ndarray


class DayFaults(NamedTuple):
    """What is wrong between two moments at which that changes."""

    inputs: np.ndarray  # 0, or its place in events.KINDS and one
    outputs: np.ndarray
    flags: np.ndarray  # trip, fuse, no source, no control power, guard dead
    colder_k: float


# Places in `DayState.now` and `.mode`, in `DayFaults.flags`, of a fault, and of a trip in TRIPS.
VOLTS, BANK, AMPS, CHARGE, CELL, WATER, ROOM, RPM, SLOPE, SETTING, OUTSIDE, SLOW = range(12)
ALIVE, TRIPPED, CAUSE, GUARD_HIGH, GUARD_LOW, THERMOSTAT, INVERTING, STOPPED = range(8)
TRIP, FUSE, NO_SOURCE, NO_POWER, GUARD_DEAD = range(5)
HIGH, LOW, ABSENT, FROZEN, WELDED, DEAD = range(1, 7)
LOW_TRIP, HIGH_TRIP, WATTS_TRIP, EVENT_TRIP = range(4)
# Inputs and outputs.
MEASURED, HEALTHY, POWER = len(MEASURED_NAMES), *map(INPUT_NAMES.index, ("inverter_healthy", "control_power"))
_SENSED = {"bank_volts": VOLTS, "bank_amps": AMPS, "cell_c": CELL, "water_c": WATER, "air_c": ROOM, "speed_rpm": RPM}
READ_FROM = tuple(_SENSED.get(name, -1) for name in MEASURED_NAMES)
OUTPUT_COUNT = len(OUTPUT_NAMES)
WATER_HEATER, AIR_HEATER, ENABLE, STOP = map(
    OUTPUT_NAMES.index, ("water_heater", "air_heater", "inverter_enable", "source_stop")
)
IS_LOAD = tuple(output.kind in ("dump", "heater", "inverter") for output in OUTPUTS.values())
# Flows and tallies.
FLOW_COUNT = len(FLOWS)
SOURCE, STORED, LOST, HOUSE, INVERTER, DUMPS, HOT, AIR, SPILLED, UNSERVED, DRAWN, COOLED = map(
    FLOWS.index,
    ("source", "stored", "bank_lost", "house", "inverter_lost", "dump_1", "water_heater", "air_heater", "spilled",
     "unserved", "drawn", "cylinder_lost"),
)  # fmt: skip
(
    MOST, MOST_S, LEAST, LEAST_S, ABOVE, _, _, _, _, BELOW, _, _, _, _, FORBIDDEN, _, _, _, _, FORBIDDEN_AMPS,
    HOT_LITRES, LITRES, BUS_MOST,
) = range(len(TALLIES))  # fmt: skip
