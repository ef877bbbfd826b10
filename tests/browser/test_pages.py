"""Every page in a real JupyterLab: it opens, runs without a fault, and every control can be touched."""

import pytest

from browser.lab import EVERY_PAGE, WITH_PANELS
from browser.page import HEIGHT_PX, stands

MOST_JUMP_PX = 3
LEADS_AWAY = ("type it",)  # to the field that it names


def test_the_workbook_opens_on_its_first_page(browser):
    assert browser.landed_on == "00_start_here"
    assert browser.greeted_by == []  # no dialog to be answered first


@pytest.mark.parametrize("opened", EVERY_PAGE, indirect=True)
def test_it_runs_without_a_fault(untouched, kept_in):
    files = untouched.picture(kept_in / untouched.name)
    assert untouched.moved_px == 0  # the reader is still where they pressed
    assert untouched.troubles() == []
    assert untouched.complaints() == []
    assert all(file.stat().st_size > 10_000 for file in files)


@pytest.mark.slow
@pytest.mark.parametrize("opened", ["05_cut_and_join"], indirect=True)
def test_a_run_leaves_the_reader_far_down_the_page(notebook):
    notebook.open("05_cut_and_join")  # with stored pictures
    far_px = notebook.page.evaluate("() => watch.scroller().scrollTop = 0.4 * watch.scroller().scrollHeight")
    assert far_px > HEIGHT_PX  # the outputs above are taken away and come back
    notebook.run()
    assert notebook.moved_px == 0


@pytest.mark.slow
@pytest.mark.parametrize("opened", WITH_PANELS, indirect=True)
def test_every_control_can_be_touched(notebook):
    notebook.unfold()
    touched = [control for control in notebook.controls() if control.kind in TOUCHES and _is_one_of_few(control)]
    # Buttons last: they act on what the other controls hold.
    for control in sorted(touched, key=lambda control: control.kind == "button"):
        if not (control := notebook.again(control)):
            continue
        for step in TOUCHES[control.kind](notebook, control):
            assert step == "", f"{notebook.name}, {control.label}: {step}"
        assert notebook.troubles() == [], f"{notebook.name}, {control.label}"


def _is_one_of_few(control):
    """Of a log the first row: the others are the same widgets again."""
    return not control.log or control.label.endswith(", row 1")


def _type(notebook, control):
    field = notebook.node(control)
    before = field.input_value()
    for text in (_other(before), before):
        yield from _moved(notebook, control, lambda text=text: (field.fill(text), field.blur()))


def _other(text):
    """A number near the one that stands there, or the words with one more."""
    try:
        return f"{1.02 * float(text):.4g}" if "." in text else str(int(text) + 1)
    except ValueError:
        return f"{text} 7".strip()


def _choose(notebook, control):
    field = notebook.node(control)
    before, count = field.evaluate("list => [list.selectedIndex, list.options.length]")
    for index in ((before + 1) % count, before):
        yield from _moved(notebook, control, lambda index=index: field.select_option(index=index))


def _slide(notebook, control):
    handle = notebook.node(control)
    before, _, most = stands(handle)
    there, back = ("ArrowRight", "ArrowLeft") if before < most else ("ArrowLeft", "ArrowRight")
    yield from _moved(notebook, control, lambda: handle.press(there))
    yield "" if stands(handle)[0] != before else "the slider did not move"
    yield from _moved(notebook, control, lambda: handle.press(back))
    yield "" if stands(handle)[0] == before else "the slider did not come back"


def _tick(notebook, control):
    for _ in range(2):
        yield from _moved(notebook, control, notebook.node(control).click)


def _press(notebook, control):
    for jump in _moved(notebook, control, notebook.node(control).click):
        yield "" if control.label in LEADS_AWAY else jump


def _moved(notebook, control, act):
    """Do something to a control, and say whether the page jumped under the reader's hand."""
    if not notebook.usable(control):
        return
    notebook.node(control).evaluate("node => node.scrollIntoView({block: 'center'})")
    before = notebook.page.evaluate("id => watch.at(id)", control.id)
    act()
    notebook.settle()
    after = notebook.page.evaluate("id => watch.at(id)", control.id)
    if after[1] is None:
        return
    # What grows above a control pushes it down, or is scrolled by: it jumps only where both move.
    jump = min(abs(new - old) for old, new in zip(before, after, strict=True))
    yield "" if jump <= MOST_JUMP_PX else f"the page jumped by {jump:.0f} px"


TOUCHES = {"text": _type, "area": _type, "choice": _choose, "slider": _slide, "tick": _tick, "button": _press}
