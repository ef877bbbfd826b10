"""The table of the year: every grouping with its kilowatt-hours, its hours, and its volts with the bank gone."""

from statorbook.choice import REJECTED
from statorbook.panels.choice.year_columns import HOURS_COLUMNS, KWH_COLUMN, MONTH_COLUMNS, of_year
from statorbook.widgets import Table

_FIRST = {
    "grouping": lambda row: row.grouping.label,
    "verdict": lambda row: row.verdict,
    # Danger and reason stand before the numbers: on a small page what follows is reached by scrolling sideways.
    "danger": lambda row: row.runaway.word,
    "why": lambda row: row.reason,
}
_BESIDE = {
    "bank gone, run away [V DC peak]": lambda row: f"{row.runaway.dc_volts_peak:.0f}",
    "at the one setting [W]": lambda row: f"{row.point.bank_watts:.0f}",
}


def groupings_over_year(verdict, picked, *, months_known):
    """Every grouping as a table, most kilowatt-hours first."""
    kwh, hours, months = (of_year(verdict, columns) for columns in (KWH_COLUMN, HOURS_COLUMNS, MONTH_COLUMNS))
    columns = _FIRST | kwh | _BESIDE | hours | (months if months_known else {})
    rows = verdict.by_year.rows
    marks = tuple("chosen" if row.grouping == picked else "quiet" if row.verdict == REJECTED else "" for row in rows)
    alike = "" if months_known else " Every month is taken alike, so no month is the best."
    return Table(
        columns=tuple(columns),
        rows=tuple(tuple(cell(row) for cell in columns.values()) for row in rows),
        marks=marks,
        caption=f"All legal groupings over the year, most kilowatt-hours first, bank half full, machine warm.{alike}",
    )
