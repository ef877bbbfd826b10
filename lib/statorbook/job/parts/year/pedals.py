"""The year of a pedal drive: hours a week of one rider, or a log of several."""

from typing import Literal

from statorbook.job.parts.fields import labelled
from statorbook.job.parts.year.kind import YearKind

WEEK, RIDERS = "hours a week", "log of riders"


class PedalsYearFields:
    """How long the pedals turn."""

    pedal_year_from: Literal[WEEK, RIDERS] = labelled(
        "Riding over the year",
        "",
        "The rider of page 03 for some hours a week; or a log with each rider's effort and hours.",
        default=WEEK,
    )
    pedal_hours_a_week: float | None = labelled(
        "Hours on the pedals a week",
        "h",
        "In a usual week, all rides together.",
        default=None,
        gt=0,
        le=168,
        next_step="count the rides of a usual week and how long each is",
    )


class PedalsYear(YearKind):
    """Riders over the year."""

    drive, fields = "pedals", PedalsYearFields

    def asks(self, given):
        """The hours of one rider where there is no log."""
        return ("pedal_year_from",) if self.log(given) else ("pedal_year_from", "pedal_hours_a_week")

    def log(self, given):
        """The riders, when there are several."""
        return "pedal_weeks" if given.get("pedal_year_from") == RIDERS else ""

    def missing(self, given):
        """The hours of one rider."""
        return () if self.log(given) else ("pedal_hours_a_week",)
