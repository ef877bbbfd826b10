"""The year of a water jet: the stream month by month, and the nozzles that the reader has."""

from typing import Literal

from statorbook.cautions import PIPED, Instruction
from statorbook.errors import BadInput
from statorbook.job.parts.fields import BadField, labelled
from statorbook.job.parts.year.kind import YearKind
from statorbook.quantities import parse_quantities

SAME, BY_MONTH = "the same all year", "water of each month"
_NOZZLES = "Nozzles that you have"


class WaterYearFields:
    """Where the water of a year is known from, and what can run on it."""

    water_year_from: Literal[SAME, BY_MONTH] = labelled(
        "Water over the year",
        "",
        "The same all year: the jet of page 03 runs every hour. Else type what the stream has for you in each month.",
        default=BY_MONTH,
    )
    nozzles_mm: str = labelled(
        _NOZZLES,
        "",
        "Their bores in mm, such as 10, 12, 14; or with a unit: 3/8 in, 1/2 in. Empty: the nozzle of page 03 alone.",
        default="",
        max_length=120,
        next_step="type the bores again, with a comma and a blank between two",
        exposes=PIPED,
    )

    @property
    def nozzle_bores_mm(self):
        """Bores of the nozzles that the reader has, none when the field is empty [mm]."""
        step = Instruction("measure that bore again", PIPED)
        return parse_quantities(self.nozzles_mm, "mm", _NOZZLES, above=0, at_most=500, next_step=step)


class WaterYear(YearKind):
    """A stream over the year."""

    drive, fields = "water jet", WaterYearFields

    def asks(self, given):
        """The nozzles only where the water changes."""
        return ("water_year_from", "nozzles_mm") if _by_month(given) else ("water_year_from",)

    def log(self, given):
        """The stream month by month."""
        return "water_months" if _by_month(given) else ""

    def complain(self, part):
        """Refuse nozzles that cannot be read."""
        try:
            part.nozzle_bores_mm
        except BadInput as refusal:
            raise BadField.mended_in("nozzles_mm", refusal) from None


def _by_month(given):
    return given.get("water_year_from", BY_MONTH) == BY_MONTH
