"""The figures of grouping and drive: labels with units, points where the numbers are, artists that move."""

import re

import numpy as np
import pytest

from samples.machine_samples import BANK, JET, SETTING, compared
from samples.pages import by_gid
from sentences import sentences_of
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.drive_curves import draw_drive_curves
from statorbook.figures.one_curve import draw_one_curve
from statorbook.figures.speed_curves import draw_speed_curves
from statorbook.operation.power_curve import one_curve
from statorbook.operation.speed_sweep import sweep

wording = sentences_of("figures")

FOUND = compared()
SPEEDS = np.linspace(1.0, 1.05 * JET.runaway_speed_rpm, 60)
LIMITS = ((60.0, "dry touch, IEC 60364-4-41"), (120.0, "extra-low voltage, IEC 60364-4-41"))
LABEL = re.compile(r"\[[^\]]+\]$")


def curve_at(speed_rpm):
    return one_curve([row.winding for row in FOUND.rows], speed_rpm, BANK.states[1], SETTING.conditions)


def drawn_curve(figure, speed_rpm, picked):
    figure.draw(draw_one_curve, curve_at(speed_rpm), FOUND.rows, picked.grouping, speed_rpm=speed_rpm)
    return figure.axes[0]


def drawn_speeds(figure, row, *, limits=LIMITS, device=64.0, runaway_rpm=JET.runaway_speed_rpm):
    sweeps = [sweep([row.winding], SPEEDS, state, SETTING.conditions) for state in BANK.states]
    volts = np.sqrt(2.0) * row.winding.line_volts_rms(SPEEDS, 0.0)
    amps = sweeps[1].dc_amps[0]
    figure.draw(
        draw_speed_curves,
        sweeps,
        row,
        at=row.point,
        plus_minus_band=(0.9 * amps, 1.1 * amps),
        runaway_rpm=runaway_rpm,
        volts_peak=volts,
        limits=limits,
        device_max_volts=device,
    )
    return figure.axes


def two_rows():
    return KeptFigure(rows=2, height_in=5.4, sharex=True)


def points_of(axes, name):
    return [drawn for drawn in axes.lines if str(drawn.get_gid()).startswith(name)]


def visible_words(axes):
    return [text.get_text() for text in axes.texts if text.get_visible() and text.get_text()]


def artists(axes):
    """What must stay the same objects when a picture is drawn again."""
    return [*axes.lines, *axes.collections]


# The one curve


@pytest.fixture
def curve_axes():
    return drawn_curve(KeptFigure(height_in=4.4), 900.0, FOUND.chosen)


def test_the_one_curve_has_units_on_both_axes_and_says_its_speed(curve_axes):
    assert curve_axes.get_ylabel() == "Power into the bank [W]"
    assert curve_axes.get_xlabel().startswith("u = ") and LABEL.search(curve_axes.get_xlabel())
    assert curve_axes.get_title(loc="left").startswith("All held at 900 rpm; ")


def test_the_line_is_the_curve(curve_axes):
    curve = curve_at(900.0)
    assert by_gid(curve_axes.lines, "curve").get_data() == (pytest.approx(curve.ratio), pytest.approx(curve.watts))


@pytest.mark.parametrize("speed_rpm", [300.0, 900.0, 1400.0])
def test_every_grouping_inside_the_picture_is_a_point_with_its_name_and_the_rest_is_counted(speed_rpm):
    axes, curve = drawn_curve(KeptFigure(), speed_rpm, FOUND.chosen), curve_at(speed_rpm)
    places = zip(curve.grouping_ratio, curve.grouping_watts, strict=True)
    inside = sorted(place for place in places if place[0] < axes.get_xlim()[1])
    shown = sorted((u, w) for points in points_of(axes, "danger") for u, w in points.get_xydata())
    assert 0 < len(inside) < len(FOUND.rows) and np.array(shown) == pytest.approx(np.array(inside))
    names = sorted(text for text in visible_words(axes) if re.fullmatch(r"\d+ (star|delta)", text))
    assert names == sorted(
        f"{row.grouping.series} {row.grouping.connection}"
        for row, u in zip(FOUND.rows, curve.grouping_ratio, strict=True)
        if u < axes.get_xlim()[1]
    )
    idle = (curve.grouping_ratio >= 1.0).sum()
    said = f"All held at {speed_rpm:.0f} rpm; {idle} of 12 groupings give nothing (u ≥ 1)"
    assert axes.get_title(loc="left") == said


def test_each_point_has_the_shape_of_its_danger_and_the_key_says_it_in_words(curve_axes):
    curve = curve_at(900.0)
    for level in range(5):
        wanted = sorted(
            u
            for row, u in zip(FOUND.rows, curve.grouping_ratio, strict=True)
            if row.runaway.level == level and u < curve_axes.get_xlim()[1]
        )
        assert sorted(by_gid(curve_axes.lines, f"danger {level}").get_xdata()) == pytest.approx(wanted)
        keyed = len(by_gid(curve_axes.lines, f"key {level}").get_xdata())
        assert keyed == any(row.runaway.level == level for row in FOUND.rows)
    shapes = {by_gid(curve_axes.lines, f"danger {level}").get_marker() for level in range(5)}
    assert len(shapes) == 5 and {row.runaway.word for row in FOUND.rows} <= set(visible_words(curve_axes))


def test_the_picked_one_is_ringed(curve_axes):
    curve, ring = curve_at(900.0), by_gid(curve_axes.lines, "picked")
    place = [row is FOUND.chosen for row in FOUND.rows].index(True)
    assert ring.get_xydata() == pytest.approx(np.array([[curve.grouping_ratio[place], curve.grouping_watts[place]]]))
    assert ring.get_fillstyle() == "none" and ring.get_markersize() > 15


def test_drawing_again_moves_the_ring_and_adds_nothing():
    figure = KeptFigure(height_in=4.4)
    axes = drawn_curve(figure, 900.0, FOUND.chosen)
    before, ring = artists(axes), by_gid(axes.lines, "picked").get_xydata().copy()
    drawn_curve(figure, 1200.0, FOUND.rows[-3])
    assert artists(axes) == before and len(axes.texts) <= 2 * len(FOUND.rows) + 12
    assert not np.allclose(by_gid(axes.lines, "picked").get_xydata(), ring)
    assert by_gid(axes.lines, "curve").get_ydata() == pytest.approx(curve_at(1200.0).watts)


def test_where_it_was_before_the_move_is_a_thin_ring_that_the_key_names():
    figure, curve = KeptFigure(height_in=4.4), curve_at(900.0)
    for before, shown in ((None, False), ((0.4, 300.0), True), ((1.5, 0.0), False), ((0.3, 200.0), True)):
        figure.draw(draw_one_curve, curve, FOUND.rows, FOUND.chosen.grouping, speed_rpm=900.0, before=before)
        axes = figure.axes[0]
        ring = by_gid(axes.lines, "before")
        assert ring.get_xydata().tolist() == ([list(before)] if shown else [])
        assert ("before the move" in visible_words(axes)) is shown
        assert ring.get_markeredgewidth() < by_gid(axes.lines, "picked").get_markeredgewidth()


def test_a_picked_grouping_right_of_the_picture_has_an_arrow_in_place_of_the_ring():
    u, idle = max(zip(curve_at(300.0).grouping_ratio, FOUND.rows, strict=True), key=lambda pair: pair[0])
    figure = KeptFigure()
    axes = drawn_curve(figure, 300.0, idle)
    assert len(by_gid(axes.lines, "picked").get_xdata()) == 0
    arrow = by_gid(axes.lines, "further")
    assert arrow.get_marker() == ">" and arrow.get_xdata() < axes.get_xlim()[1] < u
    name = f"{idle.grouping.series} {idle.grouping.connection}"
    assert f"{name} lies further right, at u = {u:.1f}: it gives nothing" in visible_words(axes)
    drawn_curve(figure, 900.0, FOUND.chosen)
    assert len(arrow.get_xdata()) == 0 and not [text for text in visible_words(axes) if "further right" in text]


@pytest.mark.parametrize("limit_dc_volts", [30.0, 64.0, 120.0, 200.0, 400.0])
@pytest.mark.parametrize("speed_rpm", [300.0, 900.0])
def test_the_walls_words_stand_inside_the_picture_and_on_no_other_words(limit_dc_volts, speed_rpm):
    figure, curve = KeptFigure(height_in=4.4), curve_at(speed_rpm)
    for drive_watts in (0.5, 0.9, 1.05, 1.1, 1.2, 3.0):
        options = {"drive_watts": drive_watts * curve.best_watts, "limit_dc_volts": limit_dc_volts}
        figure.draw(draw_one_curve, curve, FOUND.rows, FOUND.chosen.grouping, speed_rpm=speed_rpm, **options)
        axes, pen = figure.axes[0], figure.figure.canvas.get_renderer()
        boxes = {text: text.get_window_extent(pen) for text in axes.texts if text.get_visible() and text.get_text()}
        wall = next(text for text in boxes if text.get_text().startswith("left of the wall"))
        inside = axes.get_window_extent(pen)
        assert inside.x0 <= boxes[wall].x0 and boxes[wall].x1 <= inside.x1 and boxes[wall].y1 <= inside.y1
        met = [text.get_text() for text, box in boxes.items() if text is not wall and box.overlaps(boxes[wall])]
        assert met == []


def test_the_axes_do_not_wander_when_the_picture_is_laid_out_again():
    figure, places = KeptFigure(height_in=4.4), []
    for speed_rpm in (900.0, 150.0, 900.0, 150.0, 900.0):  # labels of other widths, so that it is laid out each time
        drawn_curve(figure, speed_rpm, FOUND.chosen)
        figure.svg("test")
        places.append(figure.axes[0].get_position().bounds)
    assert places[2] == pytest.approx(places[0]) and places[4] == pytest.approx(places[0])
    assert places[0][0] < 0.12 and places[0][2] > 0.85


# Amps and volts against speed


@pytest.fixture
def speed_axes():
    return drawn_speeds(two_rows(), FOUND.chosen)


def test_both_axes_carry_units_and_say_dc_and_peak(speed_axes):
    amps, volts = speed_axes
    assert (amps.get_ylabel(), volts.get_ylabel()) == ("Current, DC [A]", "Open circuit, DC peak [V]")
    assert volts.get_xlabel() == "Speed [rpm]"


def test_the_amps_line_is_the_half_full_bank_and_the_band_reaches_from_empty_to_charging(speed_axes):
    empty, half, charging = (
        sweep([FOUND.chosen.winding], SPEEDS, state, SETTING.conditions).dc_amps[0] for state in BANK.states
    )
    line = by_gid(speed_axes[0].lines, "amps")
    assert line.get_xdata() == pytest.approx(SPEEDS) and line.get_ydata() == pytest.approx(half)
    edge = by_gid(speed_axes[0].collections, "bank states").get_paths()[0].vertices
    assert edge[:, 1].max() == pytest.approx(max(empty.max(), charging.max()))


def test_the_point_where_it_settles_is_marked_with_its_numbers(speed_axes):
    at = FOUND.chosen.point
    mark = by_gid(speed_axes[0].lines, "point")
    assert mark.get_xydata() == pytest.approx(np.array([[at.speed_rpm, at.dc_amps]])) and mark.get_marker() == "o"
    assert f"{at.dc_amps:.1f} A, {at.bank_watts:.0f} W" in visible_words(speed_axes[0])


@pytest.mark.parametrize(
    "name, speed",
    [
        ("cut-in", FOUND.chosen.cut_in_rpm),
        ("working", FOUND.chosen.point.speed_rpm),
        ("runaway", JET.runaway_speed_rpm),
    ],
)
def test_cut_in_working_and_runaway_speed_are_dashed_lines_with_words(speed_axes, name, speed):
    for axes in speed_axes:
        mark = by_gid(axes.lines, name)
        assert list(mark.get_xdata()) == [speed, speed] and mark.get_linestyle() == "--" and mark.get_visible()
    assert f"{name} {speed:.0f} rpm" in visible_words(speed_axes[1])


def test_limits_are_dashed_lines_with_words_and_the_device_is_one(speed_axes):
    marks = {mark.get_ydata()[0]: mark for mark in points_of(speed_axes[1], "limit")}
    assert set(marks) == {60.0, 120.0, 64.0} and {mark.get_linestyle() for mark in marks.values()} == {"--"}
    assert {
        "60 V, dry touch, IEC 60364-4-41",
        "120 V, extra-low voltage, IEC 60364-4-41",
        wording("64 V, most that the"),
    } <= set(visible_words(speed_axes[1]))


def test_the_volts_line_is_root_two_times_line_volts(speed_axes):
    volts = np.sqrt(2.0) * FOUND.chosen.winding.line_volts_rms(SPEEDS, 0.0)
    assert by_gid(speed_axes[1].lines, "volts").get_ydata() == pytest.approx(volts)
    assert speed_axes[1].get_ylim()[1] > volts.max()


def test_a_limit_above_the_picture_is_hidden_with_its_words_and_comes_back():
    figure, low = two_rows(), FOUND.rows[-1]  # the fewest turns: 39 V DC peak at most
    axes = drawn_speeds(figure, low)[1]
    assert [mark for mark in points_of(axes, "limit") if mark.get_visible()] == []
    assert not [text for text in visible_words(axes) if "IEC" in text]
    drawn_speeds(figure, FOUND.chosen)
    assert len([mark for mark in points_of(axes, "limit") if mark.get_visible()]) == 3


def test_words_of_a_limit_at_the_top_stand_inside_the_picture():
    _, top = drawn_speeds(two_rows(), FOUND.chosen)[1].get_ylim()
    for share, side in ((0.96, "top"), (0.5, "bottom")):
        axes = drawn_speeds(two_rows(), FOUND.chosen, limits=[(share * top, "a limit")], device=None)[1]
        assert [text.get_va() for text in axes.texts if text.get_text().endswith("a limit")] == [side]


def test_a_cut_in_beyond_runaway_is_not_marked():
    never = FOUND.rows[-1]
    assert never.cut_in_rpm > 1.05 * JET.runaway_speed_rpm
    axes = drawn_speeds(two_rows(), never)[1]
    assert not by_gid(axes.lines, "cut-in").get_visible()
    assert not [text for text in visible_words(axes) if text.startswith("cut-in")]


def test_drawing_speeds_again_moves_what_is_there():
    figure = two_rows()
    axes = drawn_speeds(figure, FOUND.chosen)
    before, count = [artists(panel) for panel in axes], [len(panel.texts) for panel in axes]
    drawn_speeds(figure, FOUND.rows[0])
    assert [artists(panel) for panel in axes] == before and [len(panel.texts) for panel in axes] == count
    assert by_gid(axes[1].lines, "cut-in").get_xdata()[0] == FOUND.rows[0].cut_in_rpm


# A drive


def drawn_drive(figure, drive):
    return figure.draw(draw_drive_curves, drive).axes


def test_a_jet_has_power_and_torque_against_speed_with_units():
    power, torque = drawn_drive(KeptFigure(columns=2), JET)
    assert (power.get_ylabel(), torque.get_ylabel()) == ("Shaft power [W]", "Torque [N·m]")
    assert power.get_xlabel() == torque.get_xlabel() == "Speed [rpm]"
    speed, watts = by_gid(power.lines, "curve").get_data()
    # Power is torque times 2π n / 60; the most, and where, are set by the drive's own figures.
    assert watts == pytest.approx(by_gid(torque.lines, "curve").get_ydata() * speed * 2.0 * np.pi / 60.0)
    assert watts.max() == pytest.approx(JET.best_shaft_watts, rel=1e-3)
    assert speed[watts.argmax()] == pytest.approx(JET.best_speed_rpm, rel=0.02)
    assert watts[0] == 0.0 and watts[-1] == pytest.approx(0.0, abs=1e-6 * watts.max())


@pytest.mark.parametrize("drive, word", [(JET, "best"), (KnownSpeed(working_rpm=600.0), "working")])
def test_best_and_runaway_speed_are_dashed_lines_with_words(drive, word):
    for axes in drawn_drive(KeptFigure(columns=2), drive):
        for name, speed, text in (
            ("best", drive.best_speed_rpm, f"{word} {drive.best_speed_rpm:.0f} rpm"),
            ("runaway", drive.runaway_speed_rpm, f"runaway {drive.runaway_speed_rpm:.0f} rpm"),
        ):
            mark = by_gid(axes.lines, name)
            assert list(mark.get_xdata()) == [speed, speed] and mark.get_linestyle() == "--"
            assert text in visible_words(axes)


def test_a_known_speed_shows_no_curve_and_says_why_and_a_jet_brings_it_back():
    figure = KeptFigure(columns=2)
    axes = drawn_drive(figure, KnownSpeed(working_rpm=600.0))
    before = [artists(panel) for panel in axes]
    for panel in axes:
        assert not by_gid(panel.lines, "curve").get_visible() and "power and torque not known" in visible_words(panel)
    drawn_drive(figure, WaterJet(head_m=12.0, nozzle_mm=20.0, pitch_diameter_mm=300.0))
    for panel in axes:
        assert by_gid(panel.lines, "curve").get_visible() and "power and torque not known" not in visible_words(panel)
    assert [artists(panel) for panel in axes] == before
