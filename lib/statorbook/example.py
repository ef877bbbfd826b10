"""The example job: a spring-fed pipe and a 48 V bank; site, machine and readings are all invented."""

from math import pi, sqrt

from statorbook.constants import METER_DIODE_DROP_V
from statorbook.grouping import CoilConstants, Grouping, Winding
from statorbook.job_places import EXAMPLE
from statorbook.stator import Stator

# What the invented machine truly does; the fit has to find it again from the noisy log.
TRUE_COIL = CoilConstants(emf_v_per_rpm=0.0193, ohm=0.56, henry=0.0031, conductor="copper", magnet="ferrite")
TRUE_WINDING = Winding(stator=Stator(slots=36, poles=48), coil=TRUE_COIL, grouping=Grouping(series=12, parallel=1))
PLANTED_ROW = 9
_PLANTED_FACTOR = 0.85
_SEED = 20
_NOISE = 0.008
_MACHINE_C = 16.0
_LEAD_ZERO_OHM = 0.2

# Speed [rpm], pair, kind, by rpm meter or by the multimeter's Hz range.
_SPINS = (
    (62, "AB", "AC line rms", "rpm"), (95, "BC", "AC line rms", "rpm"), (118, "CA", "AC line rms", "Hz"),
    (150, "AB", "AC line rms", "rpm"), (181, "BC", "AC line rms", "Hz"), (214, "ABC", "DC bridge, bare", "rpm"),
    (243, "CA", "AC line rms", "rpm"), (270, "AB", "AC line rms", "Hz"), (301, "BC", "AC line rms", "rpm"),
    (330, "ABC", "DC bridge, capacitor", "rpm"), (362, "CA", "AC line rms", "both"), (395, "AB", "AC line rms", "Hz"),
    (440, "BC", "AC line rms", "rpm"), (478, "CA", "AC line rms", "rpm"),
)
_SHORTS = ((104, "A"), (160, "B"), (225, "C"), (300, "A"), (372, "B"), (446, "C"))


def raw_rows():
    """The three logs as an invented reader typed them.

    Returns
    -------
    dict of str to list of dict
        Raw rows of text under "spin", "shorted" and "ohms"; the same on every call.

    Notes
    -----
    Equation: the model of `statorbook.fit`, each reading times a normal error of 0.8 %, rounded as a meter shows it.
    Valid: one spin row is planted 15 % low; nothing in its note says so.
    Source: invented.
    """
    import numpy as np

    noise = np.random.default_rng(_SEED)
    star = TRUE_WINDING.star_equivalent(copper_c=_MACHINE_C, magnet_c=_MACHINE_C)
    spin = [_spin_row(number, star, 1.0 + _NOISE * noise.standard_normal(), *spec)
            for number, spec in enumerate(_SPINS, 1)]
    shorted = [_shorted_row(star, 1.0 + _NOISE * noise.standard_normal(), *spec) for spec in _SHORTS]
    ohms = [_ohms_row(star, 1.0 + 0.25 * _NOISE * noise.standard_normal(), pair) for pair in ("AB", "BC", "CA")]
    return {"spin": spin, "shorted": shorted, "ohms": ohms}


def write(data_folder=None, name=EXAMPLE):
    """Write the example job, replacing what a job of that name held before.

    Parameters
    ----------
    data_folder : Path or None
        Where jobs are kept; found by itself when None.
    name : str
        The job's name.

    Returns
    -------
    Job
        The job, with stator, coil, drive and bank filled in and nothing chosen yet.

    Raises
    ------
    BadInput
        When the job cannot be written.
    """
    from statorbook.job_anew import write_anew

    return write_anew(name, parts=_parts(), logs=raw_rows(), data_folder=data_folder)


def _parts():
    from statorbook.fit import coil_estimates, terminal_constants
    from statorbook.job_parts import BankPart, CoilPart, DrivePart, StatorPart
    from statorbook.job_results_parts import facts_worked_out_for
    from statorbook.readings import read_logs

    stator_part = StatorPart(
        slots=36, poles=48, found_parallel=1, found_connection="star", wire_diameter_mm=0.8, wires_in_hand=1,
        conductor="copper", magnet="ferrite", insulation_megohm=20.0, diameter_mm=245.0, assumed=(),
        mark_note="Tooth 1 carries a dab of paint beside the lead-out.",
        notes="Invented machine of an invented job: site, stator and every reading are made up.")
    stator = stator_part.to_stator()
    logs = read_logs(raw_rows(), stator, found_connection=stator_part.found_connection)
    coil = coil_estimates(stator, stator_part.to_found_grouping(), terminal_constants(logs, stator))
    return {
        "stator": stator_part, "coil": CoilPart(**coil.fields, **facts_worked_out_for(stator_part)),
        "drive": DrivePart(kind="water jet", head_m=28.0, nozzle_mm=14.0, jets=1, pitch_diameter_mm=260.0,
                           efficiency=0.70, runaway_ratio=1.8, drag_nm=0.3,
                           assumed=("efficiency", "runaway_ratio", "drag_nm")),
        "bank": BankPart(nominal_volts=48.0, chemistry="LiFePO4", cells=16, capacity_ah=200.0, temperature_c=15.0,
                         cable_ohm=0.02, device_max_volts=64.0),
    }


def _spin_row(number, star, error, true_rpm, pair, quantity, by):
    line_volts = sqrt(3.0) * star.emf_v_per_rpm * true_rpm
    drop = 2.0 * METER_DIODE_DROP_V.value
    volts = {"AC line rms": line_volts, "DC bridge, bare": line_volts * 3.0 * sqrt(2.0) / pi - drop,
             "DC bridge, capacitor": line_volts * sqrt(2.0) - drop}[quantity]
    volts *= error * (_PLANTED_FACTOR if number == PLANTED_ROW else 1.0)
    hz = TRUE_WINDING.stator.electrical_hz(true_rpm)
    return {"speed_rpm": f"{true_rpm:d}" if by in ("rpm", "both") else "",
            "electrical_hz": f"{hz:.1f}" if by in ("Hz", "both") else "",
            "volts": _as_shown(volts), "terminals": pair, "connection": "star", "quantity": quantity,
            "meter": "averaging", "note": "on the lathe" if true_rpm > 200 else "cordless drill"}


def _shorted_row(star, error, true_rpm, lead):
    reactance = 2.0 * pi * TRUE_WINDING.stator.electrical_hz(true_rpm) * star.henry
    amps = error * star.emf_v_per_rpm * true_rpm / sqrt(star.ohm ** 2 + reactance ** 2)
    return {"speed_rpm": f"{true_rpm:d}", "electrical_hz": "", "amps": f"{amps:.2f}", "lead": lead,
            "connection": "star", "meter": "averaging", "note": "all three leads joined, clamp meter, seconds only"}


def _ohms_row(star, error, pair):
    return {"terminals": pair, "ohms": f"{2.0 * star.ohm * error + _LEAD_ZERO_OHM:.1f}",
            "lead_zero_ohm": f"{_LEAD_ZERO_OHM:.1f}", "copper_c": f"{_MACHINE_C:g}",
            "note": "at rest overnight in the workshop"}


def _as_shown(volts):
    """A 2000-count display: four digits up to 199.9, then whole volts."""
    decimals = 2 if volts < 20 else 1 if volts < 200 else 0
    return f"{volts:.{decimals}f}"
