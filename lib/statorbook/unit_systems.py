"""Metric or US: how a number kept in SI is shown to a reader who thinks in the other units."""

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


def _partner(unit, system, name):
    """Unit shown, own units in one of it, and where its zero lies."""
    if system not in SYSTEMS:
        raise BadInput(f"{system!r} was given", "metric or US is allowed", "choose one of them", where="units")
    if system == "metric" or "wire" in name.lower():
        return unit, 1.0, 0.0
    if unit == "°C":
        return (*_FAHRENHEIT, 32.0)
    if unit == "m/s" and "wind" in name.lower():
        return (*_WIND, 0.0)
    return (*_US.get(unit, (unit, 1.0)), 0.0)
