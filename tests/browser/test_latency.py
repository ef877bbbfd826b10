"""How soon a moved slider is seen: of every panel with a picture, beside a slider with nothing but a text to show.

No time is asserted, since another machine has other times: the table stands below the results and in `times.csv`.
What is asserted: no frame without the picture, no jump of the page, every move painted.
"""

from statistics import median, quantiles

import pytest

from browser.lab import WITH_PANELS
from browser.page import stands
from browser.times import TEXT, TIME

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
MOVES, WARM_UP = 20, 3
MOST_JUMP_PX, MOST_MS = 1.0, 15_000


@pytest.mark.parametrize("opened", [TEXT, *WITH_PANELS], indirect=True)
def test_a_moved_slider_is_painted_at_once_and_nothing_jumps(seldom_touched, record_property):
    notebook = seldom_touched
    for cell, slider in first_sliders(notebook):
        if notebook.name != TEXT and not notebook.pictures_of(cell):
            continue
        notebook.touched = True
        made = list(moves(notebook, slider))[WARM_UP:]
        times = [move["ms"] for move in made]
        assert None not in times, f"{slider.label}: {times.count(None)} of {MOVES} moves changed nothing"
        assert sum(move["blank"] for move in made) == 0, f"{slider.label}: the picture went away"
        assert max(move["jump"] for move in made) <= MOST_JUMP_PX, f"{slider.label}: the page jumped"
        row = (notebook.name, f"cell {cell + 1}, {slider.label}", median(times), quantiles(times, n=20)[-1])
        record_property(TIME, row)
    assert notebook.troubles() == []


def first_sliders(notebook):
    """The first slider of each cell; of a page that has none in sight the last one under its headings."""
    found = _by_cell(notebook)
    if found or notebook.name == TEXT:
        return sorted(found.items())
    notebook.unfold()
    return sorted(_by_cell(notebook).items())[-1:]


def _by_cell(notebook):
    return {control.cell: control for control in reversed(notebook.controls()) if control.kind == "slider"}


def moves(notebook, slider):
    """Presses of an arrow key, one way until the end is reached, then the other way."""
    handle, key = notebook.node(slider), "ArrowRight"
    for _ in range(MOVES + WARM_UP):
        now, least, most = stands(handle)
        key = "ArrowLeft" if now >= most else "ArrowRight" if now <= least else key
        handle.focus()
        notebook.page.evaluate(
            "box => watch.arm(box)",
            {"control": slider.id, "selector": ".statorbook-picture", "text": notebook.name == TEXT},
        )
        notebook.page.keyboard.press(key)
        yield notebook.page.evaluate("most => watch.timed(most)", MOST_MS)
