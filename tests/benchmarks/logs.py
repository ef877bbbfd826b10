"""A log's cell to its verdict: what the kernel takes for a cell typed into each log, and then for the rest of its page.

Nothing waits here for the hand to rest: what the page would do then is done at once, and timed by itself.
"""

import ast
import asyncio
import json
import os
from collections.abc import Callable
from contextlib import redirect_stdout
from dataclasses import dataclass, field
from io import StringIO
from statistics import median, quantiles
from time import perf_counter

from environment import EXAMPLE_JOB, ROOT, Surroundings
from statorbook.bench.logs import ALL_LOGS, blank_row
from statorbook.examples import jobs as example
from statorbook.job.parts.registry import PARTS

LOG_COLUMNS = {
    "log": "text",
    "page": "text",
    "cell to verdict, median": "ms",
    "p95": "ms",
    "rest of the page, median": "ms",
    "p95 within 100 ms": "text",
}
_MOVES, _WARM_UP, _RESTS, _GOAL_MS = 40, 3, 5, 100.0
_WITHOUT_CELLS = {"wind_series"}  # pasted whole, or brought in as a file


@dataclass(frozen=True)
class _Typed:
    """Where a log is typed, and what its job holds before; all of it invented."""

    page: str
    panel: str  # the kind of panel that has it
    column: str  # of the cells typed into
    rows: str = ""  # names of columns, then the cells of each row; the example's own when empty
    like: str = EXAMPLE_JOB
    parts: dict = field(default_factory=dict)  # fields by part
    grid: Callable = lambda panel: panel.grid


def _copied(log):
    """The log of rules or relays, once the ready ones are copied into it."""

    def grid(panel):
        panel.copy_ready()
        return panel.grids[log]

    return grid


_01, _02, _03, _05, _08 = (
    *("01_know_your_stator", "02_spin_and_log", "03_what_turns_it", "05_cut_and_join", "08_first_run"),
)
_YEAR, _CHARGE, _RIDGE = ("04b_add_up_the_year", "YearSourcePanel"), "07_charge_and_dump", "ridge_rotor"
_KNOWN = {"kind": "known speed", "speed_rpm": 500.0, "rotor_kg": 5.0, "rotor_ring_mm": 200.0}
_ENGINE = {"kind": "engine", "rated_watts": 2000.0, "engine_rpm": 3000.0, "pulley_ratio": 0.3}
_FALLS = "".join(f"; {1.5 * n} {300 - 30 * n}" for n in range(9))
_ALIKE = "".join(f"; {tooth} 2.40 150 0.560" for tooth in range(1, 37))
# A tenth fewer amps than promised, as with weaker magnets: every cause is looked at.
_WEAK = (
    "speed_rpm dc_volts dc_amps drive_reading; 876.0 52.0 2.69 16.0; 907.5 52.0 3.71 18.0; 943.7 52.0 4.69 20.0; "
    "966.2 52.0 5.65 22.0; 1003.9 52.0 6.82 24.0; 1033.6 52.0 7.63 26.0; 1060.0 52.0 8.89 28.0; 1102.3 52.0 9.56 30.0"
)
_DRILLED = "speed_rpm watts_coupled watts_alone; 300 168.3 150; 600 202.4 150; 900 252.1 150"
_WINDS = "wind_from wind_to wind_hours; 0 3 2760; 3 6 3500; 6 9 1900; 9 15 600"
_LOOKED = (
    "taken_on hours_run play noise; 2026-01-10 20 none quiet; 2026-03-10 240 none quiet; 2026-06-10 700 slight hum"
)
_PAIRS = "between ohms; A-B 12.0; B-C 12.0; C-A 12.1"
_LOGS = {
    "spin": _Typed(_02, "SpinPanel", "volts"),
    "shorted": _Typed(_02, "ShortedPanel", "amps"),
    "ohms": _Typed(_01, "OhmsPanel", "ohms"),
    "coast": _Typed(_03, "CoastPanel", "speed_rpm", f"time_s speed_rpm{_FALLS}", parts={"drive": _KNOWN}),
    "drill": _Typed(_03, "DrillPanel", "watts_coupled", _DRILLED),
    "coils": _Typed(_01, "CoilSurveyPanel", "ohms", f"tooth volts speed_rpm ohms{_ALIKE}"),
    "checks": _Typed(_05, "CutPanel", "ohms", _PAIRS, grid=lambda panel: panel.checks.grid),
    "run": _Typed(_08, "FirstRunPanel", "dc_amps", _WEAK),
    "service": _Typed(_08, "ServicePanel", "hours_run", _LOOKED),
    "water_months": _Typed(*_YEAR, "flow_l_s"),
    "pedal_weeks": _Typed(*_YEAR, "week_hours", like="shed_pedals"),
    "engine_months": _Typed(
        *(*_YEAR, "run_hours", "month run_hours; Jan 40; Feb 35; Dec 45"),
        parts={"drive": _ENGINE, "year": {"engine_year_from": "run hours of each month"}},
    ),
    "speed_hours": _Typed(
        *(*_YEAR, "held_hours", "speed_rpm held_hours; 300 900; 450 1200; 600 400"),
        parts={"drive": _KNOWN, "year": {"speed_year_from": "log of speeds"}},
    ),
    "need_months": _Typed(_YEAR[0], "NeedOverYear", "need_kwh_a_day", grid=lambda shown: shown.panel.grid),
    "wind_months": _Typed(*_YEAR, "mean_wind", like=_RIDGE),
    "wind_hours": _Typed(*_YEAR, "wind_hours", _WINDS, _RIDGE, {"year": {"wind_year_from": "table of hours"}}),
    "house_loads": _Typed(_CHARGE, "HousePanel", "watts"),
    "control_rules": _Typed(_CHARGE, "RulesPanel", "on_at", grid=_copied("control_rules")),
    "control_relays": _Typed(_CHARGE, "RulesPanel", "contact_amps", grid=_copied("control_relays")),
}


def log_rows():
    """A row of the table for each log that has cells."""
    assert _LOGS.keys() | _WITHOUT_CELLS == ALL_LOGS.keys()
    return [_row(log, typed) for log, typed in _LOGS.items()]


def _row(log, typed):
    with Surroundings() as surroundings:
        os.environ["STATORBOOK_JOB"] = typed.like
        _prepare(example.write(surroundings.data, typed.like), log, typed)
        verdicts, rests = asyncio.run(_moves(typed))
    late = quantiles(verdicts, n=20)[-1]
    numbers = (f"{ms:.1f}" for ms in (median(verdicts), late, median(rests)))
    return dict(zip(LOG_COLUMNS, (log, typed.page, *numbers, "yes" if late <= _GOAL_MS else "no"), strict=True))


def _prepare(job, log, typed):
    for part, fields in typed.parts.items():
        job.save_part(part, PARTS[part](**fields))
    if typed.rows:
        names, *rows = (row.split() for row in typed.rows.split(";"))
        job.read_log(log)
        job.save_log(log, [blank_row(log) | dict(zip(names, row, strict=True)) for row in rows])


async def _moves(typed):
    """Milliseconds of each cell typed to its verdict, and of some of them what the page does once the hand rests."""
    waiting, verdicts, rests = [], [], []
    asyncio.get_running_loop().call_later = lambda seconds, call, *given: waiting.append(call)
    grid = typed.grid(_page(typed.page)[typed.panel])
    _timed_ms(waiting)
    row = grid.row(2)
    before = float(row.cells[typed.column].value or 5.0)
    for number in range(1, _WARM_UP + _MOVES + 1):
        begin = perf_counter()
        row.cells[typed.column].value = f"{before * (1.0 + 0.0004 * number):.6g}"  # never twice the same
        verdicts.append(1000.0 * (perf_counter() - begin))
        if "good" not in row.sign.value and "odd" not in row.sign.value:
            raise AssertionError(
                f"{typed.panel} took no {typed.column}: {row.sentence.value} {grid.message.last_fault}"
            )
        if number <= _RESTS:
            rests.append(_timed_ms(waiting))
        waiting.clear()
    return verdicts[_WARM_UP:], rests


def _timed_ms(waiting):
    """Milliseconds of what waits, and of what comes to wait meanwhile."""
    begin = perf_counter()
    while waiting:
        waiting.pop(0)()
    return 1000.0 * (perf_counter() - begin)


def _page(name):
    """What the cells of a page show, by kind."""
    cells, names, shown = json.loads((ROOT / "notebooks" / f"{name}.ipynb").read_text("utf-8"))["cells"], {}, {}
    with redirect_stdout(StringIO()):
        for source in ("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"):
            *body, last = ast.parse(source).body
            body, last = (body, last.value) if isinstance(last, ast.Expr) else ([*body, last], None)
            exec(compile(ast.Module(body, []), name, "exec"), names)
            if last:
                made = eval(compile(ast.Expression(last), name, "eval"), names)
                shown[type(made).__name__] = made
    return shown
