"""A job's parts put together into the plant that has to be protected."""

import re
from dataclasses import replace

from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of
from statorbook.job.parts import CablePart, HeatPart, RotorPart, SitePart, field_facts
from statorbook.protection import Plant

_LISTED = ("site", "cable", "rectifier")  # the list of what to buy hangs on these
_UNIT = re.compile(r" \[[^]]*\]$")

# Name of the part: field of the plant, what makes it of the part, and what is taken while the part is not filled in.
_PARTS = {
    "site": ("site", "to_site", SitePart),
    "cable": ("run", "to_run", CablePart),
    "rotor": ("rotor", "to_rotor", RotorPart),
    "heat": ("heat", "to_heat", HeatPart),
    "rectifier": ("rectifier", "to_rectifier", None),
    "fuse": ("fuse", "to_fuse", None),
    "guard": ("guard", "to_guard", None),
}


def plant_from(job, grouping=None, **typed):
    """Put a job's parts together into a plant.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    grouping : Grouping or None
        How the coils are joined; the one written to the job, before that the recommended one, when None.
    **typed : dict
        Parts by name that are typed and not saved, in place of the job's: "site", "cable", "rotor", "heat",
        "rectifier", "fuse" or "guard".

    Returns
    -------
    Plant
        What is not filled in is assumed.

    Raises
    ------
    BadInput
        When a part is missing or out of date.
    """
    now = job.read()
    fields = {}
    for name, (field, make, assumed) in _PARTS.items():
        part = typed.get(name) or getattr(now, name) or (assumed and assumed())
        if part is not None:
            fields[field] = getattr(part, make)()
    machine = machine_from(now)
    if typed.get("site"):
        machine = replace(machine, setting=replace(machine.setting, cold_c=typed["site"].coldest_c))
    return Plant(machine=machine, grouping=grouping or choice_of(now).to_grouping(), **fields)


def assumed_for_plant(job):
    """What the plant of a job rests on that nobody measured or typed.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.

    Returns
    -------
    tuple of str
        In words: what the comparison assumes, then what the parts of the plant do.

    Raises
    ------
    BadInput
        When a part is missing or out of date.
    """
    now = job.read()
    return (*(_UNIT.sub("", words) for words in machine_from(now).assumed), *_assumed_titles(now, _PARTS))


def assumed_in_list(job):
    """What the list of parts rests on that nobody typed, beside what the comparison assumes.

    Parameters
    ----------
    job : Job
        A job.

    Returns
    -------
    tuple of str
        Such as "place", "hottest air".
    """
    return tuple(f"{title[0].lower()}{title[1:]}" for title in _assumed_titles(job.read(), _LISTED))


def _assumed_titles(now, names):
    """Titles of the assumed fields of the plant's parts, without their units."""
    for name in names:
        part = getattr(now, name) or (_PARTS[name][2] and _PARTS[name][2]())
        for field in part.assumed_in_use if part else ():
            yield _UNIT.sub("", field_facts(type(part), field).title)
