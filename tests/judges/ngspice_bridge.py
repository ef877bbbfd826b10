"""An independent judge of the bridge: the circuit simulator ngspice, from the netlist kept in tests/published.

Run `python -m judges.ngspice_bridge` in the folder tests/ to draw the cases anew and keep what the simulator says.
"""

import csv
import re
import shutil
import subprocess
from concurrent.futures import ThreadPoolExecutor
from math import ceil, hypot, log, pi
from pathlib import Path
from random import Random

PUBLISHED = Path(__file__).resolve().parent.parent / "published"
NETLIST, KEPT = PUBLISHED / "ngspice_bridge.cir", PUBLISHED / "ngspice_cases.csv"
UNITS = {
    "case": "number",
    "connection": "wiring",
    "emf_peak_v": "V",
    "ohm": "Ω",
    "henry": "H",
    "hz": "Hz",
    "bank_volts": "V",
    "diode_drop_v": "V",
    "diode_slope_ohm": "Ω",
    "dc_ohm": "Ω",
    "dc_amps": "A",
    "phase_amps_rms": "A",
    "diode_mean_amps": "A",
    "diode_amps_rms": "A",
    "diode_amps_peak": "A",
    "version": "text",
}
MEASURED = tuple(UNITS)[-6:-1]
CASES, SEED = 48, 20240229
_SLOPE_OHM, _SATURATION_AMPS, _IDEALITY, _THERMAL_VOLTS = 1e-3, 1e-12, 0.1, 0.025865
_TIE_OHM, _STEPS_PER_PERIOD, _LEAST_PERIODS, _TIME_CONSTANTS = 1e6, 6000, 6, 9
_READ = re.compile(r"^([a-z_]+)\s*=\s*(\S+)", re.MULTILINE)


def draw_cases():
    """Seeded cases: u 0.1–0.95, q 0.05–30, DC resistance 0–0.1 Ω, star and delta in turn."""
    dice = Random(SEED)
    return [_case(number, "delta" if number % 2 else "star", dice) for number in range(CASES)]


def _case(number, connection, dice):
    emf, impedance, drop = dice.uniform(100, 400), dice.uniform(0.5, 4.0), dice.uniform(0.3, 1.1)
    u, q, hz = dice.uniform(0.1, 0.95), 0.05 * 600.0 ** dice.random(), dice.uniform(30, 400)
    ohm = impedance / hypot(1.0, q)
    line_peak = emf * (3.0**0.5 if connection == "star" else 1.0)
    return {
        "case": number,
        "connection": connection,
        "emf_peak_v": emf,
        "ohm": ohm,
        "henry": q * ohm / (2.0 * pi * hz),
        "hz": hz,
        "bank_volts": u * line_peak - 2.0 * drop,
        "diode_drop_v": drop,
        "diode_slope_ohm": _SLOPE_OHM,
        "dc_ohm": dice.uniform(0.0, 0.1),
    }


def missing():
    """True where the simulator is not installed."""
    return shutil.which("ngspice") is None


def version():
    """Name and version of the simulator."""
    said = subprocess.run(["ngspice", "--version"], capture_output=True, text=True, check=True).stdout
    return re.search(r"ngspice-\S+", said)[0]


def netlist(case):
    """The circuit of one case, as text."""
    return filled(case, NETLIST)


def window(case):
    """Start and stop of the last period that is simulated [s]."""
    q = 2.0 * pi * case["hz"] * case["henry"] / case["ohm"]
    periods = max(_LEAST_PERIODS, ceil(_TIME_CONSTANTS * q / (2.0 * pi)))
    return (periods - 1) / case["hz"], periods / case["hz"]


def filled(case, path, **more):
    """A netlist with machine, diodes and bank of a case filled in, and whatever else it asks for."""
    # The exponential part of a diode takes a few millivolts, which are left out of its fixed drop.
    usual_amps = 0.3 * case["emf_peak_v"] / hypot(case["ohm"], 2.0 * pi * case["hz"] * case["henry"])
    exponential = _IDEALITY * _THERMAL_VOLTS * log(usual_amps / _SATURATION_AMPS)
    ends = ("star",) * 3 if case["connection"] == "star" else ("lb", "lc", "la")
    start, stop = window(case)
    return path.read_text(encoding="utf-8").format(
        **dict(zip(("a_end", "b_end", "c_end"), ends, strict=True)),
        emf=case["emf_peak_v"],
        hz=case["hz"],
        ohm=case["ohm"],
        henry=case["henry"],
        fixed=case["diode_drop_v"] - exponential,
        saturation=_SATURATION_AMPS,
        ideality=_IDEALITY,
        slope=case["diode_slope_ohm"],
        dc_ohm=case["dc_ohm"],
        bank=case["bank_volts"],
        tie=_TIE_OHM,
        step=1.0 / (case["hz"] * _STEPS_PER_PERIOD),
        start=start,
        stop=stop,
        **more,
    )


def simulate(cases, folder, *, netlist=netlist, wanted=MEASURED):
    """What the netlist of every case measures, two at a time."""

    def one(case):
        path = Path(folder) / f"case_{case['case']}.cir"
        path.write_text(netlist(case), encoding="utf-8")
        said = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False, cwd=folder)
        found = {name: float(number) for name, number in _READ.findall(said.stdout) if name in wanted}
        if len(found) != len(wanted):
            raise ArithmeticError(
                f"ngspice did not finish case {case['case']}: {said.stdout[-500:]} {said.stderr[-500:]}"
            )
        return found

    with ThreadPoolExecutor(max_workers=2) as pool:
        return list(pool.map(one, cases))


def kept(path=KEPT, words=("connection", "version")):
    """The cases and results kept beside the netlist, numbers as numbers."""
    with path.open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))[1:]
    return [{name: text if name in words else float(text) for name, text in row.items()} for row in rows]


def keep(folder):
    """Draw the cases, run the simulator, write the table."""
    cases = draw_cases()
    write(KEPT, UNITS, [{**case, **found} for case, found in zip(cases, simulate(cases, folder), strict=True)])


def write(path, units, rows):
    """Write cases with their results and the simulator's version as a table."""
    name = version()
    with path.open("w", encoding="utf-8", newline="") as table:
        writer = csv.DictWriter(table, units, lineterminator="\n")
        writer.writeheader()
        writer.writerow(units)
        writer.writerows(
            {**{k: f"{v:.9g}" if isinstance(v, float) else v for k, v in row.items()}, "version": name} for row in rows
        )


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as scratch:
        keep(scratch)
