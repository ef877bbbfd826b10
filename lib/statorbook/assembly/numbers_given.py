"""The numbers of a job that are taken as exactly so: typed, left as they are assumed, or from a table."""

from dataclasses import dataclass

from statorbook.job import load_log
from statorbook.job.parts import AssumingPart, YearPart, field_facts
from statorbook.quantities import CONDUCTORS, MAGNETS, filled, holds_anything, say

MEASURED, TYPED, ASSUMED, TABLE = "measured", "typed", "assumed", "from a table"
# Parts by the page that they are typed on: what the answer hangs on first, then the plant.
_PAGES = {
    "01_know_your_stator": ("stator",),
    "03_what_turns_it": ("drive",),
    "04_choose_a_grouping": ("bank",),
    "04b_add_up_the_year": ("converter", "year", "need"),
    "06_protect_it": ("site", "cable", "rectifier", "fuse", "rotor", "heat", "guard"),
    "07_charge_and_dump": ("set_points", "dump", "water", "inverter"),
}
_NO_NUMBERS = ("text", "names")
# Where a field of the job says under another name what a ± is stated for.
_SAME = {"coldest_c": "cold_c", "weibull_shape": "hours"}


@dataclass(frozen=True, kw_only=True)
class Given:
    """A number without a ±."""

    words: str  # what it is
    said: str  # its value, in the units of the reader when it was made
    known: str  # "typed", "assumed" or "from a table"
    how: str  # page or source


def numbers_given(job, machine, with_plus_minus):
    """What a job takes as exactly so, a tuple of Given in the order of the pages; what has a ± is left out by name."""
    stated = with_plus_minus | _said_by_source(machine.drive)
    found = []
    for page, names in _PAGES.items():
        for name in names:
            found += [
                given
                for part in [getattr(job, name)]
                if part is not None and (part.compared or not part.says_nothing)
                for given in _of_part(part, _asked(part, job), stated, page)
            ]
    return (*found, *_of_log(job), *_of_tables(job, machine))


def _said_by_source(drive):
    """Fields that hold the quantity that the source is known by."""
    field = drive.quantities[0].field
    return {field, "speed_rpm"} if field == "working_rpm" else {field}


def _asked(part, job):
    """The fields of a part that play a part."""
    if part is job.drive:
        return part.asked(vars(part))
    if part is job.year:
        return part.asked(job.drive.kind, vars(part))
    return tuple(type(part).model_fields)


def _of_part(part, asked, stated, page):
    for name in asked:
        value, facts = getattr(part, name), field_facts(type(part), name)
        if value is None or facts.kind in _NO_NUMBERS or _SAME.get(name, name) in stated:
            continue
        assumed = isinstance(part, AssumingPart) and part.assumes(name)
        if assumed and name not in part.assumed_in_use:
            continue  # nothing hangs on it
        yield Given(
            words=facts.name_alone,
            said=_said(value, facts),
            known=ASSUMED if assumed else TYPED,
            how=f"{part.part_title}, page {page}",
        )


def _said(value, facts):
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return filled(value)
    return say(value, facts.unit_alone, name=facts.name_alone)


def _of_log(job):
    """The log of the year, by its rows."""
    year = job.year or YearPart()
    log = year.log_for(job.drive.kind)
    rows = sum(holds_anything([row]) for row in load_log(job.folder, log)[0].rows) if log else 0
    if rows:
        yield Given(
            words="Source over the year", said=f"{rows} rows", known=TYPED, how=f"log {log}, page 04b_add_up_the_year"
        )


def _of_tables(job, machine):
    """What tables and handbooks say of bank, magnets and wire."""
    bank, facts = machine.bank, job.stator
    loss, conductor = MAGNETS[facts.magnet], CONDUCTORS[facts.conductor]
    yield Given(
        words="Volts of the half-full bank",
        said=say(bank.half_volts, "V"),
        known=TABLE,
        how=f"volts of a cell of {bank.chemistry}, tables/bank_chemistry.csv",
    )
    yield Given(
        words=f"Volts that warm magnets lose, {facts.magnet}",
        said=f"{-100.0 * loss.value:.2g} % for each kelvin",
        known=TABLE,
        how=loss.source,
    )
    yield Given(
        words=f"Ohms of warm wire, {facts.conductor}",
        said=f"as ({conductor.value:g} + °C)",
        known=TABLE,
        how=conductor.source,
    )
