"""The parts of a job: labels, limits, assumptions, and one sentence for whatever cannot be used."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from samples.job_samples import FIELDS, PARTS, sample
from sentences import sentences_of, uncautioned
from statorbook.bank.battery import chemistries
from statorbook.cautions import Exposure, text_of
from statorbook.errors import BadInput
from statorbook.job.parts.base import part_from_fields
from statorbook.job.parts.fields import BadField, facts_of, field_facts
from statorbook.job.parts.registry import BankPart, CablePart, CoilPart, DrivePart, PricesPart, StatorPart
from statorbook.quantities.estimate import Estimate
from statorbook.quantities.facts import CONDUCTORS, MAGNETS
from statorbook.quantities.unit_systems import filled

wording = sentences_of("job")

ALL_FIELDS = [(model, facts) for model in PARTS.values() for facts in facts_of(model)]
NUMBERS = [(model, facts) for model, facts in ALL_FIELDS if facts.kind in ("number", "count")]


def ids(pairs):
    return [f"{model.__name__}.{facts.name}" for model, facts in pairs]


def refusal(model, **fields):
    with pytest.raises(BadField) as caught:
        part_from_fields(model, FIELDS[model] | fields)
    return caught.value


@pytest.mark.parametrize("name", PARTS)
def test_the_samples_are_whole_parts(name):
    assert sample(name) == part_from_fields(PARTS[name], FIELDS[PARTS[name]])


@pytest.mark.parametrize("name", PARTS)
def test_a_part_read_from_its_fields_is_that_part(name):
    assert PARTS[name].model_validate(FIELDS[PARTS[name]]) == sample(name)


@pytest.mark.parametrize("model, facts", ALL_FIELDS, ids=ids(ALL_FIELDS))
def test_every_field_has_a_label_a_description_and_a_next_step(model, facts):
    assert facts.title and facts.description.endswith(".") and facts.next_step
    assert (facts.unit == "") == (facts.kind not in ("number", "count"))
    assert facts.title.endswith(f"[{facts.unit}]") if facts.unit else "[" not in facts.title
    assert facts.title in model.__doc__


@pytest.mark.parametrize("model, facts", NUMBERS, ids=ids(NUMBERS))
def test_every_number_is_refused_just_outside_its_limits(model, facts):
    step = 1 if facts.kind == "count" else 1e-6
    too_low = facts.above if facts.above is not None else facts.least - step
    for outside in (too_low, facts.most + step):
        caught = refusal(model, **{facts.name: outside})
        assert caught.field == facts.name
        step_on = text_of(filled(facts.next_step))
        assert uncautioned(str(caught)) == (
            f"{model.part_title}, {facts.title}: {outside} was given; {facts.allowed}; {step_on}."
        )


@pytest.mark.parametrize("model, facts", NUMBERS, ids=ids(NUMBERS))
@pytest.mark.parametrize(
    "value, said",
    [
        ("12,5", '"12,5"'),
        (True, "True"),
        (float("nan"), "nan"),
        (float("inf"), "inf"),
        ([1.0], "a list or group of values"),
    ],
)
def test_no_number_field_takes_anything_else(model, facts, value, said):
    caught = refusal(model, **{facts.name: value})
    assert caught.where == f"{model.part_title}, {facts.title}"
    assert caught.given == f"{said} was given"


@pytest.mark.parametrize("model, facts", NUMBERS, ids=ids(NUMBERS))
def test_a_number_that_cannot_even_be_printed_is_refused(model, facts):
    assert refusal(model, **{facts.name: 10**5000}).given == wording("a number of thousands of")


def test_text_in_a_number_field_says_how_to_write_numbers():
    assert uncautioned(str(refusal(StatorPart, wire_diameter_mm="0,9 mm"))) == wording(
        "stator facts, Wire diameter [mm]"
    )


def test_numbers_of_numpy_are_numbers():
    part = sample("stator", slots=np.int64(36), wire_diameter_mm=np.float64(0.9), poles=np.array(48))
    assert part == sample("stator") and type(part.slots) is int


SENTENCES = [
    (StatorPart, dict(slots=0), wording("stator facts, Slots [count]: 0")),
    (StatorPart, dict(slots=36.5), wording("stator facts, Slots [count]: 36.5")),
    (StatorPart, dict(poles=None), wording("stator facts, Magnet poles [count]")),
    (StatorPart, dict(poles=47), wording("stator facts, poles: 47 poles")),
    (StatorPart, dict(found_parallel=5), wording("stator facts, Parallel paths as")),
    (StatorPart, dict(found_connection="zigzag"), wording("stator facts, Connection as found")),
    (
        StatorPart,
        dict(notes="x" * 2001),
        f'stator facts, Notes: "{"x" * 39}…" was given; text of at most 2000 characters is allowed; type it again.',
    ),
    (StatorPart, dict(notes="\ud800"), wording("stator facts, Notes: text with")),
    (StatorPart, dict(assumed=["magnets"]), wording('stator facts, Assumed, not measured: "magnets"')),
    (StatorPart, dict(open_corner_volts_rms=2.0), wording("stator facts, Open delta corner, speed")),
    (StatorPart, dict(open_corner_rpm=90.0), wording("stator facts, Open delta corner, AC")),
    (StatorPart, dict(assumed=[["magnet"]]), wording("stator facts, Assumed, not measured: a")),
    (CoilPart, dict(date="2026-02-30"), wording('coil constants, Date: "2026-02-30" was')),
    (CoilPart, dict(date="20260531"), wording('coil constants, Date: "20260531" was')),
    (CoilPart, dict(ohm_assumed="no"), wording('coil constants, Resistance assumed: "no"')),
    (DrivePart, dict(kind="wind"), wording('drive, Kind of drive: "wind"')),
    (DrivePart, dict(kind="known speed", speed_rpm=None), wording("drive, Working speed [rpm]: nothing")),
    (DrivePart, dict(head_m=None), wording("drive, Net head [m]: nothing")),
    (DrivePart, dict(pitch_diameter_mm=None), wording("drive, Pitch diameter [mm]: nothing")),
    (DrivePart, dict(nozzle_mm=None), wording("drive, Nozzle bore or Flow")),
    (DrivePart, dict(pitch_diameter_mm=4000.0), wording("drive, runner and jet: a")),
    (BankPart, dict(chemistry="NiFe"), wording('bank, Chemistry: "NiFe" was given')),
    (BankPart, dict(nominal_volts=None, cells=None), wording("bank, Nominal bank volts, DC")),
    (BankPart, dict(nominal_volts=36.0, cells=None), wording("bank, nominal bank voltage: 36.0")),
]


@pytest.mark.parametrize("model, fields, sentence", SENTENCES)
def test_one_plain_sentence(model, fields, sentence):
    assert uncautioned(str(refusal(model, **fields))) == sentence


@pytest.mark.outside(
    "cells of LiFePO4 in series of 12 and 48 V",
    source="common practice, no source",
    number="4 and 16 of 3.2 V",
    tolerance="exact",
    seen="from memory",
)
def test_cells_and_volts_that_contradict_each_other_are_refused():
    assert sample("bank", nominal_volts=12.0, cells=4).to_bank().cells == 4
    assert str(refusal(BankPart, cells=4)).startswith(wording("bank, Cells in series [count]"))


def test_a_missing_and_a_misspelt_field_are_told_by_the_misspelling():
    fields = {("slotz" if name == "slots" else name): value for name, value in FIELDS[StatorPart].items()}
    with pytest.raises(BadInput, match=wording("^stator facts: there is no")):
        part_from_fields(StatorPart, fields)
    with pytest.raises(BadInput, match=wording("^stator facts, Slots \\[count\\]: nothing")):
        StatorPart(poles=48)


def test_fields_that_are_no_fields():
    with pytest.raises(BadInput) as caught:
        part_from_fields(BankPart, [1, 2])
    assert str(caught.value) == wording("bank: a list or group")


def test_assumed_defaults_are_listed_until_they_are_given():
    bank = BankPart(nominal_volts=24.0, chemistry="AGM", capacity_ah=100.0)
    assert bank.assumed == ("temperature_c", "cable_ohm", "diode_drop_v")
    assert BankPart(**bank.model_dump(exclude={"assumed"}) | {"cable_ohm": 0.02}).assumed == ()
    some_given = sample("bank", cable_ohm=0.02, assumed=["capacity_ah"])
    assert some_given.assumed == ("capacity_ah", "temperature_c", "diode_drop_v")


def test_a_part_read_back_assumes_the_same():
    for name in PARTS:
        part = sample(name)
        assert part_from_fields(PARTS[name], part.model_dump(mode="json")) == part


def test_a_known_speed_does_not_assume_an_efficiency():
    assert DrivePart(kind="known speed", speed_rpm=300.0).assumed == ("runaway_ratio", "drag_nm")
    assert "efficiency" in sample("drive").assumed


def test_the_other_kinds_fields_may_stay():
    assert sample("drive", kind="known speed").to_drive().runaway_speed_rpm == pytest.approx(700.0 * 1.8)
    assert sample("drive").head_m == 28.0


def test_choices_are_those_of_the_physics():
    assert field_facts(StatorPart, "conductor").choices == tuple(CONDUCTORS)
    assert field_facts(StatorPart, "magnet").choices == tuple(MAGNETS)
    assert field_facts(BankPart, "chemistry").choices == tuple(chemistries())


def test_parts_turn_into_the_physics():
    stator, coil = sample("stator", found_parallel=2, found_connection="delta"), sample("coil")
    assert stator.to_stator().coils_per_phase == 12
    assert stator.to_found_grouping().label == "6 in series, 2 paths, delta"
    assert coil.to_coil(stator).henry == 0.003
    assert coil.inductance == Estimate(value=0.003, plus_minus=0.0001, unit="H", how="shorted leads", assumed=False)
    assert (coil.emf.unit, coil.resistance.unit) == ("V/rpm", "Ω")
    assert sample("bank", cells=None).to_bank().cells == 16
    assert sample("choice").to_grouping().label == "3 in series, 4 paths, star"


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
)


@given(data=st.data(), name=st.sampled_from(list(PARTS)))
def test_whatever_is_given_there_is_a_part_or_a_sentence(data, name):
    model = PARTS[name]
    names = st.sampled_from(list(model.model_fields)) | st.text(max_size=8)
    changes = data.draw(st.dictionaries(names, ANYTHING, max_size=4))
    try:
        part = part_from_fields(model, FIELDS[model] | changes)
    except BadInput as refused:
        assert str(refused).startswith(model.part_title) and "\n" not in str(refused)
    else:
        assert part_from_fields(model, part.model_dump(mode="json")) == part


def test_a_choice_that_may_be_empty_is_a_choice():
    facts = field_facts(DrivePart, "pipe_material")
    assert (facts.kind, facts.may_be_empty) == ("choice", True) and "polyethylene" in facts.choices
    assert facts.allowed.startswith("allowed are PVC, polyethylene, ")


# What a reader has to do with hands to fill a field in.
@pytest.mark.parametrize(
    "model, name, exposure",
    [
        (DrivePart, "start_nm", Exposure.LEVER),
        (DrivePart, "bucket_s", Exposure.WATER),
        (DrivePart, "pipe_bore_mm", Exposure.PRESSURE),
        (DrivePart, "engine_pulley_mm", Exposure.ENGINE),
        (DrivePart, "hub_height_m", Exposure.HEIGHT),
        (DrivePart, "gear_ratio", Exposure.CHAIN),
        (DrivePart, "rotor_kg", Exposure.MAGNETS),
        (StatorPart, "wire_diameter_mm", Exposure.CHEMICALS),
        (StatorPart, "insulation_megohm", Exposure.TESTER),
        (StatorPart, "insulation_megohm", Exposure.HEAT),
        (StatorPart, "open_corner_volts_rms", Exposure.VOLTS),
    ],
)
def test_a_field_says_what_getting_its_value_exposes_hands_to(model, name, exposure):
    assert exposure in field_facts(model, name).exposures


# Fine strands of 16 mm² have 1.21 Ω/km at 20 °C (IEC 60228 class 5, from memory), 19.6 % more at the 70 °C of PVC; 20 m
# there and 20 m back.
def test_a_cable_run_gives_the_bank_its_ohms_and_changes_nothing_else():
    bank = sample("bank")
    known = CablePart(length_m=20.0, area_mm2=16.0).put_into(bank)
    assert known.cable_ohm == pytest.approx(0.0484 * 1.1965, rel=2e-3) and known.ac_cable_ohm is None
    assert "cable_ohm" in bank.assumed and known.assumed == ("temperature_c", "diode_drop_v")
    ours = {"cable_ohm", "ac_cable_ohm", "assumed"}
    assert known.model_dump(exclude=ours) == bank.model_dump(exclude=ours)
    for guess in (CablePart(), CablePart(length_m=20.0), CablePart(area_mm2=16.0)):
        assert "cable_ohm" in guess.put_into(bank).assumed and "ac_cable_ohm" not in guess.put_into(bank).assumed


def test_prices_are_read_as_typed_and_none_is_none():
    found = PricesPart(cable_prices="16: 4.20, 25: 6.80").prices("cable_prices")
    assert {size: price for size, (_, price) in found.items()} == {16.0: 4.2, 25.0: 6.8}
    assert PricesPart().prices("pipe_prices") == {}
