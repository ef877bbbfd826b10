"""Verdicts of the checks: what few rows cannot tell, which of two complaints is named, and the numbers in the words."""

from datetime import date

import numpy as np
import pytest

from samples.check_samples import NAMES
from samples.made_up_logs import MACHINE, STATOR, clean_logs, ohms_row, spin_row
from sentences import sentences_of
from statorbook.bench.ohms import read_ohms
from statorbook.bench.readings import read_logs
from statorbook.bench.spin import read_spin
from statorbook.fits.checks_by_log import log_checks
from statorbook.fits.emf import fit_emf
from statorbook.fits.model_checks import (
    Check,
    days_check,
    ohms_checks,
    pairs_check,
    percent_words,
    session_warnings,
    spin_checks,
    spread_enough,
)
from statorbook.fits.ohms import fit_ohms
from statorbook.quantities.estimate import Estimate

wording = sentences_of("fits")

PAIRS = ("AB", "BC", "CA")


def spun(volts_of, rpms=(60, 100, 150, 200, 260, 320, 380, 450), **cells):
    """Checks of exact rows of volts at a speed, pairs by turns, by their names."""
    rows = [spin_row(n, 1, PAIRS[i % 3]) | {"volts": f"{volts_of(n):.4f}"} | cells for i, n in enumerate(rpms)]
    readings = read_spin(rows, STATOR)
    made = spin_checks(readings, fit_emf(readings, STATOR, machine_c=20.0, keep_all=True))
    return {check.name: check for check in made}


@pytest.mark.parametrize(
    "rpm, enough",
    [
        ((100, 120, 140, 160), True),
        ((100, 120, 140), False),  # three rows
        ((100, 101, 102, 160), False),  # two speeds
        ((100, 104, 130, 160), True),  # 100 and 104 count as one, and 130 and 160
        ((100, 106, 130, 149), False),  # the fastest less than one and a half times the slowest
        ((100, 106, 130, 151), True),
    ],
)
def test_how_many_speeds_tell_a_bend(rpm, enough):
    assert bool(spread_enough(np.array(rpm, float))) == enough


@pytest.mark.parametrize("share, holds", [(0.008, True), (0.013, False)])
def test_one_percent_of_the_mean_volts_is_no_offset(share, holds):
    mean = 0.4 * np.mean((60, 100, 150, 200, 260, 320, 380, 450))
    assert spun(lambda n: 0.4 * n + share * mean)[NAMES[0]].holds == holds


@pytest.mark.parametrize("share, holds", [(0.017, True), (0.05, False)])
def test_two_percent_from_slow_to_fast_is_no_bend(share, holds):
    found = spun(lambda n: 0.4 * n * (1 - share * (n - 60) / 390))
    assert found[NAMES[1]].holds == holds
    if not holds:
        assert "−5.1 ±" in found[NAMES[1]].found or "−5.0 ±" in found[NAMES[1]].found


def test_what_holds_is_in_no_doubt_whatever_else_does_not():
    found = spun(lambda n: 0.4 * n * (1 - 0.03 * (n - 60) / 390))
    assert (found[NAMES[1]].holds, found[NAMES[4]].holds) == (False, True)


def test_of_an_offset_and_a_bend_the_one_that_explains_more_is_named():
    # An offset of 8 V bends volts per rpm as well, most at the slow end; a bend of a fifth moves the zero as well.
    offset = spun(lambda n: 0.4 * n + 8.0)
    assert (offset[NAMES[0]].holds, offset[NAMES[1]].holds) == (False, None)
    assert f"the line “{NAMES[0]}” may be the reason" in offset[NAMES[1]].words
    bent = spun(lambda n: 0.4 * n * (1 - 0.2 * (n - 60) / 390))
    assert (bent[NAMES[0]].holds, bent[NAMES[1]].holds) == (None, False)
    assert f"the line “{NAMES[1]}” may be the reason" in bent[NAMES[0]].words


def test_a_bend_puts_the_scatter_in_doubt_and_a_straight_line_does_not():
    bent = spun(lambda n: 0.4 * n * (1 - 0.3 * (n - 60) / 390))
    assert bent[NAMES[4]].holds is None and f"the line “{NAMES[1]}” may be" in bent[NAMES[4]].words
    wild = spun(lambda n: 0.4 * n * (1 + 0.08 * (-1) ** (n // 10)))
    assert wild[NAMES[4]].holds is False and wild[NAMES[0]].holds is not False
    assert spun(lambda n: 0.4 * n)[NAMES[4]].holds is True


@pytest.mark.parametrize("rpms, known", [((100, 200, 300, 400), False), ((100, 200, 300, 400, 450), True)])
def test_scatter_needs_two_rows_to_spare(rpms, known):
    # A line for each of three pairs: four rows leave one to spare, five two.
    assert (spun(lambda n: 0.4 * n, rpms)[NAMES[4]].holds is not None) == known


def days_apart(factor, **cells):
    """Slow rows on one day and fast ones on the next, which are off by a factor."""
    rpms = (60, 90, 120, 150, 180, 300, 340, 380, 420, 460)
    rows = [
        spin_row(n, 1, PAIRS[i % 3])
        | {"volts": f"{0.4 * n * (1 if i < 5 else factor):.4f}", "taken_on": f"2026-05-0{1 + i // 5}"}
        | cells
        for i, n in enumerate(rpms)
    ]
    readings = read_spin(rows, STATOR)
    made = spin_checks(readings, fit_emf(readings, STATOR, machine_c=20.0, keep_all=True))
    return {check.name: check for check in made}


def test_a_day_that_is_off_is_told_from_a_bend_and_counts_for_the_scatter():
    found = days_apart(1.06)
    assert found[NAMES[3]].holds is False and found[NAMES[0]].holds is None and found[NAMES[1]].holds is not False
    # Each day by itself scatters not at all.
    assert found[NAMES[4]].holds is True and "scatter is 0.0 " in found[NAMES[4]].found


def test_a_bend_that_looks_like_two_days_is_told_from_them():
    rpms = (60, 90, 120, 150, 180, 300, 340, 380, 420, 460)
    for volts_of, named in ((lambda n: 0.4 * n * (1 - 0.25 * n / 460), 1), (lambda n: 0.4 * n + 9.0, 0)):
        rows = [
            spin_row(n, 1, PAIRS[i % 3]) | {"volts": f"{volts_of(n):.4f}", "taken_on": f"2026-05-0{1 + i // 5}"}
            for i, n in enumerate(rpms)
        ]
        readings = read_spin(rows, STATOR)
        made = spin_checks(readings, fit_emf(readings, STATOR, machine_c=20.0, keep_all=True))
        found = {check.name: check for check in made}
        assert found[NAMES[named]].holds is False and found[NAMES[3]].holds is None
        assert f"the line “{NAMES[named]}” may be the reason" in found[NAMES[3]].words


def ohms_of(days, ohms, temperatures):
    rows = [
        ohms_row(1, PAIRS[i % 3])
        | {"ohms": f"{r:.4f}", "lead_zero_ohm": "0.0000", "copper_c": c, "taken_on": f"2026-05-0{day}"}
        for i, (day, r, c) in enumerate(zip(days, ohms, temperatures))
    ]
    readings = read_ohms(rows)
    return ohms_checks(readings, fit_ohms(readings))


def test_ohms_of_a_warm_and_a_cold_day_agree():
    # Copper at 45 °C has 280/255 of its ohms at 20 °C: IEC 60034-1 (from memory).
    warm = 280 / 255
    _, days = ohms_of([1, 1, 1, 2, 2, 2], [1.0] * 3 + [warm] * 3, ["20"] * 3 + ["45"] * 3)
    assert days.holds is True and "+0.0 ±" in days.found.replace("−0.0", "+0.0")
    # A day without a temperature is taken at 20 °C.
    _, days = ohms_of([1, 1, 1, 2, 2, 2], [1.0] * 3 + [1.0] * 3, ["20"] * 3 + [""] * 3)
    assert days.holds is True and "+0.0 ±" in days.found.replace("−0.0", "+0.0")
    _, days = ohms_of([1, 1, 1, 2, 2, 2], [1.0] * 3 + [warm] * 3, ["20"] * 6)
    assert days.holds is False and "nobody can say which" in days.words
    _, days = ohms_of([1, 1, 1, 2, 2, 2, 3, 3, 3], [1.0] * 3 + [warm] * 3 + [1.0] * 3, ["20"] * 9)
    assert days.holds is False and "nobody" not in days.words and days.found.startswith("2026-05-02: +9.8 ±")


def ratio(value, plus_minus=0.001):
    return Estimate(value=value, plus_minus=plus_minus, unit="of the mean", how="")


def test_the_worst_pair_is_named_whichever_way_it_is_off():
    low = pairs_check("pairs", {"AB": ratio(1.02), "BC": ratio(0.94), "CA": ratio(1.04)}, "why")
    assert low.found.startswith("BC is −6.0 ± 0.1 %") and low.holds is False
    high = pairs_check("pairs", {"AB": ratio(1.029), "BC": ratio(0.98), "CA": ratio(0.991)}, "why")
    assert high.found.startswith("AB is +2.9 ±") and high.holds is True
    lacking = {
        pairs: pairs_check("pairs", dict.fromkeys(pairs, ratio(1.0)), "", all_three=True).words
        for pairs in (PAIRS[:2], PAIRS[:1])
    }
    assert lacking == {PAIRS[:2]: "log the pair CA too", PAIRS[:1]: "log the pairs BC, CA too"}


def test_the_day_that_is_off_by_most_of_its_plus_minus_is_named():
    class Row:
        def __init__(self, day):
            self.taken_on = date(2026, 5, day)

    # Two of three days off the others: by 4 % with two rows and by 5 % with one, which says less.
    days, x = [Row(d) for d in (1, 1, 1, 1, 2, 2, 2, 2, 3)], np.ones(9)
    y = np.array([1.0] * 4 + [1.04] * 4 + [1.05])
    found = days_check("EMF", days, x, y, np.full(9, 0.01)).found
    assert found.startswith(("2026-05-01: −4.0 ±", "2026-05-01: −3.9 ±"))


def test_only_days_that_do_not_agree_are_warned_of():
    day = Check(name="EMF: the days agree", found="2026-05-02: +5.0 ± 1.0 % off: others", holds=False, words="why")
    good = Check(name="EMF: the days agree", found="2026-05-02: +1.0 ± 1.0 % off", holds=True, words="why")
    other = Check(name="The rows scatter", found="much: more", holds=False, words="why")
    assert session_warnings([day, good, other]) == (wording("EMF of 2026-05-02 is +5.0"),)


def test_a_share_in_percent():
    assert percent_words(-0.0123, 0.0041) == "−1.2 ± 0.4 %"


def test_the_checks_set_odd_rows_aside_unless_all_are_kept():
    rows = clean_logs(MACHINE)
    rows["spin"][3]["volts"] = "120"
    logs = read_logs(rows, STATOR)
    scatter = {keep: log_checks(logs, STATOR, **keep_all)[4].holds for keep, keep_all in KEEPING.items()}
    assert scatter == {"usual": True, "set aside": True, "kept": False}


KEEPING = {"usual": {}, "set aside": {"keep_all": False}, "kept": {"keep_all": True}}
