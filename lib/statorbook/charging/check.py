"""Check of a plan before it is used: each single fault, with the bank full, empty, too cold or too hot for charging.

The bank is held just past its limit and the controller worked until it rests. If more then comes than is taken, the
volts rise on: a gap. What a simulated day shows of it stands in each gap.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from statorbook.charging.at_rest import Rehearsal
from statorbook.charging.chatter import remarks_on
from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL, PASSING_S, most_volts
from statorbook.charging.check_gap import Gap, fails_from_s, shown_plan
from statorbook.charging.control import ABOVE
from statorbook.charging.control_faults import ControlFault, faults_of, outputs_at_work
from statorbook.charging.day_arrays import TRICKLE
from statorbook.charging.events import GUARD_DEAD
from statorbook.charging.full_bank import gas_amps, leaps_to

SIDES = (FULL, EMPTY, FORBIDDEN)
_NONE_AMPS = 1e-6
VOLTS = ("bank_volts", "bank_volts_25")


@dataclass(frozen=True, kw_only=True)
class Covered:
    """What keeps the bank within its limits on one side while one thing fails."""

    by_rules: bool  # whether the rules do it without the volts relay
    takes: tuple  # names of the outputs that are on where it is tightest
    amps: float  # into the bank there


@dataclass(frozen=True, kw_only=True)
class CheckedFault:
    """One fault, and what becomes of the bank on each side."""

    fault: ControlFault
    sides: dict  # each of SIDES to a `Covered`, a `Gap`, or None where it cannot be

    @property
    def gaps(self):
        """Its gaps, a tuple of `Gap`."""
        return tuple(found for found in self.sides.values() if isinstance(found, Gap))


@dataclass(frozen=True, kw_only=True)
class Checked:
    """A plan that was checked."""

    faults: tuple  # a `CheckedFault` for each single fault, nothing that fails first
    remarks: tuple = ()  # what switches too often or does less than it seems, in whole sentences

    @property
    def gaps(self):
        """All gaps, a tuple of `Gap`; one that is there while nothing fails is not told again for each fault."""
        sound = self.faults[0].gaps
        known = {gap.side for gap in sound}
        return (*sound, *(gap for fault in self.faults[1:] for gap in fault.gaps if gap.side not in known))

    @property
    def open_gaps(self):
        """The gaps that other rules, loads or another volts relay could close, a tuple of `Gap`."""
        return tuple(gap for gap in self.gaps if not gap.fault.is_unseen)

    @property
    def complete(self):
        """Whether no gap is left but of readings that are frozen, which no rule can see."""
        return not self.open_gaps


def check_plan(plan):
    """Check a plan against every single fault.

    Parameters
    ----------
    plan : ChargingPlan
        Plant, loads, rules and guard.

    Returns
    -------
    Checked
        For each fault and each side of the bank's limits what covers it, or the gap.

    Notes
    -----
    Equation: with the bank held just past a limit and the controller at rest, amps of the source less those of dump
        loads and inverter; more than the bank then makes gas of: it rises on. Likewise downward, and between the limits
        while the cells may not be charged. Too late: volts that a full bank reaches while the longest delay runs.
    Valid: one fault at a time beside an inverter that may have tripped and a cylinder or room that may be hot; what is
        over within a few seconds is not counted; the source at its strongest setting.
    Source: Kirchhoff's current law; the rules as the controller works them.
    """
    return _checked(_Same(plan))


class _Same:
    """A plan by what it is, not by what it equals: its rules hold a dict, which has no hash."""

    def __init__(self, plan):
        self.plan = plan

    def __hash__(self):
        return id(self.plan)

    def __eq__(self, other):
        return self.plan is other.plan


@lru_cache(maxsize=8)
def _checked(same):
    plan = same.plan
    rehearsal = Rehearsal(plan)
    faults = tuple(
        CheckedFault(fault=fault, sides={side: _judged(rehearsal, side, fault) for side in SIDES})
        for fault in faults_of(plan)
    )
    return Checked(faults=faults, remarks=remarks_on(plan))


def _judged(rehearsal, side, fault):
    """What becomes of one side with one fault: a `Covered`, a `Gap`, or None where it cannot be."""
    if not rehearsal.cases[side]:
        return None
    plan, settled = rehearsal.plan, rehearsal.settled(side, fault)
    over, late = _over(plan, side, settled)
    bad = np.flatnonzero(over > _NONE_AMPS)
    if bad.size:
        return _gap(plan, side, fault, settled, _plainest(plan, settled, bad, over), over)
    if late.any():
        # While the volts climb, rules with lower limits act already: only the seconds themselves tell.
        gap = _gap(plan, side, fault, settled, int(np.argmax(np.where(late, settled.late, -np.inf))), over)
        if gap.simulated().above.longest_s > PASSING_S.value:
            return gap
    by_rules = plan.guard is None or fault.kind == GUARD_DEAD
    if not by_rules:
        alone, _ = _over(plan, side, rehearsal.settled(side, fault, guard_dead=True))
        by_rules = not (alone > _NONE_AMPS).any()
    tightest = int(np.argmax(over))
    amps = settled.least[tightest] if side == EMPTY else settled.most[tightest]
    return Covered(by_rules=by_rules, takes=_takes(plan, settled, tightest), amps=float(amps))


def _over(plan, side, settled):
    """Amps by which each case passes what the bank stands, below 0 where it does not; and whether it is too late."""
    late = np.zeros(len(settled.most), dtype=bool)
    if side == EMPTY:
        return -settled.least, late
    if side == FORBIDDEN:
        return settled.most - TRICKLE * plan.bank.capacity_ah, late
    held = [(case.volts, case.cell_c) for case in settled.cases]
    taken = {each: gas_amps(plan.bank, *each) for each in set(held)}
    gas = np.array([taken[each] for each in held])
    for at in np.flatnonzero((settled.late > gas + _NONE_AMPS) & (settled.most <= gas + _NONE_AMPS)):
        late[at] = _leaps(plan, settled.cases[at].cell_c, float(settled.late[at]))
    return settled.most - gas, late


def _leaps(plan, cell_c, amps):
    """Whether a full bank passes its limit while the longest delay of the rules runs."""
    acting = [rule for rule in plan.rules.rules if rule.output in outputs_at_work(plan)]
    seconds = max((rule.on_delay_s for rule in acting), default=0.0)
    limit = most_volts(plan, cell_c)
    begins = [rule.on_at for rule in acting if rule.input in VOLTS and rule.side == ABOVE and rule.on_at < limit]
    rested = max(begins, default=plan.points.absorption_volts)
    return leaps_to(plan.bank, amps, cell_c, from_volts=rested, seconds=seconds) > limit


def _plainest(plan, settled, bad, over):
    """Of the cases that show a gap the one that is told in fewest words; of those the one with most amps."""

    def oddity(at):
        case = settled.cases[at]
        colder = plan.bank.temperature_c - case.cell_c
        return settled.start[at] > 0, case.tripped, colder, not case.thermostat_closed, -over[at]

    return min(bad, key=oddity)


def _gap(plan, side, fault, settled, at, over):
    held = settled.cases[at]
    shown, charge = shown_plan(plan, side, held, fault)
    is_late = bool(over[at] <= _NONE_AMPS)
    amps = settled.late[at] if is_late else over[at]
    return Gap(
        fault=fault,
        side=side,
        held=held,
        amps=float(amps),
        is_late=is_late,
        readings=settled.readings(at),
        on=_takes(plan, settled, at),
        shown=shown,
        start_charge=charge,
        from_s=fails_from_s(shown, charge, fault, side),
    )


def _takes(plan, settled, at):
    """What is on and moves amps in a case."""
    works = outputs_at_work(plan)
    return tuple(name for name in settled.on(at) if name in works)
