"""The grouping that is to be built, and the plan of cuts and joins for it, from a job as it stands."""

from datetime import date

from statorbook.assembly.judged import judged_from
from statorbook.choice import Spread
from statorbook.job.parts import ChoicePart
from statorbook.rewiring import cut_and_join
from statorbook.winding import naming_words


def choice_part(found, row, year_spread=None):
    """What the job keeps of a chosen row.

    Parameters
    ----------
    found : Comparison
        The comparison it comes from.
    row : Row
        The chosen row.
    year_spread : Spread or None
        Its energy over the year with its ±, from `year.kwh_spread`; None when no year is known.

    Returns
    -------
    ChoicePart
        Grouping, what it is promised to do, and its danger.
    """
    at, grouping = row.point, row.grouping
    return ChoicePart(
        date=date.today().isoformat(),
        series=grouping.series,
        parallel=grouping.parallel,
        connection=grouping.connection,
        speed_rpm=at.speed_rpm,
        dc_amps=at.dc_amps,
        dc_watts=at.bank_watts,
        bank_volts=found.bank.half_volts,
        runaway_line_volts_rms=row.runaway.line_volts_rms,
        runaway_dc_volts_peak=row.runaway.dc_volts_peak,
        unguarded_dc_volts_peak=row.unguarded.dc_volts_peak,
        year_kwh=year_spread.value if year_spread else None,
        year_plus_minus_kwh=year_spread.plus_minus if year_spread else None,
        accepted_dc_volts=found.setting.limit_dc_volts,
        guard=row.runaway.guard,
        most_dc_amps=row.most.dc_amps,
        hazard=f"{row.runaway.word} ({row.runaway.limit})",
        verdict=f"{row.verdict}: {row.reason}",
    )


def choice_of(job):
    """The grouping written to a job; before one is written, the one that chapter 04 recommends.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.

    Returns
    -------
    ChoicePart
        As written, else worked out now.

    Raises
    ------
    BadInput
        When a part is missing or out of date.
    """
    now = job.read()
    if now.choice is not None:
        return now.choice
    found = judged_from(now)
    return choice_part(found, found.shown)


def year_promise_words(choice):
    """What a grouping was promised to give over the year, with its ±.

    Parameters
    ----------
    choice : ChoicePart
        As written to a job.

    Returns
    -------
    str
        As in "720 ± 330 kWh"; empty when it was chosen without a year.
    """
    if choice.year_kwh is None:
        return ""
    around = choice.year_plus_minus_kwh or 0.0
    return str(Spread(value=choice.year_kwh, constants=around, assumed=0.0, unit="kWh"))


def choice_words(job):
    """Where the grouping to be built comes from.

    Parameters
    ----------
    job : Job
        As for `choice_of`.

    Returns
    -------
    str
        A sentence.
    """
    now = job.read()
    if now.choice is None:
        return (
            "No grouping is written to this job yet, so this page takes the recommended one: write your choice on "
            "page 04_choose_a_grouping before you cut or buy."
        )
    state = now.states()["04_choose_a_grouping"]
    return "" if state == "done" else f"Look at page 04_choose_a_grouping before you cut: it is {state}."


def found_words(facts):
    """How the coils are joined before the work.

    Parameters
    ----------
    facts : StatorPart
        The stator facts.

    Returns
    -------
    str
        One sentence, then each phase's teeth in order from its lead.
    """
    found = facts.to_found_wiring()
    traced = "as you traced it" if facts.found_wiring.strip() else "assumed, not traced: each phase in tooth order"
    teeth = (
        f"{phase}: {' / '.join(' '.join(str(tooth) for tooth, _ in path) for path in paths)}"
        for phase, paths in found.paths.items()
    )
    said = f"Wiring as found, {found.grouping.label} ({traced}). From the lead: {'; '.join(teeth)}."
    return " ".join(filter(None, (said, naming_words(found.stator))))


def plan_of(job, choice, layout):
    """The plan from the wiring as found to a choice.

    Parameters
    ----------
    job : Job
        A job with stator facts.
    choice : ChoicePart
        What is wanted.
    layout : str
        "neighbours" or "spread".

    Returns
    -------
    Plan
        The work as data.
    """
    facts = job.stator
    return cut_and_join(facts.to_found_wiring(), choice.to_grouping(), layout, facts.diameter_mm)
