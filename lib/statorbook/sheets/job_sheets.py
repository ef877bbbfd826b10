"""The sheets of a job by one call: plan, checks, drawing and summary put together and written beside the job."""

from datetime import date

from statorbook.assembly import BENCH_C, checks_for, units_for
from statorbook.drawings import BenchDrawing
from statorbook.quantities import reader_units, say
from statorbook.rewiring import steps
from statorbook.sheets.plan_sheets import PlanSheets, write_pdf
from statorbook.sheets.summary import summary_of


def write_sheets(job, plan, paper="A4", checks=None, copper_c=BENCH_C):
    """Write the sheets of a plan into the job's folder.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    plan : Plan
        The work.
    paper : str
        "A4" or "Letter".
    checks : tuple of MeterCheck or None
        Meter checks to print; those for this winding and a slow hand when None.
    copper_c : float
        Winding temperature that the ohms of the checks hold for [°C].

    Returns
    -------
    Path
        The PDF.

    Raises
    ------
    BadInput
        When the paper is unknown or the disk refuses.
    """
    now = job.read()
    with reader_units(units_for(now)):
        sheets = PlanSheets(
            job_name=job.name,
            made_on=date.today(),
            plan=plan,
            steps=steps(plan),
            checks=checks_for(now, plan, copper_c).checks if checks is None else checks,
            drawing_svg=BenchDrawing(plan=plan).svg(),
            summary=summary_of(now, plan),
            check_note=_check_note(copper_c),
        )
        return write_pdf(sheets, job.folder / f"cut_and_join_{paper}.pdf", paper)


def _check_note(copper_c):
    """At 4 % for 10 K, copper and aluminium alike (IEC 60034-1, from memory)."""
    each = say(10, "K").replace(" K", " °C")
    return f"The ohms are those of a winding at {say(copper_c, '°C', form='g')}; each {each} more adds about 4 %."
