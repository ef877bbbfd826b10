"""Finding one's way: a page's caution, its folds, the buttons at its end."""

import nbformat
import pytest
from nbformat.v4 import new_markdown_cell, new_notebook

from browser.test_access import LEAST_CONTRAST, LEAST_OUTLINE_PX, THEMES, dressed, in_theme, violations
from house.pages import ways_of
from house.sources import NOTEBOOKS

# Web Content Accessibility Guidelines 2.2, success criteria 1.4.11 and 2.5.5 (from memory).
LEAST_SIGN_CONTRAST, LEAST_PX = 3, 44
SHOWN = ".jp-NotebookPanel:visible"
WAY, UNFOLD = f"{SHOWN} a.statorbook-way", f"{SHOWN} .jp-showHiddenCellsButton"
LOOK = """node => { const own = getComputedStyle(node), box = node.getBoundingClientRect();
    return {border: own.borderLeftColor, border_px: parseFloat(own.borderLeftWidth), ground: own.backgroundColor,
            page: getComputedStyle(document.body).getPropertyValue('--jp-layout-color0'), tall_px: box.height}; }"""
PAGE = [
    "# A page",
    '<div class="statorbook-caution">\n\n**Caution:** hands off *while it turns*.\n\n</div>',
    "## How this is worked out",
    "Behind the fold.",
    '## Go on\n\n<a class="statorbook-way" href="01_know_your_stator.ipynb">Next: Know your stator</a>',
]


@pytest.fixture
def made(lab, browser):
    """A page of few cells with a caution, a fold and a way on; light again and gone when the test is done."""
    page = new_notebook(cells=[new_markdown_cell(text) for text in PAGE])
    page.cells[2].metadata["jp-MarkdownHeadingCollapsed"] = True
    page.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3"}
    file = lab.root / "notebooks" / "made_for_a_test.ipynb"
    nbformat.write(page, file)
    browser.open(file.stem)
    browser.page.locator(WAY).wait_for()
    dressed(browser)
    yield browser
    in_theme(browser, THEMES[0])
    browser.close()
    file.unlink()


def press(browser, locator, key="Enter"):
    """Reach something by the keyboard, and press a key on it; how wide its outline is meanwhile [px]."""
    locator.focus()
    browser.page.keyboard.press("Shift+Tab")
    browser.page.keyboard.press("Tab")
    assert locator.evaluate("node => node === document.activeElement")
    outline_px = browser.page.evaluate("() => access.focus().outline_px")
    browser.page.keyboard.press(key)
    return outline_px


def is_on(browser, name):
    """Wait until a page is the one in front."""
    browser.page.wait_for_function(
        "name => { const panel = watch.panel(); return panel && panel.context && panel.context.path.endsWith(name); }",
        arg=f"/{name}.ipynb",
    )


@pytest.mark.parametrize("theme", THEMES)
def test_a_caution_a_fold_and_a_way_on_stand_out_in_both_themes(made, theme):
    in_theme(made, theme)
    box = made.page.locator(f"{SHOWN} .statorbook-caution")
    assert box.inner_text().strip() == "Caution: hands off while it turns."
    for locator, least_px in ((box, 0), (made.page.locator(WAY), LEAST_PX), (made.page.locator(UNFOLD), LEAST_PX)):
        look = locator.evaluate(LOOK)
        assert look["tall_px"] >= least_px and look["border_px"] >= 2, look
        ratio = made.page.evaluate("([one, other]) => access.ratio(one, other)", [look["border"], look["page"]])
        assert ratio >= LEAST_SIGN_CONTRAST, look
    assert made.page.evaluate("least => access.faint(least)", LEAST_CONTRAST) == []
    assert violations(made) == []


def test_a_fold_says_so_and_opens_by_the_keyboard(made):
    behind = made.page.locator(f"{SHOWN} .jp-MarkdownOutput p").get_by_text("Behind the fold.")
    assert not behind.is_visible()
    words = made.page.locator(f"{UNFOLD} > div").evaluate("node => getComputedStyle(node, '::after').content")
    assert words == '"Unfold"'
    assert press(made, made.page.locator(UNFOLD)) >= LEAST_OUTLINE_PX
    behind.wait_for()


@pytest.mark.parametrize("how", ["mouse", "Enter"])
def test_a_way_on_opens_its_page_in_the_same_window(made, how):
    way = made.page.locator(WAY)
    if how == "mouse":
        way.click()
    else:
        assert press(made, way, how) >= LEAST_OUTLINE_PX
    is_on(made, "01_know_your_stator")
    assert len(made.page.context.pages) == 1
    made.close()


@pytest.mark.slow
def test_the_buttons_lead_through_all_pages_and_back(browser):
    pages = [nbformat.read(path, as_version=4) for path in NOTEBOOKS]
    browser.open(NOTEBOOKS[0].stem)
    for word, order in (("Next", pages), ("Back", pages[::-1])):
        for page in order[:-1]:
            file, _, name = next(way for way in ways_of(page) if way[1] == word)
            browser.page.locator(WAY).get_by_text(f"{word}: {name}", exact=True).click()
            is_on(browser, file.removesuffix(".ipynb"))
            assert browser.page.locator(f"{SHOWN} h1").first.inner_text().rstrip("¶") == name
    assert len(browser.page.context.pages) == 1
