"""Days and weeks of a charging plan, second by second, with what goes wrong on them."""

from math import ceil, exp, isfinite, nan
from threading import Lock
from typing import NamedTuple

import numpy as np

from statorbook.bank import bank_table, rest_volts_of, slow_wh, stored_wh
from statorbook.charging import day_arrays as arrays
from statorbook.charging.control import CLOSED_AT_REST, MEASURED, MEASURED_NAMES, OUTPUT_NAMES, YES_NO
from statorbook.charging.cylinder import ROUND_IT_C, WATER_WH_PER_L_K
from statorbook.charging.day_result import FLOWS, STATES, TALLIES, TRIPS, Days
from statorbook.charging.events import (
    COLD,
    FUSE,
    GUARD_DEAD,
    KINDS,
    NEED_INPUT,
    NEED_OUTPUT,
    NO_CONTROL_POWER,
    NO_SOURCE,
    TRIP,
)
from statorbook.charging.house import house_day
from statorbook.charging.scan import SIGNAL_NAMES, rule_table, start_state
from statorbook.charging.supply import supply_of
from statorbook.errors import BadInput
from statorbook.quantities import require_count, require_number

MOST_DAYS = 366
_DAY_S, _STRETCH_S = 86_400, 21_600  # after each stretch the progress is told
_WORKED_OUT = "bank_volts_25"
INPUTS = tuple(name for name in (*MEASURED, *YES_NO) if name != _WORKED_OUT)
_FLAGS = (TRIP, FUSE, NO_SOURCE, NO_CONTROL_POWER, GUARD_DEAD)  # in the order of the kernel's
_NO_ROOM = (0.0, ROUND_IT_C.value, 0.0, 0.0, 0.0)
_DRAWN_HOURS = (7, 8, 19, 20)  # when hot water is drawn, the same in each: assumed


def simulate(plan, events=(), *, days=7, start_charge=None, on_progress=None):
    """Let a plan run for some days, second by second.

    Parameters
    ----------
    plan : ChargingPlan
        Plant, loads and rules.
    events : sequence of Event
        What goes wrong or comes along.
    days : int
        How many days, from midnight [-].
    start_charge : float or None
        Share of the bank's capacity at the start; the plan's when None [-].
    on_progress : callable or None
        Called with the share that is done, several times.

    Returns
    -------
    Days
        Minutes, watt-hours, and what was outside its limits.

    Raises
    ------
    BadInput
        When an event names what is not there, or days or charge are out of range.

    Notes
    -----
    Equation: amps of the source = amps of bank, dump loads and inverter at one bus voltage, in each second.
    Valid: rotor and bus in balance within a second; what is quicker than that is not in it.
    Source: Kirchhoff's current law.
    """
    run = DayRun(plan, events, most_days=days, start_charge=start_charge)
    while run.days < days:
        run.go_on()
        if on_progress:
            on_progress(run.done_s / (days * _DAY_S))
    return run.first(days)


class _DayEnd(NamedTuple):
    """What stands at the end of a day."""

    tallies: np.ndarray
    operations: np.ndarray
    trips: np.ndarray
    charge: float
    slow_volts: float


class DayRun:
    """Days of a plan that are worked out bit by bit; nothing in them looks ahead, so that fewer begin more.

    Parameters
    ----------
    plan : ChargingPlan
        Plant, loads and rules.
    events : sequence of Event
        What goes wrong or comes along.
    most_days : int
        How many days it can go on for, from midnight [-].
    start_charge : float or None
        Share of the bank's capacity at the start; the plan's when None [-].

    Raises
    ------
    BadInput
        When an event names what is not there, or days or charge are out of range.
    """

    def __init__(self, plan, events=(), *, most_days, start_charge=None):
        require_count(most_days, "days", 1, MOST_DAYS, "choose fewer days")
        self.start_charge = plan.start_charge if start_charge is None else start_charge
        require_number(self.start_charge, "charge at the start", "-", at_least=0, at_most=1)
        for event in events:
            _require_known(event)
        from statorbook.charging.day_controls import read_once  # numba is slow to import

        self._given, self.events, self.done_s = day_plan(plan), tuple(events), 0
        self._state, self._record = first_midnight(plan, self._given, self.start_charge), empty_record(most_days)
        read_once(self._given, faults_at((), 0), self._state)  # a reading may be frozen from the first second
        self._stretches, self._ends, self._lock = _stretches(events, most_days), [], Lock()

    @property
    def days(self):
        """How many whole days are worked out [-]."""
        return len(self._ends)

    def go_on(self):
        """Work out some hours more, at most a quarter of a day; nothing once all days are there."""
        from statorbook.charging.day_kernel import advance

        with self._lock:  # the page may ask from another thread
            if stretch := next(self._stretches, None):
                advance(self._given, faults_at(self.events, stretch[0]), self._state, self._record, *stretch)
                self.done_s = stretch[1]
                if self.done_s % _DAY_S == 0:
                    self._end_day()

    def _end_day(self):
        """From sums over each minute to means, and keep what else stands now."""
        now, record = self._state.now, self._record
        record.minutes[1440 * self.days : 1440 * (self.days + 1)] /= 60.0
        counted = (each.copy() for each in (record.tallies, record.operations, record.trips))
        self._ends.append(_DayEnd(*counted, float(now[arrays.CHARGE]), float(now[arrays.SLOW])))

    def first(self, days):
        """The first of the days, the same as if no more had been worked out.

        Parameters
        ----------
        days : int
            How many, at most those that are worked out [-].

        Returns
        -------
        Days
            Minutes, watt-hours, and what was outside its limits.

        Raises
        ------
        BadInput
            When they are not worked out.
        """
        require_count(days, "days", 1, self.days, "work out more days before")
        minutes, ends = self._record.minutes[: 1440 * days], self._record.ends[: 1440 * days]
        minutes.flags.writeable = ends.flags.writeable = False
        return _found(self._given, minutes, ends, self._ends[days - 1], days, self.start_charge, self.events)


def _require_known(event):
    """Refuse an event that names what is not there."""
    targets = dict.fromkeys(NEED_INPUT, INPUTS) | dict.fromkeys(NEED_OUTPUT, OUTPUT_NAMES)
    allowed = targets.get(event.kind, ("",))
    if event.kind not in KINDS:
        raise BadInput(
            f"{event.kind!r} was given", f"allowed are {', '.join(KINDS)}", "choose one of them", where="event"
        )
    if event.target not in allowed:
        raise BadInput(
            f"{event.target!r} was given for “{event.kind}”",
            f"allowed is {', '.join(allowed) or 'nothing'}",
            "name one of them",
            where="event",
        )
    if not (event.until_s > event.from_s >= 0.0 and isfinite(event.from_s)):
        raise BadInput(
            f"“{event.kind}” from {event.from_s:g} to {event.until_s:g} s was given",
            "it has to end after it begins, and to begin at 0 s or later",
            "set another hour or another length",
            where="event",
        )
    require_number(event.amount, "how much colder", "K", at_least=0, at_most=60)


def _stretches(events, days):
    """From and to of stretches over which no event begins or ends, seconds."""
    end = days * _DAY_S
    ends = {end, *range(0, end, _STRETCH_S)}
    for event in events:
        ends |= {ceil(at) for at in (event.from_s, event.until_s) if 0 < at < end}
    ends = sorted(ends)
    return zip(ends[:-1], ends[1:], strict=True)


def faults_at(events, second):
    """What is wrong in a second, as the kernel takes it."""
    inputs, outputs = np.zeros(len(MEASURED_NAMES) + len(YES_NO), np.int64), np.zeros(len(OUTPUT_NAMES), np.int64)
    flags, colder_k = np.zeros(len(_FLAGS), np.int64), 0.0
    places = {name: at for at, name in enumerate((*MEASURED_NAMES, *YES_NO))}
    for event in events:
        if not event.from_s <= second < event.until_s:
            continue
        if event.kind in _FLAGS:
            flags[_FLAGS.index(event.kind)] = 1
        elif event.kind == COLD:
            colder_k += event.amount
        elif event.kind in NEED_OUTPUT:
            outputs[OUTPUT_NAMES.index(event.target)] = 1 + KINDS.index(event.kind)
        else:
            inputs[places[event.target]] = 1 + KINDS.index(event.kind)
    return arrays.DayFaults(inputs=inputs, outputs=outputs, flags=flags, colder_k=colder_k)


def day_plan(plan):
    """A plan as the kernel takes it."""
    points, supply = plan.points, supply_of(plan)
    day = house_day(plan.house)
    siemens = {dump.output: 1.0 / dump.ohm for dump in plan.dumps}
    absent = {name for name, there in (("water_c", plan.cylinder), ("air_c", plan.room)) if not there}
    at_rest = [relay.output for relay in plan.rules.relays if relay.contact == CLOSED_AT_REST]
    return arrays.DayPlan(
        bank=bank_table(plan.bank),
        capacity_ah=float(plan.bank.capacity_ah),
        bank_air_c=float(plan.bank.temperature_c),
        limits=_numbers(points.most_volts, points.least_volts, points.compensation_v_per_k, *_charging_c(points)),
        rules=rule_table(plan.rules),
        per_unit=_numbers(*(each.per_unit for each in MEASURED.values())),
        missing=np.array([name in absent for name in MEASURED]),
        closed_at_rest=np.array([name in at_rest for name in OUTPUT_NAMES]),
        volts=supply.volts,
        settings=supply.settings,
        amps=supply.amps,
        rpm=supply.rpm,
        by_hour=_numbers(*plan.course.by_hour),
        stops_source=bool(plan.stops_source),
        siemens=_numbers(*(siemens.get(name, 0.0) for name in OUTPUT_NAMES)),
        guard=_values(plan.guard),
        inverter=_values(plan.inverter),
        house=day.watts,
        surge=day.start_watts - day.running_watts,
        cylinder=_cylinder(plan.cylinder),
        draws=_draws(plan.cylinder),
        room=_room(plan.room),
    )


def _numbers(*values):
    return np.array(values, dtype=float)


def _charging_c(points):
    return points.least_charging_c, points.most_charging_c


def _values(thing):
    """The fields of a plan's piece in their order, none where it is not there."""
    return _numbers(*vars(thing).values()) if thing else _numbers()


def _cylinder(cylinder):
    if cylinder is None:
        return _numbers()
    wh_per_k = cylinder.litres * WATER_WH_PER_L_K.value
    return _numbers(cylinder.heater_watts, cylinder.inlet_c, cylinder.thermostat_c, cylinder.loss_w_per_k, wh_per_k)


def _draws(cylinder):
    """Litres drawn in a second, by hour."""
    found = np.zeros(24)
    if cylinder:
        found[list(_DRAWN_HOURS)] = cylinder.litres_a_day / len(_DRAWN_HOURS) / 3600.0
    return found


def _room(room):
    """Heater watts, outside mean and swing, share of the way to them in a second, and kelvin of a watt in it."""
    if room is None:
        return _numbers(*_NO_ROOM)
    share = 1.0 - exp(-room.loss_w_per_k / (3600.0 * room.heat_wh_per_k))
    per_watt = share / room.loss_w_per_k if room.loss_w_per_k else 1.0 / (3600.0 * room.heat_wh_per_k)
    return _numbers(room.heater_watts, room.outside_c, room.outside_swing_k, share, per_watt)


def first_midnight(plan, given, charge):
    """The first midnight: cells as warm as their air, water hot, so that it takes up the least."""
    now = np.zeros(12)
    now[[arrays.BANK, arrays.VOLTS]] = rest_volts_of(charge, given.bank)
    now[arrays.CHARGE], now[arrays.CELL] = charge, given.bank_air_c
    now[arrays.ROOM] = now[arrays.OUTSIDE] = given.room[1]
    now[arrays.WATER] = plan.cylinder.thermostat_c if plan.cylinder else nan
    now[arrays.SLOPE] = 1.0 / max(plan.bank.internal_ohm, 1e-4)
    mode = np.zeros(8, np.int64)
    mode[arrays.TRIPPED] = -1
    return arrays.DayState(
        now=now,
        mode=mode,
        watts=np.zeros(len(FLOWS)),
        latches=start_state(given.rules),
        inputs=np.zeros(len(SIGNAL_NAMES), np.int64),
        coils=np.zeros(len(OUTPUT_NAMES), np.int64),
        on=np.zeros(len(OUTPUT_NAMES), np.int64),
        amps_row=np.zeros(len(given.volts)),
        rpm_row=np.zeros(len(given.volts)),
    )


def empty_record(days):
    """What nothing was kept in yet."""
    ends = np.zeros((days * 1440, 2))
    ends[:, 0], ends[:, 1] = np.inf, -np.inf
    tallies = {name: nan if name.endswith("first_s") else 0.0 for name in TALLIES}
    tallies |= {"most_volts": -np.inf, "least_volts": np.inf}
    return arrays.DayRecord(
        minutes=np.zeros((days * 1440, len(STATES) + len(FLOWS) + len(OUTPUT_NAMES))),
        ends=ends,
        tallies=_numbers(*tallies.values()),
        operations=np.zeros(len(OUTPUT_NAMES), np.int64),
        trips=np.zeros(len(TRIPS), np.int64),
    )


def _found(given, minutes, ends, at_end, days, charge, events):
    columns = iter(minutes.T)
    course, watts, on_share = (dict(zip(names, columns)) for names in (STATES, FLOWS, OUTPUT_NAMES))
    return Days(
        days=days,
        course=course,
        watts=watts,
        on_share=on_share,
        least_bank_volts=ends[:, 0],
        most_bank_volts=ends[:, 1],
        wh={name: float(values.sum()) / 60.0 for name, values in watts.items()},
        tallies=dict(zip(TALLIES, map(float, at_end.tallies), strict=True)),
        operations=dict(zip(OUTPUT_NAMES, map(int, at_end.operations), strict=True)),
        trips=dict(zip(TRIPS, map(int, at_end.trips), strict=True)),
        start_charge=charge,
        end_charge=at_end.charge,
        stored_wh=(
            stored_wh(at_end.charge, given.bank)
            + slow_wh(at_end.slow_volts, given.bank)
            - stored_wh(charge, given.bank)
        ),
        events=events,
    )
