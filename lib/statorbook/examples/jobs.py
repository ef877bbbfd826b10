"""The three example jobs: water, wind and pedals; sites, machines and readings are all invented."""

from statorbook.examples.charging import charging_parts, charging_rows
from statorbook.examples.logs import MadeUp
from statorbook.examples.protection import protection_parts
from statorbook.examples.years import year_parts, year_rows
from statorbook.job import EXAMPLE, EXAMPLES
from statorbook.winding import CoilConstants, Grouping, Stator, Winding

_AC, _BARE, _CAPACITOR = "AC line rms", "DC bridge, bare", "DC bridge, capacitor"
_SHORTED = "all three leads joined, clamp meter, seconds only"

_WATER = MadeUp(
    winding=Winding(
        stator=Stator(slots=36, poles=48),
        coil=CoilConstants(emf_v_per_rpm=0.0193, ohm=0.56, henry=0.0031, conductor="copper", magnet="ferrite"),
        grouping=Grouping(series=12, parallel=1),
    ),
    spins=(
        (62, "AB", _AC, "rpm"), (95, "BC", _AC, "rpm"), (118, "CA", _AC, "Hz"), (150, "AB", _AC, "rpm"),
        (181, "BC", _AC, "Hz"), (214, "ABC", _BARE, "rpm"), (243, "CA", _AC, "rpm"), (270, "AB", _AC, "Hz"),
        (301, "BC", _AC, "rpm"), (330, "ABC", _CAPACITOR, "rpm"), (362, "CA", _AC, "both"), (395, "AB", _AC, "Hz"),
        (440, "BC", _AC, "rpm"), (478, "CA", _AC, "rpm"),
    ),
    shorts=((104, "A"), (160, "B"), (225, "C"), (300, "A"), (372, "B"), (446, "C")),
    planted_row=9,
    planted_factor=0.85,
    seed=20,
    notes=("cordless drill", "on the lathe", _SHORTED, "at rest overnight in the workshop"),
    fast_rpm=200.0,
    days=("2025-04-12", "2025-04-19"),
)  # fmt: skip
_WIND = MadeUp(
    winding=Winding(
        stator=Stator(slots=24, poles=22),
        coil=CoilConstants(emf_v_per_rpm=0.0215, ohm=0.17, henry=0.0013, conductor="copper", magnet="neodymium"),
        grouping=Grouping(series=8, parallel=1),
    ),
    spins=(
        (48, "AB", _AC, "rpm"), (75, "BC", _AC, "rpm"), (102, "CA", _AC, "Hz"), (131, "AB", _AC, "Hz"),
        (160, "BC", _AC, "rpm"), (188, "CA", _AC, "rpm"), (215, "ABC", _CAPACITOR, "rpm"), (244, "AB", _AC, "both"),
        (270, "BC", _AC, "rpm"), (305, "CA", _AC, "Hz"), (338, "AB", _AC, "rpm"),
    ),
    shorts=((52, "A"), (96, "B"), (140, "C"), (190, "A"), (250, "B")),
    planted_row=5,
    planted_factor=1.12,
    seed=31,
    notes=("turned by hand crank", "cordless drill", _SHORTED, "left in the shed overnight"),
    fast_rpm=120.0,
    days=("2025-06-01", "2025-06-02"),
    machine_c=9.0,
    ohm_decimals=2,
)  # fmt: skip
_PEDALS = MadeUp(
    winding=Winding(
        stator=Stator(slots=36, poles=42),
        coil=CoilConstants(emf_v_per_rpm=0.0098, ohm=0.34, henry=0.0017, conductor="copper", magnet="ferrite"),
        grouping=Grouping(series=12, parallel=1, connection="delta"),
    ),
    spins=(
        (70, "AB", _AC, "rpm"), (110, "BC", _AC, "rpm"), (152, "CA", _AC, "rpm"), (190, "AB", _AC, "Hz"),
        (236, "BC", _AC, "Hz"), (280, "CA", _AC, "rpm"), (322, "AB", _AC, "rpm"), (371, "BC", _AC, "Hz"),
        (415, "CA", _AC, "rpm"), (460, "AB", _AC, "rpm"), (505, "BC", _AC, "both"), (548, "CA", _AC, "rpm"),
    ),
    shorts=((90, "A"), (150, "B"), (230, "C"), (310, "A"), (400, "B"), (500, "C")),
    planted_row=7,
    planted_factor=0.88,
    seed=47,
    notes=("pedalled slowly", "pedalled, one more gear", _SHORTED, "before anything was turned"),
    fast_rpm=250.0,
    days=("2025-02-08", "2025-02-08"),
    machine_c=19.0,
    ohm_decimals=2,
)  # fmt: skip
MADE_UP = dict(zip(EXAMPLES, (_WATER, _WIND, _PEDALS), strict=True))


def raw_rows(name=EXAMPLE):
    """The spin, shorted and ohms logs of an example as an invented reader typed them.

    Parameters
    ----------
    name : str
        "spring_pipe", "ridge_rotor" or "shed_pedals".

    Returns
    -------
    dict of str to list of dict
        Raw rows of text under "spin", "shorted" and "ohms"; the same on every call.
    """
    return MADE_UP[name].raw_rows()


def write(data_folder=None, name=EXAMPLE):
    """Write an example job anew, nothing chosen yet.

    Parameters
    ----------
    data_folder : Path or None
        Where the jobs are kept; the workbook's own folder when None.
    name : str
        "spring_pipe", "ridge_rotor" or "shed_pedals"; under another name the first of them is written.

    Returns
    -------
    Job
        The job on the disk.
    """
    from statorbook.job import write_anew

    like = name if name in MADE_UP else EXAMPLE
    made_up = MADE_UP[like]
    parts = _parts(like, made_up) | year_parts(like) | protection_parts(like) | charging_parts(like)
    logs = made_up.raw_rows() | year_rows(like) | charging_rows(like)
    return write_anew(name, parts=parts, logs=logs, data_folder=data_folder)


def _parts(like, made_up):
    from statorbook.bench import read_logs
    from statorbook.fits import coil_estimates, terminal_constants
    from statorbook.job.parts import BankPart, CoilPart, DrivePart, StatorPart, facts_worked_out_for

    facts, drive, bank = _FIELDS[like]
    found, coil = made_up.winding.grouping, made_up.winding.coil
    stator_part = StatorPart(
        slots=made_up.winding.stator.slots,
        poles=made_up.winding.stator.poles,
        found_parallel=found.parallel,
        found_connection=found.connection,
        conductor=coil.conductor,
        magnet=coil.magnet,
        wires_in_hand=1,
        assumed=(),
        notes="Invented machine of an invented job: site, stator and every reading are made up.",
        **facts,
    )
    stator, wires = stator_part.to_stator(), {"conductor": coil.conductor, "magnet": coil.magnet}
    logs = read_logs(made_up.raw_rows(), stator, found_connection=found.connection)
    estimates = coil_estimates(
        stator, stator_part.to_found_grouping(), terminal_constants(logs, stator, **wires), **wires
    )
    return {
        "stator": stator_part,
        "coil": CoilPart(**estimates.fields, **facts_worked_out_for(stator_part)),
        "drive": DrivePart(**drive),
        "bank": BankPart(**bank),
    }


# Stator facts beside those of the machine, drive, bank.
_FIELDS = {
    "spring_pipe": (
        {
            "wire_diameter_mm": 0.8,
            "insulation_megohm": 20.0,
            "diameter_mm": 245.0,
            "mark_note": "Tooth 1 carries a dab of paint beside the lead-out.",
        },
        {
            "kind": "water jet",
            "head_m": 28.0,
            "nozzle_mm": 14.0,
            "jets": 1,
            "pitch_diameter_mm": 260.0,
            "efficiency": 0.70,
            "runaway_ratio": 1.8,
            "drag_nm": 0.3,
            "assumed": ("efficiency", "runaway_ratio", "drag_nm"),
        },
        {
            "nominal_volts": 48.0,
            "chemistry": "LiFePO4",
            "cells": 16,
            "capacity_ah": 200.0,
            "temperature_c": 15.0,
            "cable_ohm": 0.02,
            "device_max_volts": 64.0,
        },
    ),
    "ridge_rotor": (
        {
            "wire_diameter_mm": 1.0,
            "insulation_megohm": 200.0,
            "diameter_mm": 190.0,
            "mark_note": "Tooth 1 has a notch filed into its edge, left of the cable hole.",
        },
        {
            "kind": "wind rotor",
            "rotor_diameter_m": 2.2,
            "wind_m_s": 6.0,
            "hub_height_m": 14.0,
            "furls_from_m_s": 8.0,
            "altitude_m": 620.0,
            "air_c": 8.0,
            "drag_nm": 0.25,
            "start_nm": 0.7,
            "assumed": (
                "wind_height_m",
                "storm_m_s",
                "power_coefficient",
                "tip_speed_ratio",
                "shear_exponent",
                "drag_nm",
            ),
        },
        {
            "nominal_volts": 24.0,
            "chemistry": "flooded lead-acid",
            "capacity_ah": 220.0,
            "temperature_c": 8.0,
            "cable_ohm": 0.06,
            "device_max_volts": 33.0,
        },
    ),
    "shed_pedals": (
        {
            "wire_diameter_mm": 0.63,
            "insulation_megohm": 100.0,
            "diameter_mm": 210.0,
            "mark_note": "Tooth 1 is the one under the maker's stamp.",
        },
        {
            "kind": "pedals",
            "ride_hours": 1.0,
            "gear_ratio": 6.5,
            "cadence_rpm": 65.0,
            "crank_mm": 170.0,
            "flywheel_kg": 6.0,
            "flywheel_diameter_mm": 320.0,
            "drag_nm": 0.12,
            "start_nm": 0.3,
            "assumed": ("chain_efficiency", "drag_nm"),
        },
        {
            "nominal_volts": 12.0,
            "chemistry": "AGM",
            "capacity_ah": 80.0,
            "temperature_c": 18.0,
            "cable_ohm": 0.015,
            "device_max_volts": 30.0,
        },
    ),
}
