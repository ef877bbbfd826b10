"""Cases of a plan brought to rest with one fault at a time: what then flows into the bank, and what takes it."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL, cases_of, cells_c, house_watts
from statorbook.charging.control import INPUT_NAMES, MEASURED, OUTPUT_NAMES
from statorbook.charging.control_faults import ControlFault
from statorbook.charging.day_arrays import GUARD_HIGH, GUARD_LOW
from statorbook.charging.days import day_plan, empty_record, faults_at, first_midnight
from statorbook.charging.events import GUARD_DEAD

_PAST_DELAYS_MS = 1000
_KEPT = 8  # states to start from, beside a controller just switched on


class Rehearsal:
    """A plan ready to be brought to rest in all its cases; numba is loaded with the first one made."""

    def __init__(self, plan):
        from statorbook.charging import rest_kernel
        from statorbook.charging.day_kernel import THERMOSTAT_K

        self._kernel, self.plan = rest_kernel, plan
        given = day_plan(plan)
        idle, busy = np.zeros(1440), np.full(1440, house_watts(plan))
        self._given = {side: given._replace(house=busy if side == EMPTY else idle) for side in (FULL, EMPTY, FORBIDDEN)}
        self._state, self._record = first_midnight(plan, given, plan.start_charge), empty_record(1)
        delays = [1000.0 * max(r.on_delay_s, r.off_delay_s, r.least_on_s) for r in plan.rules.rules]
        self._long_ms = int(max(delays, default=0.0)) + _PAST_DELAYS_MS
        self.cases, self._ends = (
            {side: cases_of(plan, side, THERMOSTAT_K, ends_only=ends) for side in (FULL, EMPTY, FORBIDDEN)}
            for ends in (False, True)
        )
        self._starts = self._switched_on()
        self._starts = self._remembered()

    def _switched_on(self):
        """The state of a controller that is just switched on."""
        state = self._state
        kept = (state.mode, state.latches, state.inputs, state.coils, state.on)
        return self._kernel.Starts(*(np.array([each]) for each in kept))

    def _remembered(self):
        """What rules may remember from sound hours: every state that is not another one's, newly switched on first."""
        held = [case for side in (FULL, EMPTY, FORBIDDEN) for case in self._ends[side]]
        points = self.plan.points
        between = [points.cut_off_volts, points.return_volts, points.float_volts, points.absorption_volts]
        usual = [
            replace(case, volts=volts, cell_c=cells_c(self.plan)[-1]) for case in self._ends[FULL] for volts in between
        ]
        cases = usual + held
        _, ends = self._rest(FULL, cases, np.zeros(len(cases), np.int64), faults_at((), 0))
        guard = ends.modes[:, [GUARD_HIGH, GUARD_LOW]]
        marks = np.column_stack([ends.latches[:, :, -1], guard])
        _, first = np.unique(marks, axis=0, return_index=True)
        first = np.sort(first)[:_KEPT]
        return self._kernel.Starts(
            *(np.concatenate([old, new[first]]) for old, new in zip(self._starts, ends, strict=True))
        )

    def _rest(self, side, cases, start, faults):
        kernel, count = self._kernel, len(cases)
        columns = [(c.volts, c.cell_c, c.water_c, c.room_c, c.setting) for c in cases]
        table = kernel.Cases(
            held=np.array(columns, dtype=float).reshape(-1, 5),
            closed=np.array([c.thermostat_closed for c in cases], dtype=np.int64),
            tripped=np.array([c.tripped for c in cases], dtype=np.int64),
            start=start,
        )
        found = kernel.AtRest(*np.zeros((3, count)))
        ends = kernel.Starts(*(np.zeros((count, *each.shape[1:]), np.int64) for each in self._starts))
        state, scratch = self._state, (np.zeros(len(self._state.latches), np.int64), np.zeros_like(self._state.coils))
        kernel.rest(
            self._given[side], faults, state, self._record, table, self._starts, found, ends, *scratch, self._long_ms
        )
        return found, ends

    def settled(self, side, fault, *, guard_dead=False):
        """The cases of one side at rest with a fault, as `Settled`: all newly switched on, the ends also later."""
        # A controller that was just switched on has no old reading.
        fresh, ends = [] if fault.is_unseen else self.cases[side], self._ends[side]
        dead = ControlFault(kind=GUARD_DEAD).events() if guard_dead else ()
        later = range(1, 1 if guard_dead and fresh else len(self._starts.on))
        cases = fresh + ends * len(later)
        start = np.concatenate([np.zeros(len(fresh), np.int64), np.repeat(np.array(later, np.int64), len(ends))])
        found, at_end = self._rest(side, cases, start, faults_at((*fault.events(), *dead), 0))
        return Settled(cases=cases, start=start, most=found.most, least=found.least, late=found.late, ends=at_end)


@dataclass(frozen=True)
class Settled:
    """Cases at rest."""

    cases: list  # of `HeldCase`
    start: np.ndarray  # 0 where the controller was just switched on
    most: np.ndarray  # amps into the bank once all delays are over; where the rules never rest the most of their round
    least: np.ndarray
    late: np.ndarray  # the most after the first seconds
    ends: tuple  # what the controller read, and what was on

    def on(self, at):
        """Names of what is on in a case."""
        return tuple(name for name, on in zip(OUTPUT_NAMES, self.ends.on[at], strict=True) if on)

    def readings(self, at):
        """What the controller reads in a case: name to the number in the reader's unit, or to yes or no."""
        codes = dict(zip(INPUT_NAMES, map(int, self.ends.inputs[at]), strict=False))
        return {
            name: code / MEASURED[name].per_unit if name in MEASURED else bool(code) for name, code in codes.items()
        }
