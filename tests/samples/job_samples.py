"""Invented parts and rows for the tests of the job store."""

from statorbook.bench.logs import blank_row
from statorbook.examples import jobs as example
from statorbook.job.parts.registry import (
    BankPart,
    CablePart,
    ChoicePart,
    CoilPart,
    DrivePart,
    DumpPart,
    FusePart,
    PlanPart,
    ProgramPart,
    ProtectionPart,
    RectifierPart,
    ServicePart,
    SetPointsPart,
    SitePart,
    StatorPart,
    YearPart,
)
from statorbook.job.places import EXAMPLE

FIELDS = {
    StatorPart: dict(
        slots=36,
        poles=48,
        found_connection="star",
        wire_diameter_mm=0.9,
        insulation_megohm=20.0,
        diameter_mm=240.0,
        mark_note="paint on tooth 1",
        notes="found at 3 °C, naïve count",
    ),
    CoilPart: dict(
        emf_v_per_rpm=0.02,
        emf_plus_minus_v_per_rpm=0.001,
        ohm=0.5,
        ohm_plus_minus=0.01,
        henry=0.003,
        henry_plus_minus=0.0001,
        henry_how="shorted leads",
        date="2026-05-31",
    ),
    DrivePart: dict(kind="water jet", head_m=28.0, nozzle_mm=16.0, pitch_diameter_mm=260.0, speed_rpm=700.0),
    BankPart: dict(nominal_volts=48.0, chemistry="LiFePO4", cells=16, capacity_ah=200.0, device_max_volts=64.0),
    ChoicePart: dict(
        series=3,
        parallel=4,
        connection="star",
        date="2026-05-31",
        speed_rpm=620.0,
        dc_amps=11.5,
        dc_watts=620.0,
        bank_volts=53.0,
        runaway_line_volts_rms=150.0,
        runaway_dc_volts_peak=212.0,
        hazard="dangerous: above 120 V DC",
        verdict="most watts below the device limit",
    ),
    PlanPart: dict(layout="spread", copper_c=17.0, hand_rpm=60.0, date="2026-06-02"),
    ServicePart: dict(installed_on="2026-06-03", bearing_size="6204", turning_kg=9.5),
    YearPart: dict(water_year_from="the same all year", mean_wind_m_s=5.5),
    SitePart: dict(place="damp", hottest_c=30.0),
    CablePart: dict(length_m=12.0, area_mm2=25.0),
    RectifierPart: dict(label_amps=50.0, reverse_volts=800.0),
    FusePart: dict(amps=40.0, dc_volts=80.0, breaking_amps=20_000.0),
    ProtectionPart: dict(
        most_dc_amps=9.0, runaway_line_volts_rms=80.0, runaway_dc_volts_peak=113.0, items="Fuse: 16 A\nCable: 4 mm²"
    ),
    SetPointsPart: dict(absorption_volts=56.0),
    DumpPart: dict(dump_1_ohm=7.5, dump_1_watts=500.0),
    ProgramPart: dict(
        file_name="charge_and_dump.st", rules=9, timers=14, relays=6, text_mark="1a2b3c4d", worked_out_for=""
    ),
}
PARTS = {
    "stator": StatorPart,
    "coil": CoilPart,
    "drive": DrivePart,
    "bank": BankPart,
    "choice": ChoicePart,
    "plan": PlanPart,
    "service": ServicePart,
    "year": YearPart,
    "site": SitePart,
    "cable": CablePart,
    "rectifier": RectifierPart,
    "fuse": FusePart,
    "protection": ProtectionPart,
    "set_points": SetPointsPart,
    "dump": DumpPart,
    "program": ProgramPart,
}


def sample(name, **changes):
    """One part by its name in the job, with some fields changed."""
    return PARTS[name](**FIELDS[PARTS[name]] | changes)


def without_year(folder, name=EXAMPLE):
    """An example as it is before anybody says what its source does over the year."""
    job = example.write(folder, name)
    for log in ("water_months", "wind_months", "pedal_weeks"):
        (job.folder / f"{log}.csv").unlink(missing_ok=True)
    return job


def spin_rows(count=3, note="on the lathe"):
    """Rows of a spin log as typed, with text that is awkward to store."""
    return [
        blank_row("spin")
        | {
            "speed_rpm": f"{100 + 10 * n}",
            "volts": f"{12 + n},5",
            "terminals": "AB",
            "connection": "star",
            "quantity": "DC bridge, bare",
            "meter": "true rms",
            "note": note,
        }
        for n in range(count)
    ]
