"""A bench for rules: readings typed by hand, for how long they last, and a controller that remembers them."""

from statorbook.charging import MEASURED, SENSORS, YES_NO, TriedRules
from statorbook.widgets import NumberField, choice, stacked, tick

_LASTING = [("1 s", 1.0), ("10 s", 10.0), ("1 min", 60.0), ("10 min", 600.0), ("1 hour", 3600.0)]
_LIMITS = {"at_least": -9_999.0, "at_most": 9_999.0}


class RuleBench:
    """The bench; `on_change` is called when a reading or its time was changed."""

    def __init__(self, system, first, on_change):
        self._on_change, self._used = on_change, ()
        self._tried, self._took, self._on = None, None, {}
        self.fields = {name: self._field(name, first[name], system) for name in SENSORS}
        self.ticks = {name: tick(_capital(YES_NO[name].words), True) for name in YES_NO}
        self.lasting = choice("These readings last", _LASTING, 60.0)
        for control in (*self.ticks.values(), self.lasting):
            control.observe(on_change, "value")
        self._box = stacked([])
        self.widget = stacked([self._box, self.lasting])

    @property
    def lasting_words(self):
        """How long the readings last, such as "1 min"."""
        return self.lasting.label

    def restart(self):
        """Switch the controller off and on again."""
        self._tried = None

    def again(self):
        """Let the readings last once more when they are taken next."""
        self._took = None

    def take(self, rules):
        """The controller after these readings, what is on by name, and the readings by name, reader's units."""
        self._show(rules.inputs_used)
        readings = {name: self.fields[name].read() for name in self._used if name in self.fields}
        readings |= {name: self.ticks[name].value for name in self._used if name in self.ticks}
        lasting_s = self.lasting.value
        if self._tried is None or self._tried.rules != rules:
            self._tried, self._took = TriedRules(rules), None
        if self._took != (readings, lasting_s):  # what was saved elsewhere on the page must not let time pass here
            self._on, self._took = self._tried.take(readings, lasting_s), (readings, lasting_s)
        return self._tried, self._on, readings

    def in_units(self, system):
        """Take and show numbers in other units; what was typed is converted where it can be read."""
        for name, old in self.fields.items():
            if old.system != system:
                self.fields[name] = self._field(name, old.read(), system)
        self._used = ()

    def _field(self, name, value, system):
        measured = MEASURED[name]
        field = NumberField(_capital(measured.words), measured.unit, value, system=system, **_LIMITS)
        field.observe(self._on_change, "value")
        return field

    def _show(self, used):
        """Only what the rules read."""
        if used != self._used:
            self._used = used
            self._box.children = [(self.fields | self.ticks)[name] for name in used]


def _capital(words):
    return words[:1].upper() + words[1:]
