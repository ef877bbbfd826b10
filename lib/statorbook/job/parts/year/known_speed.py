"""The year of a known speed: the hours of one, or a log of several."""

from typing import Literal

from statorbook.job.parts.fields import labelled
from statorbook.job.parts.year.kind import YearKind

ONE, SEVERAL = "one speed", "log of speeds"


class KnownSpeedYearFields:
    """How long it turns at what."""

    speed_year_from: Literal[ONE, SEVERAL] = labelled(
        "Speeds over the year",
        "",
        "The speed of page 03 for some hours a year; or a log with hours at each speed.",
        default=ONE,
    )
    speed_hours_a_year: float | None = labelled(
        "Hours a year at that speed",
        "h",
        "A year has 8760 h.",
        default=None,
        gt=0,
        le=8760,
        next_step="type the hours of a whole year, at most 8760",
    )


class KnownSpeedYear(YearKind):
    """Known speeds over the year."""

    drive, fields = "known speed", KnownSpeedYearFields

    def asks(self, given):
        """The hours of one speed where there is no log."""
        return ("speed_year_from",) if self.log(given) else ("speed_year_from", "speed_hours_a_year")

    def log(self, given):
        """The speeds, when there are several."""
        return "speed_hours" if given.get("speed_year_from") == SEVERAL else ""

    def missing(self, given):
        """The hours of one speed."""
        return () if self.log(given) else ("speed_hours_a_year",)
