"""How well each reading is known: one sigma from meter, speed and last digit; what meters and counts may be."""

from math import hypot, isnan, nan, sqrt

import pytest

from samples.made_up_logs import STATOR, ohms_row, shorted_row
from statorbook.bench.coast import read_coast, ring_inertia_kgm2
from statorbook.bench.coils import read_coils
from statorbook.bench.drill import read_drill
from statorbook.bench.evidence import require_meter_volts
from statorbook.bench.logs import blank_row
from statorbook.bench.meters import METER_DIGITS, MOST_VOLTS, TRUE_RMS_HZ, Meter, Meters
from statorbook.bench.ohms import read_ohms
from statorbook.bench.pole_count import count_poles, likely
from statorbook.bench.rows import most_common
from statorbook.bench.sessions import require_choice
from statorbook.bench.shorted import read_shorted
from statorbook.bench.speed import speed_of, speed_sigma_rpm
from statorbook.bench.spin import SPIN_LOG
from statorbook.bench.wind_logs import WIND_MONTHS_LOG
from statorbook.bench.year_logs import month_of
from statorbook.errors import BadInput

DIGIT = 1 / sqrt(12)


@pytest.mark.outside(
    "error of a difference of two readings, rounded ones",
    source="JCGM 100:2008 (GUM), 5.1.2 and 4.3.7",
    number="√(u₁² + u₂²), a digit / √12",
    tolerance="1e-6",
    seen="from memory",
)
def test_added_watts_and_their_error():
    row = {"speed_rpm": "300", "electrical_hz": "", "watts_coupled": "180.5", "watts_alone": "150", "note": ""}
    (found,) = read_drill([row], STATOR)
    assert found.added_watts == pytest.approx(30.5) and found.speed_rpm == 300.0
    # 1 % of each reading, common practice, no source; last digits 0.1 W and 1 W.
    assert found.added_watts_sigma == pytest.approx(hypot(1.805, 0.1 * DIGIT, 1.50, 1.0 * DIGIT))
    for watts in ("150", "149"):
        assert "not more than the 150 W" in read_drill([row | {"watts_coupled": watts}], STATOR)[0].refusal


def test_a_time_by_hand_is_known_to_a_reaction_and_its_last_digit():
    # 0.3 s at 95 % is the hand on the watch: common practice, no source.
    for typed, step in (("3", 1.0), ("3.05", 0.01)):
        (found,) = read_coast([{"time_s": typed, "speed_rpm": "300", "electrical_hz": "", "note": ""}], STATOR)
        assert found.time_sigma_s == pytest.approx(hypot(0.3 / 1.96, step * DIGIT))


def test_a_speed_by_hz_is_known_better_than_one_by_hand():
    # 0.5 % at 95 % of the Hz, 1 % one sigma of an rpm meter: common practice, no source.
    for cells, sigma in (
        ({"speed_rpm": "300", "electrical_hz": ""}, hypot(3.0, 1.0 * DIGIT)),
        ({"speed_rpm": "", "electrical_hz": "120"}, hypot(300 * 0.005 / 1.96, 2.5 * DIGIT)),
        ({"speed_rpm": "300.0", "electrical_hz": "120"}, hypot(3.0, 0.1 * DIGIT)),
    ):
        speed, _ = speed_of(SPIN_LOG, cells, "row 1", STATOR)
        assert speed_sigma_rpm(cells, speed) == pytest.approx(sigma, rel=1e-3)


def test_errors_of_ohms_amps_and_coils():
    (ohms,) = read_ohms([ohms_row(1) | {"ohms": "13.4", "lead_zero_ohm": "0.2"}])
    rounding = 0.1 * DIGIT * sqrt(2) / 2
    assert ohms.star_ohm == pytest.approx(6.6) and ohms.star_ohm_sigma == pytest.approx(hypot(0.066, rounding))
    assert ohms.own_share == pytest.approx(ohms.star_ohm_sigma / 6.6)
    (amps,) = read_shorted([shorted_row(300, 1) | {"amps": "4.5"}], STATOR)
    # One count at 95 % is half at one sigma; half a turn of the rpm's last digit.
    assert amps.line_amps_sigma == pytest.approx(4.5 * hypot(0.01, 0.05 / 4.5, 0.5 / 300))
    row = {"tooth": "3", "volts": "2.4", "speed_rpm": "150", "ohms": "0.56", "note": ""}
    (coil,) = read_coils([row], STATOR)
    assert coil.volts_sigma == pytest.approx(hypot(2.4 * hypot(0.01, 0.01, 0.5 / 150), 0.1 * DIGIT))
    assert coil.ohms_sigma == pytest.approx(hypot(0.0056, 0.01 * DIGIT))
    assert (coil.tooth, coil.volts_step, coil.ohms_step) == (3, 0.1, 0.01)
    (steady,) = read_coils([row | {"speed_rpm": "", "ohms": ""}], STATOR)
    # At one steady speed its error is the same for all coils and counts for none.
    assert steady.volts_sigma == pytest.approx(hypot(0.024, 0.1 * DIGIT)) and isnan(steady.coil_ohms)


def test_a_coil_keeps_the_speed_of_the_row_above_and_each_bad_row_its_place():
    rows = [
        {"tooth": str(tooth), "volts": volts, "speed_rpm": speed, "ohms": ohms, "note": ""}
        for tooth, volts, speed, ohms in (
            (1, "2.4", "", ""),
            (2, "", "", "0.5"),
            (3, "2.4", "150", ""),
            (4, "2.4", "", ""),
            (99, "2.4", "200", ""),
            (6, "2.4", "", ""),
        )
    ]
    found = read_coils(rows, STATOR)
    assert [r.usable for r in found] == [False, True, True, True, False, True]
    assert [r.speed_rpm for r in found] == pytest.approx([nan, nan, 150, 150, nan, 200], nan_ok=True)
    assert "OL" not in found[0].refusal and "no usable speed stands" in found[0].refusal


EDGES = {"percent": (1e-6, 20), "digits": (0, 100), "band_hz": (40, 1e6), "limit_volts": (10, 2_000)}


@pytest.mark.parametrize("name", EDGES)
def test_what_a_meter_may_be(name):
    low, high = EDGES[name]
    assert getattr(Meter(quantity="volts", **{name: low}), name) == low
    assert getattr(Meter(quantity="volts", **{name: high}), name) == high
    for beyond in (low - 0.5, 1.02 * high):
        with pytest.raises(BadInput, match="is allowed"):
            Meter(quantity="volts", **{name: beyond})


def test_what_is_assumed_of_a_meter_that_nobody_described():
    # Low-cost multimeters and probes: common practice, no source; the mark CAT III 600 V is IEC 61010 (from memory).
    volts, ohms = Meter(quantity="volts"), Meter(quantity="ohms")
    assert (volts.class_share, ohms.class_share, Meter(quantity="amps").class_share) == (0.01, 0.01, 0.02)
    assert (volts.counts, ohms.counts, METER_DIGITS["amps"].value) == (1.0, 0.5, 1.0)
    assert (volts.most_volts, volts.most_volts_words) == (600.0, "600 V (assumed)")
    assert Meter(quantity="volts", limit_volts=300).most_volts_words == "300 V" and MOST_VOLTS.value == 600.0
    assert volts.band_of("true rms") == TRUE_RMS_HZ.value == 1000.0
    # Half a digit up or down and no more is rounding alone.
    assert ohms.digits_sigma(0.1) == pytest.approx(0.1 * DIGIT)


def test_the_speed_at_which_a_meter_ends_is_said():
    meters = Meters(volts=Meter(quantity="volts", limit_volts=500))
    require_meter_volts(500.0, 900.0, STATOR, meters.volts, "here")
    with pytest.raises(BadInput) as refused:
        require_meter_volts(750.0, 900.0, STATOR, meters.volts, "here")
    # 900 rpm × 500 / 750; 24 pairs make 240 Hz of 600 rpm.
    assert "below 600 rpm (240 Hz)" in str(refused.value)


@pytest.mark.parametrize(
    "hz, rpm, taken",
    [
        (0.05, 3.0, True),
        (0.04, 3.0, False),
        (20_000, 20_000, True),
        (20_100, 20_000, False),
        (1.0, 1.0, True),
        (1.0, 0.99, False),
        (2.0, 300.0, True),  # 0.4 of a pair is one, read badly
        (1.95, 300.0, False),
        (756.0, 300.0, True),  # 151.2 pairs may still be 72, counted twice
        (757.0, 300.0, False),
    ],
)
def test_which_counts_of_poles_are_believed(hz, rpm, taken):
    if taken:
        assert count_poles(hz, rpm).pairs.value == pytest.approx(60 * hz / rpm)
        return
    with pytest.raises(BadInput):
        count_poles(hz, rpm)


def test_the_nearest_counts_that_slots_allow_come_nearest_first():
    # 17.6 pairs, 35.2 poles; 36 slots allow 34, 38 and 32, not 36: 36 / (3 gcd(36, p)) whole.
    assert count_poles(88.0, 300.0, 36).nearest == (34, 38, 32) and count_poles(2.5, 300.0).poles == 2
    assert count_poles(365.0, 300.0).possible[-1] == 144 and likely(36, 36) is False and likely(36, 7) is False


def test_what_cannot_turn_has_no_inertia():
    for good in ((0.5, 200.0), (500.0, 200.0), (5.0, 10.5), (5.0, 3000.0)):
        # Thin ring, m r².
        assert ring_inertia_kgm2(*good) == pytest.approx(good[0] * (good[1] / 2000) ** 2)
    wheels = ((501.0, 200.0, 0, 0), (5.0, 10.0, 0, 0), (5.0, 3010.0, 0, 0), (5, 200, 501, 300), (5, 200, 5, 3010))
    for mass, diameter, wheel, size in wheels:
        with pytest.raises(BadInput):
            ring_inertia_kgm2(mass, diameter, wheel_kg=wheel, wheel_mm=size)


def test_what_most_rows_say():
    assert most_common(["delta", "star", "delta"]) == "delta" and most_common([]) == "star"


@pytest.mark.parametrize(
    "ask", [lambda word: require_choice(word, "here"), lambda word: month_of(word, where="here"), blank_row]
)
def test_a_long_word_is_cut_where_it_is_said(ask):
    with pytest.raises(BadInput) as refused:
        ask("x" * 60)
    assert "x" * 40 in str(refused.value) and "x" * 41 not in str(refused.value)


@pytest.mark.parametrize("typed, month", [("1", 0), ("01", 0), ("12", 11), ("Mar", 2), ("march", 2)])
def test_a_month_is_its_name_or_its_number(typed, month):
    assert month_of(typed, where="here") == month


def test_wind_of_a_month_is_read_in_metres_a_second():
    assert WIND_MONTHS_LOG.number({"mean_wind": "6.5"}, "mean_wind", "row 1").value == 6.5
