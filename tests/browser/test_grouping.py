"""The slider over the groupings in the real page: stepped by the keyboard, told to the ear, and back by one press."""

import pytest

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
LABEL = "Grouping, from most volts to most amps"


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_the_arrow_keys_step_it_and_the_answer_follows(notebook):
    panel = notebook.panel("panel")
    handle = panel.widget(LABEL).locator("input")
    recommended = handle.get_attribute("aria-valuetext")
    assert recommended.endswith("recommended, above the volts you accept")
    panel.slide(LABEL, "Home")
    cell = notebook.page.evaluate("() => watch.panel().content.activeCellIndex")
    told = []
    # Volts of a lead pair in those of one coil: 12 √3 = 20.8, then 12, then 6 √3 = 10.4, then 4 √3.
    for key in ("ArrowRight", "ArrowUp", "ArrowRight", "ArrowLeft", "ArrowDown"):
        panel.slide(LABEL, key)
        told.append(handle.get_attribute("aria-valuetext").split(":")[0])
        assert told[-1] in panel.sentence
    assert told == [
        "12 in series, 1 path, delta",
        "6 in series, 2 paths, star",
        "4 in series, 3 paths, star",
        "6 in series, 2 paths, star",
        "12 in series, 1 path, delta",
    ]
    assert handle.evaluate("node => node === document.activeElement")
    # Lab did not take the keys to walk through the page.
    assert notebook.page.evaluate("() => watch.panel().content.activeCellIndex") == cell
    panel.press("Back to the recommended one")
    assert handle.get_attribute("aria-valuetext") == recommended
    assert recommended.split(":")[0] in panel.sentence
    assert notebook.troubles() == []


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_the_slider_stands_on_the_first_screen_where_the_job_has_a_bank(untouched):
    box = untouched.page.locator(".jp-NotebookPanel:visible .statorbook-stops").bounding_box()
    assert box["y"] + box["height"] < untouched.page.viewport_size["height"]


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_each_tick_stands_where_the_handle_stops(untouched):
    panel = untouched.panel("panel")
    ticks = panel.widget(LABEL).locator(".statorbook-stops-tick, .statorbook-stops-cross")
    middles = ticks.evaluate_all(
        "all => all.map(tick => { const box = tick.getBoundingClientRect(); return box.left + box.width / 2; })"
    )
    track = panel.widget(LABEL).locator("input").bounding_box()
    # The middle of a handle 18 px wide goes from 9 px inside one end to 9 px inside the other.
    way = (track["width"] - 18) / (len(middles) - 1)
    assert middles == pytest.approx([track["x"] + 9 + way * stop for stop in range(12)], abs=1.0)
