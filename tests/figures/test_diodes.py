"""The figure of what the diodes do: its curves are the waveforms, its shades the intervals."""

import numpy as np
import pytest

from statorbook.bridge.waveforms import bridge_waveforms
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.diodes import draw_diodes

WAYS = {
    "pulses with gaps": (0.95, 1.0),
    "two and three diodes by turns": (0.8, 1.0),
    "always three diodes": (0.4, 5.0),
    "no current": (1.2, 1.0),
}


def waves_of(way):
    u, q = WAYS[way]
    return bridge_waveforms(80.0, 1.0, q, u * 80.0 * 3.0**0.5, diode_drop_v=0.0)


@pytest.fixture
def figure():
    return KeptFigure(rows=3, sharex=True)


def shown(axes):
    return [text.get_text() for text in axes.texts if text.get_visible()]


def curve(axes, name):
    return next(artist for artist in axes.lines if artist.get_gid() == name).get_ydata()


@pytest.mark.parametrize("way", WAYS)
def test_curves_are_the_waveforms(figure, way):
    waves = waves_of(way)
    amps, volts, dc = figure.draw(draw_diodes, waves).axes
    for number, (lead, pair) in enumerate(zip("ABC", ("AB", "BC", "CA"), strict=True)):
        assert curve(amps, lead) == pytest.approx(waves.phase_amps[:, number])
        assert curve(volts, pair) == pytest.approx(waves.line_volts[:, number])
    assert curve(dc, "DC") == pytest.approx(waves.dc_amps)
    assert [axes.get_ylabel() for axes in figure.axes] == ["Lead current [A]", "Line volts [V]", "DC current [A]"]
    assert dc.get_xlabel() == "Electrical angle [°]"
    assert any(text.startswith(way) for text in shown(dc))


@pytest.mark.parametrize("way, count", [("pulses with gaps", 2), ("always three diodes", 3)])
def test_shades_cover_the_intervals(figure, way, count):
    waves = waves_of(way)
    figure.draw(draw_diodes, waves)
    for axes in figure.axes:
        shade = next(a for a in axes.collections if a.get_gid() == f"{count} diodes").get_paths()[0]
        for interval in waves.intervals:
            middle = (0.5 * (interval.start_deg + interval.end_deg), 0.3 * axes.get_ylim()[1])
            assert shade.contains_point(middle) == (interval.signs.count(0) == 3 - count)


def test_diodes_are_named_where_there_is_room(figure):
    dc = figure.draw(draw_diodes, waves_of("pulses with gaps")).axes[2]
    assert {"A+\nB−", "A+\nC−", "B+\nC−"} <= set(shown(dc))


def test_a_second_drawing_moves_the_first(figure):
    figure.draw(draw_diodes, waves_of("always three diodes"))
    before = [len(axes.get_children()) for axes in figure.axes[:2]]
    names = {artist.get_gid() for artist in figure.axes[2].lines}
    dc = figure.draw(draw_diodes, waves_of("no current")).axes[2]
    assert [len(axes.get_children()) for axes in figure.axes[:2]] == before
    assert {artist.get_gid() for artist in dc.lines} == names
    assert len(shown(dc)) == 1 and np.abs(curve(dc, "DC")).max() == 0.0
