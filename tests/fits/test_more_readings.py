"""How many more readings halve a ±: against the textbook's scatter, and where no number of them would."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from sentences import sentences_of
from statorbook.bench.shorted import ShortedReading
from statorbook.bench.spin import SpinReading
from statorbook.cautions import Exposure
from statorbook.fits.fit import Fit
from statorbook.fits.inductance import fit_inductance
from statorbook.fits.more_readings import (
    more_rows_words,
    more_shorted_words,
    row_worth,
    rows_to_halve,
    shorted_rows_to_halve,
    spin_where,
)
from statorbook.fits.shorted import ShortedRows
from statorbook.quantities.estimate import Estimate
from statorbook.winding.stator import Stator

wording = sentences_of("fits")


@pytest.mark.outside(
    "half-width of the mean of n rows",
    source="JCGM 100:2008 (GUM), G.3; t by scipy 1.17, stats.t.ppf(0.975, n - 1)",
    number="t(0.975, n − 1) s / √n",
    tolerance="exact count of rows",
    seen="computed by package",
)
@pytest.mark.parametrize("rows", [3, 5, 10, 30])
def test_without_a_shared_part_the_mean_of_that_many_rows_is_twice_as_sure(rows):
    # The least n that halves it is counted.
    def width(n):
        return stats.t.ppf(0.975, n - 1) / np.sqrt(n)

    wanted = next(n for n in range(rows, 1000) if width(n) <= width(rows) / 2) - rows
    assert rows_to_halve(rows, 0.04, 0.0) == wanted


def test_what_all_rows_share_cannot_be_averaged_away():
    assert rows_to_halve(10, 0.02, 0.01) is None and rows_to_halve(10, 0.02, 0.015) is None
    assert rows_to_halve(10, 0.03, 0.01) > rows_to_halve(10, 0.03, 0.0)
    assert rows_to_halve(1, 0.05, 0.0) is None


@given(st.integers(2, 40), st.floats(0.005, 0.2), st.floats(0.0, 0.49))
def test_the_rows_it_asks_for_do_halve_it_and_one_less_does_not(rows, share, part):
    fixed = part * share
    more = rows_to_halve(rows, share, fixed)

    def total(n):
        had, has = (stats.t.ppf(0.975, count - 1) / np.sqrt(count) for count in (rows, n))
        return np.hypot(np.sqrt(share**2 - fixed**2) * has / had, fixed)

    if more is None:
        assert total(rows + 200) > share / 2 * (1 - 1e-9)
    else:
        assert total(rows + more) <= share / 2 * (1 + 1e-6) and total(rows + more - 1) > share / 2 * (1 - 1e-6)


def fit(rows, share):
    best = Estimate(value=2.0, plus_minus=2.0 * share, unit="Ω", how="made up")
    return Fit(estimate=best, estimate_all_rows=best, used_rows=tuple(range(rows)))


@pytest.mark.parametrize(
    "log, rows, share, class_share, words",
    [
        ("spin", 1, 0.05, 0.01, wording("One more row, near the")),
        ("ohms", 6, 0.02, 0.015, wording("More rows would not halve")),
    ],
)
def test_the_words(log, rows, share, class_share, words):
    said = more_rows_words(log, fit(rows, share), class_share)
    assert said.text == words and (Exposure.VOLTS if log == "spin" else Exposure.SUPPLY) in said.exposures


def test_two_rows_scatter_and_one_does_not():
    alone, two = (more_rows_words("spin", fit(rows, 0.05), 0.01).text for rows in (1, 2))
    assert alone.startswith("One more row") and two.startswith("About ")


def test_a_part_that_all_rows_share_as_large_as_the_whole_leaves_nothing_to_halve():
    assert rows_to_halve(5, 0.02, 0.02) is None and rows_to_halve(5, 0.02, 0.03) is None


@pytest.mark.outside(
    "rows beyond which no advice is given",
    source="JCGM 100:2008 (GUM), G.3; scipy 1.17, stats.t.ppf(0.975, n - 1) / √n",
    number="the least count, up to 200 more",
    tolerance="exact count of rows",
    seen="computed by package",
)
@pytest.mark.parametrize("rows, part", [(20, 0), *((n, 0) for n in range(64, 71)), (67, 0.08), (67, 0.09), (150, 0)])
def test_more_than_two_hundred_rows_are_asked_of_nobody(rows, part):
    def half(n):
        return stats.t.ppf(0.975, n - 1) / np.sqrt(n)

    # The shared part stays: of the ± squared 1 − part² is random, and 1/4 − part² of it may be left; 67 rows with 0.09
    # of it want 201 more.
    left = np.sqrt((0.25 - part**2) / (1 - part**2))
    more = next(n for n in range(1, 1000) if half(rows + n) <= half(rows) * left)
    assert rows_to_halve(rows, 0.04, part * 0.04) == (more if more <= 200 else None)


def test_the_count_is_in_the_words():
    more = rows_to_halve(8, 0.03, 0.01)
    said = more_rows_words("spin", fit(8, 0.03), 0.01).text
    assert said.startswith(f"About {more} more rows, near the highest speed")


STATOR = Stator(slots=36, poles=48)


def spun(rpm, sigma):
    return SpinReading(
        log="spin", row=rpm, raw={}, speed_rpm=float(rpm), star_emf_v_rms=0.2 * rpm, star_emf_sigma_v=sigma
    )


def test_at_what_speed_a_spin_row_counts():
    # Weight of a point in a line through the origin is (x / σ)²: with 1 % of the reading alone it is alike everywhere.
    many = [spun(rpm, float(np.hypot(0.002 * rpm, 2 / np.sqrt(12)))) for rpm in (50, 70, 90, 110, 400, 410)]
    assert spin_where(many, (50, 70, 90, 110, 400, 410)).startswith("at 400 rpm or faster")
    alike = [spun(rpm, 0.002 * rpm) for rpm in (100, 200, 400)]
    assert spin_where(alike, (100, 200, 400)) == wording("at any speed from 100")
    # A last digit of 1 V, σ 0.29 V beside 1 %: (100 / 0.35)² against (400 / 0.85)² is 37 %.
    coarse = [spun(rpm, float(np.hypot(0.002 * rpm, 1 / np.sqrt(12)))) for rpm in (100, 200, 400)]
    assert spin_where(coarse, (100, 200, 400)) == wording("at 400 rpm or faster")
    fast_weak = [spun(100, 0.2), spun(200, 0.4), spun(400, 3.0)]
    assert spin_where(fast_weak, (100, 200, 400)) == wording("near 100 rpm, where a")
    assert spin_where(alike, ()) == ""


def shorted(rpms, noise=()):
    """Rows of E = 0.2 V/rpm, 6 Ω, 40 mH, 24 pole pairs; amps by phasor algebra, each off by its share."""
    rows = []
    for n, rpm in enumerate(rpms):
        amps = 0.2 * rpm / np.hypot(6.0, 2 * np.pi * 24 * rpm / 60 * 0.04) * (1 + (noise[n] if noise else 0.0))
        rows.append(
            ShortedReading(
                log="shorted",
                row=n + 1,
                raw={},
                speed_rpm=float(rpm),
                lead="A",
                line_amps_rms=amps,
                line_amps_sigma=0.01 * amps,
            )
        )
    return rows


def rows_of(readings, share=0.0):
    emf = Estimate(value=0.2, plus_minus=0.2 * share, unit="V/rpm", how="made up")
    ohm = Estimate(value=6.0, plus_minus=6.0 * share, unit="Ω", how="made up")
    return ShortedRows.at(readings, emf, ohm, STATOR, machine_c=20.0), fit_inductance(
        readings, emf, ohm, STATOR, machine_c=20.0
    )


def test_what_a_shorted_row_teaches_rises_with_speed_and_levels_off():
    rows, _ = rows_of(shorted((60, 120, 240, 480)))
    # ∂ln I/∂ln L = −(ωL)² / (R² + (ωL)²), so a row of a fixed share of error weighs as the square of that.
    reactance = 2 * np.pi * 24 * np.array((60, 120, 240, 480)) / 60 * 0.04
    expected = (reactance**2 / (36 + reactance**2)) ** 2
    assert row_worth(rows) / row_worth(rows)[-1] == pytest.approx(expected / expected[-1])


def test_the_shorted_rows_it_asks_for_do_halve_the_plus_minus():
    noise = (0.02, -0.02, 0.02, -0.02)
    rpms = (150, 220, 300, 400)
    rows, fit = rows_of(shorted(rpms, noise))
    # With EMF and ohms exactly known only the clamp meter's class is shared; it is small beside this scatter.
    more = shorted_rows_to_halve(rows, range(4), fit.estimate)
    extra = tuple(0.02 * (-1) ** n for n in range(more))
    _, wider = rows_of(shorted(rpms + (400,) * more, noise + extra))
    assert wider.estimate.plus_minus == pytest.approx(fit.estimate.plus_minus / 2, rel=0.25)
    assert f"About {more} more rows there, seconds only, would halve the ±." in more_shorted_words(rows, fit).text


def shorted_rows_by_weights(rows, fit):
    """Rows at the speed of the last one until the random part is small enough, one by one."""
    worth, whole, count = row_worth(rows), fit.estimate.plus_minus, len(rows.rpm)
    shifts = [np.sqrt(rows.line(range(count), **shift).value) - fit.estimate.value for shift in rows.shared_shifts]
    fixed = np.sqrt(np.sum(np.square(shifts)))
    scatter = np.sqrt(whole**2 - fixed**2) / stats.t.ppf(0.975, count - 1)

    def left(more):
        share = np.sqrt(np.sum(worth) / (np.sum(worth) + more * worth[-1]))
        return np.hypot(scatter * stats.t.ppf(0.975, count - 1 + more) * share, fixed)

    return next(more for more in range(1, 400) if left(more) <= whole / 2)


@pytest.mark.parametrize("shared", [0.0, 0.004, 0.012, 0.016])
@pytest.mark.parametrize("wide", [0.02, 0.03, 0.04])
def test_how_many_shorted_rows_halve_the_plus_minus_by_their_weights(shared, wide):
    rows, fit = rows_of(shorted((150, 220, 300, 400), (wide, -wide, wide, -wide)), share=shared)
    assert shorted_rows_to_halve(rows, range(4), fit.estimate) == shorted_rows_by_weights(rows, fit)


@pytest.mark.parametrize("shared, most", [(0.0, 200), (0.0002, 201)])
def test_more_than_two_hundred_shorted_rows_are_asked_of_nobody(shared, most):
    rpms, noise = (300,) * 63 + (310,), tuple(0.02 * (-1) ** k for k in range(64))
    rows, fit = rows_of(shorted(rpms, noise), share=shared)
    assert shorted_rows_by_weights(rows, fit) == most
    assert shorted_rows_to_halve(rows, range(64), fit.estimate) == (most if most <= 200 else None)


def test_a_single_more_shorted_row_can_be_enough():
    # Two rows have t = 12.7, three 4.3: with a third one the ± is a third.
    rows, fit = rows_of(shorted((300, 400), (0.02, -0.02)))
    assert shorted_rows_to_halve(rows, range(2), fit.estimate) == 1
    assert "About 1 more row there" in more_shorted_words(rows, fit).text


def test_when_more_shorted_rows_would_not_help():
    rows, fit = rows_of(shorted((150, 220, 300, 400)), share=0.1)
    # Reactances 15.1 and 40.2 Ω beside 6 Ω: ((40.2² / (36 + 40.2²)) / (15.1² / (36 + 15.1²)))² = 1.28.
    assert more_shorted_words(rows, fit).text == wording("A row at 400 rpm")
    alone, fit = rows_of(shorted((300,)))
    assert more_shorted_words(alone, fit).text == wording("One more row, as fast")
