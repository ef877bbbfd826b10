"""A job's parts put together into the machine of a comparison, and the example where they are not filled in yet."""

from statorbook.choice import Machine, Setting, corners, ends
from statorbook.errors import BadInput
from statorbook.job import EXAMPLE, PARTS_IN_WORDS
from statorbook.job.parts import ConverterPart, HeatPart, SitePart, field_facts
from statorbook.operation import Conditions
from statorbook.quantities import say

WRITE_CONSTANTS = "Write these constants to the job"  # the button of 02_spin_and_log
_MAGNET_C = Conditions().magnet_c
_WRITTEN_IN = {
    "stator": "01_know_your_stator",
    "coil": "02_spin_and_log",
    "drive": "03_what_turns_it",
    "bank": "04_choose_a_grouping",
}


def machine_from(job):
    """Put a job's parts together.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.

    Returns
    -------
    Machine
        Ready for `choice.compare`.

    Raises
    ------
    BadInput
        Names the notebook that still has to be filled in, or says that the coil constants are out of date.
    """
    now = job.read()
    _require_parts(now)
    facts, coil, drive, bank = now.stator, now.coil, now.drive, now.bank
    corner = facts.to_open_corner()
    between = now.converter or ConverterPart()
    site, heat = now.site or SitePart(), now.heat or HeatPart()
    setting = _setting_of(facts, drive, bank, corner, between.to_converter(), site, heat)
    bands = (coil.emf, coil.resistance, coil.inductance, facts.conductor, facts.magnet)
    return Machine(
        stator=facts.to_stator(),
        found=facts.to_found_grouping(),
        coil=coil.to_coil(facts),
        corners=corners(*bands),
        ends=ends(*bands),
        drive=drive.to_drive(),
        bank=bank.to_bank(),
        setting=setting,
        assumed=_assumed(facts, coil, drive, bank, between, setting, heat, site),
        assumed_fields=frozenset((*drive.assumed, *bank.assumed, *between.assumed_in_use)),
        measured=heat.measured,
        start_nm=drive.start_nm,
        doubt=corner.doubt(coil.to_coil(facts)) if corner else "",
    )


def _setting_of(facts, drive, bank, corner, converter, site, heat):
    """What the comparison is made for, from the parts, the open-corner reading and the converter."""
    conditions = Conditions(
        copper_c=heat.copper_c,
        magnet_c=_MAGNET_C if heat.magnet_c is None else heat.magnet_c,
        drag_nm=drive.drag_nm,
        drag_nm_per_1000rpm=drive.drag_nm_per_1000rpm,
        diode_drop_v=bank.diode_drop_v,
        cable_ohm=bank.cable_ohm,
        ac_cable_ohm=bank.ac_cable_ohm or 0.0,
        converter=converter,
    )
    return Setting(
        conditions=conditions,
        cold_c=site.coldest_c,
        wire_diameter_mm=facts.wire_diameter_mm,
        wires_in_hand=facts.wires_in_hand,
        device_max_volts=bank.device_max_volts,
        open_corner_v_per_rpm=corner.open_corner_v_per_rpm if corner else None,
        accepted_dc_volts=bank.accepted_volts,
    )


def _require_parts(job):
    for part, notebook in _WRITTEN_IN.items():
        if getattr(job, part) is None:
            raise BadInput(
                f"the job {job.name} has no {PARTS_IN_WORDS[part]} yet",
                "all of stator facts, coil constants, drive and bank are needed",
                f"{_fill_in([part])} on page {notebook}",
                where="job",
            )
    stale = _staleness(job)
    if stale:
        raise stale


def stale_words(job):
    """Say that the coil constants were worked out for other stator facts than the job now holds.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    str
        A sentence; empty when the two agree, when one is missing, or when an older job kept nothing to compare.
    """
    stale = _staleness(job.read())
    return str(stale) if stale else ""


def _staleness(job):
    then, now = job.coil.changes(job.stator) if job.coil and job.stator else ("", "")
    if not then:
        return None
    return BadInput(
        f"the coil constants in the job {job.name} were worked out for {then}, but the stator facts now say {now}",
        "constants worked out for the stator facts as they stand are needed",
        f"press “{WRITE_CONSTANTS}” on page {_WRITTEN_IN['coil']}",
        where="job",
    )


def _fill_in(parts):
    return "fill it in" if len(parts) == 1 and parts[0] in ("drive", "bank") else "fill them in"


def _assumed(facts, coil, drive, bank, between, setting, heat, site):
    """Everything that was not measured, in words."""
    coil_words = [
        f"{word} of a coil"
        for word, flag in (
            ("EMF", coil.emf_assumed),
            ("resistance", coil.ohm_assumed),
            ("inductance", coil.henry_assumed),
        )
        if flag
    ]
    titles = [
        field_facts(type(part), name).title for part in (facts, drive, bank, between) for name in part.assumed_in_use
    ]
    at_work = setting.conditions
    warm = [f"winding at {say(at_work.copper_c, '°C', form='g')}"] if heat.copper_assumed else []
    warm += [f"magnets at {say(at_work.magnet_c, '°C', form='g')}"] if heat.magnet_c is None else []
    return (
        *coil_words,
        *titles,
        *drive.assumed_besides,
        *((f"{' and '.join(warm)} at work",) if warm else ()),
        *((f"coldest magnets {say(setting.cold_c, '°C', form='g')}",) if site.assumes("coldest_c") else ()),
        "inner resistance of the bank",
        *(() if bank.accepted_volts else (f"{setting.limit_dc_volts:g} V DC accepted with the bank gone",)),
    )


def with_parts(job, *parts, example=EXAMPLE):
    """The job itself when the parts are filled in and up to date, else the example, so that a page has numbers to show.

    Parameters
    ----------
    job : Job
        The reader's job.
    *parts : str
        Parts that are needed: "stator", "coil", "drive", "bank".
    example : str
        Name of the example job.

    Returns
    -------
    Job
        The job or the example; its `notice` says which and why.

    Raises
    ------
    BadInput
        When the example is needed and not there.
    """
    now = job.read()
    missing = [part for part in parts if getattr(now, part) is None]
    stale = _staleness(now) if {"stator", "coil"} <= set(parts) else None
    if not missing and not stale:
        return job
    shown = type(job).open(example, job.folder.parent)
    steps, reasons = [], []
    if missing:
        pages = ", ".join(dict.fromkeys(_WRITTEN_IN[part] for part in missing))
        reasons.append(f"Your job {job.name} has no {' and no '.join(PARTS_IN_WORDS[part] for part in missing)} yet")
        steps.append(f"{_fill_in(missing)} on page {pages}")
    if stale:
        reasons.append(stale.given if missing else f"{stale.given[:1].upper()}{stale.given[1:]}")
        steps.append(stale.next_step)
    shown.notice = (
        f"{', and '.join(reasons)}, so this page shows the example: {', and '.join(steps)}, "
        "then press “Run the page” again."
    )
    return shown
