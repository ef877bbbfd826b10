"""Months of a year as typed: no more hours than a month has."""

from statorbook.bench import MONTH_NAMES
from statorbook.errors import BadInput
from statorbook.year.source import MONTH_HOURS


def require_month_hours(hours, month, *, where):
    """Refuse more hours than a month has."""
    if hours > MONTH_HOURS[month]:
        raise BadInput(
            f"{hours:g} h were given for {MONTH_NAMES[month]}",
            f"the month has {MONTH_HOURS[month]:g} h",
            "type the hours of that month alone",
            where=where,
        )
