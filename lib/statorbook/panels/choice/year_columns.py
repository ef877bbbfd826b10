"""Columns of the tables of groupings that say what each makes of a year."""

from statorbook.choice import MOST_AMPS_PER_MM2
from statorbook.year import MONTHS

# Name to what stands there of a `GroupingYear`, for the volts that are accepted with the bank gone.
KWH_COLUMN = {"over the year [kWh]": lambda year, limit: f"{year.kwh:.0f}"}
HOURS_COLUMNS = {
    "charging [h]": lambda year, limit: f"{year.charging_h:.0f}",
    "turning, too few volts [h]": lambda year, limit: f"{year.idle_h:.0f}",
    "cannot be turned [h]": lambda year, limit: f"{year.still_h:.0f}",
    f"coils above {MOST_AMPS_PER_MM2:g} A/mm² [h]": lambda year, limit: (
        f"{year.hot_h:.0f}" if year.wire_known else "wire not measured"
    ),
    "bank gone would be above your volts at once [h]": lambda year, limit: f"{year.gone_h(limit):.0f}",
}
MONTH_COLUMNS = {
    "best month [kWh]": lambda year, limit: _month(year, year.kwh_by_month.argmax()),
    "worst month [kWh]": lambda year, limit: _month(year, year.kwh_by_month.argmin()),
}


def _month(year, number):
    return f"{MONTHS[number]} {year.kwh_by_month[number]:.0f}"


def of_year(verdict, columns):
    """Those columns for the rows of the verdict of a year: name to what stands there of a `Row`."""
    limit = verdict.by_year.setting.limit_dc_volts

    def of(cell):
        return lambda row: cell(verdict.of(row.grouping), limit)

    return {name: of(cell) for name, cell in columns.items()}
