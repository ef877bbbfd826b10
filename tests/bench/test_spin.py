"""Rows of the spin log: star volts from what the meter showed, and one sentence for what cannot be."""

from math import isnan, sqrt

import pytest

from samples.made_up_logs import spin_row
from sentences import sentences_of
from statorbook.bench.meters import READING_SHARE
from statorbook.bench.spin import read_spin, star_emf_v_rms
from statorbook.winding.stator import Stator

wording = sentences_of("bench")

STATOR = Stator(slots=36, poles=48)
DIODES_V = 2 * 0.45  # two diodes of 0.45 V at meter current: common practice, no source


def spin(changes=(), **cells):
    changes = dict(changes) | cells
    return read_spin([spin_row(120, 48.1) | changes, spin_row(200, 80.2), spin_row(300, 120.4)], STATOR)[0]


@pytest.mark.outside(
    "phase volts of a star on 415 V",
    source="Bird, Electrical Circuit Theory and Technology, example 19.1",
    number="239.6 V",
    tolerance="0.05 V",
    seen="in a reproduction",
)
def test_line_volts_become_phase_volts():
    assert star_emf_v_rms(415.0, "AC line rms") == pytest.approx(239.6, abs=0.05)
    assert star_emf_v_rms(239.6, "AC phase rms") == 239.6


@pytest.mark.outside(
    "mean behind a three-phase bridge on 208 V",
    source="Rashid, Power Electronics, 4th edition, example 3.16",
    number="280.9 V",
    tolerance="0.05 %",
    seen="in a reproduction",
)
def test_mean_volts_behind_the_bare_bridge():
    assert star_emf_v_rms(280.9 - DIODES_V, "DC bridge, bare") == pytest.approx(208 / sqrt(3), rel=5e-4)


@pytest.mark.outside(
    "peak between lines of 120 V a phase",
    source="Rashid, Power Electronics, 4th edition, example 3.9",
    number="294 V",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_peak_volts_behind_the_bridge_with_a_capacitor():
    assert star_emf_v_rms(294.0 - DIODES_V, "DC bridge, capacitor") == pytest.approx(120.0, rel=1e-3)


def test_a_good_row_is_read_as_typed():
    reading = spin(volts=" 48,1 V", terminals="ba", quantity="ac line RMS", meter="True RMS")
    assert reading.usable and reading.terminals == "AB" and reading.where == "spin log, row 1"
    assert reading.star_emf_v_rms == pytest.approx(48.1 / sqrt(3))
    assert reading.raw["volts"] == " 48,1 V"


def test_the_likely_error_is_one_percent_and_half_a_digit():
    coarse, fine = spin(volts="48"), spin(volts="48.000", speed_rpm="120.00")
    assert fine.star_emf_sigma_v / fine.star_emf_v_rms == pytest.approx(READING_SHARE.value, rel=1e-3)
    # 1 %, half a volt of 48 V, half an rpm of 120 rpm, in quadrature
    assert coarse.star_emf_sigma_v / coarse.star_emf_v_rms == pytest.approx(
        sqrt(0.01**2 + (0.5 / 48) ** 2 + (0.5 / 120) ** 2)
    )


@pytest.mark.parametrize(
    "changes, complaint",
    [
        (dict(volts="loud"), wording('"loud" is not a number')),
        (dict(volts=""), "Volts [V]: the cell is empty"),
        (dict(volts="0"), 'Volts [V]: "0" was given'),
        (dict(volts="-12"), 'Volts [V]: "-12" was given'),
        (dict(volts="1,200"), "can mean 1.200 or 1200"),
        (dict(speed_rpm="0"), wording('Speed [rpm]: "0" was given')),
        (dict(speed_rpm="-120"), "was given; a number from 1"),
        (dict(speed_rpm="fast"), '"fast" is not a number'),
        (dict(electrical_hz="-48"), 'Frequency [Hz]: "-48" was given'),
        (dict(speed_rpm=""), wording("Speed [rpm] or Frequency [Hz]")),
        (dict(terminals="XY"), wording('Leads: "XY" was given; allowed')),
        (dict(terminals=""), "Leads: the cell is empty"),
        (dict(terminals="AN"), "AC line rms is read between two leads"),
        (dict(quantity="AC phase rms"), "AC phase rms is read from a lead to the star point N"),
        (dict(quantity="DC bridge, bare", terminals="AN"), wording('"AN" was given; allowed are')),
        (dict(connection="triangle"), wording('Wiring: "triangle" was given; allowed')),
        (dict(connection="delta"), "the machine as found is in star, and one fit takes one wiring"),
        (dict(quantity="AC"), wording('What was read: "AC" was')),
        (dict(meter="digital"), wording('Meter: "digital" was given; allowed')),
        (dict(quantity="DC bridge, bare", meter="digital"), 'Meter: "digital" was given'),
        (dict(volts="AB", terminals="48.1"), "it is a word for Leads, so see whether the cells were swapped"),
        (dict(quantity="BC", terminals="AC line rms"), "it is a word for Leads, so see whether the cells were swapped"),
        (dict(volts="star", connection="48.1"), 'Wiring: "48.1" was given'),
        ({None: ["4"]}, wording("the row has more cells")),
    ],
)
def test_a_bad_spin_row_is_kept_with_one_sentence(changes, complaint):
    reading = spin(changes)
    assert not reading.usable and reading.refusal.startswith("spin log, row 1") and complaint in reading.refusal
    assert isnan(reading.star_emf_v_rms)
    assert {name: reading.raw[name] for name in changes} == changes


def test_no_star_point_in_a_delta():
    row = spin_row(120, 48.1, "AN", quantity="AC phase rms", connection="delta")
    refusal = read_spin([row], STATOR)[0].refusal
    assert wording("a delta has no star") in refusal


def test_direct_current_is_marked_as_converted_with_an_assumed_drop():
    reading = spin(quantity="DC bridge, bare", terminals="", meter="averaging", speed_rpm="1010")
    assert reading.usable and reading.terminals == "ABC"
    assert len(reading.warnings) == 1 and wording("an assumed 0.45 V per") in reading.warnings[0]
