"""Months of a year: no more hours than each has, their names in a sentence, gaps filled, settings put in order."""

import numpy as np

from statorbook.bench import MONTH_NAMES
from statorbook.errors import BadInput
from statorbook.quantities import Fact
from statorbook.year.source import MONTH_HOURS

HABIT_SHARE = Fact(
    value=0.20,
    unit="hours of one year over those planned, 95 %",
    source="what people plan to run and what they run, common practice, no source",
    low=0.10,
    high=0.50,
)


def require_month_hours(hours, month, *, where):
    """Refuse more hours than a month has."""
    if hours > MONTH_HOURS[month] * (1.0 + 1e-9):
        raise BadInput(
            f"{hours:g} h were given for {MONTH_NAMES[month]}",
            f"the month has {MONTH_HOURS[month]:g} h",
            "type the hours of that month alone",
            where=where,
        )


def require_one_way(rows, hours, field, log):
    """Refuse hours that are given in a field and in a log, or in neither."""
    if bool(rows) == (hours is not None):
        raise BadInput(
            f"both or neither of {field} and {log} were given",
            "exactly one of the two is allowed",
            f"type the {field}, or fill in the log and empty that field",
            where=field,
        )


def listed(names):
    """Names in a sentence: "May", "May and June", "May, June and July"; nothing for none."""
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def month_words(months):
    """When: "all year", "in May", "from June to September", or several of these; across the end of the year too."""
    there = [month in set(months) for month in range(12)]
    if all(there):
        return "all year"
    spans = []
    for first in range(12):
        if there[first] and not there[first - 1]:
            last = next(after for after in range(first, first + 12) if not there[(after + 1) % 12]) % 12
            one = f"in {MONTH_NAMES[first]}"
            spans.append(one if first == last else f"from {MONTH_NAMES[first]} to {MONTH_NAMES[last]}")
    return listed(spans)


def filled_months(values):
    """Values by month, each that is not a number replaced by a straight line between its neighbours, round the year."""
    known = np.flatnonzero(np.isfinite(values))
    return np.interp(np.arange(12), known, np.asarray(values)[known], period=12)


def in_order(found):
    """Fields of a `SourceYear` from triples of a drive, its setting and its hours by month; drives alike are merged."""
    merged = {}
    for drive, setting, hours in found:
        merged[drive] = (setting, hours + merged.get(drive, (setting, 0.0))[1])
    ranked = sorted(merged, key=lambda drive: merged[drive][0])
    return {
        "drives": tuple(ranked),
        "setting": np.array([merged[drive][0] for drive in ranked]),
        "hours": np.array([merged[drive][1] for drive in ranked]).T,
    }
