"""The two fits as pictures."""

import numpy as np
import pytest

from sentences import sentences_of
from statorbook.bench.readings import read_logs
from statorbook.examples import jobs as example
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.shorted_fit import draw_shorted_fit
from statorbook.figures.spin_fit import draw_spin_fit
from statorbook.fits.constants import terminal_constants
from statorbook.job.places import EXAMPLE

wording = sentences_of("figures")

STATOR = example.MADE_UP[EXAMPLE].winding.stator


def fitted(change=None, keep_all=False):
    rows = example.raw_rows()
    if change:
        change(rows)
    logs = read_logs(rows, STATOR, found_connection="star")
    return logs, terminal_constants(logs, STATOR, keep_all=keep_all)


def drawn(function, *values):
    return KeptFigure(rows=2, height_in=5.2, sharex=True).draw(function, *values)


def named(axes, name):
    return next(a for a in (*axes.lines, *axes.collections, *axes.texts) if a.get_gid() == name)


def points(axes):
    return sum(len(a.get_xdata()) for a in axes.lines if str(a.get_gid()).startswith("rows "))


def visible_texts(axes):
    return [a.get_text() for a in axes.texts if a.get_visible()]


@pytest.fixture(scope="module")
def spin():
    logs, found = fitted()
    return drawn(draw_spin_fit, logs.spin, found.emf_fit), logs.spin, found.emf_fit


def test_labels_carry_units(spin):
    upper, lower = spin[0].axes
    assert (upper.get_ylabel(), lower.get_ylabel(), lower.get_xlabel()) == (
        "Phase EMF, rms [V]",
        "Off the fit [%]",
        "Speed [rpm]",
    )


def test_every_usable_row_is_a_point_in_both_axes(spin):
    figure, readings, _ = spin
    assert [points(axes) for axes in figure.axes] == [len(readings), len(readings)]


def test_a_refused_row_is_no_point():
    logs, found = fitted(lambda rows: rows["spin"][0].update(volts="much"))
    figure = drawn(draw_spin_fit, logs.spin, found.emf_fit)
    assert [points(axes) for axes in figure.axes] == [len(logs.spin) - 1] * 2


def test_each_pair_has_its_own_marker(spin):
    upper = spin[0].axes[0]
    used = {
        a.get_gid(): a.get_marker() for a in upper.lines if str(a.get_gid()).startswith("rows ") and len(a.get_xdata())
    }
    assert set(used) == {"rows AB", "rows BC", "rows CA", "rows ABC"} and len(set(used.values())) == 4
    assert [text.get_text() for text in upper.get_legend().get_texts()] == ["AB", "BC", "CA", "ABC"]


def test_the_planted_row_is_ringed_and_named(spin):
    figure, readings, fit = spin
    planted = next(r for r in readings if r.row == example.MADE_UP[EXAMPLE].planted_row)
    for axes, value in zip(figure.axes, (planted.star_emf_v_rms, fit.residual_percent[planted.row]), strict=True):
        ring = named(axes, "odd")
        assert list(ring.get_xdata()) == [planted.speed_rpm] and list(ring.get_ydata()) == pytest.approx([value])
        row = example.MADE_UP[EXAMPLE].planted_row
        assert visible_texts(axes) == [f"row {row}: −{abs(fit.odd_rows[0].percent_off):.1f} %"]


@pytest.mark.outside(
    "strength of ferrite at 16 °C over that at 20 °C",
    source="common practice, no source",
    number="1.008 by −0.2 %/K",
    tolerance="1e-6",
    seen="from memory",
)
def test_the_line_is_the_one_that_the_residuals_are_counted_from(spin):
    figure, readings, fit = spin
    x, y = named(figure.axes[0], "fit").get_data()
    slope = y[-1] / x[-1]
    for reading in readings:
        off = 100 * (reading.star_emf_v_rms / (slope * reading.speed_rpm) - 1)
        assert off == pytest.approx(fit.residual_percent[reading.row], abs=1e-9)
    assert slope / fit.estimate.value == pytest.approx(1.008, abs=1e-6)


def test_with_every_row_used_none_is_ringed():
    logs, found = fitted(keep_all=True)
    figure = drawn(draw_spin_fit, logs.spin, found.emf_fit)
    assert len(named(figure.axes[0], "odd").get_xdata()) == 0 and visible_texts(figure.axes[1]) == []


def test_an_empty_log_draws_a_frame_that_says_so_and_fills_later(spin):
    _, readings, fit = spin
    figure = drawn(draw_spin_fit, (), None)
    assert visible_texts(figure.axes[0]) == ["no row yet"] and points(figure.axes[0]) == 0
    figure.draw(draw_spin_fit, readings, fit)
    assert "no row yet" not in visible_texts(figure.axes[0])
    assert named(figure.axes[0], "fit").get_visible() and points(figure.axes[0]) == len(readings)
    figure.draw(draw_spin_fit, (), None)
    assert visible_texts(figure.axes[0]) == ["no row yet"] and not named(figure.axes[0], "fit").get_visible()


def test_rows_without_a_fit_are_not_told_to_be_missing():
    logs, _ = fitted()
    for draw, readings in ((draw_spin_fit, logs.spin), (draw_shorted_fit, logs.shorted)):
        assert visible_texts(drawn(draw, readings, None).axes[0]) == [wording("no fit yet: the sentence")]


def test_the_picture_speaks(spin):
    assert 'role="img" aria-label="Volts &amp; speed"' in spin[0].svg("Volts & speed")


def test_drawing_again_adds_nothing(spin):
    figure, readings, fit = spin
    before = [len(axes.get_children()) for axes in figure.axes]
    figure.draw(draw_spin_fit, readings, fit)
    assert [len(axes.get_children()) for axes in figure.axes] == before


@pytest.mark.outside(
    "amps of joined leads",
    source="Fitzgerald, Kingsley, Umans, Electric Machinery, short-circuit test",
    number="I = E / √(R² + (ωL)²), R and L of one star phase",
    tolerance="2 %",
    seen="from memory",
)
def test_shorted_amps_follow_the_model():
    logs, found = fitted()
    figure = drawn(draw_shorted_fit, logs.shorted, found.inductance_fit)
    upper, lower = figure.axes
    assert (upper.get_ylabel(), lower.get_xlabel()) == ("Line current, rms [A]", "Speed [rpm]")
    assert [points(axes) for axes in figure.axes] == [6, 6]
    x, y = named(upper, "fit").get_data()
    star = example.MADE_UP[EXAMPLE].winding.star_equivalent(copper_c=16.0, magnet_c=16.0)
    reactance = 2 * np.pi * STATOR.electrical_hz(x) * star.henry
    true_amps = star.emf_v_per_rpm * x / np.hypot(star.ohm, reactance)
    assert y == pytest.approx(true_amps, rel=0.02, abs=1e-9)


@pytest.mark.parametrize("speeds", [["300"] * 6, ["300", "301", "300", "299", "300", "300"]])
def test_rows_of_one_speed_give_points_without_a_curve(speeds):
    def change(rows):
        for row, speed in zip(rows["shorted"], speeds, strict=True):
            row.update(speed_rpm=speed, amps="2.4")

    logs, found = fitted(change)
    figure = drawn(draw_shorted_fit, logs.shorted, found.inductance_fit)
    assert points(figure.axes[0]) == 6 and not any(a.get_gid() == "fit" for a in figure.axes[0].lines)
