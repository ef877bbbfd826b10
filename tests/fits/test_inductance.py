"""The shorted-lead log fitted: a textbook impedance found, slow and impossible rows named, or a band that says so."""

from math import sqrt

import pytest

from samples.made_up_logs import MACHINE, STATOR, said, shorted_row
from sentences import sentences_of
from statorbook.bench.shorted import read_shorted
from statorbook.errors import BadInput
from statorbook.fits.fit import unusable_words
from statorbook.fits.inductance import assumed_inductance, fit_inductance
from statorbook.quantities.estimate import Estimate

wording = sentences_of("fits")


def exactly(value, unit):
    return Estimate(value=value, plus_minus=0.0, unit=unit, how="given")


@pytest.mark.outside(
    "watts of 10 Ω and 0.042 H in star on 415 V, 50 Hz",
    source="Bird, Electrical Circuit Theory and Technology, example 19.10",
    number="6283 W",
    tolerance="0.2 % of the henries",
    seen="in a reproduction",
)
def test_a_textbook_impedance():
    # Three times 10 Ω take 6283 W at √(6283 / 30) A. 48 poles make 50 Hz at 125 rpm.
    rows = [shorted_row(125, 1) | dict(amps=f"{sqrt(6283 / 30):.3f}")] * 3
    emf, ohm = exactly(415 / sqrt(3) / 125, "V/rpm"), exactly(10.0, "Ω")
    fit = fit_inductance(read_shorted(rows, STATOR), emf, ohm, STATOR)
    assert fit.estimate.value == pytest.approx(0.042, rel=2e-3) and fit.estimate.unit == "H"


def constants_of(machine, percent=1.0):
    return (
        Estimate(value=machine.emf, plus_minus=percent / 100 * machine.emf, unit="V/rpm", how=""),
        Estimate(value=machine.ohm, plus_minus=percent / 100 * machine.ohm, unit="Ω", how=""),
    )


def shorted_fit(rows, machine=MACHINE, **options):
    return fit_inductance(read_shorted(rows, machine.stator), *constants_of(machine), machine.stator, **options)


def rows_at(speeds, factor=1.0):
    return [shorted_row(n, factor * MACHINE.shorted_amps(n), "ABC"[i % 3]) for i, n in enumerate(speeds)]


def test_inductance_carries_the_doubt_of_emf_and_ohms():
    readings = read_shorted(rows_at((200, 300, 400, 500)), STATOR)
    sure, unsure = (
        fit_inductance(readings, *constants_of(MACHINE, percent), STATOR).estimate for percent in (0.0, 5.0)
    )
    assert sure.value == pytest.approx(MACHINE.henry, rel=3e-3)
    # At high speed L ∝ E, so 5 % of EMF is 5 % of inductance; the ohms and the lower speeds add little.
    assert sqrt(unsure.plus_minus**2 - sure.plus_minus**2) == pytest.approx(0.05 * MACHINE.henry, rel=0.1)
    assert sure.plus_minus > 0.02 * sure.value  # the clamp meter's class of 2 % stays


def test_shorted_rows_too_slow_to_show_inductance_are_said():
    slow = shorted_fit(rows_at((20, 30, 40)))
    assert slow.estimate.low < MACHINE.henry < slow.estimate.high
    assert slow.estimate.plus_minus > 0.15 * slow.estimate.value
    assert said(slow, wording("where resistance still rules the"))
    slower = shorted_fit(rows_at((5, 8, 10)))
    assert slower.estimate.assumed and slower.used_rows == ()
    assert slower.estimate == assumed_inductance(constants_of(MACHINE)[1])
    assert said(slower, wording("at such low speed the"))
    assert not said(shorted_fit(rows_at((100, 200, 300))), "resistance")


def test_amps_that_emf_and_ohms_cannot_drive_are_named():
    rows = rows_at((100, 200, 300, 400, 500))
    rows[2]["amps"] = "24.3"  # 300 rpm × 0.23 V / 6.7 Ω = 10.3 A at most
    fit = shorted_fit(rows)
    (odd,) = fit.odd_rows
    assert odd.row == 3 and odd.percent_off == pytest.approx(100 * (24.3 / (0.23 * 300 / 6.7) - 1))
    assert wording("24.3 A are 136 %") in odd.sentence
    assert fit.used_rows == (1, 2, 4, 5) and fit.estimate.value == pytest.approx(MACHINE.henry, rel=5e-3)
    everything = shorted_fit(rows, keep_all=True)
    # One row that denies all reactance spoils the rest.
    assert everything.odd_rows == () and everything.estimate.assumed
    assert everything.estimate.low == 0 and everything.estimate.how.startswith("assumed between nothing and the most")


def test_impossible_rows_alone_leave_a_band():
    fit = shorted_fit(rows_at((20, 25, 30), 1.6))
    assert fit.estimate.assumed and [odd.row for odd in fit.odd_rows] == [1, 2, 3]
    assert said(fit, wording("check the clamp meter's range"))


def test_an_odd_shorted_row_is_named():
    rows = rows_at((100, 150, 220, 300, 380, 460))
    rows[4]["amps"] = f"{0.8 * float(rows[4]['amps']):.2f}"
    (odd,) = shorted_fit(rows).odd_rows
    assert odd.row == 5 and odd.percent_off == pytest.approx(-20, abs=1)


def test_fewer_than_three_shorted_rows_are_said():
    assert said(shorted_fit(rows_at((300,))), wording("The shorted log has only 1"))
    assert shorted_fit(rows_at((300,))).estimate.plus_minus > 0.05 * MACHINE.henry
    assert said(shorted_fit(rows_at((200, 300))), wording("The shorted log has only 2"))


@pytest.mark.outside(
    "henries over ohms of coils on iron teeth",
    source="common practice, no source",
    number="3 to 9 ms",
    tolerance="exact",
    seen="from memory",
)
def test_the_assumed_band_is_a_factor_of_three_and_says_so():
    band = assumed_inductance(exactly(2.0, "Ω"))
    assert band.assumed and band.high / band.low == pytest.approx(3) and band.unit == "H"
    assert "assumed, not measured" in band.how and "a factor of three" in band.how and "no source" in band.how
    assert (band.low, band.high) == (pytest.approx(2.0 * 3e-3), pytest.approx(2.0 * 9e-3))


def test_rows_said_by_number_when_only_one_cannot_be_used():
    bad = shorted_row(100, 5, lead="?")
    said_of = {n: unusable_words(read_shorted([bad] * n, STATOR), "the shorted log") for n in (1, 2)}
    assert said_of[1] == wording("the only row of the")
    assert said_of[2].startswith("none of the 2 rows")
    assert unusable_words(read_shorted(rows_at((100,)), STATOR), "the shorted log") == ""


def test_a_fit_without_a_shared_part_says_nothing_of_one():
    assert shorted_fit(rows_at((100, 200, 300))).shared_share == 0.0


def test_no_shorted_row_is_refused():
    with pytest.raises(BadInput, match=wording("shorted log: no reading is")):
        fit_inductance([], *constants_of(MACHINE), STATOR)
