"""Made-up runs of a finished machine: amps by the exact solver, the speed by bisection of both torques."""

from dataclasses import replace

import numpy as np
from scipy.optimize import brentq

from statorbook.assembly.machine import machine_from
from statorbook.bench.logs import blank_row
from statorbook.bridge.rectifier import bridge
from statorbook.drives.quantity import with_quantities
from statorbook.examples import jobs as example
from statorbook.winding.grouping import Grouping
from statorbook.winding.temperature import magnet_factor, resistance_factor
from statorbook.winding.winding import Winding

BANK_V = 52.0
HEADS_M = (16.0, 18.0, 20.0, 22.0, 24.0, 26.0, 28.0, 30.0)
# As built, not as chapter 04 recommends today: how large a cause must be to show at the bank hangs on the current.
BUILT = {
    "spring_pipe": Grouping(series=2, parallel=6, connection="star"),
    "ridge_rotor": Grouping(series=4, parallel=2, connection="delta"),
    "shed_pedals": Grouping(series=2, parallel=6, connection="star"),
}


def machine_built(folder, name):
    """An example job written to a folder: its machine, the grouping it was built with, the coil part."""
    job = example.write(folder, name)
    return machine_from(job), BUILT[name], job.coil


def truth(
    machine,
    grouping,
    rpm,
    *,
    emf=1.0,
    ohm=1.0,
    henry=1.0,
    diode_v=0.0,
    cable_ohm=0.0,
    copper_k=0.0,
    bank_v=BANK_V,
    method="exact",
):
    """Amps DC and shaft torque without drag, from the exact solver, for a machine that differs from its promise."""
    coil, at = machine.coil, machine.setting.conditions
    real = replace(coil, emf_v_per_rpm=coil.emf_v_per_rpm * emf, ohm=coil.ohm * ohm, henry=coil.henry * henry)
    star = Winding(stator=machine.stator, coil=real, grouping=grouping).star_equivalent()
    got = bridge(
        np.sqrt(2) * star.emf_v_per_rpm * magnet_factor(at.magnet_c, magnet=coil.magnet) * rpm,
        star.ohm * resistance_factor(at.copper_c + copper_k, conductor=coil.conductor),
        2 * np.pi * machine.stator.poles / 2 * rpm / 60 * star.henry,
        bank_v,
        diode_drop_v=at.diode_drop_v + diode_v,
        dc_resistance_ohm=at.cable_ohm + cable_ohm,
        method=method,
    )
    watts = got.dc_watts + got.cable_watts + got.copper_watts + got.diode_watts
    return got.dc_amps, watts / (rpm * 2 * np.pi / 60)


def settled_rpm(machine, grouping, reading, *, drag_nm=0.0, source=1.0, **moved):
    """Speed at which the drive's torque is the generator's, by bisection; the reading is that of its first quantity."""
    drive = with_quantities(machine.drive, {machine.drive.quantities[0].field: reading * source})
    at = machine.setting.conditions

    def surplus_nm(rpm):
        drag = at.drag_nm + at.drag_nm_per_1000rpm * rpm / 1000 + drag_nm
        return float(drive.torque_nm(rpm)) - drag - truth(machine, grouping, rpm, method="chart", **moved)[1]

    return brentq(surplus_nm, 0.3 * drive.best_speed_rpm, 0.999 * drive.free_speed_rpm, xtol=0.01)


def logged(machine, grouping, rng, *, noise=0.01, readings=HEADS_M, rpms=None, open_rpm=(), by_hz=False, **moved):
    """Rows of a run log: amps with that noise, speeds with half of it (a quarter by Hz), the source as it is read.

    With `rpms` the speeds are given and no source is read.
    """
    rows, electric = [], {k: v for k, v in moved.items() if k not in ("drag_nm", "source")}
    pairs = machine.stator.poles / 2
    for reading in rpms or readings:
        rpm = reading if rpms else settled_rpm(machine, grouping, reading, **moved)
        amps = truth(machine, grouping, rpm, **electric)[0]
        read = rpm * (1 + (0.25 if by_hz else 0.5) * noise * rng.standard_normal())
        speed = {"electrical_hz": f"{read * pairs / 60:.1f}"} if by_hz else {"speed_rpm": f"{read:.1f}"}
        rows.append(
            blank_row("run")
            | speed
            | {
                "dc_volts": f"{electric.get('bank_v', BANK_V):.1f}",
                "drive_reading": "" if rpms else f"{reading:.1f}",
                "dc_amps": f"{amps * (1 + noise * rng.standard_normal()):.2f}",
            }
        )
    for rpm in open_rpm:
        volts = Winding(stator=machine.stator, coil=machine.coil, grouping=grouping).line_volts_rms(
            rpm, machine.setting.conditions.magnet_c
        ) * moved.get("emf", 1.0)
        rows.append(
            blank_row("run")
            | {"speed_rpm": f"{rpm:.0f}", "line_volts": f"{volts * (1 + 0.5 * noise * rng.standard_normal()):.2f}"}
        )
    return rows
