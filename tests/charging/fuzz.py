"""Random days with random single faults over random plans, held against what the check says of each plan.

Type `nice .venv/bin/python tests/charging/fuzz.py --days 10000` for the whole of it, in two processes. Where the bank
leaves its limits for longer than passes, the check must have named it: for that fault, or while nothing fails.
"""

import argparse
import random
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1]))

from samples import charging_samples
from statorbook.bank.battery import Bank, cells_for
from statorbook.charging.check import check_plan
from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL, PASSING_S, coldest_c
from statorbook.charging.days import simulate
from statorbook.charging.events import COLD, GUARD_DEAD, NO_SOURCE, TRIP, Event
from statorbook.charging.set_points import usual_points

DAYS_A_PLAN = 50
DAY_S = 86_400
SIDES = {"above": FULL, "below": EMPTY, "forbidden": FORBIDDEN}
CHEMISTRIES = ("LiFePO4", "flooded lead-acid", "AGM", "gel")


def any_plan(rng):
    """A plan: bank, what hangs on it, guard or none; every third with rules or loads that somebody has spoilt."""
    chemistry, volts = rng.choice(CHEMISTRIES), rng.choice((12, 24, 48))
    bank = Bank(
        chemistry=chemistry,
        cells=cells_for(chemistry, volts),
        capacity_ah=rng.choice((60.0, 100.0, 200.0, 400.0, 800.0)),
        temperature_c=rng.choice((5.0, 12.0, 20.0, 25.0)),
    )
    changes = {name: None for name in ("cylinder", "room", "inverter") if rng.random() < 0.2}
    changes |= {"guard": None} if rng.random() < 0.15 else {}
    plan = charging_samples.plan(bank=bank, points=usual_points(bank), stops_source=rng.random() < 0.5, **changes)
    return spoilt(plan, rng) if rng.random() < 0.33 else plan


def spoilt(plan, rng):
    """A plan with a dump load too weak, a rule left out, or limits and delays shifted."""
    what = rng.choice(("load", "rule", "limits", "delays"))
    if what == "load":
        return replace(plan, dumps=tuple(replace(dump, ohm=dump.ohm * rng.uniform(1.0, 2.5)) for dump in plan.dumps))
    rules = plan.rules.rules
    if what == "rule":
        named = {name.removeprefix("not ") for rule in rules for name in rule.only_if}
        left_out = rng.choice([rule for rule in rules if rule.name not in named])
        return replace(plan, rules=replace(plan.rules, rules=tuple(r for r in rules if r is not left_out)))
    if what == "delays":
        changed = tuple(replace(r, on_delay_s=r.on_delay_s * rng.choice((1, 3, 10))) for r in rules)
    else:
        changed = tuple(_shifted(r, rng.uniform(0.97, 1.02)) if r.input == "bank_volts_25" else r for r in rules)
    return replace(plan, rules=replace(plan.rules, rules=changed))


def _shifted(rule, factor):
    return replace(rule, on_at=round(rule.on_at * factor, 2), off_at=round(rule.off_at * factor, 2))


def any_day(plan, faults, rng):
    """A plan with a day's source and house, the fault, all that goes wrong, and the charge at the start."""
    strongest = max(plan.course.settings)
    steady = rng.choice((0.0, 0.3, 1.0, 1.0))
    hours = [strongest * (steady if rng.random() < 0.7 else rng.random()) for _ in range(24)]
    house = tuple(load for load in plan.house if rng.random() < 0.5)
    day = replace(plan, course=replace(plan.course, by_hour=tuple(hours)), house=house)
    fault, begin = rng.choice(faults), rng.choice((0.0, rng.uniform(0.0, 43_200.0)))
    events = list(fault.events(begin))
    if rng.random() < 0.3 and plan.inverter:
        events.append(_some_hours(TRIP, rng))
    if rng.random() < 0.2:
        events.append(_some_hours(NO_SOURCE, rng))
    if rng.random() < 0.3:
        most = plan.bank.temperature_c - coldest_c(plan)
        events.append(Event(kind=COLD, from_s=rng.uniform(0.0, 20_000.0), amount=rng.uniform(0.0, most)))
    return (
        day,
        fault,
        tuple(events),
        rng.choice((rng.uniform(0.08, 1.0), rng.uniform(0.08, 0.2), rng.uniform(0.9, 1.0))),
    )


def _some_hours(kind, rng):
    begin = rng.uniform(0.0, 60_000.0)
    return Event(kind=kind, from_s=begin, until_s=begin + rng.uniform(600.0, 40_000.0))


def run_plan(seed, days=DAYS_A_PLAN):
    """Some days of one plan: how many, how many left the limits, and those that nobody named."""
    rng = random.Random(seed)
    plan = any_plan(rng)
    checked = check_plan(plan)
    named = {(gap.fault, gap.side) for each in checked.faults for gap in each.gaps}
    sound, faults = checked.faults[0].fault, [each.fault for each in checked.faults]
    count, unnamed = Counter(plans=1, complete_plans=checked.complete, gaps=len(checked.gaps)), []
    for number in range(days):
        day, fault, events, charge = any_day(plan, faults, rng)
        found = simulate(day, events, days=1, start_charge=charge)
        left = [side for name, side in SIDES.items() if getattr(found, name).longest_s > PASSING_S.value]
        guarded = plan.guard is not None and fault.kind != GUARD_DEAD
        count.update(days=1, guarded_days=guarded, complete_guarded_days=guarded and checked.complete)
        held = guarded and checked.complete  # but for frozen readings, which the check names although it is complete
        count.update(left=bool(left), left_complete_guarded=bool(left) and held)
        count.update(left_unseen=bool(left) and held and fault.is_unseen)
        for side in left:
            if not {(fault, side), (sound, side)} & named:
                unnamed.append(f"seed {seed}, day {number}: {side}; {fault.words}; {events}; from charge {charge:.2f}")
    return count, unnamed


def run(days, *, seed=1, processes=1, tell=None):
    """Random days over random plans: counts, and the days outside the limits that the check had not named."""
    seeds = [1000 * seed + at for at in range(-(-days // DAYS_A_PLAN))]
    count, unnamed = Counter(), []
    with ProcessPoolExecutor(processes) if processes > 1 else _Here() as pool:
        for some, lines in pool.map(run_plan, seeds):
            count.update(some)
            unnamed += lines
            if tell:
                tell(count, lines)
    return count, unnamed


class _Here:
    """Works in this process."""

    def __enter__(self):
        return self

    def __exit__(self, *_):
        return None

    map = staticmethod(map)


def _tell(count, lines):
    """Say every thousand days how far it is, and at once what nobody named."""
    if lines or count["days"] % 1000 == 0:
        print(f"{count['days']} days", *lines, sep="\n", file=sys.stderr, flush=True)


def main():
    """Run what was asked for, and say what came of it."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--days", type=int, default=10_000)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--processes", type=int, default=2)
    given = asked.parse_args()
    began = perf_counter()
    count, unnamed = run(given.days, seed=given.seed, processes=given.processes, tell=_tell)
    for name, number in count.items():
        print(f"{name.replace('_', ' ')}: {number}")
    print(f"{perf_counter() - began:.0f} s; {len(unnamed)} days outside the limits were not named")
    return bool(unnamed)


if __name__ == "__main__":
    raise SystemExit(main())
