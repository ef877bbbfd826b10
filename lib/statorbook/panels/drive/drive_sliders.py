"""Sliders in the reader's units: whatever a drive says may be turned, and temperatures."""

from math import ceil, floor, log10

import ipywidgets as W

from statorbook.drives import with_quantities
from statorbook.quantities import from_shown, shown_unit, to_shown
from statorbook.widgets import label_with_unit, labelled


class QuantitySlider(W.FloatSlider):
    """A slider for a `drives.quantity.Quantity`, in the reader's units."""

    def __init__(self, quantity, system="metric"):
        self._quantity, self._system = quantity, system
        now, low, high = (self._shown(value) for value in (quantity.value, quantity.low, quantity.high))
        step = _round_step(self._shown(quantity.low + quantity.step) - low)
        # The value lies on a step: the page rounds one that does not, and it would be saved rounded.
        least = now - step * floor((now - min(low, now)) / step + 1e-9)
        unit = shown_unit(quantity.unit, system, quantity.label)
        digits = max(quantity.digits, -floor(log10(step)))
        most = least + step * ceil((max(high, 2.0 * now) - least) / step)
        label = labelled(label_with_unit(quantity.label, unit), kind="slider")
        super().__init__(value=now, min=least, max=most, step=step, readout_format=f".{digits}f", **label)
        self._start = self.value

    def read(self):
        """Where it stands in the quantity's own unit, exactly its value until it is moved [unit]."""
        if abs(self.value - self._start) < 1e-3 * self.step:
            return self._quantity.value
        return float(f"{from_shown(self.value, self._quantity.unit, self._system, self._quantity.label):.9g}")

    def _shown(self, value):
        return float(to_shown(value, self._quantity.unit, self._system, self._quantity.label))


class TemperatureSlider(W.FloatSlider):
    """A slider for a temperature in steps of 5 °C, shown in the reader's units."""

    def __init__(self, label, value_c, low_c, high_c, system="metric"):
        self._system = system
        # The same steps in both units, 5 °C or 9 °F, so that both readers can set the same temperature.
        value, low, high, next_one = (
            to_shown(stop_c, "°C", system) for stop_c in (value_c, low_c, high_c, low_c + 5.0)
        )
        step = round(next_one - low, 9)
        # The value lies on a step: the page rounds one that does not.
        low = value - step * floor((value - min(low, value)) / step + 1e-9)
        super().__init__(
            value=value,
            min=low,
            max=max(high, value),
            step=step,
            readout_format=".0f",
            **labelled(label_with_unit(label, shown_unit("°C", system)), kind="slider"),
        )

    def read(self):
        """Temperature where it stands [°C]."""
        return float(f"{from_shown(self.value, '°C', self._system):.9g}")


def _round_step(step):
    """1, 2 or 5 times a power of ten, nearest below or at the step."""
    decade = 10.0 ** floor(log10(step) + 1e-9)
    return max(factor * decade for factor in (1.0, 2.0, 5.0) if factor * decade <= step * (1.0 + 1e-9))


class DriveSliders:
    """Sliders for the quantities of one drive."""

    def __init__(self, drive, system="metric"):
        self._drive = drive
        self.sliders = {quantity.field: QuantitySlider(quantity, system) for quantity in drive.quantities}

    @property
    def standing(self):
        """Where every slider stands, by the drive's field, in its own unit [unit]."""
        return {name: slider.read() for name, slider in self.sliders.items()}

    @property
    def values(self):
        """What was moved away from the drive, by its field, in its own unit [unit]."""
        kept = {quantity.field: quantity.value for quantity in self._drive.quantities}
        return {name: value for name, value in self.standing.items() if value != kept[name]}

    def drive(self):
        """The drive with the sliders as they stand; the drive itself while nothing was moved."""
        return with_quantities(self._drive, self.values)
