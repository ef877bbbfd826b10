"""What a person types into a field becomes one number in the field's own unit, or one plain sentence."""

import re
from functools import cache
from math import isfinite, pi

from statorbook.cautions import STILL, Exposure, Instruction
from statorbook.errors import BadInput
from statorbook.quantities.facts import GRAVITY_M_PER_S2, WATER_KG_PER_M3
from statorbook.quantities.limits import limits_in_words, require_number
from statorbook.quantities.unit_names import UNITS, lookup, lookup_field, spelling
from statorbook.quantities.unit_systems import filled, say

_SHOWN_AS = {"gpm": "gpm (US gallons)"}
_NUMBER = re.compile(r"\s*([+\-−–]?)\s*((?:[0-9][0-9.,]*|[.,][0-9]+)(?:[eE][+\-]?[0-9]+)?)(?![0-9])\s*(.*)", re.DOTALL)
# Whole numbers only, and no 0 below the line: "3/8", "1 1/2", but neither "1.5/2" nor the wire gauge 4/0.
_FRACTION = re.compile(r"\s*([+\-−–]?)\s*(?:([0-9]{1,6})\s+)?([1-9][0-9]{0,3})\s*/\s*([1-9][0-9]{0,3})(?!\s*[0-9.,/])")
_SIZE = r"(-?[0-9]+(?:\.[0-9]+)?|[1-4]/0)"
_GAUGE = re.compile(rf"\s*(?:AWG\s*#?\s*{_SIZE}|{_SIZE}\s*AWG)\s*", re.IGNORECASE)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def parse_quantity(text, unit, name, *, above=None, at_least=None, at_most=None, next_step=""):
    """Read what was typed as one number in the field's own unit.

    Parameters
    ----------
    text : str
        What was typed: "0.9", "0,9", "3/8 in", "52 psi", "12 gpm", "AWG 19".
    unit : str
        The field's own unit, taken when a number stands alone; "" or "-" for a plain number.
    name : str
        The field's name as the reader knows it. "head" in it lets pressure in, as head of water; "wire" lets AWG in.
    above : float or None
        Exclusive lower limit, in the field's unit.
    at_least : float or None
        Inclusive lower limit, in the field's unit.
    at_most : float or None
        Inclusive upper limit, in the field's unit.
    next_step : str
        What to do when it is outside the limits; a general hint when empty.

    Returns
    -------
    float
        The value, in the field's unit.

    Raises
    ------
    BadInput
        When it is no number, two numbers, ambiguous, of the wrong kind or outside the limits.

    Notes
    -----
    Equation: head of water = pressure / 9806.65 N/m³. gpm are US gallons per minute.
    Valid: the usual units of `usual_units`; a point or a comma is a decimal sign, thousands are not grouped.
    Source: unit factors of the pint library; CGPM 1901 for gravity.
    """
    typed = str(text)
    if not typed.strip():
        raise _refusal("nothing was typed", "type the value", unit, name)
    gauge = _GAUGE.fullmatch(typed)
    if gauge:
        value, converted = _from_gauge(gauge.group(1) or gauge.group(2), typed, unit, name), True
    else:
        number, written_unit = _split(typed, unit, name)
        value, converted = _convert(number, written_unit, typed, unit, name)
    try:
        return require_number(value, name, unit, above=above, at_least=at_least, at_most=at_most, next_step=next_step)
    except BadInput as refusal:
        meaning = (
            f", which is {say(value, _words(unit), form='.4g', name=name)}" if converted and isfinite(value) else ""
        )
        raise BadInput(f"{_quoted(typed)} was typed{meaning}", refusal.allowed, refusal.next_step, where=name) from None


def parse_count(text, name, *, at_least=None, at_most=None, next_step=""):
    """Read what was typed as one whole number.

    Parameters
    ----------
    text : str
        What was typed.
    name : str
        The field's name as the reader knows it.
    at_least : int or None
        Inclusive lower limit [-].
    at_most : int or None
        Inclusive upper limit [-].
    next_step : str
        What to do when it is refused; a general hint when empty.

    Returns
    -------
    int
        The count [-].

    Raises
    ------
    BadInput
        When it is no whole number or outside the limits.
    """
    allowed = limits_in_words("", at_least=at_least, at_most=at_most, noun="a whole number")
    step = filled(next_step) or "count again, then type the count"
    try:
        value = parse_quantity(text, "", name, at_least=at_least, at_most=at_most)
    except BadInput as refusal:
        raise BadInput(refusal.given, allowed, step, where=name) from None
    if value != round(value):
        raise BadInput(f"{_quoted(text)} was typed", allowed, step, where=name)
    return int(value)


def awg_diameter_mm(gauge):
    """Bare diameter of a wire of American wire gauge.

    Parameters
    ----------
    gauge : float
        Gauge number; half sizes are used for winding wire; 1/0 is 0, 2/0 is −1 [-].

    Returns
    -------
    float
        Diameter without enamel [mm].

    Notes
    -----
    Equation: d = 0.127 mm × 92^((36 − n) / 39).
    Valid: −3 (4/0) to 50.
    Source: ASTM B258 (read in a reproduction).
    """
    return 0.127 * 92.0 ** ((36.0 - gauge) / 39.0)


def usual_units(unit, name=""):
    """The units that a field understands besides its own, for its hint.

    Parameters
    ----------
    unit : str
        The field's own unit.
    name : str
        The field's name as the reader knows it.

    Returns
    -------
    list of str
        The most usual spellings, the field's own unit left out.
    """
    kind, own = lookup_field(unit)
    shown = _shown(kind, own, 4) + _shown(_water_partner(kind, name), None, 3)
    return shown + (["AWG 19"] if _takes_gauge(kind, name) else [])


def _shown(kind, own, most):
    spellings = [typed.split()[0] for known, typed in UNITS.get(kind, {}).items() if known != own]
    return [_SHOWN_AS.get(s, s) for s in spellings if s != "-"][:most]


def _refusal(given, next_step, unit, name):
    others = usual_units(unit, name)
    also = f" (also {', '.join(others)})" if others else ""
    number = f"a number in {_words(unit)}" if _words(unit) else "a plain number"
    return BadInput(given, f"{number}{also} is allowed", next_step, where=name)


def _split(typed, unit, name):
    found = _NUMBER.fullmatch(_without_fraction(typed))
    if not found:
        raise _refusal(
            f"{_quoted(typed)} is not a number", "type one number, and its unit if it is another", unit, name
        )
    sign, digits, rest = found.groups()
    if lookup(rest)[0] is None and re.search(r"(?<![A-Za-z])[0-9]", rest):
        raise _refusal(f"{_quoted(typed)} holds more than one number", "type one number only", unit, name)
    whole = re.split("[eE]", digits)[0]
    signs = whole.count(".") + whole.count(",")
    if signs > 1 or whole.endswith(",") or _THOUSANDS.fullmatch(whole):
        raise BadInput(
            f"{_quoted(typed)} can be read in two ways",
            "one decimal point or comma is allowed, and nothing between thousands",
            "type it with a decimal point, such as 1234.5",
            where=name,
        )
    number = float(digits.replace(",", "."))
    return (-number if sign in ("-", "−", "–") else number), rest.strip()


def _without_fraction(typed):
    """Write a fraction in front as a decimal number: "1 1/2 in" becomes "1.5 in"."""
    found = _FRACTION.match(typed)
    if not found:
        return typed
    sign, whole, top, bottom = found.groups()
    if whole and int(top) >= int(bottom):  # two numbers rather than one
        return typed
    return f"{sign}{int(whole or 0) + int(top) / int(bottom)!r}{typed[found.end() :]}"


def _convert(number, written_unit, typed, unit, name):
    if not written_unit or spelling(written_unit) == spelling(unit):
        return number, False
    kind, source = lookup(written_unit)
    wanted_kind, wanted = lookup_field(unit)
    _refuse_other_volts(written_unit, typed, name)
    if kind is None or wanted_kind is None:
        raise _refusal(
            f"{_quoted(typed)} was typed, and {_quoted(written_unit)} is no unit known for this field",
            "type one of these units, or the number alone",
            unit,
            name,
        )
    quantity = _registry().Quantity(number, source)
    if kind == "pressure" and _water_partner(wanted_kind, name) == kind:
        quantity = _registry().Quantity(quantity.to("Pa").magnitude / _water_n_per_m3(), "m")
    elif kind == "length" and _water_partner(wanted_kind, name) == kind:
        quantity = _registry().Quantity(quantity.to("m").magnitude * _water_n_per_m3(), "Pa")
    elif kind != wanted_kind:
        raise _refusal(
            f"{_quoted(typed)} was typed ({kind}) where {wanted_kind} is wanted",
            "check that the value belongs in this field",
            unit,
            name,
        )
    return float(quantity.to(wanted or "dimensionless").magnitude), True


def _refuse_other_volts(written_unit, typed, name):
    """AC rms and DC volts are no measure of each other; a field that says which it wants takes no other."""
    current = "".join(written_unit.upper().split())[-2:]
    wanted = next((kind for kind in ("DC", "AC") if re.search(rf"\b{kind}\b", name)), current)
    if current in ("AC", "DC") and current != wanted:
        raise BadInput(
            f"{_quoted(typed)} was typed",
            f"{wanted} volts are allowed",
            f"look for the {wanted} volts; {current} volts do not tell them",
            where=name,
        )


def _from_gauge(gauge, typed, unit, name):
    kind, wanted = lookup_field(unit)
    number = _gauge_number(gauge)
    if not _takes_gauge(kind, name):
        raise _refusal(
            f"{_quoted(typed)} was typed, which is a wire gauge", "type a number in one of these units", unit, name
        )
    if not -3 <= number <= 50:
        raise BadInput(
            f"{_quoted(typed)} was typed",
            "AWG 4/0 to AWG 50 are allowed",
            Instruction("measure the bare wire and type it in mm", (*STILL, Exposure.SHARP)),
            where=name,
        )
    wire = _registry().Quantity(awg_diameter_mm(number), "mm")
    return float((wire if kind == "length" else wire**2 * pi / 4.0).to(wanted).magnitude)


def _gauge_number(gauge):
    if gauge.endswith("/0"):
        return 1.0 - int(gauge[0])
    return 1.0 - len(gauge) if not gauge.strip("0") else float(gauge)


def _water_partner(kind, name):
    """Head of water and pressure say the same; a nozzle or a pipe length is no head."""
    if kind == "length" and "head" in name.lower():
        return "pressure"
    return "length" if kind == "pressure" else None


def _takes_gauge(kind, name):
    return kind in ("length", "area") and "wire" in name.lower()


def _water_n_per_m3():
    return WATER_KG_PER_M3.value * GRAVITY_M_PER_S2.value


def _words(unit):
    return "" if unit.strip() == "-" else unit.strip()


def _quoted(text):
    words = " ".join(str(text).split())
    return f"“{words[:40]}…”" if len(words) > 40 else f"“{words}”"


@cache
def _registry():
    import pint

    return pint.UnitRegistry()
