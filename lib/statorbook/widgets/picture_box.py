"""The box of a panel's pictures: of what stands there already only the lines that changed are sent and drawn anew."""

from difflib import SequenceMatcher
from pathlib import Path

import anywidget
from traitlets import Dict, Unicode, observe

_LIKE_STOCK_HTML = ("jupyter-widgets", "widget-html", "widget-inline-hbox")  # it stands where that stood


class PictureBox(anywidget.AnyWidget):
    """HTML with pictures, each element of a picture on a line of its own; brings `panel.js` into its panel as well."""

    _esm = Path(__file__).with_name("panel.js")
    value = Unicode()
    sent = Dict().tag(sync=True)  # "lines", all of them, or "changes" of those that the page has, numbered

    def __init__(self, **options):
        super().__init__(_dom_classes=_LIKE_STOCK_HTML, **options)

    def get_state(self, key=None, drop_defaults=False):
        """What the page is sent; a view that asks for all of the state has no lines yet, so it is given every one."""
        state = super().get_state(key=key, drop_defaults=drop_defaults)
        return state if key is not None else state | {"sent": {"lines": self.value.split("\n")}}

    @observe("value")
    def _take(self, change):
        # Numbered, since the same change may follow itself, such as one more of the same dot.
        number = self.sent.get("number", 0) + 1
        self.sent = {"changes": changes(change.old.split("\n"), change.new.split("\n")), "number": number}


def changes(old, new):
    """What makes new lines of old ones, the last first: where it begins, how many go, and what comes there."""
    found = []
    for kind, start, end, first, last in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if kind == "equal":
            continue
        alike = min(end - start, last - first)  # one for one, so that the page can tell which is which
        found += [[start + at, 1, [new[first + at]]] for at in range(alike)]
        if end - start != last - first:
            found.append([start + alike, end - start - alike, new[first + alike : last]])
    return found[::-1]
