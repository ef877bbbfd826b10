"""What an answer stands on: nothing that moves it is missing, and what is assumed is never called measured."""

import json

import pytest

from samples.job_samples import sample
from statorbook.assembly.machine import machine_from
from statorbook.assembly.narrowing import (
    answers_words,
    best_measurement,
    deciding_words,
    narrowed_words,
    narrowing_words,
)
from statorbook.assembly.stands_on import ANSWERS, how_sure
from statorbook.assembly.ways_to_measure import AT_WORK, NO_WAY, WAYS
from statorbook.cautions import Exposure, exposures_of, text_of
from statorbook.choice.assumed_ranges import CONVERTER_RANGES, DRIVE_RANGES, variations
from statorbook.choice.shares import CONSTANTS
from statorbook.choice.uncertainty import with_plus_minus
from statorbook.examples import jobs as example
from statorbook.job.parts.heat import HeatPart
from statorbook.job.places import EXAMPLES
from statorbook.quantities import reader_units


@pytest.fixture(scope="module", params=EXAMPLES)
def case(request, tmp_path_factory):
    """An example's job and what its answer stands on."""
    job = example.write(tmp_path_factory.mktemp("data"), request.param)
    return job, how_sure(job)


def named(sure, name):
    return next(each for each in sure.inputs if each.name == name)


def test_all_that_moves_an_answer_is_listed_and_the_shares_are_whole(case):
    job, sure = case
    moved = {*CONSTANTS, *(variation.name for variation in variations(machine_from(job)))}
    assert moved <= {each.name for each in sure.inputs} <= moved | {"hours"}
    assert set(sure.answers) == set(ANSWERS) and sure.missing == ()
    for answer, spread in sure.answers.items():
        assert sum(each.shares[answer] for each in sure.inputs) == pytest.approx(1.0)
        of_constants = sum(named(sure, name).shares[answer] for name in CONSTANTS)
        if answer != "kwh":  # its ± scales with the whole year, its parts with a few settings of it
            assert of_constants == pytest.approx((spread.constants / spread.plus_minus) ** 2)
        assert sure.ranked(answer)[0].shares[answer] == max(each.shares[answer] for each in sure.inputs)


def test_measured_assumed_typed_and_from_a_table_are_told_apart(case):
    job, sure = case
    machine = machine_from(job)
    for name in CONSTANTS:
        assert named(sure, name).known == "measured" and "rows of the" in named(sure, name).how
    for name in machine.assumed_fields & {each.name for each in sure.inputs}:
        assert named(sure, name).known == "assumed"
    assert named(sure, "source").known == "typed" and named(sure, "inner_ohm").known == "from a table"
    assert all(each.known in ("measured", "typed", "assumed", "from a table") and each.how for each in sure.inputs)
    given = {each.words: each for each in sure.given}
    assert given["Slots"].said == str(job.stator.slots) and given["Slots"].known == "typed"
    assert given["Volts of the half-full bank"].known == "from a table"
    assert not {each.words.lower() for each in sure.inputs} & {words.lower() for words in given}


def test_everything_that_can_move_an_answer_has_a_way_or_a_reason():
    names = {
        *CONSTANTS,
        *DRIVE_RANGES,
        *CONVERTER_RANGES,
        "copper_c",
        "magnet_c",
        "cold_c",
        "inner_ohm",
        "diode_drop_v",
    }
    names |= {"cable_ohm", "ac_cable_ohm", "drag_nm", "source", "hours"}
    assert set(WAYS).isdisjoint(NO_WAY) and names <= set(WAYS) | set(NO_WAY)
    assert all(0.0 <= way.left < 1.0 for way in WAYS.values())
    hot = (Exposure.STANDING, Exposure.HEAT)
    assert all(set(hot) <= set(WAYS[name].instruction.exposures) for name in AT_WORK)


def test_a_typed_value_leaves_the_plus_minus_that_was_foretold(tmp_path):
    job = example.write(tmp_path, "spring_pipe")
    sure = how_sure(job)
    found = best_measurement(sure, "bank_watts")
    assert found.of.name == "efficiency"
    kept = tuple(name for name in job.drive.assumed if name != "efficiency")
    job.save_part("drive", job.drive.model_copy(update={"assumed": kept}))
    after = with_plus_minus(machine_from(job), sure.grouping)["bank_watts"]
    assert after.plus_minus == pytest.approx(found.plus_minus, rel=1e-6)
    assert found.narrowed(after) in text_of(narrowing_words(sure, "bank_watts")) and f"{after}".endswith(
        found.narrowed(after)
    )


def test_measured_magnets_are_closer_and_are_not_asked_for_again(tmp_path):
    job = example.write(tmp_path, "shed_pedals")
    before = how_sure(job)
    assert best_measurement(before, "speed_rpm").of.name == "magnet_c"
    job.save_part("heat", HeatPart(magnet_c=50.0))
    after = how_sure(job)
    assert (named(before, "magnet_c").known, named(after, "magnet_c").known) == ("assumed", "measured")
    foretold = best_measurement(before, "speed_rpm").plus_minus
    assert after.answers["speed_rpm"].plus_minus == pytest.approx(foretold, rel=0.03)  # steps that are not quite even
    assert best_measurement(after, "speed_rpm").of.name != "magnet_c"


def test_what_is_assumed_is_named_before_what_was_read(case):
    _, sure = case
    for answer, spread in sure.answers.items():
        said = deciding_words(sure, answer)
        assert str(spread) in said and str(spread) in answers_words(sure)
        first = sure.ranked(answer)[0]
        known = "" if first.known == "assumed" else f", {first.known}"
        assert first.words in said and f"({first.shares[answer]:.0%}{known})" in said
        if sure.share_of("assumed", answer) > 0.5:
            assert said.index("Assumed and decisive") < said.find("Not assumed") or "Not assumed" not in said


def test_the_measurement_brings_its_caution(case):
    _, sure = case
    for answer in ("bank_watts", "runaway_dc_volts_peak"):
        found, said = best_measurement(sure, answer), narrowing_words(sure, answer)
        assert found.narrowed(sure.answers[answer]) in narrowed_words(sure, answer)
        assert exposures_of([said]) == found.way.exposures and found.way.text in text_of(said)
    at_rest, running = Exposure.STANDING, Exposure.TURNING
    assert {at_rest, running} & set(best_measurement(sure, "bank_watts").way.exposures)


def test_a_job_without_a_year_says_so_and_has_the_other_answers(tmp_path):
    job = example.write(tmp_path, "shed_pedals")
    path = job.folder / "job.json"
    path.write_text(json.dumps(json.loads(path.read_text(encoding="utf-8")) | {"year": None}), encoding="utf-8")
    sure = how_sure(job)
    assert set(sure.answers) == set(ANSWERS) - {"kwh"}
    assert "04b_add_up_the_year" in sure.missing[0] and "04b_add_up_the_year" in answers_words(sure)


def test_values_are_said_with_both_ends_where_one_is_further_off(case):
    job, sure = case
    magnets, inner = named(sure, "magnet_c"), named(sure, "inner_ohm")
    assert magnets.said == "50 ± 20 °C" and ", from " in inner.said
    with reader_units("US"):
        assert magnets.said == "122 ± 36 °F"  # 20 K are 36 °F


def test_samples_of_a_job_typed_by_hand_have_an_answer(tmp_path):
    job = example.write(tmp_path, "spring_pipe")
    job.save_part("coil", sample("coil"))
    assert how_sure(job).answers["bank_watts"].plus_minus > 0.0
