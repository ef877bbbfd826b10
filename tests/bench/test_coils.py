"""Coil by coil: the error of a row, the mean of a tooth's rows, and when two of them disagree."""

from math import hypot, inf, isnan, nan, sqrt

import pytest

from sentences import sentences_of
from statorbook.bench.coils import CoilReading, coil_means, ohms_or_open, read_coils
from statorbook.bench.logs import blank_row
from statorbook.bench.meters import METER_CLASS, METER_DIGITS
from statorbook.winding.stator import Stator

wording = sentences_of("bench")

STATOR = Stator(slots=12, poles=16)


def read(*rows):
    return read_coils([blank_row("coils") | row for row in rows], STATOR)


# 1 % each of volts, ohms and speed, one sigma (common practice, no source), half a digit of the speed and a digit over
# √12 of what is read.
@pytest.mark.outside(
    "one sigma of a coil's volts and ohms",
    source="JCGM 100:2008 (GUM), 4.3.7 and 5.1.2",
    number="1 % and 1 % of the speed of 2.05 V, 1 % of 3.2 Ω, digits over √12",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_coil_is_as_sure_as_its_meter_its_digit_and_its_speed():
    (both,) = read({"tooth": "3", "volts": "2.05", "ohms": "3.2", "speed_rpm": "100"})
    share = hypot(0.01, hypot(0.01, 0.5 / 100))
    assert both.volts_sigma == pytest.approx(hypot(2.05 * share, 0.01 / sqrt(12)))
    assert both.ohms_sigma == pytest.approx(hypot(0.032, 0.1 / sqrt(12)))
    assert (both.tooth, both.volts_step, both.ohms_step, both.speed_rpm) == (3, 0.01, 0.1, 100.0)
    (slow,) = read({"tooth": "3", "volts": "2.05"})
    assert slow.volts_sigma == pytest.approx(hypot(0.0205, 0.01 / sqrt(12))) and isnan(slow.coil_ohms)


@pytest.mark.parametrize(
    "tooth, allowed", [("1", True), ("12", True), ("0", False), ("13", False), ("", False), ("1.0", False)]
)
def test_a_tooth_is_one_of_the_stator(tooth, allowed):
    (row,) = read({"tooth": tooth, "volts": "2.0"})
    assert row.usable is allowed and (allowed or row.refusal.startswith("coils log, row 1, Tooth: "))


def test_a_speed_counts_for_the_rows_below_it_and_none_above():
    rows = [{"tooth": f"{n + 1}", "volts": "2.0", "speed_rpm": rpm} for n, rpm in enumerate(("", "100", "", "x", ""))]
    none, first, below, bad, lost = read(*rows)
    assert (first.speed_rpm, below.speed_rpm) == (100.0, 100.0)
    assert not bad.usable and not none.usable and not lost.usable
    assert none.refusal == wording("coils log, row 1, Speed")
    # Ohms need no speed, and nor do volts where none is typed in the whole log.
    assert read({"tooth": "1", "ohms": "3"}, {"tooth": "2", "volts": "2", "speed_rpm": "90"})[0].usable
    assert all(row.usable and isnan(row.speed_rpm) for row in read({"tooth": "1", "volts": "2"}))
    assert read({"tooth": "1", "note": "later"})[0].refusal == wording("coils log, row 1: neither volts")


@pytest.mark.parametrize(
    "typed, ohms", [("OL", inf), ("0L", inf), ("O.L", inf), ("open", inf), ("∞", inf), ("0.1", 0.1), ("01", 1.0)]
)
def test_no_way_through_is_no_number(typed, ohms):
    assert ohms_or_open({"ohms": typed}, "coils log, row 1").value == ohms


def rows_of(quantity, *pairs):
    """Readings of tooth 5, each a value with its sigma, all of them to one decimal."""
    names = ("coil_volts_rms", "volts_sigma", "volts_step") if quantity == "volts" else NAMES_OF_OHMS
    return [
        CoilReading(log="coils", row=n, raw={}, tooth=5, **dict(zip(names, (value, sigma, 0.1))))
        for n, (value, sigma) in enumerate(pairs, 1)
    ]


NAMES_OF_OHMS = ("coil_ohms", "ohms_sigma", "ohms_step")


# Rows of a tooth agree within 5 % of volts, 8 % of ohms (common practice, no source), or two last digits.
@pytest.mark.parametrize(
    "quantity, values, words",
    [
        ("volts", (10.0, 10.4), ""),
        ("volts", (10.0, 10.6), "Tooth 5: its volts in rows 1, 2 are 6 % apart"),
        ("ohms", (10.0, 10.7), ""),
        ("ohms", (10.0, 11.0), "Tooth 5: its ohms in rows 1, 2 are 10 % apart"),
        ("ohms", (0.5, 0.7), ""),
        ("ohms", (0.5, 0.75), "Tooth 5: its ohms in rows 1, 2 are 40 % apart"),
        ("ohms", (10.0, inf), "Tooth 5: its ohms in rows 1, 2 are OL at one"),
        ("ohms", (inf, inf), ""),
    ],
)
def test_rows_of_a_tooth_that_disagree_are_named(quantity, values, words):
    mean = coil_means(rows_of(quantity, *((value, 0.3) for value in values)), quantity)[5]
    finite = [value for value in values if value < inf] or [inf]
    assert mean.value == pytest.approx(sum(finite) / len(finite)) and mean.rows == (1, 2)
    assert mean.note.startswith(words) and bool(mean.note) is bool(words)


def test_a_mean_is_surer_than_its_rows_and_is_taken_for_each_rpm():
    mean = coil_means(rows_of("volts", (10.0, 0.3), (10.2, 0.4)), "volts")[5]
    assert mean.sigma == pytest.approx(0.25) and mean.step == 0.1  # √(0.09 + 0.16) / 2
    spun = read(
        {"tooth": "5", "volts": "2.0", "speed_rpm": "100"},
        {"tooth": "2", "volts": "2.2", "speed_rpm": "50", "ohms": "OL"},
    )
    means = coil_means(spun, "volts")
    assert list(means) == [2, 5] and (means[5].value, means[2].value) == pytest.approx((0.02, 0.044))
    assert means[5].step == pytest.approx(0.001) and means[5].sigma == pytest.approx(spun[0].volts_sigma / 100.0)
    assert coil_means(spun, "ohms")[2].value == inf and 5 not in coil_means(spun, "ohms")
    assert nan not in [mean.value for mean in means.values()]


@pytest.mark.outside(
    "accuracy of low-cost meters where none is typed",
    source="common practice, no source",
    number="1 % of volts, 2 % of amps, 1 % of ohms, between 0.3 and 5 %; 0.5 to 10 digits",
    tolerance="exact",
    seen="from memory",
)
def test_what_a_meter_is_taken_to_be_without_its_description():
    ends = {name: (fact.low, fact.value, fact.high) for name, fact in METER_CLASS.items()}
    assert ends == {"volts": (0.003, 0.01, 0.03), "amps": (0.01, 0.02, 0.05), "ohms": (0.003, 0.01, 0.03)}
    digits = {name: (fact.low, fact.value, fact.high) for name, fact in METER_DIGITS.items()}
    assert digits == {"volts": (0.5, 1.0, 10), "amps": (0.5, 1.0, 10), "ohms": (0.5, 0.5, 5)}
