"""The table of the year: every grouping with its kilowatt-hours, its hours, and its volts with the bank gone."""

from statorbook.choice import REJECTED
from statorbook.widgets import Table
from statorbook.year import MONTHS

_COLUMNS = {
    "grouping": lambda row, year, limit: row.grouping.label,
    "verdict": lambda row, year, limit: row.verdict,
    # Danger and reason stand before the numbers: on a small page what follows is reached by scrolling sideways.
    "danger": lambda row, year, limit: row.runaway.word,
    "why": lambda row, year, limit: row.reason,
    "over the year [kWh]": lambda row, year, limit: f"{year.kwh:.0f}",
    "bank gone, run away [V DC peak]": lambda row, year, limit: f"{row.runaway.dc_volts_peak:.0f}",
    "at the one setting [W]": lambda row, year, limit: f"{row.point.bank_watts:.0f}",
    "charging [h]": lambda row, year, limit: f"{year.charging_h:.0f}",
    "turning, too few volts [h]": lambda row, year, limit: f"{year.idle_h:.0f}",
    "cannot be turned [h]": lambda row, year, limit: f"{year.still_h:.0f}",
    "coils above 10 A/mm² [h]": lambda row, year, limit: (
        f"{year.hot_h:.0f}" if year.amps_per_mm2[0] == year.amps_per_mm2[0] else "wire not measured"
    ),
    "bank gone would be above your volts at once [h]": lambda row, year, limit: f"{year.gone_h(limit):.0f}",
}
_MONTHS = {
    "best month [kWh]": lambda year: _month(year, year.kwh_by_month.argmax()),
    "worst month [kWh]": lambda year: _month(year, year.kwh_by_month.argmin()),
}


def groupings_over_year(verdict, picked, *, months_known):
    """Every grouping as a table, most kilowatt-hours first."""
    found, limit = verdict.by_year, verdict.by_year.setting.limit_dc_volts
    months = _MONTHS if months_known else {}
    rows = []
    for row in found.rows:
        year = verdict.of(row.grouping)
        cells = [cell(row, year, limit) for cell in _COLUMNS.values()]
        rows.append((*cells, *(cell(year) for cell in months.values())))
    marks = tuple(
        "chosen" if row.grouping == picked else "quiet" if row.verdict == REJECTED else "" for row in found.rows
    )
    alike = "" if months_known else " Every month is taken alike, so no month is the best."
    return Table(
        columns=(*_COLUMNS, *months),
        rows=tuple(rows),
        marks=marks,
        caption=f"All legal groupings over the year, most kilowatt-hours first, bank half full, machine warm.{alike}",
    )


def _month(year, number):
    return f"{MONTHS[number]} {year.kwh_by_month[number]:.0f}"
