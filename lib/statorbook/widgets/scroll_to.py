"""The place of a picture that its box shows: what a step is about is in sight without a hand on the scroll bar."""

from itertools import count
from pathlib import Path

import anywidget
import ipywidgets as W
from traitlets import Float, Unicode

_NUMBERS = count(1)


class ScrollTo(anywidget.AnyWidget):
    """Brings `scroll_to.js` into the page for the picture whose widget has the class `picture_class`; shows nothing."""

    _esm = Path(__file__).with_name("scroll_to.js")
    picture_class = Unicode().tag(sync=True)
    across = Float(0.5).tag(sync=True)  # of the picture's width, from its left
    down = Float(0.5).tag(sync=True)  # of its height, from its top

    def __init__(self):
        super().__init__(picture_class=f"statorbook-scrolled-{next(_NUMBERS)}", layout=W.Layout(display="none"))

    def show(self, across, down):
        """Bring a place into the middle of the box.

        Parameters
        ----------
        across : float
            Of the picture's width, from its left [-].
        down : float
            Of its height, from its top [-].
        """
        with self.hold_sync():
            self.across, self.down = across, down
