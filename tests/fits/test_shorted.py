"""Joined leads against phasors: what is impossible, what a shift of EMF, ohms or amps changes, one row alone."""

from dataclasses import replace
from datetime import date
from math import hypot, pi, sqrt

import numpy as np
import pytest
from scipy import optimize, stats

from samples.made_up_logs import MACHINE, STATOR, shorted_row
from sentences import sentences_of
from statorbook.bench.shorted import read_shorted
from statorbook.fits.inductance import assumed_inductance, fit_inductance
from statorbook.fits.shorted import ShortedRows
from statorbook.fits.shorted_model import shorted_checks, trend
from statorbook.quantities.estimate import Estimate

wording = sentences_of("fits")

RPMS = (100, 200, 300, 400, 500)
OMEGA = 2 * pi * 24 * np.array(RPMS) / 60


def rows(*, amps=None, emf=(0.23, 0.0), ohm=(6.7, 0.0), rpms=RPMS):
    """Rows of the made-up machine; EMF and ohms as (value, ±)."""
    amps = [MACHINE.shorted_amps(n) for n in rpms] if amps is None else amps
    logged = [shorted_row(n, 1) | {"amps": f"{a:.6f}"} for n, a in zip(rpms, amps)]
    made = (
        Estimate(value=v, plus_minus=pm, unit=unit, how="made up") for (v, pm), unit in ((emf, "V/rpm"), (ohm, "Ω"))
    )
    return ShortedRows.at(read_shorted(logged, STATOR), *made, STATOR)


def test_a_shift_of_emf_and_of_ohms_does_what_it_does_to_the_machine():
    # A machine of 5 % more EMF and 0.5 Ω more, seen with the constants of the usual one and that shift.
    amps = 1.05 * 0.23 * np.array(RPMS) / np.hypot(7.2, OMEGA * 0.037)
    shifted = rows(amps=amps)
    excess, sigma = shifted.excess(emf_share=0.05, shift_ohm=0.5)
    assert excess == pytest.approx((OMEGA * 0.037) ** 2, rel=1e-5)
    assert shifted.share_off(0.037**2, emf_share=0.05, shift_ohm=0.5) == pytest.approx(np.zeros(5), abs=1e-6)
    assert shifted.line(range(5), emf_share=0.05, shift_ohm=0.5).value == pytest.approx(0.037**2, rel=1e-5)
    # ∂Z²/∂I = −2 Z² / I.
    assert sigma == pytest.approx(2 * (7.2**2 + (OMEGA * 0.037) ** 2) * shifted.sigma_share)
    assert rows().excess()[0] == pytest.approx((OMEGA * 0.037) ** 2, rel=1e-5)


@pytest.mark.parametrize("more, named", [(1.025, []), (1.035, [2])])
@pytest.mark.parametrize("emf, ohm", [(0.0, 0.0), (0.04, 0.0), (0.0, 0.04), (0.02, 0.03)])
def test_amps_are_impossible_beyond_three_percent_and_the_plus_minus(emf, ohm, more, named):
    at_most = 0.23 * 300 / 6.7
    amps = [MACHINE.shorted_amps(n) for n in RPMS]
    amps[2] = at_most * (more + emf + ohm)
    assert rows(amps=amps, emf=(0.23, 0.23 * emf), ohm=(6.7, 6.7 * ohm)).impossible() == named


def test_one_row_alone_is_taken_as_five_percent():
    one = rows(rpms=(500,))
    found = one.estimate([0])
    # 5 % of Z is 10 % of Z², so ± 10 % of Z²/ω² in L²; the wider side of it, and the clamp meter's 2 %.
    square, reach = 0.037**2, 0.1 * (hypot(6.7, OMEGA[-1] * 0.037) / OMEGA[-1]) ** 2
    scatter = 0.037 - sqrt(square - reach)
    by_meter = sqrt(((1.02 * 0.23 * 500 / one.amps[0]) ** 2 - 6.7**2)) / OMEGA[-1] - 0.037
    assert found.plus_minus == pytest.approx(hypot(scatter, by_meter), rel=1e-4)
    assert "from 1 row of" in found.how and wording("5 % assumed for a") in found.how


def test_more_rows_say_how_many_and_that_their_scatter_counts():
    found = rows().estimate(range(4))
    assert "from 4 rows of" in found.how and "scatter (Student's t)" in found.how
    assert found.value == pytest.approx(0.037, rel=1e-5)


def test_a_plus_minus_as_wide_as_the_value_reaches_to_nothing():
    slow = (10, 14, 18, 22, 26)
    noisy = [MACHINE.shorted_amps(n) * f for n, f in zip(slow, (1.05, 0.95, 1.05, 0.95, 1.05))]
    found = rows(amps=noisy, rpms=slow).estimate(range(5))
    assert found.low <= 0 <= found.value


def test_the_telling_speed_is_where_the_reactance_is_as_large_as_the_ohms():
    assert rows().telling_rpm(0.037) == pytest.approx(MACHINE.corner_rpm)


def fit(which):
    return fit_inductance(which.readings, which.emf, which.ohm, STATOR)


def test_three_rows_are_enough_and_two_are_few():
    said = {n: any("in the fit" in each for each in fit(rows(rpms=RPMS[-n:])).warnings) for n in (2, 3)}
    assert said == {2: True, 3: False}


def test_how_far_each_row_is_off_is_said_in_percent():
    amps = [MACHINE.shorted_amps(n) for n in RPMS]
    amps[4] *= 1.02
    found = fit(rows(amps=amps))
    model = 0.23 * np.array(RPMS) / np.hypot(6.7, OMEGA * found.estimate.value)
    assert [found.residual_percent[row] for row in range(1, 6)] == pytest.approx(
        100 * (np.array(amps) / model - 1), abs=1e-3
    )


def test_the_assumed_band_names_its_ends():
    assert ": 3 to 9 ms times" in assumed_inductance(Estimate(value=2, plus_minus=0, unit="Ω", how="")).how


def drifting(share, **options):
    """Amps that run off by a share from the slowest to the fastest row, over ln n."""
    along = np.log(np.array(RPMS) / 100) / np.log(5)
    return rows(amps=[MACHINE.shorted_amps(n) * (1 + share * a) for n, a in zip(RPMS, along)], **options)


def test_a_drift_off_the_curve_is_found():
    drift, half = trend(drifting(0.1), range(5))
    assert drift == pytest.approx(0.1, rel=0.2) and half < 0.1
    verdicts = {share: shorted_checks(drifting(share), range(1, 6))[0].holds for share in (0.0, 0.012, 0.15)}
    assert verdicts == {0.0: True, 0.012: True, 0.15: False}


@pytest.mark.outside(
    "drift of amps off a curve, and its 99 % half-width",
    source="scipy 1.17, optimize.curve_fit of henries and drift together, stats.t.ppf(0.995, 3)",
    number="5 rows off by 1 % up and down",
    tolerance="5 %",
    seen="computed by package",
)
def test_a_drift_is_that_of_henries_and_drift_fitted_together():
    along = np.log(np.array(RPMS) / 100) / np.log(5)
    noise = 1 + 0.012 * np.array([1, -1, -0.5, 1, -0.5])
    amps = [MACHINE.shorted_amps(n) * (1 + 0.03 * a) * k for n, a, k in zip(RPMS, along, noise)]
    known = {"amps": amps, "emf": (0.23, 0.004), "ohm": (6.7, 0.3)}

    def fitted(emf, ohm):
        def curve(n, henry, drift):
            return emf * n / np.hypot(ohm, OMEGA * henry) * (1 + drift * along)

        best, spread = optimize.curve_fit(curve, np.array(RPMS), amps, (0.037, 0.0), sigma=sigma)
        return best[1], np.sqrt(spread[1, 1])

    which = rows(**known)
    sigma = which.amps * which.sigma_share
    drift, error = fitted(0.23, 6.7)
    # The class of the clamp meter, 2 %, counts like a share of the EMF; 95 % to 99 % of a normal error is 2.576/1.96.
    moved = [fitted(0.23 * (1 + np.hypot(0.004 / 0.23, 0.02)), 6.7)[0], fitted(0.23, 7.0)[0]]
    half = np.hypot.reduce([stats.t.ppf(0.995, 3) * error, *(2.576 / 1.96 * (each - drift) for each in moved)])
    assert trend(which, range(5)) == pytest.approx((drift, half), rel=0.05)


def test_a_drift_within_the_doubt_of_ohms_is_not_known():
    unsure = drifting(0.1, ohm=(6.7, 2.5), emf=(0.23, 0.02))
    assert trend(unsure, range(5))[1] > 0.15 and shorted_checks(unsure, range(1, 6))[0].holds is None
    # Half of the ± of the ohms moves the drift by about half: the part of the ohms is in it.
    less = drifting(0.1, ohm=(6.7, 1.25), emf=(0.23, 0.02))
    sure = drifting(0.1, emf=(0.23, 0.02))
    wide, narrow, none = (trend(each, range(5))[1] for each in (unsure, less, sure))
    assert np.sqrt((wide**2 - none**2) / (narrow**2 - none**2)) == pytest.approx(2.0, rel=0.25)


def test_days_of_joined_leads_are_compared_by_their_henries():
    # 10 % more henries on the second day at such speed that the reactance is all: the gap is 10 %, not its square.
    rpms = (900, 1000, 1100, 1200)
    amps = [0.23 * n / hypot(6.7, 2 * pi * 24 * n / 60 * 0.037 * k) for k in (1, 1.1) for n in rpms]
    both = rows(amps=amps, rpms=rpms * 2)
    dated = tuple(replace(r, taken_on=date(2026, 5, 1 + i // 4)) for i, r in enumerate(both.readings))
    check = shorted_checks(replace(both, readings=dated), range(1, 9))[1]
    assert check.holds is False and ("+10.0 ±" in check.found or "−9.1 ±" in check.found)
    # What all rows share, such as 30 % of the EMF, moves both days alike and excuses nothing.
    wide = replace(both, readings=dated, emf=replace(both.emf, plus_minus=0.3 * 0.23))
    assert shorted_checks(wide, range(1, 9))[1].holds is False
