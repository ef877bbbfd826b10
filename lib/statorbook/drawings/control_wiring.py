"""The wires of a controller as a sketch: what it reads on the left, its relays on the right, what they switch below."""

from dataclasses import dataclass
from functools import cached_property
from html import escape
from textwrap import wrap

from statorbook.charging import MEASURED, OUTPUTS, ControlInput, ControlOutput, VoltsInput, VoltsRelay
from statorbook.drawings.coil_symbols import dot, moved, tag
from statorbook.drawings.control_symbols import (
    box,
    closed_contact,
    coil,
    device,
    divider,
    heater,
    lamp,
    open_contact,
    sensor,
    signal_contact,
    small_fuse,
)
from statorbook.drawings.line_symbols import line
from statorbook.drawings.stator_ring import QUIET
from statorbook.quantities import say

_WIDTH_PX, _TOP_PX, _LINE_PX = 760, 34.0, 13.0
_WORDS_PX, _SIGN_PX, _BLOCK_PX, _COIL_PX = 14.0, 232.0, (300.0, 500.0), (515.0, 588.0)
_ROW_PX, _TALL_PX = 46.0, 112.0
_COLUMN_PX, _LEFT_PX = 108.0, 58.0
_BUS_DOWN_PX, _LOADS_PX = 34.0, 300.0
_SIGNS = {"V": "U", "A": "I", "°C": "ϑ", "rpm": "n"}

_NOTES = (
    "Signs: IEC 60617, from memory. Contacts are drawn with no current in any coil. A DC coil has a diode across it,",
    "which blocks while the coil is on. What is joined to what; places, sizes and earth are the electrician's.",
)


@dataclass(frozen=True, kw_only=True)
class ControlWiring:
    """The sketch of a controller with its sensors, relays and loads; a cell may end with it.

    Parameters
    ----------
    inputs : tuple of ControlInput
        What the controller reads.
    outputs : tuple of ControlOutput
        Its relays.
    volts_input : VoltsInput
        The divider before the input for the bank's volts.
    guard : VoltsRelay or None
        The volts relay beside the controller.
    """

    inputs: tuple[ControlInput, ...]
    outputs: tuple[ControlOutput, ...]
    volts_input: VoltsInput
    guard: VoltsRelay | None = None

    @cached_property
    def _rows_px(self):
        """Middle of each input's row, and where the block ends."""
        downs, down = [], _TOP_PX + _ROW_PX
        for each in self.inputs:
            tall = each.name == "bank_volts"
            downs.append(down + (_TALL_PX if tall else _ROW_PX) / 2)
            down += _TALL_PX if tall else _ROW_PX
        return downs, max(down, _TOP_PX + _ROW_PX * (len(self.outputs) + 1))

    @property
    def height_px(self):
        """Height of the picture [px]."""
        return round(self._rows_px[1] + 50 + _LOADS_PX + 3 * 15)

    @property
    def description(self):
        """The picture in words."""
        read = "; ".join(f"{each.variable}: {each.words}" for each in self.inputs)
        switched = "; ".join(
            f"relay {each.number}, {each.contact}: {each.words}, {each.dead_words} without current"
            for each in self.outputs
        )
        beside = "A volts relay of its own stands beside it." if self.guard else "No volts relay stands beside it."
        return f"Wiring sketch of the controller. It reads {read}. It switches {switched}. {beside}"

    def svg(self):
        """The picture as an `<svg>` element without ids, so that any number of them can stand on one page."""
        height, end = self.height_px, self._rows_px[1]
        notes = [_words(14, height - 24 + 14 * at, words, 10.5, colour=QUIET) for at, words in enumerate(_NOTES)]
        parts = [*self._supply(), *self._read(), *self._coils(), *self._loads(end + 50), *notes]
        left, right = _BLOCK_PX
        block = box(left, _TOP_PX, right - left, end - _TOP_PX + 8, bold=True)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(self.description)}" '
            f'width="{_WIDTH_PX}" height="{height}" viewBox="0 0 {_WIDTH_PX} {height}" '
            f'style="max-width:100%;height:auto" font-family="DejaVu Sans, Verdana, sans-serif">\n'
            f'<rect width="{_WIDTH_PX}" height="{height}" fill="white"/>\n' + block + "\n".join(parts) + "\n</svg>"
        )

    def _supply(self):
        """Its supply, by a fuse of its own."""
        down = _TOP_PX + _ROW_PX / 2
        yield from _lines(_WORDS_PX, down, "supply, by its own fuse from the bank's plus")
        yield moved(_SIGN_PX, down, small_fuse() + line("M34 0H68"))
        yield tag((sum(_BLOCK_PX) / 2, _TOP_PX + 16), "controller", 13)

    def _read(self):
        for each, down in zip(self.inputs, self._rows_px[0], strict=True):
            if each.name == "bank_volts":
                ohms = self.volts_input.divider_words
                words = f"bank volts: {ohms}, wires of their own from the bank's own poles, fuse at the plus"
                sign = moved(0, -50, divider())
            elif each.name in MEASURED:
                words, sign = f"{each.words}: {each.sensor}", sensor(_SIGNS[MEASURED[each.name].unit])
            else:
                words, sign = f"{each.words}: {each.sensor}", signal_contact()
            yield from _lines(_WORDS_PX, down, words)
            yield moved(_SIGN_PX, down, sign + line("M60 0H68"))
            yield _words(_BLOCK_PX[0] + 6, down, each.variable, 10)

    def _coils(self):
        for at, each in enumerate(self.outputs):
            down = _TOP_PX + _ROW_PX * (at + 1.5)
            start, words = _COIL_PX
            yield moved(_BLOCK_PX[1], down, line("M0 0H15") + moved(15, 0, coil()))
            yield _words(_BLOCK_PX[1] - 6, down, each.variable, 10, anchor="end")
            yield _words(start + 62, down - 7, f"K{each.number}", 11, bold=True)
            yield _words(start + 62, down + 7, each.words, 10)

    def _loads(self, top):
        """What the contacts switch: loads of the bank between its poles, the rest on circuits of their own."""
        bank = [each for each in self.outputs if OUTPUTS[each.output].kind == "dump"]
        rest = [each for each in self.outputs if each not in bank]
        yield line(f"M{_WORDS_PX} {top}H{_LEFT_PX + _COLUMN_PX * (len(bank) - 0.2)}")
        yield line(f"M{_WORDS_PX} {top + 236}H{_LEFT_PX + _COLUMN_PX * (len(bank) - 0.2)}")
        yield tag((_WORDS_PX + 4, top - 12), "+", 14) + tag((_WORDS_PX + 4, top + 248), "−", 14)
        yield _words(_WORDS_PX + 22, top - 12, "bank, behind its fuse" + (" and KL" if self.guard else ""), 10)
        for at, each in enumerate(bank):
            yield moved(_LEFT_PX + _COLUMN_PX * at, top, self._dump(each))
        left = _LEFT_PX + _COLUMN_PX * len(bank)
        for at, each in enumerate(rest):
            yield moved(left + (_WIDTH_PX - 20 - left) / max(1, len(rest)) * at, top, self._other(each))
        if self.guard:
            yield from self._beside(top + 262)

    def _dump(self, each):
        down = dot((0, 0)) + line("M0 0V36") + moved(0, 36, _contact(each))
        down += tag((-24, 66), f"K{each.number}", 11)
        if self.guard:
            down += line("M0 20H28V36M28 86V100H0") + moved(28, 36, open_contact()) + tag((46, 66), "KH", 11)
        down += line("M0 86V112") + moved(0, 112, heater()) + line("M0 162V236") + dot((0, 236))
        return down + _below(each, 180, left=6)

    def _other(self, each):
        kind = OUTPUTS[each.output].kind
        sign = {"alarm": lamp(), "heater": heater(), "source": device("M"), "inverter": device("=/~")}[kind]
        thermostat = each.output == "water_heater"
        down = line("M0 20V36") + tag((0, 12), "~" if kind == "heater" else "+", 13) + moved(0, 36, _contact(each))
        down += tag((-24, 66), f"K{each.number}", 11)
        if thermostat:
            down += (
                moved(0, 86, closed_contact()) + tag((-22, 114), "ϑ", 12) + moved(0, 136, heater()) + line("M0 186V200")
            )
            return down + _below(each, 214, left=-30)
        return down + line("M0 86V100") + moved(0, 100, sign) + line("M0 150V164") + _below(each, 178, left=-30)

    def _beside(self, top):
        g = self.guard
        high, back = (say(value, "V", form=".3g") for value in (g.high_on_volts, g.high_off_volts))
        low, on = (say(value, "V", form=".3g") for value in (g.low_off_volts, g.low_on_volts))
        words = (
            f"Volts relay beside the controller, with its own wires and fuse: from {high} up KH closes past every dump "
            f"contact and stops the source, until {back}. From {low} down KL, a contactor in the plus of the loads and "
            f"inverter, opens, until {on}. KH and KL work without the controller."
        )
        for at, said in enumerate(wrap(words, 112)):
            yield _words(_WORDS_PX, top + 14 * at, said, 10.5)

    def _repr_svg_(self):
        return self.svg()


def _contact(each):
    return open_contact() if each.dead_words == "off" else closed_contact()


def _below(each, down, *, left):
    return "".join(_words(left, down + _LINE_PX * at, said, 10) for at, said in enumerate(wrap(each.words, 11)))


def _lines(left, down, words):
    rows = wrap(words, 34)
    for at, said in enumerate(rows):
        yield _words(left, down + _LINE_PX * (at - (len(rows) - 1) / 2), said, 10)


def _words(left, down, words, font_px, *, colour=None, anchor="start", bold=False):
    given = {"colour": colour} if colour else {}
    return tag((left, down), escape(words), font_px, anchor=anchor, bold=bold, **given)
