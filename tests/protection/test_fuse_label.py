"""Whether a fuse and a switch at hand fit, rating by rating, and what the reader is told of them."""

from dataclasses import replace
from math import inf, nextafter
from types import SimpleNamespace

import pytest

from samples.plant_samples import plant
from sentences import in_us, sentences_of
from statorbook.bank.battery import Bank
from statorbook.cautions import Exposure
from statorbook.drives.known_speed import KnownSpeed
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.fuse import Fuse, Switch, fuse_needs
from statorbook.protection.fuse_label import FITS, MISFIT, UNKNOWN, ratings
from statorbook.protection.fuse_words import fuse_words
from statorbook.protection.site import Site
from statorbook.quantities import rounded_up

wording = sentences_of("protection_fuse")

PLANT = plant()
NEEDS = fuse_needs(PLANT)
EXACT = Fuse(amps=NEEDS.least_amps, dc_volts=NEEDS.dc_volts, breaking_amps=NEEDS.breaking_amps)


def verdicts(fuse, switch=None, made=PLANT):
    return [(row.what, row.verdict) for row in ratings(replace(made, fuse=fuse), switch)]


def test_what_is_just_enough_fits():
    assert {verdict for _, verdict in verdicts(EXACT, Switch(amps=NEEDS.switch_amps, dc_volts=NEEDS.dc_volts))} == {
        FITS
    }
    assert ("rated amps", MISFIT) not in verdicts(replace(EXACT, amps=NEEDS.cable_amps))


@pytest.mark.parametrize(
    ("field", "value", "what"),
    [
        ("amps", nextafter(NEEDS.least_amps, 0.0), "rated amps"),
        ("amps", nextafter(NEEDS.cable_amps, inf), "rated amps"),
        ("dc_volts", nextafter(NEEDS.dc_volts, 0.0), "rated DC volts"),
        ("breaking_amps", nextafter(NEEDS.breaking_amps, 0.0), "DC breaking capacity"),
        ("let_through_a2s", 1.0001 * (115.0 * 16.0) ** 2 * 1.01, "wire behind it"),
    ],
)
def test_a_hair_beyond_does_not(field, value, what):
    wrong = [name for name, verdict in verdicts(replace(EXACT, **{field: value})) if verdict == MISFIT]
    assert wrong == [what]


def test_a_label_without_dc_volts_is_not_known_to_fit():
    found = verdicts(Fuse(amps=NEEDS.amps))
    assert {("rated DC volts", UNKNOWN), ("DC breaking capacity", UNKNOWN)} <= set(found)
    assert "Whether your fuse fits is open" in str(fuse_words(replace(PLANT, fuse=Fuse(amps=NEEDS.amps))))


def test_a_switch_is_not_weaker_than_the_fuse_before_it():
    big = replace(EXACT, amps=40.0)
    assert ("rated amps", MISFIT) in verdicts(big, Switch(amps=32.0, dc_volts=1000.0))
    assert ("rated amps", MISFIT) not in verdicts(big, Switch(amps=40.0, dc_volts=1000.0))


def test_nothing_is_judged_that_was_not_typed():
    assert {verdict for _, verdict in verdicts(None)} == {""}
    assert "Your " not in str(fuse_words(PLANT))


def test_it_says_what_the_fuse_does_not_do():
    said = fuse_words(PLANT)
    assert wording("bank from cable") in said.text and wording("never under load") in said.text
    assert set(said.exposures) == {Exposure.BANK, Exposure.STANDING}


def test_a_fuse_below_the_amps_is_said_in_one_sentence():
    said = str(fuse_words(replace(PLANT, fuse=replace(EXACT, amps=10.0))))
    assert wording("opens by itself") in said


def test_a_cable_too_thin_for_any_fuse_is_named_with_the_one_it_takes():
    fast = plant(drive=KnownSpeed(working_rpm=1500.0), run=CableRun(area_mm2=1.5))
    needs = fuse_needs(fast)
    assert needs.amps is None
    said = str(fuse_words(fast))
    assert said.startswith("No fuse fits this cable")
    assert f"a cable of at least {needs.cable_mm2:g} mm² it is a fuse of {needs.next_amps:g} A" in said
    assert "AWG" in str(in_us(fuse_words, fast))


def test_a_short_circuit_far_away_that_may_never_open_it_is_said():
    long = plant(run=CableRun(length_m=250.0, area_mm2=1.5))
    assert fuse_needs(long).short.opens_far_within_s == inf
    assert "may never open the fuse" in str(fuse_words(long))


@pytest.mark.outside(
    "air in which PVC carries nothing",
    source="IEC 60364-5-52: PVC at most 70 °C at work",
    number="70 °C",
    tolerance="none",
    seen="in a reproduction",
)
def test_air_in_which_the_insulation_carries_nothing_is_said():
    assert "carries nothing" in str(fuse_words(plant(site=Site(hottest_c=70.0))))


@pytest.mark.outside(
    "most short-circuit amps that fuses break on DC",
    source="IEC 60269-2, blade fuses",
    number="about 100 kA",
    tolerance="a bank far above it",
    seen="from memory",
)
def test_a_bank_that_no_fuse_breaks_is_said():
    huge = Bank(chemistry="flooded lead-acid", cells=6, capacity_ah=20_000.0)
    said = str(fuse_words(plant(bank=huge)))
    assert "fuse of its own" in said and "e+" not in said
    assert "planned by" not in str(fuse_words(PLANT))


def test_a_drive_that_never_charges_says_so():
    assert "nothing flows" in str(fuse_words(plant(drive=KnownSpeed(working_rpm=5.0))))


def test_with_the_rectifier_at_the_bank_the_run_is_not_judged():
    at_bank = plant(run=CableRun(area_mm2=1.5, rectifier_at=AT_BANK))
    assert [what for what, _ in verdicts(EXACT, made=at_bank)].count("rated amps") == 2  # of fuse and switch, at least
    assert "short leads" in str(fuse_words(at_bank)) and "far end" not in str(fuse_words(at_bank))


@pytest.mark.outside(
    "air for 24 vented cells of 400 Ah, boost charge",
    source="IEC 62485-2: Q = 0.42 × 24 × 5 L, 20 mA/Ah, worked with 0.0504",
    number="9.7 m³/h",
    tolerance="the figures said",
    seen="in a reproduction",
)
def test_only_lead_needs_air_against_hydrogen():
    lead = plant(bank=Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=400.0))
    assert "9.7 m³/h at its charging limit" in str(fuse_words(lead))
    assert "5.7 cfm at its charging limit" in str(in_us(fuse_words, lead))
    assert "no hydrogen" in str(fuse_words(PLANT)) and "m³/h" not in str(fuse_words(PLANT))


def lines_of(made):
    return str(fuse_words(made)).split("\n")


# 0.0504 m³ of air an hour for 24 cells and each ampere, openings of 28 cm² for each m³/h: IEC 62485-2 (from memory).
def test_every_line_of_a_plant_that_is_as_it_should_be():
    needed, why, danger, bank, _air = lines_of(PLANT)
    volts, breaks = rounded_up(NEEDS.dc_volts), rounded_up(NEEDS.breaking_amps / 1000.0)
    assert needed == wording("needed").format(volts=f"{volts:g} V", breaks=f"{breaks:g} kA")
    assert why == wording("why").format(carries=f"{NEEDS.cable_amps:.0f} A")
    runaway = rounded_up(PLANT.open_volts(PLANT.runaway_rpm)[1])
    assert f"the machine makes up to {runaway:g} V DC" in danger
    far = f"{float(f'{NEEDS.short.far_amps:.2g}'):g}"
    assert bank == wording("spanner") + wording("far and quick").format(amps=far, time="0.01 s")
    lead = plant(bank=Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=400.0))
    stuck = 0.0504 * 24 * lead.most.dc_amps
    said = wording("air for lead").format(stuck=f"{stuck:.2g}", opening=f"{rounded_up(28.0 * stuck):g}")
    assert lines_of(lead)[-1].startswith(said)
    big = plant(bank=Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=800.0))
    assert "sticks" not in lines_of(big)[-1]


def test_a_hot_place_a_rectifier_at_the_bank_and_a_long_cable():
    hot = plant(site=Site(hottest_c=55.0))
    assert lines_of(hot)[1] == wording("why when hot").format(carries=f"{fuse_needs(hot).cable_amps:.0f} A")
    at_bank = lines_of(plant(run=CableRun(rectifier_at=AT_BANK)))
    assert (at_bank[1], at_bank[3]) == (wording("why at the bank"), wording("spanner"))
    short = fuse_needs(long := plant(run=CableRun(length_m=100.0))).short
    assert 0.1 < short.opens_far_within_s < 5.0
    amps, time = f"{float(f'{short.far_amps:.2g}'):g}", f"{short.opens_far_within_s:.1g} s"
    assert lines_of(long)[3] == wording("spanner") + wording("far and quick").format(amps=amps, time=time)
    short = fuse_needs(slow := plant(run=CableRun(length_m=200.0, area_mm2=10.0))).short
    assert 5.0 < short.opens_far_within_s < inf
    amps, time = f"{float(f'{short.far_amps:.2g}'):g}", f"{rounded_up(short.opens_far_within_s):.0f} s"
    assert lines_of(slow)[3] == wording("spanner") + wording("far and slow").format(amps=amps, time=time)
    never = plant(run=CableRun(length_m=200.0, area_mm2=2.5))
    assert lines_of(never)[3] == wording("spanner") + wording("far and never")


def test_a_fuse_that_cannot_be_had_is_told_why():
    fast = plant(drive=KnownSpeed(working_rpm=1500.0), run=CableRun(area_mm2=1.5))
    needs = fuse_needs(fast)
    assert lines_of(fast)[0] == wording("too thin for any").format(
        least=f"{rounded_up(needs.least_amps):g}",
        carries=f"{needs.cable_amps:.0f}",
        thick=f"{needs.cable_mm2:g}",
        next=f"{needs.next_amps:g}",
        volts=f"{rounded_up(needs.dc_volts):g} V",
        breaks=f"{rounded_up(needs.breaking_amps / 1000.0):g} kA",
    )
    assert lines_of(plant(site=Site(hottest_c=70.0)))[0] == wording("too hot for any")
    at_bank = plant(run=CableRun(rectifier_at=AT_BANK))
    at_bank.__dict__["most"] = SimpleNamespace(dc_amps=3000.0)  # in place of the cached property
    assert lines_of(at_bank)[:2] == [wording("not sold"), wording("why beyond sizes")]


@pytest.mark.parametrize("part", ["Fuse", "Switch"])
def test_each_rating_that_is_too_little_is_told_with_its_danger(part):
    made = replace(PLANT, fuse=Fuse(amps=8.0, dc_volts=30.0, breaking_amps=100.0))
    found = {row.what: row for row in ratings(made, Switch(amps=5.0, dc_volts=30.0)) if row.part == part}
    assert found["rated DC volts"].danger == wording("arc")
    dangers = {"Fuse": wording("opens while charging"), "Switch": wording("too hot first")}
    assert next(r for r in ratings(made, Switch(amps=5.0)) if r.part == part).danger == dangers[part]
    assert (found["rated DC volts"].has, found["rated DC volts"].verdict) == ("30 V", MISFIT)
    yours = next(line for line in str(fuse_words(made, Switch(amps=5.0, dc_volts=30.0))).split("\n") if "Your" in line)
    assert f"Your {part.lower()} does not fit: " in yours
