"""Metric or US: how a number kept in SI is said to a reader who thinks in the other units.

Who shows something says for whom, `with reader_units("US"):`; everything below speaks through `say` and its siblings,
so that a sentence is made once, in the reader's units. Factors: NIST SP 811 (from memory).
"""

import re
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace

from statorbook.cautions import Instruction
from statorbook.errors import BadInput

SYSTEMS = ("metric", "US")
# Own unit -> (US unit, own units in one of it); NIST SP 811 (from memory), all exact but the pound-force.
_US = {
    "m": ("ft", 0.3048),
    "mm": ("in", 25.4),
    "L/s": ("gpm", 3.785411784 / 60.0),
    "L": ("gal", 3.785411784),
    "m³/h": ("cfm", 60.0 * 0.3048**3),
    "m/s": ("ft/s", 0.3048),
    "N·m": ("ft·lb", 1.3558179483314004),
    "N": ("lbf", 4.4482216152605),
    "kg": ("lb", 0.45359237),
    "bar": ("psi", 0.06894757293168361),
    "cm²": ("in²", 6.4516),
    "K": ("°F", 5.0 / 9.0),  # a difference
}
_WIND = ("mph", 0.44704)
_FAHRENHEIT = ("°F", 5.0 / 9.0)
_READERS = ContextVar("the reader's units", default="metric")
_MARK = re.compile(r"\{(?:([-−0-9.]+) to )?([-−0-9.]+) ([^ {}]+)\}")


def use_units(system):
    """Speak in these units from here on: for a page that belongs to one reader.

    Parameters
    ----------
    system : str
        "metric" or "US".

    Raises
    ------
    BadInput
        When there is no such system.
    """
    _READERS.set(_known(system))


@contextmanager
def reader_units(system):
    """Speak in these units inside `with reader_units("US"):`.

    Parameters
    ----------
    system : str
        "metric" or "US".

    Raises
    ------
    BadInput
        When there is no such system.
    """
    token = _READERS.set(_known(system))
    try:
        yield
    finally:
        _READERS.reset(token)


def units_now():
    """The units that everything is said in here.

    Returns
    -------
    str
        "metric" or "US"; metric where nobody said.
    """
    return _READERS.get()


def shown_unit(unit, system=None, name=""):
    """The unit that a reader of a system is shown.

    Parameters
    ----------
    unit : str
        The unit that the number is kept in.
    system : str or None
        "metric" or "US"; the reader's, as `units_now`, when None.
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


def to_shown(value, unit, system=None, name=""):
    """Turn a number from its own unit into the one shown.

    Parameters
    ----------
    value : float or ndarray
        In its own unit [unit].
    unit : str
        The unit that it is kept in.
    system : str or None
        "metric" or "US"; the reader's, as `units_now`, when None.
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
    Source: NIST SP 811 (from memory), pint in the tests.
    """
    _, factor, offset = _partner(unit, system, name)
    return value / factor + offset if factor != 1.0 else value


def from_shown(value, unit, system=None, name=""):
    """Turn a number from the unit shown back into its own.

    Parameters
    ----------
    value : float or ndarray
        In the unit that `shown_unit` names [unit].
    unit : str
        The unit that it is kept in.
    system : str or None
        "metric" or "US"; the reader's, as `units_now`, when None.
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
    Source: NIST SP 811 (from memory), pint in the tests.
    """
    _, factor, offset = _partner(unit, system, name)
    return (value - offset) * factor if factor != 1.0 else value


def say(value, unit, *, figures=3, form=None, name=""):
    """A number with its unit, as it stands in a sentence.

    Parameters
    ----------
    value : float
        In its own unit [unit].
    unit : str
        The unit that it is kept in; empty or "-" for none.
    figures : int
        Significant figures; every figure before the point is shown in any case [-].
    form : str or None
        How the number is written in its own unit, such as ".0f", in place of `figures`; as many figures in US units.
    name : str
        The quantity's name, as in `shown_unit`.

    Returns
    -------
    str
        Such as "28 m", "91.9 ft", "1390 rpm", in the reader's units.
    """
    if form is not None:
        return _with_unit(_written(value, unit, form, name), unit, name)
    shown = to_shown(value, unit, name=name)
    return _with_unit(f"{shown:.0f}" if abs(shown) >= 10.0 ** (figures - 1) else f"{shown:.{figures}g}", unit, name)


def say_pair(first, second, unit, *, form="", link=" to ", name=""):
    """Two numbers that share the unit behind them.

    Parameters
    ----------
    first : float
        In its own unit [unit].
    second : float
        In the same unit [unit].
    unit : str
        The unit that they are kept in.
    form : str
        How both are written, as in `say`.
    link : str
        What stands between them: " to ", " ± ", " and at most ".
    name : str
        The quantity's name, as in `shown_unit`.

    Returns
    -------
    str
        Such as "10 to 20 mm", "0.12 ± 0.02 N·m", in the reader's units.
    """
    return _with_unit(link.join(_written(number, unit, form, name) for number in (first, second)), unit, name)


def filled(words):
    """Words kept as a constant, with the quantities marked in them said in the reader's units.

    Parameters
    ----------
    words : str or Instruction
        Such as "{1 bar} is {10.2 m}" or "dry it at {60 to 80 °C}".

    Returns
    -------
    str or Instruction
        The same with "14.5 psi is 33.5 ft" for a US reader.
    """
    if isinstance(words, Instruction):
        return replace(words, text=filled(words.text))
    return _MARK.sub(lambda found: _marked(*found.groups()), words)


def _marked(first, number, unit):
    """One marked quantity, or two with "to" between them; as many figures as stand there."""
    return _with_unit(" to ".join(_in_readers(typed, unit) for typed in (first, number) if typed), unit)


def _with_unit(number, unit, name=""):
    return f"{number} {'' if unit == '-' else shown_unit(unit, name=name)}".rstrip()


def _written(value, unit, form, name):
    return _in_readers(f"{value:{form}}", unit, name)


def _in_readers(typed, unit, name=""):
    """A number as written in its own unit, in the reader's: the same reading, as many figures but three at least."""
    _, factor, offset = _partner(unit, units_now(), name)
    if factor == 1.0:
        return typed
    shown = float(typed.replace("−", "-")) / factor + offset
    digits = re.sub(r"\D", "", typed.split("e")[0]).lstrip("0")
    figures = 4 if unit in ("°C", "K") else max(3, len(digits))
    whole = unit not in ("°C", "K") and abs(shown) >= 10.0 ** (figures - 1)
    return (f"{shown:.0f}" if whole else f"{shown:.{figures}g}").replace("-", "−")


def _known(system):
    if system not in SYSTEMS:
        raise BadInput(f"{system!r} was given", "metric or US is allowed", "choose one of them", where="units")
    return system


def _partner(unit, system, name):
    """Unit shown, own units in one of it, and where its zero lies."""
    system = units_now() if system is None else _known(system)
    if system == "metric" or (unit == "mm" and "wire" in name.lower()):
        return unit, 1.0, 0.0
    if unit == "°C":
        return (*_FAHRENHEIT, 32.0)
    if unit == "m/s" and "wind" in name.lower():
        return (*_WIND, 0.0)
    own, space, rest = unit.partition(" ")  # also "N·m per 1000 rpm"
    us, factor = _US.get(own, (own, 1.0))
    return f"{us}{space}{rest}", factor, 0.0
