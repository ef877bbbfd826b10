"""The bench: logs of a planted machine, and the constants that the library's fits make of them."""

from math import pi, sqrt

import numpy as np

from judges.coverage.tried import tried
from samples.metered_logs import metered_logs
from statorbook.bench.coast import coast_speed_rpm, read_coast
from statorbook.bench.coils import read_coils
from statorbook.bench.drill import read_drill
from statorbook.bench.logs import blank_row
from statorbook.bench.pole_count import count_poles
from statorbook.bench.readings import read_logs
from statorbook.bridge.rectifier import bridge
from statorbook.fits.coil_survey import fit_survey
from statorbook.fits.constants import coil_estimates, terminal_constants
from statorbook.fits.drag import DRILL_EFFICIENCY, fit_coast, fit_drill
from statorbook.fits.inductance_other_ways import combined, from_lcr, from_load, from_resistors
from statorbook.fits.inertia import inertia_from_coast
from statorbook.quantities import DIODE_DROP_V

SIGMAS_95 = 1.96
_RAD_S = pi / 30.0


def constants(rng, machine):
    """What the leads show and what one coil does, by the library."""
    leads = machine.leads
    raw = metered_logs(leads, rng, machine.part, weak=0.0, meters=machine.meters)
    logs = read_logs(raw, leads.stator, found_connection=leads.connection, meters=machine.part.to_meters())
    found = terminal_constants(logs, leads.stator)
    return found, coil_estimates(leads.stator, machine.found, found)


def of_constants(machine, found, coil):
    """EMF, ohms and henries of one coil; those of the leads are these times an exact factor."""
    yield tried("EMF of one coil", coil.emf_v_per_rpm, machine.coil.emf_v_per_rpm)
    yield tried("ohms of one coil", coil.ohm, machine.coil.ohm)
    yield tried("henries of one coil, shorted log", coil.henry, machine.coil.henry)
    for fit, what in ((found.emf_fit, "volts"), (found.ohms_fit, "ohms")):
        yield tried(f"{what} of a pair of leads over all", fit.pair_ratios["AB"], 1.0)


def of_other_ways(rng, machine, found, *, loaded):
    """The henries by an LCR meter, on a bank and on resistors, and all together, of one star phase."""
    leads = machine.leads
    cold = leads.stator, found.emf_v_per_rpm, found.ohm
    rpm = 2.0 * leads.ohm / leads.henry / (2.0 * pi * leads.stator.poles / 120.0)
    lcr = from_lcr(2.0 * leads.henry * _off(rng, 0.05), rotor_on=True)
    bare = 1.0 + 0.6 * rng.normal() / SIGMAS_95
    if bare > 0.1:
        without = from_lcr(2.0 * leads.henry / 1.5 / bare, rotor_on=False)
        yield tried("henries, LCR meter without the rotor", without, leads.henry)
    on_three = _on_resistors(rng, leads, cold, rpm)
    yield tried("henries, LCR meter", lcr, leads.henry)
    yield tried("henries, amps on three resistors", on_three, leads.henry)
    ways = {"shorted log": found.henry, "LCR meter": lcr, "amps on resistors": on_three}
    yield tried("henries, three ways together", combined(ways)[0], leads.henry)
    if loaded:
        yield tried("henries, one loaded reading", _loaded(rng, leads, cold, rpm), leads.henry)


def _off(rng, share_95):
    return 1.0 + share_95 / SIGMAS_95 * rng.normal()


def _loaded(rng, leads, cold, rpm):
    peak = sqrt(2.0) * leads.emf * rpm
    volts, reactance = 0.5 * sqrt(3.0) * peak, 2.0 * pi * leads.stator.poles / 120.0 * rpm * leads.henry
    true = bridge(peak, leads.ohm, reactance, volts, diode_drop_v=DIODE_DROP_V.value, method="exact").dc_amps
    return from_load(
        *cold, speed_rpm=rpm * _off(rng, 0.01), dc_amps=float(true) * _off(rng, 0.02), dc_volts=volts * _off(rng, 0.01)
    )


def _on_resistors(rng, leads, cold, rpm):
    load, reactance = 0.5 * leads.ohm, 2.0 * pi * leads.stator.poles / 120.0 * rpm * leads.henry
    amps = leads.emf * rpm / np.hypot(leads.ohm + load, reactance)
    return from_resistors(
        *cold,
        speed_rpm=rpm * _off(rng, 0.01),
        resistor_ohm=load * _off(rng, 0.02),
        joined="star",
        line_amps=amps * _off(rng, 0.02),
    )


def of_drag(rng, stator):
    """Drag by coast-down and by a drill's wattmeter, and the inertia by both."""
    inertia, rest, rise = rng.uniform(0.2, 0.6), rng.uniform(0.1, 0.4), rng.uniform(0.1, 0.4)
    coast = read_coast(_coast_rows(rng, inertia, rest, rise), stator)
    drill = read_drill(_drill_rows(rng, rest, rise), stator)
    by_coast = fit_coast(coast, inertia * _off(rng, 0.1), inertia_share=0.1)
    by_drill = fit_drill(drill)
    for way, drag in (("coast-down", by_coast), ("drill's wattmeter", by_drill)):
        yield tried(f"drag at rest, {way}", drag.drag_nm, rest)
        yield tried(f"rise of the drag, {way}", drag.drag_nm_per_1000rpm, rise)
    yield tried("inertia, coast-down against the drill", inertia_from_coast(coast, by_drill), inertia)


def _coast_rows(rng, inertia, rest, rise):
    start, fall, rate = 400.0, rest / inertia / _RAD_S, rise / 1000.0 / inertia / _RAD_S
    stands = np.log1p(rate * start / fall) / rate
    rows = []
    for time in np.linspace(0.0, 0.85 * stands, 10):
        rpm = coast_speed_rpm(float(time), start, fall, rate) * (1.0 + 0.01 * rng.normal())
        typed = time + 0.3 / SIGMAS_95 * rng.normal() if time else 0.0
        rows.append(blank_row("coast") | {"time_s": f"{max(typed, 0.0):.2f}", "speed_rpm": f"{rpm:.0f}"})
    return rows


def _drill_rows(rng, rest, rise):
    efficiency, rows = DRILL_EFFICIENCY.value + 0.15 / SIGMAS_95 * rng.normal(), []
    for rpm in np.linspace(150.0, 900.0, 8):
        alone, added = 40.0 + 0.05 * rpm, (rest + rise * rpm / 1000.0) * rpm * _RAD_S / efficiency
        with_rotor, without = (watts * (1.0 + 0.01 * rng.normal()) for watts in (alone + added, alone))
        cells = {"speed_rpm": f"{rpm:.0f}", "watts_coupled": f"{with_rotor:.1f}", "watts_alone": f"{without:.1f}"}
        if with_rotor > without:
            rows.append(blank_row("drill") | cells)
    return rows


def of_counts(rng, stator):
    """Pole pairs from one spin, and each coil of a survey over the middle of the coils."""
    rpm, pairs = rng.uniform(60, 400), stator.poles / 2
    count = count_poles(pairs * rpm / 60.0 * _off(rng, 0.005), rpm * (1.0 + 0.01 * rng.normal()))
    yield tried("pole pairs from one spin", count.pairs, pairs)
    rows = [_coil_row(rng, tooth) for tooth in range(1, stator.slots + 1)]
    survey = fit_survey(read_coils(rows, stator), stator)
    # One coil a machine, so that machines are counted and not coils.
    tooth = int(rng.integers(1, stator.slots + 1))
    yield tried("volts of a coil over the middle coil", survey.emf_share[tooth], 1.0)
    yield tried("ohms of a coil over the middle coil", survey.ohm_share[tooth], 1.0)


def _coil_row(rng, tooth):
    volts, ohms = (true * (1.0 + 0.01 * rng.normal()) for true in (2.4, 0.56))
    speed = "150" if tooth == 1 else ""
    return blank_row("coils") | {
        "tooth": f"{tooth}",
        "volts": f"{volts:.3f}",
        "speed_rpm": speed,
        "ohms": f"{ohms:.4f}",
    }
