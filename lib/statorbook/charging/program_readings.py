"""The upper half of the controller's text: what it reads, under which names, and what it makes of it."""

from statorbook.charging.control import MEASURED, NOT, VALID, YES_NO
from statorbook.charging.rule_words import input_words

_VOLTS, _VOLTS_25, _CELL = "bank_volts", "bank_volts_25", "cell_c"


def input_variable(name, *, counts=False):
    """The program's variable of an input by its name, such as "in_bank_mv"; of its counts where it gives counts."""
    if name in YES_NO:
        return f"in_{name}"
    return "in_bank_counts" if counts and name == _VOLTS else f"in_{_short(name)}"


def _short(name):
    """What a measured value is called behind its prefix: its unit stands at the end."""
    prefix = MEASURED[name].prefix
    return f"bank_25_{prefix}" if name == _VOLTS_25 else f"{name.rpartition('_')[0]}_{prefix}"


class Readings:
    """What a program reads and makes of it: declarations as pairs of code and comment, statements as lines."""

    def __init__(self, rules, volts_input=None):
        self._rules, self._used, self._input = rules, rules.inputs_used, volts_input
        self.counts = volts_input is not None and volts_input.gives_counts and _VOLTS in self._used
        named = {name.removeprefix(NOT) for rule in rules.rules for name in (rule.input, *rule.only_if)}
        self._compensated = rules.compensation_code != 0 and _VOLTS_25 in named
        checked = {_sensor(name) for name in named if name.endswith(VALID)} | ({_CELL} if self._compensated else set())
        self._checked = [name for name in MEASURED if name in checked]

    def inputs(self):
        """What comes from outside."""
        for name in self._used:
            variable = input_variable(name, counts=self.counts)
            if name in YES_NO:
                yield f"{variable} : BOOL := FALSE", YES_NO[name].words
            else:
                unit = "counts" if variable == "in_bank_counts" else MEASURED[name].code_unit
                yield f"{variable} : DINT := 0", f"{MEASURED[name].words}, {unit}"

    def constants(self):
        """Scaling, the limits of what sensors can give, compensation."""
        if self.counts:
            top, bottom = self._input.scale
            yield f"cfg_scale_top : DINT := {top}", "millivolts = counts x top / bottom"
            yield f"cfg_scale_bottom : DINT := {bottom}", ""
        for name in filter(self._ranged, self._checked):
            least, most = self._rules.range_codes(name)
            yield f"cfg_least_{_short(name)} : DINT := {least}", f"{MEASURED[name].words}: a sound sensor gives no less"
            yield f"cfg_most_{_short(name)} : DINT := {most}", f"{MEASURED[name].words}: a sound sensor gives no more"
        if self._compensated:
            yield f"cfg_compensation : DINT := {self._rules.compensation_code}", "mV of the bank for each K over 25 °C"

    def _ranged(self, name):
        """Whether it was said what the sensor can give; if not, it counts as sound."""
        return self._rules.said_range(name) is not None

    def values(self):
        """What is worked out from the readings."""
        if self.counts:
            yield "val_bank_mv : DINT := 0", "bank volts, mV"
        if self._compensated:
            yield "val_warmer_dc : DINT := 0", "how much warmer than 25 °C the cells are, 0.1 °C"
            yield "val_bank_25_mv : DINT := 0", "bank volts as at 25 °C, mV"
        for name in self._checked:
            yield f"ok_{_short(name)} : BOOL := FALSE", input_words(name + VALID)

    def statements(self):
        """How it is worked out."""
        if self.counts:
            yield "val_bank_mv := (in_bank_counts * cfg_scale_top) / cfg_scale_bottom;"
        for name in self._checked:
            value, short = self.value(name), _short(name)
            within = f"({value} >= cfg_least_{short}) AND ({value} <= cfg_most_{short})"
            yield f"ok_{short} := {within if self._ranged(name) else 'TRUE'};"
        if self._compensated:
            yield from (
                "val_warmer_dc := 0;",
                "IF ok_cell_dc THEN",
                "    val_warmer_dc := in_cell_dc - 250;",
                "END_IF;",
            )
            yield f"val_bank_25_mv := {self.value(_VOLTS)} - ((cfg_compensation * val_warmer_dc) / 10);"

    def value(self, name):
        """The variable of a reading, of a yes or no, or of whether a reading is valid."""
        if name.endswith(VALID):
            return f"ok_{_short(_sensor(name))}"
        if name == _VOLTS_25:
            return "val_bank_25_mv" if self._compensated else self.value(_VOLTS)
        return "val_bank_mv" if name == _VOLTS and self.counts else input_variable(name)

    def is_reading(self, name):
        """Whether a guard's name is of a reading, not of a rule."""
        return name in YES_NO or name.endswith(VALID)


def _sensor(name):
    """The sensor behind the name of what is valid: volts as at 25 °C come from those of the bank."""
    measured = name.removesuffix(VALID)
    return _VOLTS if measured == _VOLTS_25 else measured
