"""Nonsense in any field: a plain sentence, no trace of the program, and the last good picture stays."""

from itertools import cycle

import pytest

from browser.lab import WITH_PANELS

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
WORDS = "abc"  # what no field for a number can take
# Each field gets the words, and one of these in turn; every panel is given all of them without a browser.
OTHERS = ("-5", "1e999", "<b>x</b>", "12,5,6")
# Fields for words, where "abc" is as good as anything.
FREE = ("Notes", "Note", "Appliance", "Your mark", "Wires as traced", "Name of a new job", "Its name here", "Copy rows")


@pytest.mark.parametrize("opened", WITH_PANELS, indirect=True)
def test_nonsense_is_answered_in_plain_words(notebook):
    notebook.unfold()
    others = cycle(OTHERS)
    for control in notebook.controls():
        if control.kind not in ("text", "area") or control.log and not control.label.endswith(", row 1"):
            continue
        if not notebook.usable(control):
            continue
        field, before = notebook.node(control), _looks(notebook, control)
        was = field.input_value()
        for text in (WORDS, next(others)):
            _put(notebook, field, text)
            after = _looks(notebook, control)
            assert after["pictures"] == before["pictures"], f"{control.label}: {text} took the picture away"
            assert after["bold"] == 0, f"{control.label}: {text} was taken for markup"
            refused = after["crosses"] > before["crosses"]
            assert text != WORDS or refused or _is_free(control), f"{control.label}: {text} was taken without a word"
        _put(notebook, field, was)
        assert _looks(notebook, control)["crosses"] <= before["crosses"], f"{control.label}: {was} was not taken again"
        assert notebook.troubles() == [], control.label


def _put(notebook, field, text):
    field.fill(text)
    field.blur()
    notebook.settle(still_ms=0)


def _is_free(control):
    return control.label.split(", row ")[0].startswith(FREE)


def _looks(notebook, control):
    """What the panel of a control shows: crosses in front of refusals, pictures, and markup that was typed."""
    return notebook.page.evaluate(
        """cell => {
        const node = watch.panel().content.widgets[cell].node.querySelector('.jp-Cell-outputArea');
        return {crosses: node.innerText.split('✗').length,
                pictures: [...node.querySelectorAll('.statorbook-picture svg')]
                    .filter(svg => svg.getBoundingClientRect().height > 40 && svg.children.length).length,
                bold: [...node.querySelectorAll('b')].filter(bold => bold.textContent === 'x').length};
    }""",
        control.cell,
    )
