"""The Enter key in a log: it keeps the cell and goes to the same column one row down, with Shift one row up."""

from pathlib import Path

import anywidget
import ipywidgets as W
from traitlets import Unicode

LOG_CLASS = "statorbook-log"


class LogKeys(anywidget.AnyWidget):
    """Brings `grid_keys.js` into the page; shows nothing, and stands beside a grid that has the class `LOG_CLASS`."""

    _esm = Path(__file__).with_name("grid_keys.js")
    log_class = Unicode(LOG_CLASS).tag(sync=True)

    def __init__(self):
        super().__init__(layout=W.Layout(display="none"))
