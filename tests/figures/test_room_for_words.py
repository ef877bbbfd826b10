"""Words, keys and curves of the figures have room: nothing hides a point, runs into other words or is cut off."""

import pytest

from samples.machine_samples import JET
from samples.pages import by_gid, overlapping, unfolded
from statorbook.drives.wind_rotor import WindRotor
from statorbook.examples import jobs as example
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.drive_curves import draw_drive_curves
from statorbook.job.places import EXAMPLES
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.settle import SettlePanel

UNGUARDED = {"furls_from_m_s": None}


def visible_words(axes):
    return [text.get_text() for text in axes.texts if text.get_visible() and text.get_text()]


def cut_off(figure):
    """Words that begin or end outside their axes, where they would be clipped."""
    figure.svg("test")
    renderer, found = figure.figure.canvas.get_renderer(), []
    for axes in figure.axes:
        frame = axes.get_window_extent(renderer)
        for text in (text for text in axes.texts if text.get_visible() and text.get_text() and text.get_clip_on()):
            words = text.get_window_extent(renderer)
            if words.x0 < frame.x0 - 1 or words.x1 > frame.x1 + 1 or words.y0 < frame.y0 - 1 or words.y1 > frame.y1 + 1:
                found.append(text.get_text())
    return found


def own(tmp_path, name, **drive):
    """A job like an example, with another drive."""
    job = example.write(tmp_path, name)
    job.save_part("drive", job.drive.model_copy(update=drive))
    return job


@pytest.mark.parametrize("moved", [{}, UNGUARDED], ids=["as shipped", "no guard"])
@pytest.mark.parametrize("name", EXAMPLES)
def test_words_of_speeds_and_limits_stand_apart_and_whole(tmp_path, name, moved):
    panel = ChoosePanel(own(tmp_path, name, **moved))
    unfolded(panel)
    assert overlapping(panel.speeds) == [] and cut_off(panel.speeds) == []


def test_a_runaway_far_off_is_told_and_the_work_fills_the_picture(tmp_path):
    panel = ChoosePanel(own(tmp_path, "ridge_rotor", **UNGUARDED))
    unfolded(panel)
    amps, volts = panel.speeds.axes
    runaway_rpm = panel.machine.drive.runaway_speed_rpm
    working_rpm = by_gid(amps.lines, "point").get_xdata()[0]
    assert runaway_rpm > 10 * working_rpm and amps.get_xlim()[1] < 4 * working_rpm
    (said,) = [text for text in visible_words(volts) if text.startswith(f"runaway {runaway_rpm:.0f} rpm")]
    # Volts without load go with the speed.
    per_rpm = by_gid(volts.lines, "volts").get_ydata()[-1] / by_gid(volts.lines, "volts").get_xdata()[-1]
    assert f"{per_rpm * runaway_rpm:.0f} V" in said and not by_gid(volts.lines, "runaway").get_visible()
    # What the volts must stay below is still in the picture.
    assert {mark.get_visible() for mark in volts.lines if str(mark.get_gid()).startswith("limit")} == {True}


def test_a_drives_curve_fills_its_axis_however_far_runaway_is():
    rotor = WindRotor(rotor_diameter_m=2.2, wind_m_s=6.0, storm_m_s=40.0)
    assert rotor.runaway_speed_rpm > 5 * rotor.free_speed_rpm
    for drive, far in ((rotor, True), (JET, False)):
        figure = KeptFigure(columns=2, height_in=3.6).draw(draw_drive_curves, drive)
        for axes in figure.axes:
            curve, end = by_gid(axes.lines, "curve"), axes.get_xlim()[1]
            works = curve.get_xdata()[curve.get_ydata() > 0.0]
            assert works.max() > 0.6 * end
            assert by_gid(axes.lines, "runaway").get_visible() is not far
            assert any(f"runaway {drive.runaway_speed_rpm:.0f} rpm" in text for text in visible_words(axes))
        assert cut_off(figure) == []


def key_is_above(axes):
    figure = axes.figure
    renderer = figure.canvas.get_renderer()
    return axes.get_legend().get_window_extent(renderer).y0 >= axes.get_window_extent(renderer).y1 - 1


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_key_of_the_torques_hides_no_curve(tmp_path, name):
    panel = SettlePanel(example.write(tmp_path, name))
    assert key_is_above(panel.torque.axes[0]) and overlapping(panel.torque) == [] and cut_off(panel.torque) == []


def test_after_a_move_the_place_before_is_shown_faintly_until_nothing_moves(tmp_path):
    panel = SettlePanel(example.write(tmp_path))
    axes, head = panel.torque.axes[0], panel.drive.sliders["head_m"]
    place = by_gid(axes.lines, "holds").get_xydata()[0]
    assert len(by_gid(axes.lines, "before").get_xdata()) == 0
    head.value += 5 * head.step
    before = by_gid(axes.lines, "before")
    assert before.get_xydata()[0] == pytest.approx(place) and before.get_alpha() < 1
    panel.redraw()
    assert len(by_gid(axes.lines, "before").get_xdata()) == 0
