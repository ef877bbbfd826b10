"""Metric or US: how a number kept in SI is shown to a reader who thinks in the other units."""

import re

from statorbook.errors import BadInput

SYSTEMS = ("metric", "US")
# Own unit -> (US unit, own units in one of it); NIST SP 811, all exact but the pound-force.
_US = {
    "m": ("ft", 0.3048),
    "mm": ("in", 25.4),
    "L/s": ("gpm", 3.785411784 / 60.0),
    "L": ("gal", 3.785411784),
    "m/s": ("ft/s", 0.3048),
    "N·m": ("ft·lb", 1.3558179483314004),
    "N": ("lbf", 4.4482216152605),
    "kg": ("lb", 0.45359237),
    "bar": ("psi", 0.06894757293168361),
    "cm²": ("in²", 6.4516),
}
_WIND = ("mph", 0.44704)
_FAHRENHEIT = ("°F", 5.0 / 9.0)
_NUMBER = r"[-−]?[0-9]+(?:\.[0-9]+)?"
_UNITS = "|".join(sorted((*_US, "°C", "K"), key=len, reverse=True))
# "15 °C", "10 to 20 mm", "0.12 ± 0.02 N·m", "above 3 and at most 20 mm" and the unit of a field, "[mm]".
_TOLD = re.compile(
    rf"(?<![\w.,])(?:(?P<first>{_NUMBER})(?P<link> to | ± | and at most ))?(?P<number>{_NUMBER})[ \xa0]"
    rf"(?P<unit>{_UNITS})(?: ± (?P<kelvin>{_NUMBER}) K)?(?![\w·/²³])|\[(?P<field>{_UNITS})\]"
)
_AS_TYPED = re.compile('(“[^”]*”|"[^"]*")')


def shown_unit(unit, system="metric", name=""):
    """The unit that a reader of a system is shown.

    Parameters
    ----------
    unit : str
        The unit that the number is kept in.
    system : str
        "metric" or "US".
    name : str
        The quantity's name: a wire stays in mm, wind is told in mph.

    Returns
    -------
    str
        The unit; the own one where the US has no other.

    Raises
    ------
    BadInput
        When there is no such system.
    """
    return _partner(unit, system, name)[0]


def to_shown(value, unit, system="metric", name=""):
    """Turn a number from its own unit into the one shown.

    Parameters
    ----------
    value : float or ndarray
        In its own unit [unit].
    unit : str
        The unit that it is kept in.
    system : str
        "metric" or "US".
    name : str
        The quantity's name, as in `shown_unit`.

    Returns
    -------
    float or ndarray
        In the unit that `shown_unit` names, same shape [unit].

    Raises
    ------
    BadInput
        When there is no such system.

    Notes
    -----
    Equation: value / factor; °F = 32 + °C × 9/5.
    Valid: any value.
    Source: NIST SP 811.
    """
    _, factor, offset = _partner(unit, system, name)
    return value / factor + offset if factor != 1.0 else value


def from_shown(value, unit, system="metric", name=""):
    """Turn a number from the unit shown back into its own.

    Parameters
    ----------
    value : float or ndarray
        In the unit that `shown_unit` names [unit].
    unit : str
        The unit that it is kept in.
    system : str
        "metric" or "US".
    name : str
        The quantity's name, as in `shown_unit`.

    Returns
    -------
    float or ndarray
        In its own unit, same shape [unit].

    Raises
    ------
    BadInput
        When there is no such system.

    Notes
    -----
    Equation: the inverse of `to_shown`.
    Valid: any value.
    Source: NIST SP 811.
    """
    _, factor, offset = _partner(unit, system, name)
    return (value - offset) * factor if factor != 1.0 else value


def say(value, unit, system="metric", *, figures=3, name=""):
    """A number with its unit, as it stands in a sentence.

    Parameters
    ----------
    value : float
        In its own unit [unit].
    unit : str
        The unit that it is kept in.
    system : str
        "metric" or "US".
    figures : int
        Significant figures; every figure before the point is shown in any case [-].
    name : str
        The quantity's name, as in `shown_unit`.

    Returns
    -------
    str
        Such as "28 m", "91.9 ft", "1390 rpm".

    Raises
    ------
    BadInput
        When there is no such system.
    """
    shown = to_shown(value, unit, system, name)
    whole = abs(shown) >= 10.0 ** (figures - 1)
    return (
        f"{shown:.0f} {shown_unit(unit, system, name)}"
        if whole
        else (f"{shown:.{figures}g} {shown_unit(unit, system, name)}")
    )


def retold(text, system="metric"):
    """Tell the numbers of a finished text in the reader's units; what stands between quotation marks stays as typed.

    Parameters
    ----------
    text : str
        One or more sentences with numbers in the library's own units.
    system : str
        "metric" or "US".

    Returns
    -------
    str
        The same for metric. A text about a wire keeps its mm, one about wind has its m/s told in mph.

    Raises
    ------
    BadInput
        When there is no such system.

    Notes
    -----
    Equation: as `to_shown`; a difference of 1 K is 1.8 °F.
    Valid: a number, a space and its unit; "a to b", "a ± b" and "above a and at most b" share the unit behind them.
    Source: NIST SP 811.
    """
    if shown_unit("°C", system) == "°C":
        return text
    parts = _AS_TYPED.split(text)
    return "".join(
        part if odd % 2 else _TOLD.sub(lambda found: _told(found, text), part) for odd, part in enumerate(parts)
    )


def _told(found, text):
    """One number with its unit, or the unit of a field, for a US reader."""
    if found["field"]:
        return f"[{_in_us(found['field'], text)}]"
    unit, link = found["unit"], found["link"] or ""
    numbers = [_us_number(found["number"], unit, text, difference=link == " ± ")]
    if link:
        numbers.insert(0, _us_number(found["first"], unit, text))
    after = f" ± {_us_number(found['kelvin'], 'K', text)} °F" if found["kelvin"] else ""
    return f"{link.join(numbers)} {_in_us(unit, text)}{after}"


def _in_us(unit, text):
    return "°F" if unit == "K" else shown_unit(unit, "US", text)


def _us_number(typed, unit, text, *, difference=False):
    value = float(typed.replace("−", "-"))
    if unit in ("°C", "K"):
        told = value / _FAHRENHEIT[1] + (0.0 if difference or unit == "K" else 32.0)
        return f"{told:.4g}".replace("-", "−")
    figures = max(3, len(re.sub(r"\D", "", typed).lstrip("0")))
    return say(value, unit, "US", figures=figures, name=text).split(" ")[0].replace("-", "−")


def _partner(unit, system, name):
    """Unit shown, own units in one of it, and where its zero lies."""
    if system not in SYSTEMS:
        raise BadInput(f"{system!r} was given", "metric or US is allowed", "choose one of them", where="units")
    if system == "metric" or (unit == "mm" and "wire" in name.lower()):
        return unit, 1.0, 0.0
    if unit == "°C":
        return (*_FAHRENHEIT, 32.0)
    if unit == "m/s" and "wind" in name.lower():
        return (*_WIND, 0.0)
    return (*_US.get(unit, (unit, 1.0)), 0.0)
