"""Named artists: drawn once, moved afterwards."""

import numpy as np
import pytest

from statorbook.figures.canvas import artists
from statorbook.figures.canvas.kept import KeptFigure


@pytest.fixture
def axes():
    return KeptFigure().axes[0]


def test_points_are_moved_and_restyled(axes):
    first = artists.line(axes, "measured", [1, 2], [3, 4], linestyle="none", marker="o")
    again = artists.line(axes, "measured", [1, 2, 3], [5, 6, 7], color="#D55E00")
    assert first is again and len(axes.lines) == 1
    assert list(again.get_xdata()) == [1, 2, 3] and again.get_color() == "#D55E00" and again.get_linestyle() == "None"


def test_a_band_is_moved(axes):
    first = artists.band(axes, "assumed", [0, 1], [0, 1], [1, 2])
    assert artists.band(axes, "assumed", [0, 2], [0, 1], [1, 4]) is first
    assert first.get_paths()[0].vertices[:, 1].max() == 4


def test_a_shorter_list_of_words_hides_the_rest(axes):
    artists.words(axes, "groupings", [0, 1, 2], [0, 1, 2], ["12 s", "6 s", "3 s"])
    artists.words(axes, "groupings", [5], [5], ["6 s"])
    assert [t.get_text() for t in axes.texts if t.get_visible()] == ["6 s"]
    artists.words(axes, "groupings", [0, 1], [0, 1], ["12 s", "6 s"])
    assert [t.get_text() for t in axes.texts if t.get_visible()] == ["12 s", "6 s"]


def test_words_of_another_list_stay(axes):
    artists.words(axes, "a", [0], [0], ["kept"])
    artists.words(axes, "b", [], [], [])
    assert axes.texts[0].get_visible()


def test_words_need_a_place_each(axes):
    with pytest.raises(ValueError, match="shorter"):
        artists.words(axes, "a", [0, 1], [0, 1], ["one"])


@pytest.mark.parametrize("across, ends", [("x", ([0, 1], [50, 50])), ("y", ([50, 50], [0, 1]))])
def test_a_limit_is_a_labelled_dashed_line(axes, across, ends):
    artists.limit(axes, "elv", 40, "50 V AC", across=across)
    line = artists.limit(axes, "elv", 50, "50 V AC rms, extra-low voltage", across=across)
    assert ([*line.get_xdata()], [*line.get_ydata()]) == ends
    assert len(axes.lines) == 1 and line.get_linestyle() == "--"
    assert [t.get_text() for t in axes.texts] == ["50 V AC rms, extra-low voltage"]


def test_hidden_artists_come_back_when_drawn_again(axes):
    line = artists.limit(axes, "elv", 40, "50 V AC")
    artists.hide(axes, "elv")
    artists.hide(axes, "never drawn")
    assert not line.get_visible() and not axes.texts[0].get_visible()
    artists.limit(axes, "elv", 40, "50 V AC")
    assert line.get_visible() and axes.texts[0].get_visible()


# Worked by hand from the rule "the next of 1, 1.1, 1.25, 1.4, 1.6, 1.8, 2, 2.25, 2.5 … 9, 10 of its decade".
@pytest.mark.parametrize("value, end", [(97.0, 100.0), (100.0, 100.0), (101.0, 110.0), (731.0, 800.0), (0.23, 0.25)])
def test_an_axis_ends_at_a_round_number(value, end):
    assert artists.round_end(value) == pytest.approx(end, rel=1e-12)


def test_an_axis_wastes_little_room_and_seldom_moves():
    values = np.geomspace(0.003, 3000.0, 2000)
    ends = [artists.round_end(value) for value in values]
    assert all(value * (1 - 1e-9) <= end <= 8 / 7 * value for value, end in zip(values, ends, strict=True))
    # Twenty ends in each of six decades, and the one that closes the last.
    assert len(set(ends)) == 6 * 20 + 1
