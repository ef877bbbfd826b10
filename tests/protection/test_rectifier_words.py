"""What a reader is told of his rectifier, with needs given, so that every number can be worked out by hand."""

from dataclasses import replace
from math import inf

import pytest

from samples.plant_samples import plant
from sentences import sentences_of
from statorbook.bridge.diode_amps import DiodeAmps
from statorbook.protection.heat_path import CLOSED, OPEN_AIR
from statorbook.protection.rectifier import RectifierNeeds
from statorbook.protection.rectifier_fit import heat_sink_words, rectifier_fit, rectifier_words
from statorbook.protection.rectifier_label import OWN_COILS, SINGLE, Rectifier

wording = sentences_of("protection_rectifier")

# Over 60 W and 40 K: 0.67 K/W, less 0.1 K/W under a block or 0.5 / 6 under six single diodes. Labels: half as much
# again as max(30 A, √3 · 20 A) = 52 A, max(10 A, 2/π · 20 A) = 19.1 A, 200 V = 300 V. Plate: both
# faces.
NEEDS = RectifierNeeds(
    most=DiodeAmps(mean_amps=10.0, amps_rms=20.0, amps_peak=35.0),
    working=DiodeAmps(mean_amps=5.0, amps_rms=10.0, amps_peak=18.0),
    blocked_volts_peak=200.0,
    watts=60.0,
    working_watts=27.0,
    heat_sink_k_per_w=0.54,
    drop_v=0.9,
    drop_assumed=False,
)
# Without a sheet its junction is 125 °C on a base of 80 °C at its amps: 45 K over 0.9 V · 20 A, 2.5 K/W, a sixth each.
BLOCK = Rectifier(label_amps=60.0, reverse_volts=400.0)


def lines(rectifier, needs=NEEDS):
    at = plant(rectifier=rectifier)
    return rectifier_words(at, needs, rectifier_fit(at, needs)).split("\n")


@pytest.mark.parametrize(
    ("rectifier", "said"),
    [
        (Rectifier(kind=SINGLE, label_amps=20.0, reverse_volts=400.0), wording("single diodes fit")),
        (BLOCK, wording("a block fits")),
        (replace(BLOCK, heat_sink_k_per_w=0.4), wording("block and heat sink fit")),
    ],
)
def test_one_that_fits_is_told_what_was_asked_and_nothing_to_buy(rectifier, said):
    verdict, why = lines(rectifier)
    assert verdict == said
    assert why == wording("why so large").format(round(plant().most.speed_rpm))


@pytest.mark.parametrize(
    ("rectifier", "said"),
    [
        (Rectifier(label_amps=30.0, reverse_volts=250.0, side_by_side=2), wording("two side by side")),
        (Rectifier(kind=SINGLE, label_amps=10.0, reverse_volts=400.0), wording("a small diode")),
        (replace(BLOCK, heat_sink_k_per_w=0.9), wording("gets too hot")),
        (replace(BLOCK, heat_sink_k_per_w=0.7, max_junction_c=200.0), wording("the base alone")),
        (Rectifier(heat_sink_k_per_w=0.5), wording("the heat sink alone")),
        (Rectifier(heat_sink_k_per_w=0.9), wording("the heat sink alone fails")),
    ],
)
def test_one_that_does_not_is_told_each_reason_and_what_to_buy(rectifier, said):
    verdict, shopping, _why = lines(rectifier)
    assert (verdict, shopping) == (said, wording("to shop for"))


def test_before_he_has_one_he_is_told_what_to_buy():
    shopping, _why = lines(None)
    assert shopping == wording("to shop for")


def test_what_no_heat_sink_can_do_and_what_no_grouping_can():
    small_box = plant(rectifier=replace(BLOCK, enclosure=CLOSED, box_cm2=100.0))
    assert rectifier_fit(small_box, NEEDS).reasons == (wording("nothing takes it off"),)
    unlike = plant(rectifier=replace(BLOCK, side_by_side=2, sharing=OWN_COILS))
    assert plant().grouping.parallel == 3
    assert rectifier_fit(unlike, NEEDS).reasons == (wording("unlike paths"),)


# 1e4 / (2 · 8 W/m²K · 0.25 K/W) = 2500 cm²; below 0.1 K/W none is made: common practice, no source.
@pytest.mark.parametrize(
    ("sink", "enclosure", "said"),
    [
        (inf, OPEN_AIR, wording("nothing flows")),
        (0.0999, OPEN_AIR, wording("none in the open")),
        (0.0999, CLOSED, wording("none in a box")),
        (0.3, CLOSED, wording("no plate in a box")),
        (0.2499, OPEN_AIR, wording("no plate for so little")),
        (0.25, OPEN_AIR, wording("a plate at the edge")),
    ],
)
def test_the_heat_sink_in_words(sink, enclosure, said):
    assert heat_sink_words(plant(rectifier=Rectifier(enclosure=enclosure)), sink) == said


# 2 · 1.1 V · 15 A = 33 W.
def test_the_drop_is_told_where_it_was_assumed_or_is_another_than_that_of_page_04():
    assert lines(None, replace(NEEDS, drop_assumed=True))[-1] == wording("assumed drop")
    assert lines(None, replace(NEEDS, working_watts=33.0))[-1] == wording("another drop")
    assert len(lines(None, replace(NEEDS, working_watts=2.0 * 0.99 * 15.0))) == 2
    assert len(lines(None, replace(NEEDS, working=DiodeAmps(mean_amps=0.0, amps_rms=0.0, amps_peak=0.0)))) == 2


# Common practice, no source: the reverse volts that labels say; beyond them two figures, rounded up.
@pytest.mark.parametrize(
    ("peak", "label"),
    [
        (volts / 1.5 - edge, volts)
        for volts in (50, 100, 200, 400, 600, 800, 1000, 1200, 1400, 1600, 1800, 2000)
        for edge in (0.1, 20.0)
    ]
    + [(2001.0 / 1.5, 2100), (2310.0 / 1.5, 2400)],
)
def test_the_next_volts_that_labels_say(peak, label):
    assert replace(NEEDS, blocked_volts_peak=peak).usual_reverse_volts == label


def test_single_diodes_carry_three_times_one_and_a_block_what_is_asked():
    assert NEEDS.whole_amps(SINGLE) == pytest.approx(3.0 * NEEDS.diode_amps)
    assert NEEDS.whole_amps(BLOCK.kind) == NEEDS.block_amps
    smooth = replace(NEEDS, most=DiodeAmps(mean_amps=10.0, amps_rms=15.0, amps_peak=16.0))
    assert (smooth.block_amps, smooth.diode_amps) == pytest.approx((45.0, 15.0))
