"""Where a panel's parts stand in the page: on a wide one inputs left of the answer, in sight while it passes."""

import pytest

WIDE, NARROW = (1280, 1100), (1000, 800)  # width of the window [px]
ON_SCREEN_PX = 900
GROWN_PX = 60
PANELS = {"00_start_here": "QuickPanel(", "03_what_turns_it": "DrivePanel(job)", "04_choose_a_grouping": "SettlePanel("}
PAGES = [pytest.param(name, marks=() if name.startswith("04") else pytest.mark.slow) for name in PANELS]
FOLD = "Where the watts go, step by step"


@pytest.fixture
def panel(untouched):
    """The panel of the page; the window is as wide as usual again when the test is done."""
    untouched.open_headings()
    yield untouched.panel(PANELS[untouched.name])
    widened(untouched, WIDE[0])
    untouched.fold_headings()


def widened(notebook, width_px):
    notebook.page.set_viewport_size({"width": width_px, "height": ON_SCREEN_PX})
    notebook.settle()


def box(panel, part):
    """Edges of a part of the panel in the window [px]."""
    return panel.cell.locator(f".statorbook-{part}").first.evaluate(
        "node => { const {left, right, top, bottom, width} = node.getBoundingClientRect();"
        " return {left, right, top, bottom, width}; }"
    )


@pytest.mark.parametrize("opened", PAGES, indirect=True)
def test_inputs_stand_left_of_the_answer_on_a_wide_page_and_above_it_on_a_narrow_one(untouched, panel):
    for width_px in WIDE:
        widened(untouched, width_px)
        assert box(panel, "inputs")["right"] < box(panel, "sentence")["left"], width_px
        assert box(panel, "inputs")["right"] < box(panel, "picture")["left"], width_px
        assert abs(box(panel, "inputs")["top"] - box(panel, "answer")["top"]) < 1, width_px
    for width_px in NARROW:
        widened(untouched, width_px)
        assert box(panel, "inputs")["bottom"] <= box(panel, "sentence")["top"], width_px
        assert box(panel, "inputs")["left"] == box(panel, "answer")["left"], width_px


@pytest.mark.parametrize("opened", PAGES, indirect=True)
def test_a_label_stands_above_its_control_which_is_as_wide_as_the_column(untouched, panel):
    column = box(panel, "inputs")
    for control in untouched.controls():
        node = untouched.node(control)
        inside = node.evaluate("node => Boolean(node.closest('.statorbook-inputs'))")
        if control.kind not in ("text", "choice") or not inside:
            continue
        label, field = node.evaluate(
            "node => [node.closest('.jupyter-widgets').querySelector('.widget-label'), node]"
            ".map(part => { const {top, bottom, width} = part.getBoundingClientRect(); return {top, bottom, width}; })"
        )
        assert label["bottom"] <= field["top"] + 1, control.label
        assert field["width"] > 0.95 * column["width"], control.label


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_the_controls_stay_in_sight_while_the_answer_passes(untouched, panel):
    before = box(panel, "inputs")["top"]
    scrolled = untouched.page.evaluate(
        """panel => { const box = watch.scroller(), top = box.getBoundingClientRect().top;
        box.scrollTop += panel.getBoundingClientRect().top - top + 200; return top; }""",
        panel.cell.locator(".statorbook-answer").first.element_handle(),
    )
    inputs, answer = box(panel, "inputs"), box(panel, "answer")
    # The answer has gone 200 px over the upper edge, the inputs stand at it.
    assert abs(answer["top"] - scrolled + 200) < 2 and abs(inputs["top"] - scrolled) < 2 and before != inputs["top"]
    assert inputs["bottom"] <= answer["bottom"] + 1


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_a_fold_opens_by_the_keyboard_and_stays_open_while_a_slider_moves(notebook):
    notebook.open_headings()
    panel = notebook.panel(PANELS[notebook.name])
    fold = panel.cell.locator(".statorbook-fold details").filter(has_text=FOLD)
    assert fold.evaluate("fold => fold.open") is False and fold.locator("svg").count() == 0
    fold.locator("summary").press("Enter")
    notebook.settle()
    first = fold.locator("svg").inner_html()
    panel.slide("Net head [m]")
    assert fold.evaluate("fold => fold.open") is True and fold.locator("svg").inner_html() != first
    fold.locator("summary").press("Enter")
    notebook.settle()
    panel.slide("Net head [m]")
    assert fold.evaluate("fold => fold.open") is False and notebook.troubles() == []


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_a_changed_answer_is_told_to_who_listens_and_what_it_was(notebook):
    notebook.open_headings()
    panel = notebook.panel(PANELS[notebook.name])
    sentence = panel.cell.locator(".statorbook-sentence").first
    before, node = panel.sentence, sentence.element_handle()
    panel.slide("Net head [m]")
    # A screen reader follows the node: it has to be the same one before and after.
    assert node.evaluate("node => node.isConnected && node.matches('[aria-live=polite][aria-atomic=true]')")
    assert before != panel.sentence and "Before: power" in panel.words
    assert panel.widget("Net head [m]").locator(".noUi-handle").get_attribute("aria-label") == "Net head [m]"


def grown(browser, control):
    """Let what stands in sight above a control grow by as much; how far the control then went on the screen [px]."""
    before = browser.page.evaluate("id => watch.at(id)[1]", control.id)
    browser.node(control).evaluate(
        """(node, px) => { const block = document.createElement('div'), box = node.closest('.statorbook-panel');
        block.style.cssText = `flex: none; height: ${px}px`;
        const row = [...box.children].find(child => child.contains(node));
        row.before(block); }""",
        GROWN_PX,
    )
    browser.settle()
    return browser.page.evaluate("id => watch.at(id)[1]", control.id) - before


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_what_the_hand_is_on_stays_there_while_the_page_grows_above_it(notebook):
    notebook.unfold()
    save = next(control for control in notebook.controls() if control.label == "Save the bank")
    notebook.node(save).evaluate("node => node.scrollIntoView({block: 'center'})")
    assert grown(notebook, save) == GROWN_PX  # no hand is on it yet
    notebook.node(save).click()
    notebook.settle()
    assert abs(grown(notebook, save)) <= 1
    notebook.page.mouse.wheel(0, 3)
    notebook.settle()
    assert grown(notebook, save) == GROWN_PX  # the reader has left it
