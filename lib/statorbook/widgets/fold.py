"""A fold: something that is closed at first, and stays as the reader left it whatever is put into it."""

from pathlib import Path

import anywidget
from traitlets import Bool, Unicode


class Fold(anywidget.AnyWidget):
    """HTML under the name of what is inside; a press, Enter or the space bar opens and closes it.

    Parameters
    ----------
    name : str
        What is inside.
    """

    _esm = Path(__file__).with_name("fold.js")
    name = Unicode().tag(sync=True)
    value = Unicode().tag(sync=True)
    is_open = Bool(False).tag(sync=True)

    def __init__(self, name):
        super().__init__(name=name)
        self.add_class("statorbook-fold")
