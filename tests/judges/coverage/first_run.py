"""The finished machine, built as promised: its run log, and what the library makes of it."""

from dataclasses import replace
from datetime import date

import numpy as np

from judges.coverage.tried import Tried, tried
from samples.made_up_logs import shown
from statorbook.bench.logs import blank_row
from statorbook.first_run.case import run_case
from statorbook.first_run.misfit import amps_at
from statorbook.first_run.promise import promise_of
from statorbook.first_run.ranking import verdict_on
from statorbook.first_run.refine import refined
from statorbook.first_run.rows import read_run
from statorbook.winding.winding import Winding

_CHARGING, _OPEN = 8, 3  # rows
_DAY = date(2025, 5, 1)


def of_first_run(rng, planted, plant, found, part):
    """Promise and reading at one row, and the constants refined by all rows."""
    machine, grouping = plant.machine, found.recommended.grouping
    true = replace(machine, coil=planted.coil)
    rows = _rows(rng, planted, true, grouping, found.recommended.point.speed_rpm)
    meters = planted.part.to_meters()
    readings = read_run(rows, machine.stator, machine.drive, bank=machine.bank, meters=meters)
    case = run_case(machine, grouping, readings)
    at, promise = int(rng.integers(len(case.charging))), promise_of(case, case)
    as_it_is = amps_at(run_case(true, grouping, readings))
    yield Tried(
        quantity="first run: amps promised at a row",
        value=float(promise.amps[at]),
        plus_minus=float(promise.promised_half_width_amps[at]),
        truth=float(as_it_is[at]),
    )
    yield Tried(
        quantity="first run: amps read in a row",
        value=case.charging[at].dc_amps,
        plus_minus=float(promise.read_half_width_amps[at]),
        truth=float(as_it_is[at]),
    )
    made = refined(case, part, _DAY).estimates
    for name, words in (("emf_v_per_rpm", "EMF"), ("ohm", "ohms"), ("henry", "henries")):
        yield tried(f"first run: {words} refined", made[name], getattr(planted.coil, name))
    # No ± but a promise of the same kind: a healthy machine is told so nineteen times in twenty.
    off = verdict_on(case, part) is not None
    yield Tried(quantity="first run: all as promised", value=1.0, plus_minus=0.5, truth=0.0 if off else 1.0)


def _rows(rng, planted, true, grouping, working_rpm):
    volts, amps, _ = planted.meters
    speeds = working_rpm * np.linspace(0.95, 1.4, _CHARGING)
    at = true.setting.conditions
    same = {"dc_volts": f"{true.bank.half_volts:.2f}", "copper_c": f"{at.copper_c:g}"}
    rows = []
    for rpm in speeds:
        typed = f"{rpm * (1.0 + 0.01 * rng.normal()):.1f}"
        rows.append(blank_row("run") | same | {"speed_rpm": typed})
    exact = [row | {"speed_rpm": f"{rpm:.4f}", "dc_amps": "1"} for row, rpm in zip(rows, speeds, strict=True)]
    flows = amps_at(run_case(true, grouping, read_run(exact, true.stator, true.drive)))
    rows = [row | {"dc_amps": shown(amps(max(now, 0.001), noise=0.0))} for row, now in zip(rows, flows, strict=True)]
    for rpm in speeds[:_OPEN]:
        line = Winding(stator=true.stator, coil=true.coil, grouping=grouping).line_volts_rms(rpm, at.magnet_c)
        hz = true.stator.electrical_hz(rpm)
        typed = f"{rpm * (1.0 + 0.01 * rng.normal()):.1f}"
        rows.append(blank_row("run") | {"speed_rpm": typed, "line_volts": shown(volts(float(line), hz, 0.0))})
    return rows
