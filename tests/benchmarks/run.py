"""How long things take, as a table and a CSV; nothing here can fail a test.

    .venv/bin/python tests/benchmarks/run.py --out DIR

Without --out the CSVs go to a new temporary folder. First the library alone: one process, one core but for ngspice's
own; medians. Then a cell typed into each log, until its verdict. Then the pages in a browser: how soon each opens, runs
and moves, and what its kernel holds.
"""

import argparse
import csv
import statistics
import subprocess
import sys
import tempfile
from dataclasses import replace
from itertools import count
from pathlib import Path
from time import perf_counter

import numpy as np

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))  # the judges and the surroundings are those of the tests
from logs import LOG_COLUMNS, log_rows  # noqa: E402
from pages import MOVE_COLUMNS, RUN_COLUMNS, page_tables  # noqa: E402

from environment import EXAMPLE_JOB, Surroundings  # noqa: E402
from judges import ngspice_bridge  # noqa: E402
from judges.ode_bridge import settled_bridge  # noqa: E402
from statorbook.assembly.charging import charging_from  # noqa: E402
from statorbook.assembly.machine import machine_from  # noqa: E402
from statorbook.assembly.plant import plant_from  # noqa: E402
from statorbook.bridge.rectifier import bridge  # noqa: E402
from statorbook.charging.check import check_plan  # noqa: E402
from statorbook.charging.days import simulate  # noqa: E402
from statorbook.choice.comparison import compare, watts_band  # noqa: E402
from statorbook.drives.wind_rotor import WindRotor  # noqa: E402
from statorbook.job.job import Job  # noqa: E402
from statorbook.operation.converter import Converter  # noqa: E402
from statorbook.operation.operating_point import operating_points  # noqa: E402
from statorbook.operation.speed_sweep import sweep, winding_waveforms  # noqa: E402
from statorbook.protection import guard_needs, load_lost, rectifier_needs, touch, trade, what_if  # noqa: E402
from statorbook.winding.winding import Winding  # noqa: E402
from statorbook.year.bank_hours import SIZES, bank_years  # noqa: E402
from statorbook.year.energy import grouping_years  # noqa: E402
from statorbook.year.hour_by_hour import watts_by_hour  # noqa: E402
from statorbook.year.switching import switchings  # noqa: E402
from statorbook.year.wind import year_of_mean_wind  # noqa: E402
from statorbook.year.wind_log import read_wind_log, year_of_wind_log  # noqa: E402

SPEEDS, CASES, MANY, SOME, HOURS = 200, 8, 100_000, 1_000, 8_760
COLUMNS = {
    "what": "text",
    "milliseconds": "ms",
    "per": "text",
    "times faster than ngspice": "-",
    "goal": "text",
    "goal met": "text",
}


def median_ms(call, repeats=15):
    """Median time of a call, the first one left out."""
    call()
    times = []
    for _ in range(repeats):
        begin = perf_counter()
        call()
        times.append(1000.0 * (perf_counter() - begin))
    return statistics.median(times)


def row(what, milliseconds, per="call", *, goal="", limit=None, ngspice_ms=None):
    """One line of the table."""
    faster = f"{ngspice_ms / milliseconds:.0f}" if ngspice_ms else ""
    met = "" if limit is None else "yes" if milliseconds <= limit else "no"
    return dict(zip(COLUMNS, (what, f"{milliseconds:.6g}", per, faster, goal, met), strict=True))


def star_of(case):
    """A kept simulator case as arguments of the bridge; its delta as a star of E/√3, R/3, L/3."""
    share = 3.0 if case["connection"] == "delta" else 1.0
    return {
        "emf_peak_v": case["emf_peak_v"] / share**0.5,
        "resistance_ohm": case["ohm"] / share,
        "reactance_ohm": 2.0 * np.pi * case["hz"] * case["henry"] / share,
        "dc_volts": case["bank_volts"],
        "diode_drop_v": case["diode_drop_v"],
        "dc_resistance_ohm": case["dc_ohm"],
        "diode_slope_ohm": case["diode_slope_ohm"],
    }


def cases_on_the_chart():
    """The first kept simulator cases for which the chart need not hand over to the exact solver."""
    mild = [
        case for case in ngspice_bridge.kept() if star_of(case)["dc_resistance_ohm"] <= star_of(case)["resistance_ohm"]
    ]
    return mild[:CASES]


def simulator_ms(cases):
    """Median time of the circuit simulator for one operating point, start of the program included; None without it."""
    if ngspice_bridge.missing():
        print("ngspice is not installed: its line is left out, and so are the ratios to it.")
        return None
    with tempfile.TemporaryDirectory() as folder:
        return statistics.median(
            median_ms(lambda case=case: ngspice_bridge.simulate([case], folder), 1) for case in cases
        )


def point_rows(cases):
    """One operating point by every method."""
    stars = [star_of(case) for case in cases]
    ngspice_ms = simulator_ms(cases)
    rows = [] if ngspice_ms is None else [row("ngspice, settled", ngspice_ms, "point", ngspice_ms=ngspice_ms)]
    ode = [median_ms(lambda star=star: _by_ode(star), 1) for star in stars]
    rows.append(row("scipy ODE, 8 periods", statistics.median(ode), "point", ngspice_ms=ngspice_ms))
    for method, many in (("exact", SOME), ("chart", MANY)):
        single = statistics.median(median_ms(lambda star=star, m=method: bridge(**star, method=m)) for star in stars)
        together = {name: np.resize([star[name] for star in stars], many) for name in stars[0]}
        spread = np.linspace(0.9, 1.1, many)  # no two points alike
        together["dc_volts"] = together["dc_volts"] * spread
        all_ms = median_ms(lambda both=together, m=method: bridge(**both, method=m), 5)
        limit = ngspice_ms / 10_000.0 if method == "chart" and ngspice_ms else None
        rows.append(row(f"{method}, one point a call", single, "point", ngspice_ms=ngspice_ms))
        rows.append(
            row(
                f"{method}, {many} points a call",
                all_ms / many,
                "point",
                ngspice_ms=ngspice_ms,
                goal="10,000 times faster than ngspice" if method == "chart" else "",
                limit=limit,
            )
        )
    return rows


def _by_ode(star):
    ohm = star["resistance_ohm"] + star["diode_slope_ohm"]
    return settled_bridge(
        star["emf_peak_v"],
        ohm,
        star["reactance_ohm"],
        star["dc_volts"],
        star["diode_drop_v"],
        star["dc_resistance_ohm"],
    )


def agreement():
    """The worst share by which the chart's DC amps part from the simulator's kept ones."""
    kept = ngspice_bridge.kept()
    found = np.array([bridge(**star_of(case)).dc_amps for case in kept])
    expected = np.array([case["dc_amps"] for case in kept])
    return float(np.max(np.abs(found - expected) / np.maximum(expected, 2.5)))


def job_rows(data):
    """Sweep, operating point and comparison of the example job."""
    machine = machine_from(Job.open(EXAMPLE_JOB, data))
    windings = [Winding(stator=machine.stator, coil=machine.coil, grouping=g) for g in machine.stator.groupings()]
    number = count()
    speeds = np.linspace(machine.drive.runaway_speed_rpm / SPEEDS, machine.drive.runaway_speed_rpm, SPEEDS)
    half, at_work = machine.bank.states[1], machine.setting.conditions
    asked = (machine.stator, machine.coil, machine.drive, machine.bank, machine.setting)

    def another():  # each time other surroundings, none kept
        return replace(at_work, drag_nm=0.3 + 1e-6 * next(number))

    def setting():
        return replace(machine.setting, conditions=another())

    every = f"{len(windings)} groupings"
    return [
        row(
            f"{every} at {SPEEDS} speeds",
            median_ms(lambda: sweep(windings, speeds, half, at_work)),
            goal="10 ms",
            limit=10.0,
        ),
        row(
            f"operating points of {every}",
            median_ms(lambda: operating_points(machine.drive, windings, half, another())),
        ),
        row(
            f"comparison of a job, {every}",
            median_ms(lambda: compare(*asked[:-1], setting())),
            goal="50 ms",
            limit=50.0,
        ),
        row(
            "watts at 8 corners of the ±",
            median_ms(lambda: watts_band(machine.stator, machine.corners, *asked[2:-1], setting()), 5),
        ),
        row("waveforms of one winding", median_ms(lambda: winding_waveforms(windings[0], 700.0, half, at_work))),
    ]


def year_rows(data):
    """A year of wind on the example's groupings: from a mean and a shape, and from a log of all its hours."""
    machine = machine_from(Job.open(EXAMPLE_JOB, data))
    rotor = WindRotor(rotor_diameter_m=3.0, wind_m_s=6.0, furls_from_m_s=9.0)
    winds = 5.0 * np.random.default_rng(7).weibull(2.0, HOURS)
    start = np.datetime64("2025-01-01T00:00")
    rows = [{"time": str(start + hour * np.timedelta64(1, "h")), "wind": f"{w:.2f}"} for hour, w in enumerate(winds)]
    mean, log = year_of_mean_wind(rotor, 5.0), read_wind_log(rows)
    every = f"{len(machine.stator.groupings())} groupings"
    from_log = median_ms(lambda: grouping_years(machine, year_of_wind_log(rotor, read_wind_log(rows))), 5)
    return [
        row(f"{every} over a year, {len(mean.drives)} winds", median_ms(lambda: grouping_years(machine, mean))),
        row("… the year made of a log of 8760 h", median_ms(lambda: year_of_wind_log(rotor, log), 5)),
        row("… that log read, and the groupings", from_log, goal="1 s", limit=1000.0),
        row("… all pairs that a contactor changes between", median_ms(lambda: switchings(machine, mean), 5)),
        row("25 sizes of bank through five years of hours", _banks_ms(machine, mean), goal="300 ms", limit=300.0),
        row("… through a converter", _converter_ms(machine, mean), goal="1 s", limit=1000.0),
    ]


def _banks_ms(machine, source):
    come = watts_by_hour(source, grouping_years(machine, source)[4].bank_watts)
    need = np.full(come.shape[1], 60.0)
    return median_ms(lambda: bank_years(come, need, SIZES * 10.0, round_trip_share=0.85), 5)


def _converter_ms(machine, source):
    converter = Converter(low_volts=60.0, high_volts=140.0, survives_dc_volts=150.0)
    at_work = replace(machine.setting.conditions, converter=converter)
    through = replace(machine, setting=replace(machine.setting, conditions=at_work))
    return median_ms(lambda: grouping_years(through, source), 5)


def protection_rows(data):
    """What keeps the plant of the example job from burning and running away; each time another plant, none kept."""
    plant, number = plant_from(Job.open(EXAMPLE_JOB, data)), count()

    def timed(what, call):
        return row(what, median_ms(lambda: call(plant.with_conditions(drag_nm=0.3 + 1e-6 * next(number))), 7))

    return [
        timed("volts within a hand's reach, five states", touch),
        timed("what a rectifier has to carry", rectifier_needs),
        timed("speed and volts after the bank has come off", load_lost),
        timed("what an over-voltage load has to be", guard_needs),
        timed("power against volts, all groupings", trade),
        timed("what happens if …, fourteen rows", what_if),
    ]


def charging_rows(data):
    """What is switched on the bank of the example job: a plan, its check, a day and a week of it second by second."""
    job = Job.open(EXAMPLE_JOB, data)
    plan, number = charging_from(job), count()

    def another():
        return replace(plan, start_charge=0.5 + 1e-6 * next(number))

    def first():
        begin = perf_counter()
        simulate(another(), days=1)
        return 1000.0 * (perf_counter() - begin)

    return [
        row("a charging plan from the job", median_ms(lambda: charging_from(job), 5)),
        row("every single fault of it checked", median_ms(lambda: check_plan(another()), 5)),
        row("the first day, compiled or from the cache", first()),
        row("a day, second by second", median_ms(lambda: simulate(another(), days=1), 5)),
        row("a week, second by second", median_ms(lambda: simulate(another(), days=7), 5), goal="2 s", limit=2000.0),
    ]


def import_ms(statement, before="import numpy, scipy"):
    """Median time of an import in a fresh interpreter, with some packages already loaded."""
    code = f"{before}\nfrom time import perf_counter as t\na = t()\n{statement}\nprint(1000 * (t() - a))"
    run = [sys.executable, "-c", code]
    return statistics.median(
        float(subprocess.run(run, capture_output=True, text=True, check=True).stdout) for _ in range(7)
    )


def import_rows():
    """What the library adds to numpy and scipy when it is loaded."""
    each = (
        ("import statorbook", "import statorbook", "300 ms", 300.0),
        ("… and what a comparison needs", "import statorbook.choice.comparison", "300 ms", 300.0),
        ("… and the job store (pydantic)", "import statorbook.job.job, statorbook.assembly.machine", "", None),
        ("… and a panel (ipywidgets, matplotlib later)", "import statorbook.panels.choice.choose", "", None),
    )
    return [row(what, import_ms(code), "import", goal=goal, limit=limit) for what, code, goal, limit in each]


def write(rows, columns, path):
    """Print a table and keep it as a CSV with a units row."""
    with path.open("w", encoding="utf-8", newline="") as target:
        writer = csv.DictWriter(target, columns, lineterminator="\n")
        writer.writeheader()
        writer.writerow(columns)
        writer.writerows(rows)
    widths = {name: max(len(name), *(len(each[name]) for each in rows)) for name in columns}
    for each in ({name: name for name in columns}, *rows):
        print("  ".join(each[name].ljust(widths[name]) for name in columns).rstrip())
    print(f"Written to {path}\n", flush=True)


def main():
    """Measure everything and write it down."""
    parser = argparse.ArgumentParser(description="How long things take, as a table and a CSV.")
    parser.add_argument("--out", type=Path, help="folder for benchmark.csv; a new temporary one when left out")
    parser.add_argument("--only", choices=["kernel", "logs", "pages"], help="one of the three alone")
    parser.add_argument("--page", action="append", help="name of a notebook, instead of all; more than once for more")
    chosen = parser.parse_args()
    folder = chosen.out or Path(tempfile.mkdtemp(prefix="statorbook-benchmark-"))
    folder.mkdir(parents=True, exist_ok=True)
    if chosen.only in (None, "kernel"):
        write(kernel_rows(), COLUMNS, folder / "benchmark.csv")
        print(f"Chart against ngspice, kept cases: DC amps within {agreement():.2%}.")
    if chosen.only in (None, "logs"):
        write(log_rows(), LOG_COLUMNS, folder / "logs.csv")
    if chosen.only in (None, "pages") and (tables := page_tables(chosen.page)):
        write(tables[0], RUN_COLUMNS, folder / "pages.csv")
        write(tables[1], MOVE_COLUMNS, folder / "sliders.csv")


def kernel_rows():
    """What the library takes for its answers, without a page."""
    with Surroundings() as surroundings:
        return [
            *point_rows(cases_on_the_chart()),
            *job_rows(surroundings.data),
            *year_rows(surroundings.data),
            *protection_rows(surroundings.data),
            *charging_rows(surroundings.data),
            *import_rows(),
        ]


if __name__ == "__main__":
    main()
