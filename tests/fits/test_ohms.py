"""The ohms log fitted: temperature, last digits, a single reading, and the balance of the pairs."""

from math import sqrt

import pytest

from samples.made_up_logs import ohms_row, said
from sentences import sentences_of
from statorbook.bench.ohms import read_ohms
from statorbook.fits.ohms import fit_ohms

wording = sentences_of("fits")


@pytest.mark.outside(
    "copper at 71 °C against 20 °C",
    source="IEC 60034-1, resistance method, 235 for copper",
    number="(235 + 71) / (235 + 20) = 1.2",
    tolerance="1e-6",
    seen="from memory",
)
def test_ohms_are_brought_to_20_degrees():
    # 0.720 Ω between two leads are 0.600 Ω at 20 °C, 0.300 Ω for each of the two phases.
    cells = dict(ohms="0.720", lead_zero_ohm="0.000", copper_c="71")
    rows = [ohms_row(1, pair) | cells for pair in ("AB", "BC", "CA")]
    fit = fit_ohms(read_ohms(rows))
    assert fit.estimate.value == pytest.approx(0.300, rel=1e-6)
    assert fit.warnings == () and fit.used_rows == (1, 2, 3)


@pytest.mark.outside(
    "cold ohms of a winding that rose by 59.6 K",
    source="Kulshreshtha, Basic Electrical Engineering, example 2.18",
    number="3.42 Ω to 4.22 Ω, 59.59 K from 20 °C",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_a_winding_that_got_warm_in_a_textbook():
    cells = dict(ohms="8.440", lead_zero_ohm="0.000", copper_c="79.59")
    fit = fit_ohms(read_ohms([ohms_row(1, pair) | cells for pair in ("AB", "BC", "CA")]))
    assert fit.estimate.value == pytest.approx(3.42, rel=1e-3)


@pytest.mark.outside(
    "what 10 K make of copper at 20 °C",
    source="IEC 60034-1, resistance method, 235 for copper",
    number="10 / 255",
    tolerance="1e-6",
    seen="from memory",
)
def test_missing_temperature_widens_the_ohms():
    known = fit_ohms(read_ohms([ohms_row(13.4, p) for p in ("AB", "BC", "CA")])).estimate
    unknown = fit_ohms(read_ohms([ohms_row(13.4, p, copper_c="") for p in ("AB", "BC", "CA")])).estimate
    assert unknown.value == known.value
    assert unknown.plus_minus**2 - known.plus_minus**2 == pytest.approx((10 / 255 * known.value) ** 2, rel=1e-6)


@pytest.mark.outside(
    "one sigma of a reading rounded to 0.1 Ω",
    source="JCGM 100:2008 (GUM), 4.3.7, rectangular distribution",
    number="0.1 Ω / √12",
    tolerance="at least",
    seen="from memory",
)
def test_equal_readings_cannot_beat_the_last_digit():
    fit = fit_ohms(read_ohms([ohms_row(1, p) | dict(ohms="0.5", lead_zero_ohm="0.2") for p in ("AB", "BC", "CA") * 5]))
    # Two such readings, halved, times 1.96.
    assert fit.estimate.plus_minus > 1.96 * sqrt(2) * 0.1 / sqrt(12) / 2


def test_how_far_each_reading_is_off_is_said_in_percent():
    rows = [ohms_row(1, pair) | dict(ohms=ohms, lead_zero_ohm="0.000") for pair, ohms in PAIRS]
    fit = fit_ohms(read_ohms(rows))
    # 1.00, 1.00, 1.00 and 1.02 Ω: weights alike within 1 %, mean near 1.005.
    assert fit.residual_percent[4] == pytest.approx(1.5, abs=0.05) and fit.residual_percent[1] == pytest.approx(
        -0.5, abs=0.05
    )
    two = fit_ohms(read_ohms(rows[:2])).estimate.how
    assert "scatter" in two and wording("5 % assumed for a") not in two


PAIRS = (("AB", "1.000"), ("BC", "1.000"), ("CA", "1.000"), ("AB", "1.020"))


def test_a_reading_a_little_off_is_not_odd_and_one_far_off_is():
    rows = [ohms_row(1, pair) | dict(ohms="1.0000", lead_zero_ohm="0.0000") for pair in ("AB", "BC", "CA") * 3]
    for ohms, odd in (("1.0280", []), ("1.0340", [5]), ("0.9720", []), ("0.9660", [5])):
        rows[4] = rows[4] | {"ohms": ohms}
        assert [each.row for each in fit_ohms(read_ohms(rows)).odd_rows] == odd


def test_a_single_ohms_reading_is_marked():
    fit = fit_ohms(read_ohms([ohms_row(13.4)]))
    assert fit.estimate.plus_minus > 0.05 * fit.estimate.value
    assert wording("5 % assumed for a") in fit.estimate.how
    assert said(fit, wording("The ohms log has a"))


def test_a_pair_with_a_bad_joint_is_named():
    rows = [ohms_row(13.4 if pair != "CA" else 14.9, pair) for pair in ("AB", "BC", "CA") * 2]
    (sentence,) = said(fit_ohms(read_ohms(rows)), "Resistance of pair CA")
    assert wording("look for a bad joint") in sentence


def test_one_odd_ohms_reading_is_named():
    rows = [ohms_row(13.4 + 0.01 * i, pair) for i, pair in enumerate(("AB", "BC", "CA") * 3)]
    rows[5]["ohms"] = "134"
    (odd,) = fit_ohms(read_ohms(rows)).odd_rows
    assert odd.row == 6 and "a decimal point looks moved" in odd.sentence
