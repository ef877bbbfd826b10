"""The source of a job over a year, from its drive, its year and the logs of the year."""

from functools import lru_cache

from statorbook.assembly.machine import with_parts
from statorbook.assembly.typed_years import engine_year, known_speed_year, pedals_year, water_year
from statorbook.assembly.wind_year import wind_year
from statorbook.job import EXAMPLE, fingerprint_of, load_log
from statorbook.job.parts import YearPart
from statorbook.quantities import holds_anything, units_now
from statorbook.year import (
    read_engine_months,
    read_pedal_weeks,
    read_speed_hours,
    read_water_months,
    read_wind_hours,
    read_wind_months,
)

_PARTS = ("stator", "coil", "drive", "bank")
NO_YEAR = "what its source does over the year is not filled in yet"


def source_year_from(job):
    """What the source of a job does over a year.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    SourceYear or None
        None while no year is filled in for the kind of drive that the job has.

    Raises
    ------
    BadInput
        When it is filled in and cannot be used.
    """
    now = job.read()
    if now.drive is None or now.drive.kind not in _BUILDERS:
        return None
    year = now.year or YearPart()
    log = year.log_for(now.drive.kind)
    return _made(now.drive, year, now.folder, log, fingerprint_of(now.folder, log) if log else None, units_now())


@lru_cache(maxsize=16)
def _made(drive, year, folder, log, mark, units):
    """The year of these parts and of a log with this mark: several panels of a page ask for the same one."""
    # The units are those in which it says its words.
    return year_of(drive, year, load_log(folder, log)[0].rows if log else [])


def year_of(drive, year, rows):
    """What a source does over a year, from parts that need not be saved.

    Parameters
    ----------
    drive : DrivePart
        What turns the machine.
    year : YearPart
        Its year.
    rows : list of dict
        Raw rows of the log that goes with it.

    Returns
    -------
    SourceYear or None
        None while fields that are needed, or every row, are empty.

    Raises
    ------
    BadInput
        When something cannot be used.
    """
    if year.missing_for(drive.kind) or year.log_for(drive.kind) and not holds_anything(rows):
        return None
    return _BUILDERS[drive.kind](drive, year, rows)


def year_readings(log, rows):
    """The rows of a log of the year, judged.

    Parameters
    ----------
    log : str
        Its name.
    rows : list of dict
        Raw rows as typed.

    Returns
    -------
    tuple of Reading
        One for every row that holds anything, bad rows included.
    """
    return _READERS[log](rows)


def with_year(job):
    """The job itself when its machine and its year are filled in, else the example, so that there is a year to show.

    Parameters
    ----------
    job : Job
        The reader's job.

    Returns
    -------
    Job
        The job or the example; its `notice` says which and why.

    Raises
    ------
    BadInput
        When its year is filled in and cannot be used, or the example is needed and not there.
    """
    shown = with_parts(job, *_PARTS)
    if shown is not job or source_year_from(job):
        return shown
    shown = type(job).open(EXAMPLE, job.folder.parent)
    shown.notice = (
        f"Your job {job.name} cannot be added up yet, {NO_YEAR}, so this shows the example: fill in the source over "
        "the year above."
    )
    return shown


# By the kind of drive: what makes a `SourceYear` of its part, the year's part and the rows of its log.
_BUILDERS = {
    "water jet": water_year,
    "wind rotor": wind_year,
    "pedals": pedals_year,
    "engine": engine_year,
    "known speed": known_speed_year,
}
_READERS = {
    "water_months": read_water_months,
    "pedal_weeks": read_pedal_weeks,
    "engine_months": read_engine_months,
    "speed_hours": read_speed_hours,
    "wind_months": read_wind_months,
    "wind_hours": read_wind_hours,
}
