"""A number inside its limits, or a complaint that names them in the reader's units."""

from math import isfinite
from numbers import Integral

from statorbook.errors import BadInput
from statorbook.quantities.unit_systems import filled, say, say_pair, shown_unit


def require_number(value, name, unit, *, above=None, at_least=None, at_most=None, next_step=""):
    """Return the value as float, or refuse it by name and limit.

    Parameters
    ----------
    value : float
        The number to check, in the unit named.
    name : str
        The quantity's name as the reader knows it.
    unit : str
        Its unit, for the sentence.
    above : float or None
        Exclusive lower limit, in the unit named.
    at_least : float or None
        Inclusive lower limit, in the unit named.
    at_most : float or None
        Inclusive upper limit, in the unit named.
    next_step : str or Instruction
        What to do, quantities in it marked as `filled` takes them; a general hint when empty.

    Returns
    -------
    float
        The value.

    Raises
    ------
    BadInput
        When it is no finite number or is outside the limits.
    """
    try:
        number = None if isinstance(value, str) else float(value)
    except (TypeError, ValueError):
        number = None
    if number is not None and isfinite(number) and not isinstance(value, bool):
        too_low = (above is not None and number <= above) or (at_least is not None and number < at_least)
        if not too_low and (at_most is None or number <= at_most):
            return number
    if number is None:
        given = f"{value!r} is not a number"
    else:
        said = f"{value} {unit}" if isinstance(value, bool) else say(value, unit, form="", name=name)
        given = f"{said} was given"
    wanted = limits_in_words(unit, above=above, at_least=at_least, at_most=at_most, name=name)
    raise BadInput(given, wanted, filled(next_step) or f"measure or type the {name} again", where=name)


def require_count(value, name, least, most, next_step):
    """Return a whole number, or refuse it by name and limit.

    Parameters
    ----------
    value : int
        The count to check [-].
    name : str
        What is counted, as the reader knows it.
    least : int
        Lowest count allowed [-].
    most : int
        Highest count allowed [-].
    next_step : str
        What to do.

    Returns
    -------
    int
        The count [-].

    Raises
    ------
    BadInput
        When it is no whole number or is outside the limits.
    """
    whole = isinstance(value, Integral) and not isinstance(value, bool)
    if not whole or not least <= value <= most:
        allowed = limits_in_words("", at_least=least, at_most=most, noun="a whole number")
        raise BadInput(f"{value!r} was given", allowed, next_step, where=name)
    return value


def limits_in_words(unit, *, above=None, at_least=None, at_most=None, noun="a number", name=""):
    """Say what a number may be, for the second part of a complaint.

    Parameters
    ----------
    unit : str
        Its unit; empty or "-" for a plain number.
    above : float or None
        Exclusive lower limit, in the unit named.
    at_least : float or None
        Inclusive lower limit, in the unit named.
    at_most : float or None
        Inclusive upper limit, in the unit named.
    noun : str
        What is allowed, such as "a whole number".
    name : str
        The quantity's name, as in `shown_unit`.

    Returns
    -------
    str
        "a number from 3 to 144 mm is allowed", in the reader's units.
    """
    unit = "" if unit == "-" else unit
    low = at_least if above is None else above
    if low is not None and at_most is not None:
        word, link = ("from", " to ") if above is None else ("above", " and at most ")
        said = f"{word} {say_pair(low, at_most, unit, form='.10g', link=link, name=name)}"
    elif low is not None or at_most is not None:
        word = "at most" if low is None else "at least" if above is None else "above"
        said = f"{word} {say(at_most if low is None else low, unit, form='.10g', name=name)}"
    else:
        said = f"in {shown_unit(unit, name=name)}" if unit else ""
    return " ".join(filter(None, (noun, said, "is allowed")))
