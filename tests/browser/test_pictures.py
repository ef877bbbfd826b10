"""What a move changes in a panel, and what it leaves alone: the parts of a picture, where a table is scrolled to."""

import re

import pytest

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
_BETWEEN = re.compile(r">\s+<")  # what removed lines leave behind
# What the kernel holds, as the browser writes it.
_AFRESH = """async code => {
    const words = [], asked = watch.panel().sessionContext.session.kernel.requestExecute({code});
    asked.onIOPub = message => words.push(message.content.text || message.content.evalue || '');
    await asked.done;
    const box = document.createElement('div');
    box.innerHTML = words.join('');
    return box.innerHTML;
}"""
_MARK = "node => { node.dataset.stays = 'yes'; }"


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_after_moves_the_picture_is_the_whole_one_and_its_frame_was_left_alone(notebook):
    panel = notebook.panel("panel")
    box = panel.cell.locator(".statorbook-picture").first
    box.locator("svg > path").first.evaluate(_MARK)  # the ground of the picture, which nothing changes
    # More dots and fewer, another scale, another length of the words on the picture.
    for label, key, times in (
        ("Grouping, from most volts to most amps", "ArrowLeft", 2),
        ("Net head [m]", "ArrowRight", 4),
        ("Winding at work [°C]", "ArrowLeft", 3),
        ("Grouping, from most volts to most amps", "ArrowRight", 5),
        ("Highest volts I accept with the bank gone, DC peak [V]", "ArrowLeft", 2),
    ):
        for _ in range(times):
            panel.slide(label, key)
            shown = box.locator(".widget-html-content").inner_html()
            assert shown.count(' data-stays="yes"') == 1, label
            whole = notebook.page.evaluate(_AFRESH, "print(panel.panel.picture_box.value)")
            assert _plain(shown.replace(' data-stays="yes"', "")) == _plain(whole), label
    assert notebook.troubles() == []


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_a_table_stays_where_it_was_scrolled_to(notebook):
    notebook.unfold()
    panel = notebook.panel("panel")
    box = panel.cell.locator("[role=region]:has(table)").first
    box.evaluate("box => { box.scrollLeft = 70; box.scrollTop = 50; }")
    before = box.inner_html()
    panel.slide("Net head [m]", times=2)
    assert box.inner_html() != before
    assert box.evaluate("box => [box.scrollLeft, box.scrollTop]") == [70, 50]


def _plain(markup):
    return _BETWEEN.sub("><", markup).strip()
