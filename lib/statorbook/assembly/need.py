"""What the house of a job needs, from its part, its bank and the log of months; its year with another pipe."""

import numpy as np

from statorbook.assembly.year import year_of
from statorbook.job.parts import YearPart, field_facts
from statorbook.quantities import say
from statorbook.year import Need, household_kwh_a_day, need_by_month


def need_from(job, part=None, rows=None):
    """What the house of a job takes from its bank.

    Parameters
    ----------
    job : Job
        A job with a bank.
    part : NeedPart or None
        Another need than that of the job.
    rows : list of dict or None
        Another log of months than that of the job.

    Returns
    -------
    Need or None
        None while no need is filled in.

    Raises
    ------
    BadInput
        When the log of months is to say it and cannot be used.
    """
    now = job.read()
    part = part or now.need
    if part is None or now.bank is None:
        return None
    bank = now.bank.to_bank()
    if part.by_log:
        kwh_a_day, filled_in = need_by_month(now.read_log("need_months") if rows is None else rows)
    else:
        mean = part.need_kwh_a_day
        kwh_a_day = household_kwh_a_day(mean) if part.like_a_household else np.full(12, mean)
        filled_in = ()
    usable, round_trip = (
        getattr(bank if getattr(part, name) is None else part, name) for name in ("usable_share", "round_trip_share")
    )
    return Need(
        kwh_a_day=kwh_a_day,
        round_trip_share=round_trip,
        usable_kwh=usable * bank.capacity_kwh,
        inverter_efficiency=part.inverter_efficiency,
        inverter_idle_watts=part.inverter_idle_watts,
        assumed=(*_assumed(part, usable, round_trip), *filled_in),
    )


def year_with_bore(job, bore_mm):
    """The year of a job's water with another pipe.

    Parameters
    ----------
    job : Job
        A job whose head is known from drop and pipe.
    bore_mm : float
        Bore of that pipe [mm].

    Returns
    -------
    SourceYear
        The same drop, flows and nozzles.

    Raises
    ------
    BadInput
        When the water cannot run through it as the year asks.
    """
    now = job.read()
    year = now.year or YearPart()
    log = year.log_for(now.drive.kind)
    drive = now.drive.model_copy(update={"pipe_bore_mm": bore_mm})
    return year_of(drive, year, now.read_log(log) if log else [])


def _assumed(part, usable, round_trip):
    """What of the need nobody measured, in words."""
    said = {
        "need_from": f"{part.need_from} over the year",
        "inverter_efficiency": f"inverter efficiency {part.inverter_efficiency:.0%}",
        "inverter_idle_watts": f"{say(part.inverter_idle_watts, 'W', form='g')} idle",
    }
    marked = [said.get(name, field_facts(type(part), name).title) for name in part.assumed]
    if part.round_trip_share is None:
        marked.append(f"{round_trip:.0%} of the energy comes out of the bank again")
    if part.usable_share is None:
        marked.append(f"{usable:.0%} of the bank is used day by day")
    return (*marked, "each day as a usual household's")
