"""Months as typed: any usual spelling, none twice, and a bad row named."""

from dataclasses import dataclass
from math import nan

import pytest

from sentences import exactly, sentences_of
from statorbook.bench.rows import require_usable
from statorbook.bench.year_logs import MONTHS, NEED_MONTHS_LOG, WATER_MONTHS_LOG, MonthReading, month_of, read_months
from statorbook.errors import BadInput

wording = sentences_of("bench")


@dataclass(frozen=True, kw_only=True)
class NeedReading(MonthReading):
    kwh_a_day: float = nan


def read(rows):
    def numbers(row, where, month):
        return {"kwh_a_day": NEED_MONTHS_LOG.number(row, "need_kwh_a_day", where).value}, []

    return read_months(NEED_MONTHS_LOG, NeedReading, rows, numbers)


def need(month, kwh):
    return {"month": month, "need_kwh_a_day": kwh, "note": ""}


@pytest.mark.parametrize(
    "typed, month",
    [("Jan", "Jan"), ("january", "Jan"), ("1", "Jan"), ("01", "Jan"), ("Sept.", "Sep"), (" 12 ", "Dec"), ("5", "May")],
)
def test_a_month_is_read_as_written(typed, month):
    assert MONTHS[month_of(typed)] == month


@pytest.mark.parametrize("typed", ["Foo", "0", "13", "-1", "1.5", "J", "Jan Feb", ""])
def test_what_is_no_month_is_refused(typed):
    given = f"“{typed}” was given" if typed else "no month was given"
    said = f"row 2: {given}; a month by name or number, such as Jan, January or 1, is allowed; type the month again."
    with pytest.raises(BadInput, match=exactly(said)):
        month_of(typed, where="row 2")


def test_the_second_of_two_januaries_is_refused_and_names_the_first():
    good, _, second = readings = read([need("Jan", "3"), need("Feb", "2"), need("1", "4")])
    assert good.usable and good.month == 0
    assert second.refusal == (wording("need months log, row"))
    with pytest.raises(BadInput, match=exactly(second.refusal)):
        require_usable(readings)
    assert require_usable([good]) == (good,)


@pytest.mark.outside(
    "US gallon, foot and inch",
    source="NIST SP 811, 2008 edition, appendix B.8",
    number="3.785411784 L, 0.3048 m, 25.4 mm",
    tolerance="1e-6",
    seen="from memory",
)
def test_flow_head_and_bore_are_typed_in_us_units_too():
    row = {"flow_l_s": "60 gpm", "head_m": "100 ft", "nozzle_mm": "0.5 in"}
    numbers = {name: WATER_MONTHS_LOG.number(row, name, "row 1") for name in row}
    assert numbers["flow_l_s"].value == pytest.approx(3.785411784)
    assert numbers["head_m"].value == pytest.approx(30.48)
    assert numbers["nozzle_mm"].value == pytest.approx(12.7) and numbers["nozzle_mm"].step == pytest.approx(2.54)
