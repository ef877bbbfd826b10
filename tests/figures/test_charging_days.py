"""Figure of the days: lines and limits are those of the run, and what went wrong is marked and goes again."""

import numpy as np
import pytest

from samples.charging_samples import plan
from statorbook.charging.days import simulate
from statorbook.charging.events import Event
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.charging_days import draw_charging_days


@pytest.fixture(scope="module")
def made():
    return plan()


def shown(axes, name):
    return [each for each in (*axes.lines, *axes.collections) if each.get_gid() == name and each.get_visible()]


def test_the_course_is_drawn_and_what_went_wrong_is_grey(made):
    figure = KeptFigure(rows=3)
    wrong = [
        Event(kind="no source", from_s=3600.0, until_s=7200.0),
        Event(kind="cold spell", from_s=5400.0, amount=5.0),
    ]
    found = simulate(made, wrong, days=1)
    figure.draw(draw_charging_days, made, found)
    volts, charge, flows = figure.axes
    assert shown(volts, "most")[0].get_ydata() == pytest.approx(made.points.most_volts)
    low, high = volts.get_ylim()
    assert low < found.lowest_bank_volts and found.highest_bank_volts < made.points.most_volts < high
    drawn = shown(charge, "charge")[0].get_ydata()
    assert drawn[0] == pytest.approx(70.0, abs=0.5) and 300 < len(drawn) <= 360
    assert shown(flows, "source")[0].get_ydata().mean() == pytest.approx(found.watts["source"].mean())
    assert shown(volts, "events")
    calm = simulate(made, days=2)
    figure.draw(draw_charging_days, made, calm)
    emptied = simulate(made, [Event(kind="no source")], days=2, start_charge=0.05)
    figure.draw(draw_charging_days, made, emptied)
    assert volts.get_ylim()[0] < min(made.points.least_volts, emptied.lowest_bank_volts) or not emptied.below.happened
    figure.draw(draw_charging_days, made, calm)
    assert not shown(volts, "events") and volts.get_xlim() == (0.0, 2.0)
    assert np.all(np.diff(shown(flows, "source")[0].get_xdata()) > 0.0)
    figure.draw(draw_charging_days, made, calm, days=5)
    assert volts.get_xlim() == (0.0, 5.0) and shown(flows, "source")[0].get_xdata().max() == pytest.approx(
        2.0, abs=0.02
    )


@pytest.mark.parametrize(
    "days, ticks",
    [(1, [0, 0.2, 0.4, 0.6, 0.8, 1]), (4, [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4]), (8, range(9)), (28, range(0, 29, 4))],
)
def test_another_number_of_days_moves_no_axes(days, ticks):
    # Nothing is switched, so that blocks of more minutes have the same watts.
    figure, made = KeptFigure(rows=3), plan(house=(), cylinder=None, room=None)
    figure.draw(draw_charging_days, made, simulate(made, days=1), days=16)
    figure.svg("first")
    places = [axes.get_position().bounds for axes in figure.axes]
    figure.draw(draw_charging_days, made, simulate(made, days=1), days=days)
    figure.svg("then")
    assert [axes.get_position().bounds for axes in figure.axes] == places
    low = figure.axes[2]
    assert low.get_xticks() == pytest.approx(ticks)
    assert [float(label.get_text()) for label in low.get_xticklabels()] == pytest.approx(ticks)
    upright = shown(figure.axes[0], "days")[0].get_xdata()
    assert sorted(set(upright)) == pytest.approx(ticks)
