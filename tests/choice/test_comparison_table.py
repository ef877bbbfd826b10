"""The comparison as a table: every row, every unit, nothing left out."""

import pytest

from samples.machine_samples import compared
from statorbook.choice.comparison_table import table

FOUND = compared()


@pytest.fixture(scope="module")
def frame():
    return table(FOUND)


def test_every_grouping_has_a_line_in_the_order_of_the_comparison(frame):
    assert list(frame["grouping"]) == [row.grouping.label for row in FOUND.rows]
    # 36 slots, 48 poles: t = gcd(36, 24) = 12 and 36 / 12 is odd, so 1, 2, 3, 4, 6, 12 paths, star and delta.
    assert len(frame) == 12


def test_rejected_groupings_keep_their_line_and_their_reason(frame):
    lost = frame[frame["verdict"] == "rejected"]
    assert list(lost["grouping"]) == ["1 in series, 12 paths, delta"]
    assert lost["why"].item().startswith("it would charge only above")


def test_every_number_has_its_unit_or_says_watts_or_amps(frame):
    numbers = [name for name in frame.columns if frame[name].dtype.kind in "if"]
    assert len(numbers) == 14
    assert [n for n in numbers if not (n.endswith(("]", "amps DC")) or n.startswith("watts"))] == []
    assert [n for n in numbers if "V " in n and not ("rms" in n or "peak" in n)] == []


@pytest.mark.parametrize(
    "column, value, places",
    [
        ("cut-in [rpm]", lambda row: row.cut_in_rpm, 0),
        ("speed [rpm]", lambda row: row.points[1].speed_rpm, 0),
        ("amps DC", lambda row: row.points[1].dc_amps, 1),
        ("watts", lambda row: row.points[1].bank_watts, 0),
        ("watts, empty", lambda row: row.points[0].bank_watts, 0),
        ("watts, charging", lambda row: row.points[2].bank_watts, 0),
        ("watts, cold", lambda row: row.cold_point.bank_watts, 0),
        ("coil [A rms]", lambda row: row.coil_amps_rms, 2),
        ("coil [A/mm²]", lambda row: row.amps_per_mm2, 1),
        ("open [V AC line rms]", lambda row: row.working.line_volts_rms, 0),
        ("runaway [V AC line rms]", lambda row: row.runaway.line_volts_rms, 0),
        ("runaway [V DC peak]", lambda row: row.runaway.dc_volts_peak, 0),
    ],
)
def test_each_column_shows_its_own_number_rounded(frame, column, value, places):
    exact = [value(row) for row in FOUND.rows]
    assert len(set(exact)) > 6  # a column of equal numbers would show nothing
    assert list(frame[column]) == pytest.approx(exact, abs=0.5 * 10.0**-places + 1e-9)
    assert all(float(cell) == round(float(cell), places) for cell in frame[column])


def test_the_words_are_those_of_the_rows(frame):
    assert list(frame["danger"]) == [row.runaway.word for row in FOUND.rows]
    assert list(frame["verdict"]) == [row.verdict for row in FOUND.rows]
    assert list(frame["why"]) == [row.reason for row in FOUND.rows]


def test_a_wire_that_was_not_measured_leaves_its_column_without_numbers():
    unknown = table(compared(wire_diameter_mm=None))
    assert unknown["coil [A/mm²]"].isna().all() and not unknown["coil [A rms]"].isna().any()


def test_the_watts_of_a_line_are_the_volts_times_its_amps(frame):
    # Half full: 16 cells of 3.28 V, plus what flows through the bank's inner resistance of 16 × 0.08 / 200 Ω.
    exact = [row.point.dc_amps * 16 * 3.28 for row in FOUND.rows]
    assert list(frame["watts"]) == pytest.approx(exact, rel=0.02, abs=1.0)
