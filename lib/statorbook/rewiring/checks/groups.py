"""Meter checks gathered for page and print: what to do is said once for all taken alike, then a row for each."""

from dataclasses import dataclass

from statorbook.cautions import exposures_of
from statorbook.rewiring.checks.bands import MeterCheck, numbered
from statorbook.rewiring.probes import probe_named


@dataclass(frozen=True, kw_only=True)
class CheckRow:
    """One reading to take."""

    number: int  # the same on the page and on the sheets
    check: MeterCheck
    path: str  # "A2" for a path from end to end; empty for other places
    places: tuple  # the names of the two places for the probes


@dataclass(frozen=True, kw_only=True)
class CheckGroup:
    """Checks that are taken alike."""

    looks: tuple  # of MeterCheck without a reading: what to prepare, or to judge by eye
    rows: tuple  # of CheckRow, in the order of the work
    cautions: tuple  # of Exposure: those said in whole sentences here, since no group before has them
    reminders: tuple  # of Exposure: those that a group before has said in full

    @property
    def title(self):
        """What it is about, in a few words."""
        return self._checks[0].group

    @property
    def words(self):
        """What to do for each row, an Instruction; None where there is only something to look at."""
        return self.rows[0].check.words if self.rows else None

    @property
    def steps(self):
        """The steps of the plan after which its checks are taken [-]."""
        return tuple(sorted({check.step for check in self._checks}))

    @property
    def _checks(self):
        return [*(row.check for row in self.rows), *self.looks]


def check_groups(checks, wired):
    """Gather the checks of a plan.

    Parameters
    ----------
    checks : sequence of MeterCheck
        Of one plan.
    wired : Wiring
        The winding as it will be wired.

    Returns
    -------
    tuple of CheckGroup
        In the order of the work; nothing of a check is left out.
    """
    gathered, looks = {}, []
    for number, check in numbered(checks):
        if number is None:
            looks.append(check)
            continue
        before, rows = gathered.setdefault((check.group, check.words.text), ([], []))
        before += looks
        looks = []
        rows.append(_row(number, check, wired))
    if looks:
        gathered["left"] = looks, []
    return tuple(_with_cautions(gathered.values()))


def _row(number, check, wired):
    places = probe_named(wired, check.name).place_words
    return CheckRow(number=number, check=check, path=check.name if check.name[1:].isdigit() else "", places=places)


def _with_cautions(gathered):
    said = set()
    for looks, rows in gathered:
        exposures = exposures_of([*(look.words for look in looks), *(row.check.words for row in rows)])
        new = tuple(exposure for exposure in exposures if exposure not in said)
        again = tuple(exposure for exposure in exposures if exposure in said)
        said.update(new)
        yield CheckGroup(looks=tuple(looks), rows=tuple(rows), cautions=new, reminders=again)
