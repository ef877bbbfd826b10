"""How far what is assumed may be off: each assumption with a plausible low and high value, put into the machine."""

from dataclasses import dataclass, replace

from statorbook.choice.machine import Machine
from statorbook.drives import POWER_COEFFICIENT, SHEAR_EXPONENT, STORM_M_S, TIP_SPEED_RATIO, with_quantities
from statorbook.quantities import DIODE_DROP_V, Fact, say

_NO_SOURCE = "common practice, no source"


def _fact(value, unit, low, high):
    return Fact(value=value, unit=unit, source=_NO_SOURCE, low=low, high=high)


# As differences from the value that is assumed; the least is what a measured temperature still differs by.
COPPER_STEP_K = _fact(25.0, "K", 10.0, 40.0)
MAGNET_STEP_K = _fact(20.0, "K", 10.0, 30.0)
COLD_STEP_K = _fact(10.0, "K", 5.0, 20.0)
# As a factor on the value, down and up.
INNER_OHM_FACTOR = _fact(2.0, "-", 1.5, 3.0)
CABLE_FACTOR = _fact(2.0, "-", 1.5, 3.0)
DRAG_SHARE = _fact(0.5, "-", 0.3, 0.7)
# How well a head, a wind, a rider or a speed is known that was read or typed.
SOURCE_SHARE = _fact(0.05, "-", 0.02, 0.10)
# Fields of a drive, by the name that part and drive share.
DRIVE_RANGES = {
    "efficiency": ("runner efficiency", _fact(0.70, "-", 0.60, 0.80)),
    "speed_ratio": ("best bucket speed over jet speed", _fact(0.46, "-", 0.44, 0.48)),
    "runaway_ratio": ("runaway ratio", _fact(1.8, "-", 1.75, 2.0)),
    "power_coefficient": ("power coefficient", POWER_COEFFICIENT),
    "tip_speed_ratio": ("best tip speed ratio", TIP_SPEED_RATIO),
    "shear_exponent": ("wind shear exponent", SHEAR_EXPONENT),
    "storm_m_s": ("strongest gust", STORM_M_S),
    "chain_efficiency": ("chain or belt efficiency", _fact(0.95, "-", 0.85, 0.98)),
    "cadence_rpm": ("cadence", _fact(70.0, "rpm", 60.0, 80.0)),
    "droop": ("droop", _fact(0.05, "-", 0.03, 0.08)),
    "belt_efficiency": ("belt efficiency", _fact(0.93, "-", 0.88, 0.97)),
    "overspeed_ratio": ("overspeed ratio", _fact(1.2, "-", 1.1, 1.4)),
}
# By the field of the job: what it is called in `operation.Converter` and in words.
CONVERTER_RANGES = {
    "converter_efficiency": ("efficiency", "efficiency of the converter", _fact(0.95, "-", 0.90, 0.98)),
    "converter_idle_watts": ("idle_watts", "idle watts of the converter", _fact(2.0, "W", 0.5, 10.0)),
}
_NEVER_ASKED = ("speed_ratio",)  # of the jet: no field of the form, so always assumed


@dataclass(frozen=True, kw_only=True)
class Variation:
    """One thing that is assumed, at the ends of what is plausible."""

    name: str  # of the field that holds it, "source" for the quantity that the source is known by
    words: str  # what is varied
    unit: str  # of its value and both ends
    value: float  # as it stands
    ends_at: tuple[float, float]  # its low and high value
    source: str  # where those come from
    low_words: str  # it and its low value, as in "magnets at 30 °C at work"
    high_words: str
    low: Machine  # with the low value
    high: Machine

    @property
    def ends(self):
        """Words and machine of both ends, a tuple of two pairs."""
        return (self.low_words, self.low), (self.high_words, self.high)


def variations(machine):
    """All that is assumed in a machine, not measured, at its plausible low and high end.

    Parameters
    ----------
    machine : Machine
        As it stands.

    Returns
    -------
    tuple of Variation
        Temperatures, bank and cable, drag, fields of the drive, and the reading that its source is known by.
    """
    sides = (_temperatures, _bank_side, _between, _drag, _drive_fields)
    return (*(variation for side in sides for variation in side(machine)), _source(machine))


def _temperatures(machine):
    at_work, cold_c = machine.setting.conditions, machine.setting.cold_c
    for name, said, fact in (("copper_c", "winding", COPPER_STEP_K), ("magnet_c", "magnets", MAGNET_STEP_K)):
        now, step = getattr(at_work, name), fact.low if name in machine.measured else fact.value
        ends = [min(max(now + change, -40.0), 100.0 if name == "magnet_c" else 200.0) for change in (-step, step)]
        changed = [_with_conditions(machine, **{name: value}) for value in ends]
        words = [f"{said} at {say(value, '°C', form='.0f')} at work" for value in ends]
        yield _variation(name, f"{said} at work", ("°C", now, ends, fact), words, changed)
    ends = [max(cold_c - COLD_STEP_K.value, -40.0), min(cold_c + COLD_STEP_K.value, 100.0)]
    changed = [replace(machine, setting=replace(machine.setting, cold_c=value)) for value in ends]
    words = [f"coldest magnets {say(value, '°C', form='.0f')}" for value in ends]
    yield _variation("cold_c", "coldest magnets", ("°C", cold_c, ends, COLD_STEP_K), words, changed)


def _bank_side(machine):
    bank, at_work = machine.bank, machine.setting.conditions
    if bank.inner_ohm is None:
        ends = _times(bank.internal_ohm, INNER_OHM_FACTOR.value)
        banks = [replace(machine, bank=replace(bank, inner_ohm=value)) for value in ends]
        words = [f"{value:.2g} Ω inside the bank" for value in ends]
        yield _variation(
            "inner_ohm", "resistance inside the bank", ("Ω", bank.internal_ohm, ends, INNER_OHM_FACTOR), words, banks
        )
    if "diode_drop_v" in machine.assumed_fields:
        ends = _around(at_work.diode_drop_v, DIODE_DROP_V)
        changed = [_with_conditions(machine, diode_drop_v=value) for value in ends]
        words = [f"{value:.2g} V in each diode" for value in ends]
        yield _variation("diode_drop_v", "diode drop", ("V", at_work.diode_drop_v, ends, DIODE_DROP_V), words, changed)
    for name, said in (("cable_ohm", "cable"), ("ac_cable_ohm", "cable before the rectifier")):
        if name in machine.assumed_fields:
            ohm = getattr(at_work, name)
            ends = _times(ohm, CABLE_FACTOR.value)
            changed = [_with_conditions(machine, **{name: value}) for value in ends]
            yield _variation(
                name, said, ("Ω", ohm, ends, CABLE_FACTOR), [f"{value:.2g} Ω of {said}" for value in ends], changed
            )


def _between(machine):
    converter = machine.setting.conditions.converter
    for field, (name, said, fact) in CONVERTER_RANGES.items():
        if converter is None or field not in machine.assumed_fields:
            continue
        now = getattr(converter, name)
        ends = _around(now, fact)
        changed = [_with_conditions(machine, converter=replace(converter, **{name: value})) for value in ends]
        words = [f"{said} {say(value, fact.unit, form='.2g')}" for value in ends]
        yield _variation(field, said, (fact.unit, now, ends, fact), words, changed)


def _drag(machine):
    if "drag_nm" not in machine.assumed_fields:
        return
    now = machine.setting.conditions.drag_nm
    ends = [(1.0 - DRAG_SHARE.value) * now, (1.0 + DRAG_SHARE.value) * now]
    changed = [_with_conditions(machine, drag_nm=value) for value in ends]
    words = [f"a drag of {say(value, 'N·m', form='.2g')}" for value in ends]
    yield _variation("drag_nm", "drag", ("N·m", now, ends, DRAG_SHARE), words, changed)


def _drive_fields(machine):
    drive = machine.drive
    for name, (said, fact) in DRIVE_RANGES.items():
        if not hasattr(drive, name) or not (name in machine.assumed_fields or name in _NEVER_ASKED):
            continue
        now = getattr(drive, name)
        ends = _around(now, fact)
        changed = [replace(machine, drive=replace(drive, **{name: value})) for value in ends]
        words = [f"a {said} of {say(value, fact.unit, form='.3g', name=said)}" for value in ends]
        yield _variation(name, said, (fact.unit, now, ends, fact), words, changed)


def _source(machine):
    """The quantity that the source is known by: its reading is never exact."""
    source = machine.drive.quantities[0]
    ends = [(1.0 - SOURCE_SHARE.value) * source.value, (1.0 + SOURCE_SHARE.value) * source.value]
    return _variation(
        "source",
        f"{source.label.lower()} as read",
        (source.unit, source.value, ends, SOURCE_SHARE),
        [source_words(source, value) for value in ends],
        [replace(machine, drive=with_quantities(machine.drive, {source.field: value})) for value in ends],
    )


def source_words(quantity, value):
    """A setting of the source in words.

    Parameters
    ----------
    quantity : Quantity
        Of the drive.
    value : float
        Its value, in its own unit [unit].

    Returns
    -------
    str
        As in "a wind speed of 7.8 m/s".
    """
    said = say(value, quantity.unit, name=quantity.label)
    return f"{quantity.label[:1].lower()}{quantity.label[1:]} {said}"


def _with_conditions(machine, **values):
    setting = machine.setting
    return replace(machine, setting=replace(setting, conditions=replace(setting.conditions, **values)))


def _variation(name, words, values, end_words, machines):
    """A variation; `values` are its unit, its value as it stands, those of both ends, and the fact behind these."""
    unit, value, ends_at, fact = values
    (low_words, high_words), (low, high) = end_words, machines
    return Variation(
        name=name,
        words=words,
        unit=unit,
        value=value,
        ends_at=tuple(ends_at),
        source=fact.source,
        low_words=low_words,
        high_words=high_words,
        low=low,
        high=high,
    )


def _around(value, fact):
    return min(value, fact.low), max(value, fact.high)


def _times(value, factor):
    return value / factor, value * factor
