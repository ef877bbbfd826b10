"""The checks of the model: healthy logs raise few alarms, planted faults are named, and little data says so."""

import numpy as np
import pytest
from scipy import stats

from samples.check_samples import (
    NAMES,
    alarms,
    dated_logs,
    day_off,
    heating,
    meter_zero,
    poor_pair,
    saturating,
    swaying,
    weak_pair,
)
from samples.made_up_logs import MACHINE, STATOR, clean_logs
from sentences import sentences_of
from statorbook.bench.readings import read_logs
from statorbook.fits.checks_by_log import log_checks
from statorbook.fits.line_groups import bend, levelled, scatter_about, scatter_within, session_gaps, zero_offset
from statorbook.fits.model_checks import session_warnings

wording = sentences_of("fits")

RPM = np.array([100.0, 200.0, 300.0, 400.0])


def checked(rows):
    return {check.name: check for check in log_checks(read_logs(rows, STATOR), STATOR)}


def test_a_healthy_machine_is_as_it_should_be():
    found = checked(dated_logs(MACHINE, np.random.default_rng(1)))
    assert tuple(found) == NAMES and {check.verdict for check in found.values()} == {"as it should be"}


@pytest.mark.slow
def test_healthy_logs_raise_an_alarm_in_at_most_one_of_twenty():
    """400 random machines, each check by itself."""
    off, _ = alarms(400, 3)
    assert max(off.values()) <= 20, off


@pytest.mark.slow
@pytest.mark.parametrize(
    "plant, name",
    [
        (meter_zero, NAMES[0]),
        (saturating, NAMES[1]),
        (weak_pair, NAMES[2]),
        (day_off("spin", "volts"), NAMES[3]),
        (swaying, NAMES[4]),
        (heating, NAMES[5]),
        (day_off("shorted", "amps"), NAMES[6]),
        (poor_pair, NAMES[7]),
        (day_off("ohms", "ohms"), NAMES[8]),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_planted_fault_is_named_in_19_of_20(plant, name):
    off, _ = alarms(100, 4, plant)
    assert off[name] >= 95, off


def test_a_zero_that_is_off_is_told_from_days_that_disagree():
    # The days hang together with the speeds here, so the zero makes them disagree too.
    off, unknown = alarms(10, 5, meter_zero)
    assert off[NAMES[0]] == 10 and (off[NAMES[3]], unknown[NAMES[3]]) == (0, 10)
    off, unknown = alarms(10, 5, day_off("spin", "volts"))
    assert off[NAMES[3]] >= 9 and off[NAMES[0]] == off[NAMES[1]] == 0


def test_the_words_of_a_day_that_is_off():
    rows = clean_logs(MACHINE)
    for number, row in enumerate(rows["spin"]):
        row["taken_on"] = f"2026-05-0{1 + number % 2}"
        row["volts"] = f"{float(row['volts']) * (1.05 if number % 2 else 1):.4g}"
    check = checked(rows)["EMF: the days agree"]
    assert check.found.startswith("2026-05-0") and " ± " in check.found
    (sentence,) = session_warnings([check])
    assert sentence.startswith(("EMF of 2026-05-02 is +5.0 ± ", "EMF of 2026-05-01 is −4.8 ± "))
    assert sentence.endswith(wording("off the other days: the"))


def test_little_data_cannot_tell_and_says_what_to_log():
    rows = clean_logs(MACHINE, rpms=(80, 120))
    rows["shorted"], rows["ohms"] = rows["shorted"][:2], rows["ohms"][:2]
    words = {name: check.verdict for name, check in checked(rows).items()}
    more = (
        "cannot tell yet: log four rows or more at three speeds or more, the fastest at one and a half times "
        "the slowest"
    )
    days = "cannot tell yet: log some rows on another day, each row with its day"
    assert words == {
        NAMES[0]: more,
        NAMES[1]: more,
        NAMES[2]: "as it should be",
        NAMES[3]: days,
        NAMES[4]: wording("cannot tell yet: log each"),
        NAMES[5]: wording("cannot tell yet: log four"),
        NAMES[6]: days,
        NAMES[7]: wording("cannot tell yet: log the"),
        NAMES[8]: days,
    }
    del rows["shorted"]
    assert "The amps level off" in checked(rows | {"shorted": []})


# 2 V at standstill and 0.1 V/rpm: the normal equations of exact points give the line back.
def test_an_offset_and_a_bend_by_hand():
    offset, plus_minus = zero_offset(RPM, 2.0 + 0.1 * RPM, 0.01 * RPM)
    assert offset == pytest.approx(2.0) and plus_minus > 0
    # y = 0.1 x − 2e-5 x²: y per x falls by 2e-5 × 300 = 0.006, over a mean near 0.094 (weights alike per share).
    curve, _ = bend(RPM, 0.1 * RPM - 2e-5 * RPM**2, 0.01 * RPM)
    assert curve == pytest.approx(-0.006 / np.mean(0.1 - 2e-5 * RPM), rel=0.01)


@pytest.mark.outside(
    "intercept of a straight line and its 99 % half-width",
    source="scipy 1.17, stats.linregress(x, y).intercept_stderr, stats.t.ppf(0.995, 2)",
    number="four points, 2 V at standstill",
    tolerance="1e-6",
    seen="computed by package",
)
def test_the_half_width_is_that_of_students_t():
    y = 2.0 + 0.1 * RPM + np.array([0.3, -0.2, -0.4, 0.3])
    found = stats.linregress(RPM, y)
    assert zero_offset(RPM, y, np.full(4, 0.1)) == pytest.approx(
        (found.intercept, stats.t.ppf(0.995, 2) * found.intercept_stderr)
    )


def test_sessions_by_hand():
    # Slopes 0.1 and 0.105: the second is 5 % above the first, the first 4.76 % below the second.
    y = np.where([True, False, True, False], 0.1, 0.105) * RPM
    found = session_gaps(["a", "b", "a", "b"], RPM, y, 0.001 * RPM)
    assert (found["a"].value, found["b"].value) == (pytest.approx(-1 / 21), pytest.approx(0.05))
    # Two rows a session, 1 % of 0.1 x each: 1 %/√2 for the one, 1 %/1.05/√2 for the other. The rows do not scatter, so
    # half a sigma with t(2) = 9.92, or one sigma with the normal 2.58 (t of 1000) when that is less: it is.
    gap = np.hypot(0.01, 0.01 / 1.05) / np.sqrt(2)
    assert found["b"].plus_minus == pytest.approx(1.05 * gap * stats.t.ppf(0.995, 1000), rel=1e-6)
    assert session_gaps(["a"] * 4, RPM, y, 0.001 * RPM) == {}
    squared = session_gaps(["a", "b", "a", "b"], RPM, y, 0.001 * RPM, power=0.5)
    assert squared["b"].value == pytest.approx(1.05**0.5 - 1)


def test_what_all_rows_share_widens_the_gap():
    y = 0.1 * RPM
    shifted = y * np.array([1.02, 1.02, 1.0, 1.0])  # moves session a by 2 % against b
    plain, wide = (
        session_gaps(["a", "a", "b", "b"], RPM, y, 0.001 * RPM, shifted=s)["a"].plus_minus for s in ((), (shifted,))
    )
    assert wide == pytest.approx(np.hypot(plain, 0.02 * 2.576 / 1.96), rel=1e-3)


@pytest.mark.outside(
    "most scatter that chance allows, 99 %",
    source="scipy 1.17, stats.chi2.ppf(0.99, 3)",
    number="√(χ² / 3)",
    tolerance="1e-6",
    seen="computed by package",
)
def test_scatter_by_hand():
    # Residuals of ±1 sigma about 0.1 x in one group: slope unchanged by symmetry in weights, s² = 4/3.
    y = 0.1 * RPM * (1 + 0.01 * np.array([1, -1, -1, 1]))
    scatter, most, freedom = scatter_within(["AB"] * 4, RPM, y, 0.001 * RPM)
    assert (scatter, freedom) == (pytest.approx(np.sqrt(4 / 3)), 3)
    assert most == pytest.approx(np.sqrt(stats.chi2.ppf(0.99, 3) / 3))
    assert scatter_within(["AB", "BC"], RPM[:2], y[:2], RPM[:2]) == (0.0, float("inf"), 0)
    assert scatter_about((RPM,), y, 0.001 * RPM) == pytest.approx(scatter)


def test_levelled_rows_have_one_slope():
    _, y, _ = levelled(["a", "a", "b", "b"], RPM, RPM * np.array([0.1, 0.1, 0.12, 0.12]), 0.01 * RPM)
    assert np.ptp(y / RPM) == pytest.approx(0, abs=1e-12)


def test_a_slip_in_one_day_does_not_condemn_the_day():
    names = ["a", "b"] * 8
    rpm = np.linspace(100, 475, 16)
    y = 0.1 * rpm * (1 + 0.004 * np.random.default_rng(2).normal(size=16))
    y[4] *= 1.4
    assert max(abs(gap.value) for gap in session_gaps(names, rpm, y, 0.01 * rpm).values()) < 0.01
