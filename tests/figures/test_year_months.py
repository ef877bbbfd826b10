"""Kilowatt-hours month by month: what comes, what is short of the need, what is left over."""

import numpy as np
import pytest
from matplotlib.figure import Figure

from statorbook.figures.year_months import draw_year_months

KWH = np.array([58.0, 55, 61, 70, 66, 40, 31, 12, 0, 35, 57, 60])
NEED = np.array([64.0, 58, 55, 50, 45, 42, 40, 42, 46, 52, 58, 64])


@pytest.fixture
def axes():
    return Figure().subplots()


def area(axes, name):
    """Area of a band by the shoelace formula, in kWh times months; 0 where it is hidden."""
    artist = next(each for each in axes.collections if each.get_gid() == name)
    if not artist.get_visible():
        return 0.0
    x, y = artist.get_paths()[0].vertices.T
    return abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))) / 2.0


def shown(axes, name):
    return [text.get_text() for text in axes.texts if text.get_gid().startswith(f"{name} ") and text.get_visible()]


def test_bars_add_up_to_what_is_used_left_over_and_short(axes):
    draw_year_months(axes, KWH, NEED)
    wide = area(axes, "used") / np.minimum(KWH, NEED).sum()
    assert 0.5 < wide < 1.0
    assert area(axes, "left over") == pytest.approx(wide * np.maximum(KWH - NEED, 0.0).sum())
    assert area(axes, "short") == pytest.approx(wide * np.maximum(NEED - KWH, 0.0).sum())
    line = next(each for each in axes.lines if each.get_gid() == "need")
    assert line.get_ydata()[::2].tolist() == NEED.tolist()
    assert shown(axes, "amount") == [f"{value:.0f}" for value in KWH]
    assert shown(axes, "over by") == ["+6", "+20", "+21"]
    assert shown(axes, "short by") == ["−6", "−3", "−2", "−9", "−30", "−46", "−17", "−1", "−4"]


def test_without_a_need_the_bars_stand_alone(axes):
    draw_year_months(axes, KWH, NEED)
    draw_year_months(axes, KWH)
    assert area(axes, "used") > 0.0 and area(axes, "left over") == area(axes, "short") == 0.0
    assert not shown(axes, "short by") and not shown(axes, "over by") and not shown(axes, "key")
    assert not next(each for each in axes.lines if each.get_gid() == "need").get_visible()


def test_a_year_without_any_energy_is_drawn(axes):
    draw_year_months(axes, np.zeros(12))
    assert shown(axes, "amount") == ["0"] * 12
