"""The hours of a year and its months as a picture."""

import numpy as np
import pytest

from samples.pages import by_gid
from samples.wind_samples import ROTOR
from statorbook.drives.known_speed import KnownSpeed
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.year_hours import draw_year_hours
from statorbook.quantities import reader_units
from statorbook.year.source import MONTH_HOURS, SourceYear
from statorbook.year.wind import year_of_mean_wind


def drawn(source):
    return KeptFigure(columns=2, height_in=3.2).draw(draw_year_hours, source)


def said(axes):
    return [text.get_text() for text in axes.texts if text.get_visible()]


@pytest.mark.outside(
    "hours above 3.5 m/s of a Rayleigh year of 5 m/s",
    source="exact integral of the Rayleigh distribution: 8760 h × exp(−π/4 (v/mean)²)",
    number="5961.7 h",
    tolerance="3 %",
    seen="derived",
)
def test_hours_at_or_above_a_wind_are_those_of_rayleigh():
    hours, months = drawn(year_of_mean_wind(ROTOR, 5.0)).axes
    at, above = by_gid(hours.lines, "hours").get_data()
    assert np.interp(3.5, at, above) == pytest.approx(8760 - 2798.3, rel=0.03)
    assert np.diff(above).max() <= 0.0 and above[0] == pytest.approx(8760, abs=1)
    assert hours.get_xlabel() == "Wind at the hub [m/s]" and hours.get_ylabel() == "Hours at or above [h]"
    assert said(months) == ["every month taken alike"]


def test_it_speaks_the_readers_units():
    with reader_units("US"):
        hours, _ = drawn(year_of_mean_wind(ROTOR, 5.0)).axes
    # 1 m/s = 2.23694 mph (NIST SP 811, appendix B.8, from memory).
    assert hours.get_xlabel() == "Wind at the hub [mph]" and hours.get_xlim()[1] > 2.236 * 15


def test_a_power_that_is_not_known_is_said_and_not_drawn():
    months = np.outer(MONTH_HOURS, [1.0])
    year = SourceYear(
        drives=(KnownSpeed(working_rpm=500.0),),
        hours=months,
        setting=np.array([500.0]),
        setting_name="speed",
        setting_unit="rpm",
        words="",
    )
    _, axes = drawn(year).axes
    assert said(axes) == ["power not known"] and not by_gid(axes.lines, "month 0").get_ydata().any()
