"""A job's parts put together into the plant that has to be protected."""

import re
from dataclasses import replace

from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of
from statorbook.job.parts import CablePart, HeatPart, RotorPart, SitePart, field_facts
from statorbook.protection import Plant

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
    parts = (getattr(now, name) or (assumed and assumed()) for name, (_, _, assumed) in _PARTS.items())
    titles = [_UNIT.sub("", field_facts(type(part), name).title) for part in parts if part for name in part.assumed]
    return (*(_UNIT.sub("", words) for words in machine_from(now).assumed), *titles)
