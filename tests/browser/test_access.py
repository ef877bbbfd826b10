"""Every page for every reader: by keyboard, by ear, on a small tablet, on a light and on a dark page.

What Lab and its stock widgets draw themselves is not ours to change; each such thing is named below with its reason.
"""

from importlib.resources import files
from pathlib import Path

import pytest

from browser.lab import EVERY_PAGE

_AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
_ACCESS = Path(__file__).with_name("access.js").read_text(encoding="utf-8")
THEMES = ("JupyterLab Light", "JupyterLab Dark")
# Width and height [px]: a laptop, a desk, a 10-inch tablet lying and standing.
SIZES = ((1280, 800), (1920, 1080), (800, 1280))
# A point is 1/72 in, a pixel of the page 1/96 in (CSS Values and Units, absolute lengths).
PX_PER_PT = 96 / 72
LEAST_PT = 9.0
LEAST_OUTLINE_PX = 2  # WCAG 2.2, success criterion 2.4.13 (from memory)
# Web Content Accessibility Guidelines 2.1, success criterion 1.4.3.
LEAST_CONTRAST = 4.5
NOT_OURS = {
    # A cell of a log has its name as a title, "Volts [V], row 3", and its column's heading in sight above it
    # (technique H65); a label in front of each cell would double the width of the grid.
    "label-title-only": ".widget-gridbox :is(input, select)"
}


@pytest.fixture
def at_ease(untouched):
    """A notebook that has been run; light and as wide as usual again when the test is done."""
    untouched.open_headings()
    yield dressed(untouched)
    untouched.fold_headings()
    if untouched.page.evaluate("() => document.body.dataset.jpThemeLight") != "true":
        in_theme(untouched, THEMES[0])
    untouched.page.set_viewport_size({"width": 1280, "height": 900})
    untouched.settle()


def dressed(notebook):
    """The same page, able to answer the questions below."""
    notebook.page.evaluate(_AXE)
    notebook.page.evaluate(_ACCESS)
    return notebook


def in_theme(notebook, theme):
    """Change the theme and wait until the page shows it."""
    light = str(theme == THEMES[0]).lower()
    notebook.page.evaluate("theme => window.jupyterapp.commands.execute('apputils:change-theme', {theme})", theme)
    notebook.page.wait_for_function("light => document.body.dataset.jpThemeLight === light", arg=light)
    notebook.settle()


def violations(notebook):
    """What axe-core finds serious or worse in the texts and outputs of the page, without what is not ours."""
    found = notebook.page.evaluate("() => access.violations()")
    return [
        (rule, html)
        for rule, html, node in found
        if rule not in NOT_OURS
        or not notebook.page.evaluate(
            "([node, own]) => document.querySelector(node).matches(own)", [node, NOT_OURS[rule]]
        )
    ]


@pytest.mark.parametrize("opened", ["00_start_here"], indirect=True)
def test_the_check_can_fail(at_ease):
    at_ease.page.evaluate("""() => { const box = document.createElement('div'); box.id = 'planted';
        box.innerHTML = '<input type="text"><p style="color:#999;background:#fff">faint</p>'
            + '<svg style="background:#fff" width="90" height="20"><text y="12" fill="#777777">grey</text></svg>'
            + '<div style="width:5000px">wide</div>';
        watch.panel().node.querySelector('.jp-RenderedMarkdown').append(box); }""")
    try:
        assert [rule for rule, _ in violations(at_ease)] == ["label"]
        # #999999 and #777777 on white are 2.85 and 4.48 : 1 by the guidelines' formula, worked out by hand.
        faint = at_ease.page.evaluate("least => access.faint(least)", LEAST_CONTRAST)
        assert [(text, round(ratio, 2)) for text, ratio in faint] == [("faint", 2.85), ("grey", 4.48)]
        assert at_ease.page.evaluate("() => access.sideways()") != []
    finally:
        at_ease.page.evaluate("() => document.getElementById('planted').remove()")


# Running a page costs more than all the questions: those that take long, and the dark theme, come with the slow tests.
@pytest.mark.parametrize("opened", EVERY_PAGE, indirect=True)
def test_a_page_is_open_to_everyone(at_ease):
    assert seen_in(at_ease, THEMES[0]) == {}
    assert at_ease.page.evaluate("() => access.wordless()") == []
    assert laid_out_in(at_ease, SIZES[-1]) == {}


@pytest.mark.slow
def test_a_page_is_open_in_the_dark_in_every_size_and_by_the_keyboard(at_ease):
    assert seen_in(at_ease, THEMES[1]) == {}
    for size in SIZES:
        assert laid_out_in(at_ease, size) == {}, size
    missed = not_reached(at_ease)
    assert [control.label for control in at_ease.controls() if control.id in missed] == []


def seen_in(notebook, theme):
    """What is wrong with names, roles and colours in a theme, by kind."""
    if theme != THEMES[0]:
        in_theme(notebook, theme)
    faint = notebook.page.evaluate("least => access.faint(least)", LEAST_CONTRAST)
    return {kind: found for kind, found in (("rules", violations(notebook)), ("faint", faint)) if found}


def laid_out_in(notebook, size):
    """What sticks out or is too small on a screen of a size, by kind."""
    notebook.page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))
    notebook.settle()
    sideways = notebook.page.evaluate("() => access.sideways()")
    small = notebook.page.evaluate("least => access.small(least)", LEAST_PT * PX_PER_PT)
    return {kind: found for kind, found in (("sideways", sideways), ("small", small)) if found}


def not_reached(notebook):
    """Numbers of the controls that the Tab key passes by, on the way from the first to the last."""
    wanted = [control.id for control in notebook.controls() if not control.disabled]
    if not wanted:
        return set()
    first, *_, last = notebook.page.evaluate("ids => access.order(ids)", wanted)
    notebook.page.locator(f'[data-control="{first}"]').focus()
    notebook.page.keyboard.press("Shift+Tab")  # the outline shows for who comes by the keyboard
    reached = set()
    for _ in range(3 * len(wanted) + 50):
        notebook.page.keyboard.press("Tab")
        found = notebook.page.evaluate("() => access.focus()")
        if found["control"] in wanted:
            assert found["outline_px"] >= LEAST_OUTLINE_PX, found
            reached.add(found["control"])
        if found["control"] == last:
            break
    return set(wanted) - reached
