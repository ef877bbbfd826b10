"""The slider of the highest volts that the reader accepts with the bank gone."""

import ipywidgets as W
import numpy as np

from statorbook.widgets import label_with_unit, labelled

_LEAST_V, _MOST_V, _STEP_V = 20.0, 600.0, 2.0


class AcceptedVolts(W.FloatSlider):
    """The highest volts that the reader accepts with the bank gone, DC peak; starts at the volts given."""

    def __init__(self, volts):
        self._start = volts
        least = volts - _STEP_V * np.floor((volts - min(_LEAST_V, volts)) / _STEP_V)
        label = labelled(label_with_unit("Highest volts I accept with the bank gone, DC peak", "V"), kind="slider")
        most = least + _STEP_V * np.ceil((max(_MOST_V, 2.0 * volts) - least) / _STEP_V)
        super().__init__(value=volts, min=least, max=most, step=_STEP_V, readout_format=".0f", **label)

    @property
    def moved(self):
        """Whether the reader has moved it."""
        return abs(self.value - self._start) > 1e-6
