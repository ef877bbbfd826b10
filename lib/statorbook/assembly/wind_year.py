"""The year of a job's wind rotor, from the fields of its year and the rows of the log chosen there."""

from statorbook.year import (
    read_wind_hours,
    read_wind_log,
    read_wind_months,
    year_of_mean_wind,
    year_of_monthly_winds,
    year_of_wind_hours,
    year_of_wind_log,
)


def wind_year(drive, year, rows):
    """The `SourceYear` of a drive part, a year part and the rows of its log."""
    rotor, shape = drive.to_drive(), (year.weibull_shape, year.assumes("weibull_shape"))
    log = year.log_for(drive.kind)
    if log == "wind_months":
        return year_of_monthly_winds(rotor, read_wind_months(rows), shape[0], shape_assumed=shape[1])
    if log == "wind_hours":
        return year_of_wind_hours(rotor, read_wind_hours(rows))
    if log == "wind_series":
        return year_of_wind_log(rotor, read_wind_log(rows))
    return year_of_mean_wind(rotor, year.mean_wind_m_s, shape[0], shape_assumed=shape[1])
