"""Shares of the coils: spread, ± and limits against scipy and by counting; each state and its words."""

from math import inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from fits.test_coil_survey import BIG, SMALL, coil_row, log, surveyed
from sentences import sentences_of, uncautioned
from statorbook.bench.coils import CoilMean, coil_means, read_coils
from statorbook.errors import BadInput
from statorbook.fits.coil_shares import coil_shares
from statorbook.winding.grouping import Grouping

wording = sentences_of("fits")


def means(values, sigma=0.01, step=0.0):
    return {
        tooth: CoilMean(value=value, sigma=sigma, step=step, rows=(tooth,)) for tooth, value in enumerate(values, 1)
    }


@pytest.mark.outside(
    "robust spread of coils that differ",
    source="scipy 1.17, stats.median_abs_deviation(x / median(x), scale='normal')",
    number="of 4 to 12 random coils",
    tolerance="0.01 %",
    seen="computed by package",
)
@settings(max_examples=20)
@given(st.lists(st.floats(1.0, 3.0), min_size=4, max_size=12))
def test_the_spread_is_the_robust_one(values):
    found = coil_shares("volts", means(values))
    middle = np.median(values)
    expected = stats.median_abs_deviation(np.array(values) / middle, scale="normal")
    assert found.spread == pytest.approx(expected, rel=1e-4, abs=1e-9)
    assert [found.shares[tooth].value for tooth in found.shares] == pytest.approx(np.array(values) / middle)
    # Four spreads, or 5 % when that is more.
    assert found.limits[1] == pytest.approx(max(0.05, 4 * expected), rel=1e-4)


@pytest.mark.outside(
    "error of a median over that of a mean",
    source="Huber and Ronchetti, Robust Statistics, efficiency of the median",
    number="√(π / 2) = 1.2533",
    tolerance="0.01 %",
    seen="derived",
)
def test_the_plus_minus_of_a_share_joins_that_of_the_coil_and_of_the_middle():
    # Sixteen coils of 2 V, each with an own sigma of 0.02 V: 1 % of the coil, and √(π/2) × 1 % / 4 of the middle.
    found = coil_shares("volts", means([2.0] * 15 + [3.0], sigma=0.02))
    middle = sqrt(pi / 2) * 0.01 / 4
    assert found.shares[1].plus_minus == pytest.approx(1.96 * np.hypot(0.01, middle), rel=1e-4)
    assert found.shares[16].plus_minus == pytest.approx(1.96 * np.hypot(0.01, 1.5 * middle), rel=1e-4)


def test_the_last_digit_widens_the_limit():
    # Four sigmas of a digit of 0.1 on 0.5, one sigma of a digit 1/√12 of it: JCGM 100:2008 (GUM), 4.3.7 (from memory).
    assert coil_shares("ohms", means([0.5] * 6, step=0.1)).limits[1] == pytest.approx(4 * 0.1 / sqrt(12) / 0.5)


@pytest.mark.parametrize(
    "share, state, words",
    [
        (1.0, "fine", "ohms as the others"),
        (1.07, "fine", "ohms as the others"),
        (0.93, "fine", "ohms as the others"),
        (1.09, "high", "ohms 9 % above the middle"),
        (0.91, "low", "ohms 9 % below the middle"),
        (0.11, "low", "ohms 89 % below the middle"),
        (0.09, "none", "ohms next to nothing"),
        (19.9, "high", "ohms 1890 % above the middle"),
        (20.4, "open", "ohms 20 times the middle"),
        (inf, "open", "OL instead of ohms"),
    ],
)
def test_each_state_and_its_words(share, state, words):
    found = coil_shares("ohms", means([1.0] * 8 + [share]))
    assert (found.state(9), found.words(9)) == (state, words)
    assert found.share_off(9) == pytest.approx(share - 1) and found.share_off(99) == 0.0
    assert (found.state(99), found.words(99)) == ("unread", "ohms not read")


def test_three_coils_are_too_few_to_compare():
    found = coil_shares("ohms", means([1.0, 1.0, 9.0]))
    assert found.state(3) == "unread" and found.words(3) == wording("ohms of fewer than 4")
    assert coil_shares("ohms", means([1.0, 1.0, 1.0, 9.0])).state(4) == "high"


@pytest.mark.parametrize("shown", [0.0, inf])
@pytest.mark.parametrize("bad, of", [(3, 6), (2, 6), (4, 7), (3, 7)])
def test_half_of_the_coils_or_more_without_a_reading_is_refused(shown, bad, of):
    def shares():
        return coil_shares("ohms", means([shown] * bad + [1.0] * (of - bad)))

    if 2 * bad < of:
        assert shares().state(1) == ("open" if shown else "none")
        return
    with pytest.raises(BadInput) as refused:
        shares()
    assert f"as the ohms of {bad} of {of} coils" in uncautioned(str(refused.value))


def test_ol_counts_as_read():
    survey = surveyed(log(faults={3: (1.0, inf), 4: (1.0, inf)}))
    assert survey.open_teeth == (3, 4) and survey.sentences[0].startswith(wording("Of 36 coils: volts of 36"))
    assert "the ohms of 36 " in survey.sentences[0]
    assert [odd.share for odd in survey.odd] == [inf, inf]


def test_the_spread_is_said_in_percent():
    # Half of the coils 2 % up, half 2 % down: the median distance is 2 %, 1.4826 times that is 3.0 %.
    rows = [coil_row(tooth, f"{2.0 + 0.04 * (-1) ** tooth:.2f}", speed="150") for tooth in range(1, 13)]
    assert "volts of 12 (spread ±3.0 %)" in surveyed(rows, SMALL).sentences[0]
    wide = [coil_row(tooth, f"{2.0 + 0.08 * (-1) ** tooth:.2f}", speed="150") for tooth in range(1, 13)]
    assert any("The volts spread by ±6 %." in str(note) for note in surveyed(wide, SMALL).notes)


def test_the_share_said_is_that_of_the_volts_unless_the_coil_is_open():
    low, open_coil, ohms = surveyed(log(faults={3: (0.5, 0.7), 5: (0.0, inf), 7: (1.0, 1.5)})).odd
    assert (low.share, open_coil.share, ohms.share) == (pytest.approx(-0.5), inf, pytest.approx(0.5))
    assert (low.off_in, open_coil.off_in, ohms.off_in) == (("volts", "ohms"), ("volts", "ohms"), ("ohms",))


@pytest.mark.parametrize("volts, what", [(0.77, "shorted turns or too few turns"), (0.73, "shorted turns")])
def test_volts_lower_than_ohms_by_more_than_chance_are_shorted_turns(volts, what):
    # Turns that are missing lower both alike; 5 % apart and more is a current in them.
    (odd,) = surveyed(log(faults={7: (volts, 0.80)})).odd
    assert odd.what == what


def test_two_paths_as_found_and_a_delta_hide_faults():
    for parallel, connection, said in ((1, "star", 0), (2, "star", 1), (1, "delta", 1)):
        found = Grouping(series=12 // parallel, parallel=parallel, connection=connection)
        notes = [str(note) for note in surveyed(log(), found=found).notes]
        assert sum("connected across" in note for note in notes) == said


@pytest.mark.parametrize(
    "read, words",
    [(range(2, 13), "of tooth 1."), ((1, 2, 3, 4, 7, 9, 10, 11), "teeth 5 to 6, 8, 12."), (range(3, 13), "1 to 2.")],
)
def test_teeth_that_were_not_read_are_counted_in_stretches(read, words):
    rows = [coil_row(tooth, "2.40", "0.50", "150") for tooth in read]
    assert any(str(said).endswith(words) for said in surveyed(rows, SMALL).sentences)


def test_rows_of_one_tooth_average_their_error():
    rows = [coil_row(1, "3.00", "0.50", "150"), coil_row(1, "3.06", "0.60", "150")]
    volts, ohms = (coil_means(read_coils(rows, BIG), name)[1] for name in ("volts", "ohms"))
    one = coil_means(read_coils(rows[:1], BIG), "volts")[1]
    assert (volts.value, ohms.value) == (pytest.approx(3.03 / 150), pytest.approx(0.55))
    # Two errors of like size, halved root of their squares: 1/√2 of one.
    assert volts.sigma == pytest.approx(one.sigma / sqrt(2), rel=0.02) and volts.step == pytest.approx(0.01 / 150)
    assert volts.rows == (1, 2) and volts.note == "" and "are 18 % apart" in ohms.note
