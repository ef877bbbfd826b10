"""The sheets of a job by one call: plan, checks, drawing and summary put together and written beside the job."""

from datetime import date

from statorbook.drawings.bench_drawing import BenchDrawing
from statorbook.job_checks import checks_for
from statorbook.plan_steps import steps
from statorbook.sheets.plan_sheets import PlanSheets, write_pdf
from statorbook.sheets.summary import summary_of


def write_sheets(job, plan, paper="A4", checks=None):
    """Write the sheets of a plan into the job's folder.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    plan : Plan
        The work.
    paper : str
        "A4" or "Letter".
    checks : tuple of Check or None
        Meter checks to print; those for 20 °C and a slow hand when None.

    Returns
    -------
    Path
        The PDF.

    Raises
    ------
    BadInput
        When the paper is unknown or the disk refuses.
    """
    made = steps(plan)
    if checks is None:
        checks = checks_for(job, plan).checks
    sheets = PlanSheets(
        job_name=job.name,
        made_on=date.today(),
        plan=plan,
        steps=made,
        checks=checks,
        drawing_svg=BenchDrawing(plan=plan).svg(),
        summary=summary_of(job, plan),
    )
    return write_pdf(sheets, job.folder / f"cut_and_join_{paper}.pdf", paper)
