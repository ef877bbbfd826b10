"""An independent judge of the bank that comes off: ngspice with the rotor as a capacitor, its netlist in published/.

Run `python -m judges.ngspice_load_lost` in the folder tests/ to keep anew what the simulator says.
"""

import csv
import re
import subprocess
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from math import log, pi
from pathlib import Path

import numpy as np

from judges.ngspice_bridge import PUBLISHED, version
from samples.machine_samples import JET
from samples.plant_samples import plant
from samples.year_samples import ROTOR
from statorbook.drives.engine import Engine
from statorbook.protection.load_lost import load_lost
from statorbook.protection.over_voltage_load import OverVoltageLoad
from statorbook.protection.rotor import Rotor
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator

NETLIST, KEPT = PUBLISHED / "ngspice_load_lost.cir", PUBLISHED / "ngspice_load_lost.csv"
UNITS = {"plant": "text", "time_s": "s", "speed_rpm": "rpm", "dc_volts": "V", "mean_dc_volts": "V", "version": "text"}
TIMES_S = (0.02, 0.05, 0.1, 0.2, 0.5, 0.7, 1.0, 1.5, 2.0)
_RAD_S = pi / 30.0
_IDEALITY, _SATURATION_AMPS, _THERMAL_VOLTS, _USUAL_AMPS = 0.1, 1e-12, 0.025865, 5.0
_STEPS_PER_PERIOD, _WAIT_OHM = 300, 1e3
_READ = re.compile(r"^(w|v|m)_(\d+)\s*=\s*(\S+)", re.MULTILINE)
_COLD = {"copper_c": 0.0, "magnet_c": 0.0, "diode_drop_v": 0.1}


@dataclass(frozen=True, kw_only=True)
class Case:
    """A plant, its load and whether the drive's guard works."""

    plant: object
    load: OverVoltageLoad
    drives_guard: bool = False

    def lost(self):
        """What the library says."""
        return load_lost(self.plant, load=self.load, drives_guard=self.drives_guard)


def _load(set_dc_volts, ohm, acts_within_s):
    return OverVoltageLoad(set_dc_volts=set_dc_volts, ohm=ohm, watts=1e4, acts_within_s=acts_within_s)


CASES = {
    # A jet: the load comes on while the rotor speeds up, and slows it.
    "jet": Case(plant=plant(drive=JET, rotor=Rotor(inertia_kgm2=0.15), **_COLD), load=_load(235.0, 12.0, 0.1)),
    # A wind rotor in its strongest gust before it furls: nothing switches until late, the load hardly slows it.
    "wind": Case(
        plant=plant(drive=ROTOR, grouping=Grouping(series=3, parallel=4), rotor=Rotor(inertia_kgm2=2.0), **_COLD),
        load=_load(98.5, 3.0, 0.25),
        drives_guard=True,
    ),
    # An engine with its governor stuck on another stator in delta, few poles: the load holds from the start.
    "engine": Case(
        plant=plant(
            stator=Stator(slots=12, poles=10),
            coil=CoilConstants(emf_v_per_rpm=0.012, ohm=0.15, henry=0.0009),
            drive=Engine(rated_watts=1500.0, engine_rpm=3000.0, pulley_ratio=0.5),
            grouping=Grouping(series=4, parallel=1, connection="delta"),
            rotor=Rotor(inertia_kgm2=0.3),
            **_COLD,
        ),
        load=_load(70.0, 8.0, 0.15),
    ),
}


def netlist(case, times_s=TIMES_S):
    """The circuit of one case, as text; of the library only where it starts, and the torque of the drives."""
    made, load, before = case.plant, case.load, case.lost()
    star = made.winding.star_equivalent(made.cold.copper_c, made.cold.magnet_c)
    drives = [made.drive] if case.drives_guard else [made.drive, made.drive.unguarded()]
    rpm = np.linspace(0.0, 1.05 * max(drive.strongest().free_speed_rpm for drive in drives), 200)
    torque = np.max([one.torque_nm(rpm) for drive in drives for one in (drive, drive.strongest())], axis=0)
    hz = made.winding.stator.electrical_hz(rpm[-1])
    measures = [
        f".meas tran w_{i} FIND V(w) AT={t}\n.meas tran v_{i} MAX V(volts) from={t - 1.0 / hz} to={t}\n"
        f".meas tran m_{i} AVG V(volts) from={t - 1.0 / hz} to={t}"
        for i, t in enumerate(times_s)
    ]
    return NETLIST.read_text(encoding="utf-8").format(
        inertia=made.rotor.inertia_kgm2,
        start=before.starts_rpm * _RAD_S,
        torque="\n+ , ".join(f"{n * _RAD_S:.9g}, {nm:.9g}" for n, nm in zip(rpm, torque, strict=True)),
        flux=2.0**0.5 * star.emf_v_per_rpm / _RAD_S,
        pairs=made.winding.stator.pole_pairs,
        ohm=star.ohm,
        henry=star.henry,
        fixed=made.cold.diode_drop_v - _IDEALITY * _THERMAL_VOLTS * log(_USUAL_AMPS / _SATURATION_AMPS),
        saturation=_SATURATION_AMPS,
        ideality=_IDEALITY,
        slope=1e-3,
        at_once=before.at_once_dc_volts,
        half_set=0.5 * load.set_dc_volts,
        wait_farad=load.acts_within_s / log(2.0) / _WAIT_OHM,
        load=load.ohm,
        tie=2e7,
        step=1.0 / (hz * _STEPS_PER_PERIOD),
        stop=times_s[-1] + 1e-4,
        measures="\n".join(measures),
    )


def simulate(case, folder, times_s=TIMES_S):
    """Speed and peak volts at the times, as rows."""
    path = Path(folder) / "case.cir"
    path.write_text(netlist(case, times_s), encoding="utf-8")
    said = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False, cwd=folder)
    found = {(name, int(i)): float(number) for name, i, number in _READ.findall(said.stdout)}
    if len(found) != 3 * len(times_s):
        raise ArithmeticError(f"ngspice did not finish: {said.stdout[-800:]} {said.stderr[-800:]}")
    return [
        {"time_s": t, "speed_rpm": found["w", i] / _RAD_S, "dc_volts": found["v", i], "mean_dc_volts": found["m", i]}
        for i, t in enumerate(times_s)
    ]


def kept():
    """The rows kept beside the netlist, by plant."""
    with KEPT.open(encoding="utf-8", newline="") as table:
        rows = list(csv.DictReader(table))[1:]
    numbers = [name for name, unit in UNITS.items() if unit != "text"]
    return {
        case: [{name: float(row[name]) for name in numbers} for row in rows if row["plant"] == case] for case in CASES
    }


def keep(folder):
    """Run the simulator and write the table."""

    def run(name):
        place = Path(folder) / name
        place.mkdir()
        return simulate(CASES[name], place)

    with ThreadPoolExecutor(max_workers=2) as pool:
        found = dict(zip(CASES, pool.map(run, CASES), strict=True))
    with KEPT.open("w", encoding="utf-8", newline="") as table:
        writer = csv.DictWriter(table, UNITS, lineterminator="\n")
        writer.writeheader()
        writer.writerow(UNITS)
        for name, rows in found.items():
            for row in rows:
                writer.writerow({"plant": name, **{k: f"{v:.7g}" for k, v in row.items()}, "version": version()})


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as scratch:
        keep(scratch)
