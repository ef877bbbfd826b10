"""Volts to hold and kilowatt-hours with a converter, as a picture."""

import numpy as np
import pytest

from samples.pages import by_gid
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.year_between import draw_between
from statorbook.operation.best_volts import best_dc_volts, volts_to_hold
from year.test_between import MACHINE, SETTING, SOURCE, WINDOW, YEARS, replace


@pytest.fixture(scope="module")
def drawn():
    around, state = replace(SETTING.conditions, converter=WINDOW), MACHINE.bank.states[1]
    best = max((year for year in YEARS if not year.destroyed), key=lambda year: year.through.kwh)
    winding = best.through.winding
    hold = volts_to_hold(SOURCE.drives, winding, state, around)
    at_once = best_dc_volts(winding, np.linspace(20.0, 700.0, 20), state, around)
    figure = KeptFigure(rows=2, height_in=7.4)
    return figure.draw(draw_between, YEARS, best, hold, at_once).axes, best, hold


def said(axes):
    return [text.get_text() for text in axes.texts if text.get_visible()]


def test_the_volts_to_hold_stand_over_their_speeds_within_the_window(drawn):
    (volts, _), _, hold = drawn
    x, y = by_gid(volts.lines, "to hold").get_data()
    works = np.isfinite(hold.dc_volts)
    assert list(x) == list(hold.speed_rpm[works]) and list(y) == list(hold.dc_volts[works])
    assert min(y) >= WINDOW.low_volts - 1e-9 and max(y) <= WINDOW.high_volts * 1.001
    assert f"destroyed above {WINDOW.survives_dc_volts:g} V" in said(volts)
    assert volts.get_ylabel() == "At its input, DC [V]"


def test_two_bars_a_grouping_and_the_danger_behind_them(drawn):
    (_, bars), best, _ = drawn
    names = [label.get_text() for label in bars.get_yticklabels()]
    texts = said(bars)
    for year in YEARS:
        if year.grouping.label in names:
            number = names.index(year.grouping.label)
            assert by_gid(bars.lines, f"through {number}").get_xdata()[1] == pytest.approx(max(year.through.kwh, 0.0))
            assert by_gid(bars.lines, f"straight {number}").get_xdata()[1] == pytest.approx(year.straight.kwh)
            assert texts[number].endswith("destroyed") == year.destroyed
    assert texts[names.index(best.grouping.label)].startswith("▸")
