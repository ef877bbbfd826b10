"""The Enter key in a log: it keeps the cell and goes to the next one to fill, with Shift to the one before."""

from pathlib import Path

import anywidget
import ipywidgets as W
from traitlets import Unicode

from statorbook.widgets.grid_row import NEEDED, SIGN, WORDS

LOG_CLASS = "statorbook-log"
# The verdict stays at the left edge while the log scrolls sideways, and what is said of a row stays in sight.
_LOOK = f"""
.{LOG_CLASS} > .{SIGN} {{position: sticky; left: 0; z-index: 1; align-self: stretch; margin: 0; white-space: nowrap;
  background: var(--jp-layout-color0, #fff)}}
.{LOG_CLASS} > .{WORDS} {{position: sticky; left: 0; justify-self: start; max-width: min(66ch, 80vw)}}
"""


class LogKeys(anywidget.AnyWidget):
    """Brings `grid_keys.js` into the page; shows nothing, and stands beside a grid that has the class `LOG_CLASS`."""

    _esm = Path(__file__).with_name("grid_keys.js")
    _css = _LOOK
    log_class, needed_class = Unicode(LOG_CLASS).tag(sync=True), Unicode(NEEDED).tag(sync=True)

    def __init__(self):
        super().__init__(layout=W.Layout(display="none"))
