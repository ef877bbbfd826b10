"""The year of each drive but wind, from its part, the year's part and the rows of its log; None for an empty log."""

from statorbook.year import (
    fuel_year,
    read_engine_months,
    read_pedal_weeks,
    read_speed_hours,
    read_water_months,
    year_of_engine,
    year_of_riders,
    year_of_same_water,
    year_of_speeds,
    year_of_water,
)


def water_year(drive, year, rows):
    """The stream of each month, or the jet as it stands."""
    if not year.log_for(drive.kind):
        return year_of_same_water(drive.to_drive())
    months = read_water_months(rows)
    return year_of_water(drive.to_drive(), months, year.nozzle_bores_mm) if months else None


def pedals_year(drive, year, rows):
    """The riders of a log, or the one of the drive."""
    if not year.log_for(drive.kind):
        return year_of_riders(drive.to_drive(), week_hours=year.pedal_hours_a_week)
    weeks = read_pedal_weeks(rows)
    return year_of_riders(drive.to_drive(), weeks) if weeks else None


def engine_year(drive, year, rows):
    """The run hours of each month, or of the year."""
    if not year.log_for(drive.kind):
        return year_of_engine(drive.to_drive(), year_hours=year.engine_hours_a_year)
    months = read_engine_months(rows)
    return year_of_engine(drive.to_drive(), months) if months else None


def known_speed_year(drive, year, rows):
    """The speeds of a log, or the one of the drive."""
    if not year.log_for(drive.kind):
        return year_of_speeds(drive.to_drive(), year_hours=year.speed_hours_a_year)
    speeds = read_speed_hours(rows)
    return year_of_speeds(drive.to_drive(), speeds) if speeds else None


def fuel_words(job, drive, year):
    """What the engine of a job burns over the year with one grouping.

    Parameters
    ----------
    job : Job
        The job.
    drive : Drive
        Its drive, as it stands on the page.
    year : GroupingYear
        What the grouping makes of the year.

    Returns
    -------
    str
        A sentence or two; empty for any other drive, and when nothing comes into the bank.
    """
    now = job.read()
    if now.drive is None or now.drive.kind != "engine" or now.year is None:
        return ""
    litres, price = now.year.engine_fuel_l_h, now.year.engine_fuel_price
    found = fuel_year(drive, year, now.year.engine_fuel, litres_an_hour=litres, price_a_litre=price)
    return found.words() if found else ""
