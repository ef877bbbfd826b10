"""The cable: its ohms in the plant, drop and loss by Ohm's law, the smallest size that will do, and bad input."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.machine_samples import BANK
from samples.plant_samples import plant
from sentences import exactly, sentences_of
from statorbook.bank.battery import Bank
from statorbook.cable.ampacity import IN_AIR, IN_CONDUIT, XLPE
from statorbook.cable.ohms import COARSE
from statorbook.cable.sizes import CABLE_AWG
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.job.parts.cable import CablePart
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import operating_points
from statorbook.protection.cable_distances import cable_distances
from statorbook.protection.cable_needs import cable_needs
from statorbook.protection.cable_run import AT_BANK, AT_MACHINE, ENDS, CableRun
from statorbook.protection.site import Site
from statorbook.quantities.unit_systems import reader_units
from statorbook.winding.grouping import Grouping

wording = sentences_of("protection_cable")
LOW = {"bank": Bank(chemistry="LiFePO4", cells=4, capacity_ah=800.0), "grouping": Grouping(series=1, parallel=12)}


@pytest.mark.outside(
    "ohms of a warm cable run of 16 mm²",
    source="IEC 60228, table 2, class 2",
    number="1.15 Ω/km at 20 °C",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_ohms_of_a_run_warm():
    # Copper at 70 °C by IEC 60034-1 (from memory): (235 + 70) / 255.
    run = CableRun(length_m=50.0, area_mm2=16.0, strands=COARSE)
    wire = 1.15 * 0.050 * 305.0 / 255.0
    assert run.ohms == {"cable_ohm": pytest.approx(2.0 * wire, rel=0.005), "ac_cable_ohm": 0.0}
    behind = replace(run, rectifier_at=AT_BANK)
    assert behind.ohms == {"cable_ohm": 0.0, "ac_cable_ohm": pytest.approx(wire, rel=0.005)}


@pytest.mark.parametrize("rectifier_at", ENDS)
def test_drop_and_loss_by_ohms_law(rectifier_at):
    run = CableRun(length_m=60.0, area_mm2=10.0, rectifier_at=rectifier_at)
    own = cable_needs(plant(run=run)).own
    point = plant(run=run).with_conditions(**run.ohms).working
    # Two wires carry DC amps, three the rms amps of a lead; ripple adds to the loss of DC by its form factor squared,
    # 1.0018 at most in a bridge that never stops to conduct.
    amps, wires = (point.dc_amps, 1.0) if rectifier_at == AT_MACHINE else (point.phase_amps_rms, 3.0)
    assert own.lost_watts == pytest.approx(wires * run.run_ohm * amps**2, rel=0.005)
    assert own.bank_watts == pytest.approx(point.bank_watts, rel=1e-3)
    assert own.drop_percent == pytest.approx(100.0 * own.lost_watts / own.bank_watts, rel=1e-9)
    if rectifier_at == AT_MACHINE:
        volts = point.bank_watts / point.dc_amps
        assert own.drop_percent == pytest.approx(100.0 * run.run_ohm * point.dc_amps / volts, rel=0.005)


def test_in_a_machine_that_cannot_turn_no_cable_loses_anything():
    needs = cable_needs(plant(drag_nm=500.0))
    for each in (needs.own, *needs.sold):
        assert (each.drop_percent, each.lost_watts, each.bank_watts, each.keeps_drop) == (0.0, 0.0, 0.0, True)


def test_behind_a_converter_the_cable_carries_the_amps_before_it():
    held = Converter(low_volts=110.0, high_volts=110.0, survives_dc_volts=300.0)
    run = CableRun(length_m=60.0, area_mm2=10.0)
    own = cable_needs(plant(run=run, converter=held)).own
    arriving = (own.bank_watts + held.idle_watts) / held.efficiency
    assert own.lost_watts == pytest.approx(run.run_ohm * (arriving / 110.0) ** 2, rel=0.005)
    assert own.drop_percent == pytest.approx(100.0 * own.lost_watts / arriving, rel=1e-6)


def test_the_smallest_sizes_are_the_first_that_carry_and_keep():
    needs = cable_needs(plant(**LOW, run=CableRun(length_m=30.0, most_drop_percent=4.0)))
    asked = needs.asked_amps
    # NEC 210.20(A) (in a reproduction): 1.25 times what flows for hours; then the next fuse, IEC 60269-1 (from memory).
    assert asked == min(size for size in (50, 63, 80, 100, 125, 160) if size >= 1.25 * plant(**LOW).most.dc_amps)
    behind = cable_needs(plant(run=CableRun(rectifier_at=AT_BANK)))
    assert behind.asked_amps == pytest.approx(1.25 * plant().most.lead_amps_rms)
    carries = [size for size in needs.sold if size.carries_amps >= asked]
    assert needs.least_that_carries is carries[0]
    assert needs.least_that_will_do is next(size for size in carries if size.drop_percent <= 4.0)
    assert needs.least_that_will_do.run.area_mm2 > needs.least_that_carries.run.area_mm2
    far = cable_needs(plant(**LOW, run=CableRun(length_m=800.0, area_mm2=120.0)))
    assert far.least_that_will_do is None and far.least_that_carries is not None


def test_a_us_reader_gets_gauges():
    with reader_units("US"):
        needs = cable_needs(plant())
    assert {size.run.area_mm2 for size in needs.sold} == set(CABLE_AWG.values())
    assert needs.least_that_carries.name.startswith("AWG")


@settings(max_examples=12, deadline=None)
@given(
    length=st.floats(1.0, 150.0),
    longer=st.floats(1.0, 3.0),
    hotter=st.floats(0.0, 20.0),
    faster=st.floats(1.0, 1.4),
    end=st.sampled_from(ENDS),
)
def test_longer_hotter_faster_never_make_it_thinner(length, longer, hotter, faster, end):
    run = CableRun(length_m=length, rectifier_at=end)
    drive = KnownSpeed(working_rpm=700.0, runaway_ratio=1.8)
    some = cable_needs(plant(drive=drive, run=run))
    more = {
        "drive": replace(drive, working_rpm=700.0 * faster),
        "run": replace(run, length_m=length * longer),
        "site": Site(hottest_c=40.0 + hotter),
    }
    for name in more:
        other = cable_needs(plant(**{"drive": drive, "run": run, name: more[name]}))
        for least in ("least_that_carries", "least_that_will_do"):
            before, after = getattr(some, least), getattr(other, least)
            assert before is None or after is None or after.run.area_mm2 >= before.run.area_mm2
            assert not (before is None and after is not None)


def test_what_is_assumed_is_on_the_safe_side():
    plain = cable_needs(plant(run=CablePart().to_run()))
    for better in ({"laid": IN_AIR}, {"insulation": XLPE}):
        assert cable_needs(plant(run=CablePart(**better).to_run())).own.carries_amps > plain.own.carries_amps
    assert CableRun(strands=COARSE).run_ohm < CableRun().run_ohm and CableRun().laid == IN_CONDUIT


@pytest.mark.parametrize(
    "fields, sentence",
    [
        ({"area_mm2": 0}, wording("cross-section of each wire: 0")),
        ({"length_m": 0}, wording("length of the cable: 0")),
        ({"length_m": 800.0, "area_mm2": 2.5}, wording("cable run: 800 m of 2.5 mm²")),
        ({"most_drop_percent": 0}, wording("wished drop: 0 %")),
        ({"rectifier_at": "in between"}, wording("cable run: 'in between' was")),
    ],
)
def test_what_is_no_cable_is_refused_in_a_sentence(fields, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        CableRun(**fields)


def test_a_longer_way_and_more_bank_volts():
    low = plant(**LOW, run=CableRun(length_m=43.0, area_mm2=25.0))
    found = cable_distances(low)
    (doubled,) = (way for way in found.others if way.words == "a bank of 26 V")
    # Twice the turns in series make twice the volts: 2 in series, 6 paths.
    assert doubled.grouping == Grouping(series=2, parallel=6) and doubled.bank_volts == pytest.approx(26.24)
    # Half the amps, a quarter of the loss (Ohm's law): alike without a cable but for the diodes' share.
    assert doubled.watts[0] == pytest.approx(found.watts[0], rel=0.06)
    assert doubled.watts[-1] - found.watts[-1] > 4.0 * (doubled.watts[0] - found.watts[0])
    assert (np.diff(found.watts) <= 1e-6).all()


@pytest.mark.parametrize(
    # By hand, two wires of stranded copper, 19.5 Ω·mm²/km, × 305 / 255 at 70 °C: 10 Ω is 214 m of 1 mm², 2.57 m of
    # 0.012 mm², and 1.07 m of 0.005 mm², which is less than the two metres that are looked at anyway.
    "length_m, area_mm2, longest_m",
    [(43.0, 25.0, 300.0), (100.0, 25.0, 400.0), (43.0, 1.0, 214.4), (1.0, 0.012, 2.57), (1.0, 0.005, 2.0)],
)
def test_how_far_is_looked(length_m, area_mm2, longest_m):
    lengths = cable_distances(plant(**LOW, run=CableRun(length_m=length_m, area_mm2=area_mm2))).length_m
    assert lengths[0] == pytest.approx(1.0) and lengths[-1] == pytest.approx(longest_m, rel=0.03)


def test_the_distance_from_which_the_other_end_wins_is_found_again_by_the_exact_search():
    low = plant(**LOW, run=CableRun(length_m=43.0, area_mm2=25.0, rectifier_at=AT_BANK))
    (way,) = (way for way in cable_distances(low).others if way.words == "rectifier at the machine")

    def gain(length_m):
        runs = replace(low.run, length_m=length_m), replace(low.run, length_m=length_m, rectifier_at=AT_MACHINE)
        runs = runs[0], replace(runs[1], area_mm2=37.5)  # the copper of three wires in two
        around = [replace(low.conditions, **run.ohms) for run in runs]
        found = operating_points(low.drive, [low.winding] * 2, low.bank.states[1], around)
        return found.bank_watts[1, 0] / found.bank_watts[0, 0]

    assert gain(0.8 * way.wins_from_m) < 1.01 < gain(1.2 * way.wins_from_m)


def test_a_converter_or_a_48_v_bank_asks_for_no_other_bank():
    assert [way.bank_volts for way in cable_distances(plant()).others] == [None]
    assert plant().bank == BANK
    held = Converter(low_volts=40.0, high_volts=110.0, survives_dc_volts=300.0)
    assert [way.bank_volts for way in cable_distances(plant(**LOW, converter=held)).others] == [None]
