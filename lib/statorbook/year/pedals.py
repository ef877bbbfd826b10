"""Riders over the year: hours a week at each effort, every week alike."""

from dataclasses import dataclass
from math import nan

from statorbook.bench import PEDAL_WEEKS_LOG, Reading, read_rows
from statorbook.drives import sustained_watts
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, holds_anything


@dataclass(frozen=True, kw_only=True)
class PedalWeek(Reading):
    """How hard one rider rides, and how long in a usual week."""

    rider_watts: float = nan  # at the pedals
    stretch_hours: float = nan  # from which the watts were taken; nan when these were typed
    week_hours: float = nan
    rider: str = ""


def read_pedal_weeks(rows):
    """Read the log of riders.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of PedalWeek
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    return read_rows(PEDAL_WEEKS_LOG, PedalWeek, rows, _numbers) if holds_anything(rows) else ()


def _numbers(row, where):
    log = PEDAL_WEEKS_LOG
    efforts = ("rider_watts", "stretch_hours")
    typed = [name for name in efforts if cell_text(row.get(name))]
    if len(typed) != 1:
        raise BadInput(
            "both cells are filled" if typed else "both cells are empty",
            "exactly one of the two is allowed",
            "type the watts if you know them, else the hours that the rider keeps going at a stretch",
            where=log.cell(where, *efforts),
        )
    effort = log.number(row, typed[0], where).value
    found = {typed[0]: effort, "week_hours": log.number(row, "week_hours", where).value}
    watts = effort if "rider_watts" in found else sustained_watts(effort)
    return found | {"rider_watts": watts, "rider": cell_text(row.get("rider"))}, []
