"""Whether the rectifier on the reader's label fits, and how hot it gets."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from statorbook.drives.known_speed import KnownSpeed
from statorbook.protection.heat_path import CLOSED
from statorbook.protection.rectifier import rectifier_needs
from statorbook.protection.rectifier_fit import rectifier_fit, rectifier_words
from statorbook.protection.rectifier_label import BLOCK, MATCHED, OWN_COILS, SINGLE, UNMATCHED, Rectifier
from statorbook.protection.site import Site

NEEDS = rectifier_needs(plant())
AMPLE = Rectifier(label_amps=100.0, reverse_volts=1600.0)


def judged(rectifier, **changes):
    at = plant(rectifier=rectifier, **changes)
    return rectifier_fit(at, rectifier_needs(at))


def words(rectifier, **changes):
    at = plant(rectifier=rectifier, **changes)
    needs = rectifier_needs(at)
    return rectifier_words(at, needs, rectifier_fit(at, needs))


@pytest.mark.parametrize("kind, amps", [(BLOCK, NEEDS.block_amps), (SINGLE, NEEDS.diode_amps)])
def test_a_label_of_just_what_is_needed_fits(kind, amps):
    edge = Rectifier(kind=kind, label_amps=amps, reverse_volts=NEEDS.reverse_volts)
    assert judged(edge).fits
    assert not judged(replace(edge, label_amps=0.999 * amps)).fits
    assert not judged(replace(edge, reverse_volts=0.999 * NEEDS.reverse_volts)).fits


def test_volts_under_those_of_the_bank_are_one_sentence():
    (reason,) = judged(replace(AMPLE, reverse_volts=50.0)).reasons
    assert "57 V" in reason and "50 V" in reason
    assert words(replace(AMPLE, reverse_volts=50.0)).startswith("Yours does not fit: ")


@pytest.mark.parametrize("sharing, fits", [(UNMATCHED, False), (MATCHED, True), (OWN_COILS, True)])
def test_three_small_ones_side_by_side(sharing, fits):
    # Three of half the amps: one counts as they come, 1.2 times the amps are there when they are matched; by hand.
    small = replace(AMPLE, label_amps=0.5 * NEEDS.block_amps, side_by_side=3, sharing=sharing)
    assert judged(small).fits == fits


def test_two_blocks_cannot_share_three_paths_of_coils():
    assert plant().grouping.parallel == 3
    assert judged(replace(AMPLE, side_by_side=3, sharing=OWN_COILS)).fits
    assert not judged(replace(AMPLE, side_by_side=2, sharing=OWN_COILS)).fits


def test_the_heat_sink_that_it_needs_is_just_enough():
    needed = judged(AMPLE).needed_k_per_w
    assert judged(replace(AMPLE, heat_sink_k_per_w=needed)).fits
    weak = judged(replace(AMPLE, heat_sink_k_per_w=1.2 * needed))
    assert not weak.fits and weak.steps[-2].most_c > 80.0
    assert [step.name for step in weak.steps] == ["air", "heat sink", "base", "junction"]


def test_temperatures_rise_from_the_air_to_the_junction():
    boxed = judged(replace(AMPLE, enclosure=CLOSED, heat_sink_k_per_w=0.5))
    assert [step.name for step in boxed.steps] == ["air", "air in the box", "heat sink", "base", "junction"]
    for when in ("most_c", "working_c"):
        degrees = [getattr(step, when) for step in boxed.steps]
        assert degrees == sorted(degrees) and degrees[0] == 40.0
    # P · R of each step over the air: 0.3 m² of box at 5.5 W/m²K, 0.5 K/W, a block's 0.1 K/W; by hand.
    watts = rectifier_needs(plant(rectifier=AMPLE)).watts
    rises = [b.most_c - a.most_c for a, b in zip(boxed.steps, boxed.steps[1:], strict=False)]
    assert rises[:3] == pytest.approx([watts / (5.5 * 0.3), 0.5 * watts, 0.1 * watts])


def test_one_that_is_too_small_is_not_told_about_a_heat_sink_as_well():
    small = replace(AMPLE, label_amps=1.0)
    assert len(judged(small).reasons) == 1 and judged(small).needed_k_per_w < 0.0
    assert len(judged(replace(small, heat_sink_k_per_w=5.0)).reasons) == 2


def test_without_a_label_only_the_heat_sink_is_judged():
    assert judged(None).fits and not judged(None).labelled
    assert judged(Rectifier(heat_sink_k_per_w=0.9 * NEEDS.heat_sink_k_per_w)).fits
    assert not judged(Rectifier(heat_sink_k_per_w=1.1 * NEEDS.heat_sink_k_per_w)).fits


def test_a_box_that_is_too_small_is_told_to_have_its_heat_sink_outside():
    boxed = Rectifier(enclosure=CLOSED, box_cm2=100.0)
    assert not judged(replace(AMPLE, enclosure=CLOSED, box_cm2=100.0)).fits
    assert "outside the box" in words(boxed)


def test_another_drop_than_that_of_page_04_is_said():
    assert "Page 04" in words(replace(AMPLE, drop_v=1.3))
    assert "Page 04" not in words(replace(AMPLE, drop_v=0.95))


@settings(max_examples=15, deadline=None)
@given(st.floats(400.0, 1500.0), st.floats(0.0, 500.0), st.floats(0.0, 20.0), st.floats(0.0, 30.0), st.floats(0.0, 2.0))
def test_what_does_not_fit_does_not_fit_faster_colder_or_hotter_either(rpm, faster, colder, hotter, cable_ohm):
    label = Rectifier(label_amps=30.0, reverse_volts=200.0, heat_sink_k_per_w=1.0)

    def at(speed_rpm, cold_c, hottest_c, ohm=0.0):
        drive = KnownSpeed(working_rpm=speed_rpm)
        return judged(label, drive=drive, cold_c=cold_c, cable_ohm=ohm, site=Site(hottest_c=hottest_c))

    usual, worse = at(rpm, 0.0, 40.0), at(rpm + faster, -colder, 40.0 + hotter, cable_ohm)
    assert len(worse.reasons) >= len(usual.reasons)
    assert worse.needed_k_per_w <= usual.needed_k_per_w + 1e-4 * abs(usual.needed_k_per_w)
