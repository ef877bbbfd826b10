"""Named artists: drawn once, moved afterwards."""

import pytest

from statorbook.figures import artists
from statorbook.figures.kept import KeptFigure


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
