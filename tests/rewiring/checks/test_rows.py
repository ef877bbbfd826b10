"""The log of meter checks: every way to type a reading, and one sentence for each that cannot be used."""

from math import inf, isnan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.rewiring.checks.rows import read_checks
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import found_wiring

wording = sentences_of("rewiring")

WIRED = found_wiring(Stator(slots=36, poles=48), Grouping(series=4, parallel=3))


def read(*rows):
    names = ("between", "ohms", "volts", "speed_rpm", "note")
    return read_checks([blank_row("checks") | dict(zip(names, row)) for row in rows], WIRED)


def test_ohms_volts_and_speed():
    both, ohms = read(("a1", "2.0", "4,6 V", "60"), ("A-B", "1.3"))
    assert (both.probe.name, both.ohms, both.ohms_step, both.volts, both.volts_step) == ("A1", 2.0, 0.1, 4.6, 0.1)
    assert (both.speed_rpm, both.by_hz, both.usable, both.warnings) == (60.0, False, True, ())
    assert ohms.probe.name == "A-B" and isnan(ohms.volts) and isnan(ohms.speed_rpm)


# 24 pole pairs: 24 Hz are 60 turns a minute.
@pytest.mark.parametrize("typed", ["24 Hz", "24Hz", "24 hertz", "24,0 hz"])
def test_the_meters_frequency_is_a_speed(typed):
    (row,) = read(("A1", "", "4.6", typed))
    assert (row.speed_rpm, row.by_hz) == (pytest.approx(60.0), True)


@pytest.mark.parametrize(
    "typed, ohms",
    [("OL", inf), ("open", inf), ("0.L", inf), ("450 mΩ", 0.45), ("20 MΩ", 20e6), ("20M", 20e6), ("5 kohm", 5000.0)],
)
def test_ohms_of_every_size(typed, ohms):
    (row,) = read(("A-iron", typed))
    assert row.ohms == pytest.approx(ohms)


def test_the_last_digit_has_the_size_of_its_unit():
    assert read(("A1", "450.5 mΩ"))[0].ohms_step == pytest.approx(1e-4)


def test_an_empty_speed_is_that_of_the_row_above():
    _, second, third, fourth = read(("A1", "", "4.6", "60"), ("A2", "2.0"), ("A3", "", "4.7"), ("B1", "", "5", "66"))
    assert second.warnings == () and (third.speed_rpm, fourth.speed_rpm) == (60.0, 66.0)
    assert third.warnings == (wording("No speed typed, so the"),)


def test_a_bad_speed_is_not_replaced_by_an_older_one():
    _, bad, after = read(("A1", "", "4.6", "60"), ("A2", "", "4.6", "6o"), ("A3", "", "4.6"))
    assert bad.refusal.startswith(wording("checks log, row 2, Speed"))
    assert after.refusal == wording("checks log, row 3, Speed")


PLACES = wording("two leads such as A-B")
REFUSED = {
    ("A1",): wording("neither ohms nor volts"),
    ("A9", "2"): f", Between: 'A9' was given; {PLACES}",
    ("", "2"): f", Between: the cell is empty; {PLACES}",
    ("A1", "", "-4", "60"): wording('Volts [V]: "-4" was'),
    ("A1", "", "4", "0 Hz"): (wording('Speed [rpm]: "0" was')),
    ("A1", "2 V"): (wording('Reading [Ω]: "2 V"')),
}


@pytest.mark.parametrize("row", REFUSED)
def test_what_cannot_be_used_is_named_and_kept(row):
    (found,) = read(row)
    assert found.refusal == f"checks log, row 1{REFUSED[row]}" and not found.usable
    assert [found.raw["between"], found.raw["ohms"]] == [*row, ""][:2]


CELLS = st.sampled_from(
    ["", "A1", "A-B", "2.0", "OL", "24 Hz", "1,234", "-5", "<b>", "١٢", "20 MΩ", "1F-4S"]
) | st.text(max_size=12)


@given(st.lists(st.tuples(CELLS, CELLS, CELLS, CELLS, CELLS), min_size=1, max_size=4))
def test_nothing_typed_is_lost(rows):
    filled = [number for number, row in enumerate(rows, 1) if any(cell.strip() for cell in row)]
    if filled:
        found = read(*rows)
        assert len(found) >= len(filled) - 1  # odd spaces alone are no reading
        for each in found:
            assert list(each.raw.values()) == list(rows[each.row - 1])
            assert each.usable == (each.refusal == "") and (each.usable or f"row {each.row}" in each.refusal)
