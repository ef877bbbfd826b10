"""Bars of shares: as long as they say, largest first, the small ones together, nothing lost."""

import pytest

from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.shares_of_width import MOST_BARS, draw_shares

SHARES = [0.3, 0.2, 0.1, 0.1, 0.1, 0.1, 0.04, 0.03, 0.02, 0.01]
NAMES = [f"number {letter}" for letter in "abcdefghij"]


def bars(figure):
    """Length of each bar in per cent, top down, and the words behind them."""
    axes = figure.axes[0]
    drawn = [line.get_xdata() for line in axes.get_lines() if len(line.get_xdata())]
    return [max(ends) for ends in drawn], [text.get_text() for text in axes.texts if text.get_visible()]


def test_bars_are_as_long_as_their_shares_and_the_rest_stands_together():
    figure = KeptFigure().draw(draw_shares, NAMES, SHARES, ["assumed", "measured"] * 5)
    lengths, words = bars(figure)
    assert len(lengths) == MOST_BARS and sum(lengths) == pytest.approx(100.0)
    assert lengths[0] == pytest.approx(30.0) and lengths[-1] == pytest.approx(6.0)
    assert words[:2] == ["30%, assumed", "20%, measured"] and words[-1] == "6%"


def test_a_kept_figure_forgets_the_bars_before():
    figure = KeptFigure().draw(draw_shares, NAMES, SHARES, ["assumed"] * 10)
    figure.draw(draw_shares, NAMES[:2], [0.9, 0.1], ["typed", "from a table"])
    lengths, words = bars(figure)
    assert lengths == pytest.approx([90.0, 10.0]) and words == ["90%, typed", "10%, from a table"]
    assert [label.get_text() for label in figure.axes[0].get_yticklabels()] == NAMES[:2]
