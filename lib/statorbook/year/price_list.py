"""Prices as typed: "16: 4.20, 25: 6.80", each a size and what a metre of it costs."""

import re

from statorbook.errors import BadInput
from statorbook.quantities import parse_quantity
from statorbook.winding import wire_area_mm2

# A comma parts two entries when another size or a word follows it, else it is a decimal sign.
_BETWEEN = re.compile(r"[;\n]|,(?=[^,;:\n]*:)|,(?=\s*[A-Za-z])")
_EACH = re.compile(r"(.*?)\s*(?:(?:/|\bper\b|\ba\b)\s*(m|metre|meter|ft|foot))?\s*", re.DOTALL)
_FOOT_M = 0.3048
_GAUGE = re.compile("awg", re.IGNORECASE)
_LONGEST_SHOWN = 40


def read_prices(text, unit, *, where):
    """Read a list of sizes and their prices.

    Parameters
    ----------
    text : str
        Entries between commas, semicolons or line ends: size, colon, price a metre, or a foot with "/ft" behind it.
    unit : str
        Unit of a bare size: "mm²" for cable, where "AWG 6" is read too, or "mm" for a bore.
    where : str
        The field, for the sentence.

    Returns
    -------
    dict of float to tuple
        Size in that unit to how it was typed and its price [a metre].

    Raises
    ------
    BadInput
        Names the entry that cannot be read, or the size that stands twice.
    """
    found = {}
    for entry in filter(None, (part.strip(" ,\t\r") for part in _BETWEEN.split(text))):
        size, typed, price = _entry(entry, unit, f"{where}, “{entry[:_LONGEST_SHOWN]}”")
        if size in found:
            raise BadInput(
                f"{found[size][0]} and {typed} are the same size",
                "one price for each size is allowed",
                "take one of them out",
                where=where,
            )
        found[size] = (typed, price)
    return dict(sorted(found.items()))


def _entry(entry, unit, where):
    size, colon, price = entry.partition(":")
    if not colon:
        raise BadInput(
            "no colon stands in it",
            f"a size, a colon and a price a metre is allowed, such as {'16: 4.20' if unit == 'mm²' else '53: 4.20'}",
            "type the entry again",
            where=where,
        )
    number, each = _EACH.fullmatch(price.strip()).groups()
    try:
        found = parse_quantity(number, "", where, at_least=0, at_most=1e6)
    except BadInput as refusal:
        allowed = "a price a metre such as 4.20, or 1.30/ft for a foot, is allowed"
        raise BadInput(refusal.given, allowed, "type the price again, without a currency", where=where) from None
    value, typed = _size(size.strip(), unit, where)
    return value, typed, found / _FOOT_M if each in ("ft", "foot") else found


def _size(size, unit, where):
    """A size in its unit, and how it is shown."""
    limits = {"above": 0.05, "at_most": 2000, "next_step": "type the size as the seller names it"}
    if unit == "mm²" and _GAUGE.match(size):
        diameter = parse_quantity(size, "mm", "wire", above=0.2, at_most=20)
        gauge = " ".join(size.upper().replace("AWG", "AWG ").split())
        return round(float(wire_area_mm2(diameter)), 3), gauge
    value = parse_quantity(size, unit, where, **limits)
    return value, f"{value:g} {unit}"
