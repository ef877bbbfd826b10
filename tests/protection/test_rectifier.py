"""What the rectifier has to carry, stand and get rid of."""

from dataclasses import replace
from math import inf, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from statorbook.drives.known_speed import KnownSpeed
from statorbook.errors import BadInput
from statorbook.operation.converter import Converter
from statorbook.protection.heat_path import CLOSED, OPEN_AIR, VENTED
from statorbook.protection.rectifier import rectifier_needs
from statorbook.protection.rectifier_heat import heat_way
from statorbook.protection.rectifier_label import BLOCK, MATCHED, OWN_COILS, SINGLE, UNMATCHED, Rectifier
from statorbook.protection.site import Site


def needs(*, rectifier=None, **changes):
    return rectifier_needs(plant(rectifier=rectifier, **changes))


def test_sized_by_the_most_amps_and_the_volts_of_the_runaway():
    at, found = plant(), needs()
    assert found.most.dc_amps == pytest.approx(at.most.dc_amps, rel=5e-3)
    assert found.working.dc_amps == pytest.approx(at.working.dc_amps, rel=5e-3)
    assert found.most.dc_amps > 1.1 * found.working.dc_amps
    assert found.blocked_volts_peak == at.open_volts(at.runaway_rpm)[1]


def test_spares_are_on_the_label():
    # Half as much again of amps and volts, common practice, no source; a label's amps hold for an rms of √3 (a block)
    # or π/2 (a diode, half a sinusoid) times the average; by hand.
    found = needs()
    assert found.block_amps == pytest.approx(1.5 * max(found.most.dc_amps, 3**0.5 * found.most.amps_rms))
    assert found.diode_amps == pytest.approx(1.5 * max(found.most.mean_amps, 2 / pi * found.most.amps_rms))
    assert found.reverse_volts == pytest.approx(1.5 * found.blocked_volts_peak)
    assert found.usual_reverse_volts >= found.reverse_volts


def test_loss_by_drop_and_slope():
    # 2 V I + 6 r I_rms² of the diode; any power-electronics text.
    found = needs(rectifier=Rectifier(drop_v=0.8, slope_ohm=0.005))
    assert found.watts == pytest.approx(1.6 * found.most.dc_amps + 6 * 0.005 * found.most.amps_rms**2)
    assert not found.drop_assumed


def test_an_assumed_drop_counts_as_the_highest_usual_one():
    # Silicon 0.8 to 1.1 V: common practice, no source.
    known = plant()
    assumed = replace(known, machine=replace(known.machine, assumed_fields=frozenset({"diode_drop_v"})))
    assert rectifier_needs(known).drop_v == known.conditions.diode_drop_v
    assert (rectifier_needs(assumed).drop_v, rectifier_needs(assumed).drop_assumed) == (1.1, True)
    assert rectifier_needs(assumed).heat_sink_k_per_w < rectifier_needs(known).heat_sink_k_per_w


def test_at_the_heat_sink_that_it_needs_the_base_is_just_not_too_hot():
    # 80 °C under the diodes in air of 40 °C, common practice, no source.
    found = needs(site=Site(hottest_c=40.0))
    steps = heat_way(Rectifier(), found.drop_v).steps_c(found.watts, 40.0, found.heat_sink_k_per_w)
    assert steps[2] == pytest.approx(80.0)


def test_a_hot_junction_asks_for_a_better_heat_sink():
    # 15 K under its limit, common practice, no source.
    way = heat_way(Rectifier(label_amps=60.0, reverse_volts=600.0, junction_case_k_per_w=12.0), 0.9)
    sink = way.heat_sink_k_per_w(18.0, 40.0)
    steps = way.steps_c(18.0, 40.0, sink)
    assert steps[3] == pytest.approx(110.0) and steps[2] < 80.0


def test_half_a_watt_warms_each_step_and_no_watt_none():
    # 1 K/W more of heat sink is half a kelvin at half a watt, whatever the other steps are.
    way = heat_way(Rectifier(label_amps=60.0, reverse_volts=600.0), 0.9)
    one, two = (way.steps_c(0.5, 40.0, sink) for sink in (1.0, 2.0))
    assert [b - a for a, b in zip(one, two)] == pytest.approx([0.0, 0.5, 0.5, 0.5])
    assert way.steps_c(0.0, 40.0, inf) == (40.0,) * 4


def test_without_a_sheet_the_amps_on_the_label_say_how_hot_the_junction_gets():
    # 45 K from base to junction at its amps, 30 A: 6 diodes lose 2 · 0.9 V · 30 A = 54 W; by hand.
    way = heat_way(Rectifier(label_amps=30.0, reverse_volts=600.0), 0.9)
    assert way.junction_k_per_w * 54.0 == pytest.approx(45.0)


@pytest.mark.parametrize(
    "sharing, count, expected", [(UNMATCHED, 3, 1.0), (MATCHED, 3, 2.4), (MATCHED, 1, 1.0), (OWN_COILS, 3, 3.0)]
)
def test_side_by_side(sharing, count, expected):
    # Unmatched ones count as one, matched ones as 0.8 of their sum: common practice, no source.
    block = Rectifier(label_amps=10.0, reverse_volts=400.0, side_by_side=count, sharing=sharing)
    assert block.count_that_helps == pytest.approx(expected)
    assert block.whole_amps == pytest.approx(10.0 * expected)
    assert replace(block, kind=SINGLE).whole_amps == pytest.approx(30.0 * expected)


@pytest.mark.parametrize("low_volts, works", [(70.0, True), (1900.0, False)])
def test_behind_a_converter_the_most_is_still_the_bank_straight_on_the_bridge(low_volts, works):
    converter = Converter(low_volts=low_volts, high_volts=1950.0, survives_dc_volts=2000.0)
    found, at = needs(converter=converter), plant(converter=converter)
    assert found.most == needs().most
    # What the bridge gives at its volts, the converter passes on with 5 % and 2 W lost; by hand.
    at_input = (found.working.dc_amps * (at.working.held_dc_volts or 0.0)) if works else 0.0
    assert (found.working.dc_amps > 0.0) == works
    assert 0.95 * at_input - 2.0 == pytest.approx(at.working.bank_watts, rel=5e-3)


def test_a_machine_that_never_turns_needs_no_heat_sink():
    still = needs(drive=KnownSpeed(working_rpm=1.0))
    assert (still.watts, still.heat_sink_k_per_w) == (0.0, inf)
    assert still.blocked_volts_peak == plant().bank.charging_volts


@settings(max_examples=20, deadline=None)
@given(
    st.floats(400.0, 1500.0),
    st.floats(0.0, 500.0),
    st.floats(-20.0, 20.0),
    st.floats(0.0, 20.0),
    st.floats(0.0, 40.0),
    st.floats(0.0, 2.0),
)
def test_faster_colder_hotter_or_a_longer_cable_never_makes_it_smaller(rpm, faster, cold_c, colder, hotter, cable_ohm):
    def at(speed_rpm, coldest_c, hottest_c, ohm):
        drive = KnownSpeed(working_rpm=speed_rpm)
        return needs(drive=drive, cold_c=coldest_c, cable_ohm=ohm, site=Site(hottest_c=hottest_c))

    usual, worse = at(rpm, cold_c, 30.0, 0.0), at(rpm + faster, cold_c - colder, 30.0 + hotter, cable_ohm)
    hair = 1.0 - 1e-4  # the waveform is looked at in points
    assert worse.block_amps >= usual.block_amps * hair
    assert worse.diode_amps >= usual.diode_amps * hair
    assert worse.usual_reverse_volts >= usual.usual_reverse_volts
    assert worse.heat_sink_k_per_w <= usual.heat_sink_k_per_w + 1e-4 * abs(usual.heat_sink_k_per_w)


def test_a_tighter_box_asks_for_a_better_heat_sink():
    sinks = [needs(rectifier=Rectifier(enclosure=place)).heat_sink_k_per_w for place in (OPEN_AIR, VENTED, CLOSED)]
    assert sinks == sorted(sinks, reverse=True) and len(set(sinks)) == 3


@pytest.mark.parametrize(
    "field, value",
    [("label_amps", 0.0), ("reverse_volts", -5.0), ("heat_sink_k_per_w", 0.0), ("side_by_side", 0), ("box_cm2", 0.0)],
)
def test_what_cannot_be_is_refused(field, value):
    with pytest.raises(BadInput):
        Rectifier(**{field: value})


def test_words_that_are_not_known_are_refused():
    with pytest.raises(BadInput, match=f"allowed are {BLOCK}"):
        Rectifier(kind="two wires")
