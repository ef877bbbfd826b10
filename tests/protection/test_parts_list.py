"""The list of parts: sized by the most that the plant can make, and never a smaller part for a worse place."""

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from statorbook.bank.battery import Bank
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.drives.wind_rotor import WindRotor
from statorbook.protection.cable_needs import cable_needs
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.enclosures import enclosure_grade, questions, signs
from statorbook.protection.fuse import Fuse, Switch
from statorbook.protection.fuse_label import FITS, MISFIT, UNKNOWN
from statorbook.protection.over_voltage_load import OverVoltageLoad
from statorbook.protection.part_to_buy import at_least
from statorbook.protection.parts_list import parts_to_buy, sized_words
from statorbook.protection.plant_needs import PlantNeeds
from statorbook.protection.rectifier_label import Rectifier
from statorbook.protection.site import DAMP, DRY, PLACES, WET, Site

PEDALS = Pedals(rider_watts=100.0, gear_ratio=6.5)


def parts_of(made):
    return {part.key: part for part in parts_to_buy(made)}


def numbers(words):
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", words)]


@pytest.mark.parametrize(
    "value, said",
    # Rounded up to two figures, worked out by hand; what is a whole size already stays.
    [(7.2, "8 A"), (8.0, "8 A"), (18.01, "19 A"), (122.0, "130 A"), (120.0, "120 A"), (1201.0, "1300 A"), (0.0, "0 A")],
)
def test_a_size_is_rounded_up_and_never_down(value, said):
    assert at_least(value, "A") == said


def test_every_part_has_its_rating_and_its_reason_and_no_two_share_a_key():
    made = parts_to_buy(plant())
    assert all(part.rating and part.why for part in made)
    assert len({part.key for part in made}) == len(made)
    assert {"brake", "rectifier", "over-voltage load", "cable", "switch", "fuse", "lugs", "enclosure", "signs"} <= {
        part.key for part in made
    }


@pytest.mark.outside(
    "digits of an enclosure by its place",
    source="IEC 60529: 4 keeps out 1 mm wire, 6 dust; 4 splashes, 5 jets",
    number="IP4X, IP6X; IPX0, IPX4, IPX5",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize("place, grade, digits", [(DRY, "IP40", (4, 0)), (DAMP, "IP44", (4, 4)), (WET, "IP65", (6, 5))])
def test_the_enclosure_follows_the_place(place, grade, digits):
    assert enclosure_grade(place)[0] == grade == f"IP{digits[0]}{digits[1]}"
    assert parts_of(plant(site=Site(place=place)))["enclosure"].brief == grade


def test_a_wetter_place_never_gets_a_lower_grade():
    grades = [enclosure_grade(place)[0] for place in PLACES]
    assert PLACES == (DRY, DAMP, WET) and all(
        first[digit] <= second[digit] for first, second in zip(grades, grades[1:], strict=False) for digit in (2, 3)
    )


@given(st.floats(200.0, 900.0), st.floats(1.0, 1.5))
@settings(max_examples=4, deadline=None)
def test_a_faster_runaway_never_gives_a_smaller_part(speed_rpm, times):
    slow, fast = (
        parts_of(plant(drive=KnownSpeed(working_rpm=speed_rpm, runaway_ratio=ratio))) for ratio in (2.0, 2.0 * times)
    )
    assert slow.keys() <= fast.keys()
    for key in ("brake", "rectifier", "switch"):
        pairs = zip(numbers(slow[key].brief), numbers(fast[key].brief), strict=True)
        assert all(less <= more for less, more in pairs), key


@pytest.mark.parametrize(
    "worse",
    [dict(site=Site(hottest_c=60.0)), dict(run=CableRun(length_m=90.0)), dict(cold_c=-30.0)],
    ids=["hotter day", "longer cable", "colder machine"],
)
def test_a_worse_day_or_a_longer_cable_never_gives_a_smaller_part(worse):
    usual, harder = (parts_of(made) for made in (plant(), plant(**worse)))
    for key in ("brake", "rectifier", "switch", "fuse"):
        pairs = zip(numbers(usual[key].brief), numbers(harder[key].brief), strict=True)
        assert all(less <= more for less, more in pairs), key
    assert numbers(usual["cable"].brief)[0] <= numbers(harder["cable"].brief)[0]
    assert numbers(usual["heat sink"].brief)[0] >= numbers(harder["heat sink"].brief)[0]


def test_what_the_reader_has_is_judged_only_where_a_label_is_typed():
    bare = parts_of(plant())
    assert not any(bare[key].yours for key in ("rectifier", "heat sink", "switch", "fuse", "brake"))
    small = dict(rectifier=Rectifier(label_amps=1.0, reverse_volts=50.0, heat_sink_k_per_w=90.0), fuse=Fuse(amps=1.0))
    made = {part.key: part for part in parts_to_buy(plant(**small, run=CableRun(area_mm2=0.1)), Switch(amps=1.0))}
    assert all(MISFIT in made[key].yours for key in ("rectifier", "heat sink", "cable", "switch", "fuse"))
    weak = OverVoltageLoad(set_dc_volts=65.0, ohm=900.0, watts=1.0)
    assert MISFIT in parts_of(plant(guard=weak))["over-voltage load"].yours
    large = dict(rectifier=Rectifier(label_amps=500.0, reverse_volts=2000.0, heat_sink_k_per_w=0.1))
    fuse = Fuse(amps=16.0, dc_volts=1000.0, breaking_amps=1e6, let_through_a2s=1.0)
    made = {part.key: part for part in parts_to_buy(plant(**large, fuse=fuse), Switch(amps=100.0, dc_volts=1000.0))}
    assert all(made[key].yours.endswith(FITS) for key in ("rectifier", "heat sink", "cable", "switch", "fuse"))


def test_a_label_without_dc_volts_never_fits():
    own = parts_of(plant(fuse=Fuse(amps=16.0, breaking_amps=1e6, let_through_a2s=1.0)))["fuse"].yours
    assert UNKNOWN in own and "DC" in own


def test_a_load_for_over_voltage_is_listed_only_above_what_was_accepted_and_the_edge_is_not_above():
    made = plant()
    volts = made.open_volts(made.runaway_rpm)[1]
    assert "over-voltage load" not in parts_of(plant(accepted_dc_volts=volts))
    assert "over-voltage load" in parts_of(plant(accepted_dc_volts=volts * (1.0 - 1e-9)))


def test_lugs_are_two_for_each_length_of_wire():
    # By hand. DC run: plus and minus to the switch, switch to fuse, fuse to bank, minus from switch to bank: 5.
    assert numbers(parts_of(plant())["lugs"].rating)[0] == 10
    # AC run: three wires, plus and minus from rectifier to switch, and the same three behind it: 8.
    assert numbers(parts_of(plant(run=CableRun(rectifier_at=AT_BANK)))["lugs"].rating)[0] == 16


@pytest.mark.outside(
    "signs at a machine that starts by itself",
    source="ISO 7010",
    number="W012 electricity, W018 starts by itself",
    tolerance="none",
    seen="from memory",
)
def test_a_source_that_nobody_stops_asks_for_a_dump_load_and_for_its_sign():
    by_itself, ridden = plant(), plant(drive=PEDALS)
    assert "dump load" not in parts_of(ridden)
    # NEC 690.72(B) (from memory): 150 % of what the source gives; here of the most amps at the bank's highest volts.
    watts = 1.5 * by_itself.most.dc_amps * by_itself.bank.highest_volts
    assert watts <= numbers(parts_of(by_itself)["dump load"].brief)[0] < 1.1 * watts
    assert [sign[0] for sign in signs(by_itself)] == ["W012", "W018", "W026"]
    assert [sign[0] for sign in signs(ridden)] == ["W012", "W026"]


def test_lead_asks_for_air_and_for_no_flame():
    lead = plant(bank=Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=200.0))
    assert "P003" in [sign[0] for sign in signs(lead)]
    assert len(questions(lead)) == len(questions(plant())) + 1


@pytest.mark.outside(
    "volts above which a turbine’s circuit lies in conduit",
    source="NEC 2011, 694.30(A)",
    number="30 V",
    tolerance="none, 30 V itself is not above",
    seen="in a reproduction",
)
def test_conduit_is_asked_for_only_above_thirty_volts():
    rpm = 100.0 * 30.0 / plant().open_volts(100.0)[1] / 1.8
    edge, above = (plant(drive=KnownSpeed(working_rpm=rpm * (1.0 + off))) for off in (-1e-9, 1e-6))
    assert edge.open_volts(edge.runaway_rpm)[1] <= 30.0 < above.open_volts(above.runaway_rpm)[1]
    assert len(questions(above)) == len(questions(edge)) + 1


def test_the_brake_switch_names_the_stop_of_its_drive():
    wind = WindRotor(rotor_diameter_m=2.4, wind_m_s=8.0)
    said = {kind: parts_of(plant(drive=drive))["brake"].why for kind, drive in (("wind", wind), ("feet", PEDALS))}
    assert "furling" in said["wind"] and "the rider" in said["feet"]


def test_what_it_is_sized_by_is_said_in_whole_volts_and_amps():
    made = plant()
    line, dc = made.open_volts(made.runaway_rpm)
    assert [round(each) for each in (made.most.dc_amps, line, dc)] == [round(n) for n in numbers(sized_words(made))]
    hotter = replace(made, site=Site(hottest_c=60.0))
    assert numbers(parts_of(hotter)["fuse"].rating)[0] >= numbers(parts_of(made)["fuse"].rating)[0]


# 0.0504 m³ of air an hour for 24 cells and each ampere: IEC 62485-2 (from memory).
def test_sizes_are_said_with_two_figures():
    slow = plant(drive=KnownSpeed(working_rpm=5.0))
    line, dc = slow.open_volts(9.0)
    assert f" {line:.2g} V AC between leads, {dc:.2g} V DC behind" in sized_words(slow)
    lead = plant(bank=Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=200.0))
    stuck = 0.0504 * 24 * lead.most.dc_amps
    assert f", {stuck:.2g} m³/h when its charge control sticks" in parts_of(lead)["air"].why


# Lightning reaches a tower, a run of AC wires, and more than 10 m of any: hand rule, common practice, no source.
@pytest.mark.parametrize(
    ("changes", "asked"),
    [
        ({"run": CableRun(length_m=10.0)}, False),
        ({"run": CableRun(length_m=10.1)}, True),
        ({"run": CableRun(length_m=5.0, rectifier_at=AT_BANK)}, True),
        ({"run": CableRun(length_m=5.0), "drive": WindRotor(rotor_diameter_m=2.4, wind_m_s=8.0)}, True),
    ],
)
def test_arresters_are_asked_for_where_lightning_reaches_the_run(changes, asked):
    assert any("arresters" in each for each in questions(plant(**changes))) is asked


def test_the_cable_of_the_list_is_the_smallest_that_will_do():
    made = plant()
    least = cable_needs(made).least_that_will_do.run.area_mm2
    assert PlantNeeds(plant=made, switch=None).cable_mm2 == least
    assert f"for {least:g} mm²" in parts_of(made)["lugs"].rating
    far = plant(run=CableRun(length_m=1500.0, area_mm2=120.0, most_drop_percent=0.1))
    assert PlantNeeds(plant=far, switch=None).cable_mm2 is None and "for the cable" in parts_of(far)["lugs"].rating
