"""A slider over named stops, with a strip under its track: one stop marked, some crossed out, some beyond a wall."""

from pathlib import Path

import anywidget
import ipywidgets as W
from traitlets import Int, List, TraitError, Unicode, validate

from statorbook.widgets.controls import WIDEST

_WIDTH_EM = 44


class Stops(anywidget.AnyWidget):
    """A slider whose stops are things with names; a range input of the browser, so that keyboard and ear know it.

    Parameters
    ----------
    label : str
        What is chosen.
    stops : sequence of str
        The name of each stop, from the left end to the right one.
    ends : tuple of str
        What lies at the left and at the right end.
    """

    _esm = Path(__file__).with_name("stops.js")
    _css = Path(__file__).with_name("stops.css")
    label = Unicode().tag(sync=True)
    stops = List(Unicode()).tag(sync=True)
    ends = List(Unicode()).tag(sync=True)
    value = Int(0, help="where it stands, counted from 0").tag(sync=True)
    remarks = List(Unicode(), help="what is said of each stop beside its name").tag(sync=True)
    marked = Int(-1, help="the stop with the mark; -1 without").tag(sync=True)
    mark_words = Unicode(help="what the mark says").tag(sync=True)
    crossed = List(Int(), help="the stops with a cross in place of a tick").tag(sync=True)
    beyond = Int(0, help="how many stops, from the left, lie beyond the wall").tag(sync=True)
    note = Unicode(help="a line under the strip that says what wall and crosses are").tag(sync=True)

    def __init__(self, label, stops, ends=("", "")):
        look = {"width": f"{_WIDTH_EM}em", "max_width": WIDEST}
        super().__init__(label=label, stops=list(stops), ends=list(ends), layout=W.Layout(**look))

    @validate("value")
    def _is_a_stop(self, proposal):
        if not 0 <= proposal["value"] < len(self.stops):
            raise TraitError(f"a stop from 0 to {len(self.stops) - 1} is allowed, {proposal['value']} was given")
        return proposal["value"]
