"""From a job's drive, its year and its logs to the source over a year, for every drive but wind."""

import pytest

from samples.job_samples import sample
from samples.year_samples import machine
from sentences import sentences_of
from statorbook.assembly.typed_years import fuel_words
from statorbook.assembly.year import source_year_from
from statorbook.bench.logs import blank_row
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.job.parts.drive.part import DrivePart
from statorbook.job.parts.fields import BadField
from statorbook.job.parts.year.part import YearPart
from statorbook.year.energy import grouping_years
from statorbook.year.source import HOURS_A_YEAR

wording = sentences_of("year_source")

DRIVES = {
    "water jet": sample("drive"),
    "pedals": DrivePart(kind="pedals", rider_watts=100.0, gear_ratio=6.0),
    "engine": DrivePart(kind="engine", rated_watts=1500.0, engine_rpm=3000.0, pulley_ratio=0.3),
    "known speed": DrivePart(kind="known speed", speed_rpm=400.0),
}


@pytest.fixture
def job_of(tmp_path):
    def made(kind, log="", rows=(), **year):
        job = Job.create(kind.replace(" ", "_"), tmp_path)
        job.save_part("drive", DRIVES[kind])
        if year:
            job.save_part("year", YearPart(**year))
        if log:
            job.save_log(log, [blank_row(log) | row for row in rows])
        return job

    return made


# What is filled in, and the hours that follow from it by definition.
@pytest.mark.parametrize(
    "kind, log, rows, year, hours",
    [
        ("water jet", "", (), {"water_year_from": "the same all year"}, HOURS_A_YEAR),
        ("water jet", "water_months", [{"month": "Jan", "flow_l_s": "9"}], {}, HOURS_A_YEAR),
        ("pedals", "", (), {"pedal_hours_a_week": 7.0}, 365.0),
        (
            "pedals",
            "pedal_weeks",
            [{"rider_watts": "80", "week_hours": "14"}],
            {"pedal_year_from": "log of riders"},
            730.0,
        ),
        ("engine", "", (), {"engine_hours_a_year": 300.0}, 300.0),
        (
            "engine",
            "engine_months",
            [{"month": "Dec", "run_hours": "40"}],
            {"engine_year_from": "run hours of each month"},
            40.0,
        ),
        ("known speed", "", (), {"speed_hours_a_year": 500.0}, 500.0),
        (
            "known speed",
            "speed_hours",
            [{"speed_rpm": "300", "held_hours": "90"}],
            {"speed_year_from": "log of speeds"},
            90.0,
        ),
    ],
)
def test_a_year_has_the_hours_that_were_typed(job_of, kind, log, rows, year, hours):
    source = source_year_from(job_of(kind, log, rows, **year))
    assert source.hours.sum() == pytest.approx(hours)
    assert source.year_share > 0.0 and source.assumed and source.words


@pytest.mark.parametrize("kind", DRIVES)
def test_nothing_filled_in_is_no_year(job_of, kind):
    assert source_year_from(job_of(kind)) is None


@pytest.mark.parametrize(
    "kind, year",
    [
        ("pedals", {"pedal_year_from": "log of riders"}),
        ("engine", {"engine_year_from": "run hours of each month"}),
        ("known speed", {"speed_year_from": "log of speeds"}),
    ],
)
def test_an_empty_log_is_no_year(job_of, kind, year):
    assert source_year_from(job_of(kind, **year)) is None


def test_the_nozzles_of_the_part_are_those_that_run(job_of):
    rows = [{"month": "Jan", "flow_l_s": "4"}]
    source = source_year_from(job_of("water jet", "water_months", rows, nozzles_mm="10, 12 mm"))
    assert [drive.nozzle_mm for drive in source.drives] == [12.0]


def test_a_bad_row_stops_the_year_with_its_sentence(job_of):
    rows = [{"month": "Jan", "flow_l_s": "4"}, {"month": "1", "flow_l_s": "5"}]
    with pytest.raises(BadInput, match=wording("water months log, row 2,")):
        source_year_from(job_of("water jet", "water_months", rows))


@pytest.mark.outside(
    "bores of nozzles typed in parts of an inch",
    source="NIST SP 811, appendix B.8",
    number="3/8 and 1/2 in are 9.525 and 12.7 mm",
    tolerance="1e-6",
    seen="from memory",
)
@pytest.mark.parametrize(
    "typed, wanted",
    [
        ("10, 12, 14", (10, 12, 14)),
        ("14; 10,5", (10.5, 14)),
        ("3/8, 1/2 in", (9.525, 12.7)),
        ("12 and 10", (10, 12)),
        ("", ()),
        ("12, 12", (12,)),
    ],
)
def test_nozzles_are_read_as_typed(typed, wanted):
    assert YearPart(nozzles_mm=typed).nozzle_bores_mm == pytest.approx(wanted)


@pytest.mark.parametrize(
    "typed, said",
    [
        ("10, 0", "entry 2: “0” was typed"),
        ("10,12", "entry 1: “10,12” can mean one number or several"),
        ("10, wide", "entry 2: “wide” is not a number"),
        ("10, 3 V", "entry 2: “3 V” was typed (voltage) where length is wanted"),
        ("10 12", "entry 1: “10 12” holds more than one number"),
    ],
)
def test_a_bad_entry_of_the_nozzles_is_named(typed, said):
    with pytest.raises(BadField) as refused:
        YearPart(nozzles_mm=typed).nozzle_bores_mm
    assert refused.value.field == "nozzles_mm"
    assert str(refused.value).startswith(f"year, Nozzles that you have, {said}")


@pytest.mark.parametrize("field, hours", [("engine_hours_a_year", 9000), ("pedal_hours_a_week", 169.0)])
def test_more_hours_than_there_are_are_refused_in_their_field(field, hours):
    with pytest.raises(BadField) as refused:
        YearPart(**{field: float(hours)})
    assert refused.value.field == field


def test_the_form_asks_what_goes_with_the_drive_and_the_answer():
    assert YearPart.asked("water jet", {}) == ("water_year_from", "nozzles_mm")
    assert YearPart.asked("water jet", {"water_year_from": "the same all year"}) == ("water_year_from",)
    assert "engine_hours_a_year" in YearPart.asked("engine", {})
    assert "engine_hours_a_year" not in YearPart.asked("engine", {"engine_year_from": "run hours of each month"})


def test_the_fuel_of_an_engine_is_said_and_of_no_other_drive(job_of):
    # 300 h at 0.8 L: 240 L, whatever the grouping.
    job = job_of("engine", engine_hours_a_year=300.0, engine_fuel_l_h=0.8, engine_fuel_price=2.0)
    drive = job.drive.to_drive()
    best = max(grouping_years(machine(drive=drive), source_year_from(job)), key=lambda year: year.kwh)
    said = fuel_words(job, drive, best)
    assert "it burns 240 L of petrol" in said
    assert f"costs {2.0 * 240.0 / best.kwh:.2g} in your money." in said
    assert fuel_words(job_of("known speed", speed_hours_a_year=9.0), drive, best) == ""
