"""What stands on the single line of a plant, from what turns it down to the bank: each sign with its words."""

from dataclasses import dataclass

from statorbook.drawings.coil_symbols import moved, tag
from statorbook.drawings.line_symbols import (
    SIGN_PX,
    battery,
    branch,
    conductors,
    contact,
    converter,
    earth,
    fuse,
    generator,
    joined,
    line,
    load_switch,
    resistor,
    source,
)
from statorbook.drives import Engine, KnownSpeed, Pedals, WindRotor
from statorbook.protection import parts_to_buy
from statorbook.quantities import say

_SOURCES = {WindRotor: "rotor", Engine: "engine", Pedals: "pedals", KnownSpeed: "shaft"}
_WATER = "runner"
_SHORT_PX, _LONG_PX = 84.0, 122.0  # rows with a branch of one sign, and of two


@dataclass(frozen=True, kw_only=True)
class LineRow:
    """One sign on the line with its words."""

    sign: str
    words: tuple  # of pairs: a name, and what is said behind it
    height_px: float = SIGN_PX
    box: str = ""  # the enclosure that it stands in


def line_rows(plant):
    """The rows from top to bottom."""
    parts = {part.key: part for part in parts_to_buy(plant)}
    numbers = {key: number for number, key in enumerate(parts, start=1)}

    def named(*keys):
        there = [key for key in keys if key in parts]
        return tuple((f"{numbers[key]} {parts[key].name}", parts[key].brief) for key in there)

    at_bank = not plant.run.is_dc
    run = LineRow(sign=conductors(plant.run.wires), words=named("cable"))
    between = plant.conditions.converter
    rows = (
        *_machine(plant),
        LineRow(sign=conductors(3, _SHORT_PX) + _brake(), words=named("brake"), height_px=_SHORT_PX),
        run if at_bank else None,
        LineRow(sign=converter("3 ~", "="), words=named("rectifier", "heat sink"), box="rectifier"),
        _over_voltage(named("over-voltage load")),
        LineRow(sign=converter("=", "="), words=(("Converter", _survives(between)),)) if between else None,
        None if at_bank else run,
        LineRow(sign=load_switch(), words=named("switch"), box="bank"),
        LineRow(sign=fuse(), words=named("fuse"), box="bank"),
        *_bank(plant, named("dump load")),
    )
    return tuple(filter(None, rows))


def _machine(plant):
    word = next((word for kind, word in _SOURCES.items() if isinstance(plant.drive, kind)), _WATER)
    stator, grouping = plant.machine.stator, plant.grouping.label
    volts, _ = plant.open_volts(plant.runaway_rpm)
    fastest = f"runs away at up to {say(float(f'{plant.runaway_rpm:.2g}'), 'rpm')}, {volts:.0f} V AC between leads"
    frame = line("M-27 32H-110V38", "3 3") + moved(-110, 38, earth()) + tag((-132, 48), "?", 15)
    return (
        LineRow(sign=source(word), words=((word.capitalize(), fastest),), height_px=69.0),
        LineRow(
            sign=generator() + frame, words=(("Generator", f"{stator.slots} slots, {stator.poles} poles; {grouping}"),)
        ),
    )


def _brake():
    return branch((contact(wires=3), 50.0), (joined(), 0.0))


def _over_voltage(words):
    """The load that acts by itself; the line alone where the plant needs none."""
    if not words:
        return LineRow(sign=conductors(2), words=(), box="rectifier")
    sign = conductors(2, _LONG_PX) + branch((contact(words="U >"), 50.0), (resistor(), 50.0))
    return LineRow(sign=sign, words=words, height_px=_LONG_PX, box="rectifier")


def _survives(converter):
    return f"input at most {converter.survives_dc_volts:g} V DC"


def _bank(plant, dump):
    limit, bank = plant.machine.setting.device_max_volts, plant.bank
    stands = f"at most {limit:g} V DC" if limit else "highest DC volts not known: read the label"
    loads = (("Inverter and loads", f"{stands}; at the bank's own poles, by a fuse of their own"), *dump)
    said = f"{bank.cells} cells of {bank.chemistry}, {bank.capacity_ah:g} Ah, {bank.half_volts:.0f} V half full"
    minus = line("M0 0V8", "3 3") + moved(0, 8, earth()) + tag((-22, 20), "?", 15)
    return (
        LineRow(sign=conductors(2, _SHORT_PX) + branch((converter("=", "~"), 64.0)), words=loads, height_px=_SHORT_PX),
        LineRow(sign=battery() + moved(0, 58, minus), words=(("Bank", said),), height_px=92.0),
    )
