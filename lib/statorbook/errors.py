"""One kind of complaint: a plain sentence that says what, what is allowed, and what to do next."""

from numbers import Integral


class BadInput(ValueError):
    """A value, row or file that cannot be used, said in one sentence for the reader.

    Parameters
    ----------
    given : str
        What was given, in words.
    allowed : str
        What is allowed.
    next_step : str or Instruction
        What to type, measure or do next; what exposes hands to something adds its caution in few words.
    where : str
        The field, row or file that it concerns; may be empty.
    """

    def __init__(self, given, allowed, next_step, *, where=""):
        self.given, self.allowed, self.next_step, self.where = given, allowed, next_step, where
        prefix = f"{where}: " if where else ""
        caution = getattr(next_step, "brief", "")  # duck-typed: `cautions` stands on this module
        step = getattr(next_step, "text", next_step)
        super().__init__(f"{prefix}{given}; {allowed}; {step}. {caution}".rstrip())

    def _render_traceback_(self):
        """Tell IPython to print the sentence alone, without a traceback."""
        return [f"Not usable – {self}"]


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
    next_step : str
        What to do; a general hint when empty.

    Returns
    -------
    float
        The value.

    Raises
    ------
    BadInput
        When it is no finite number or is outside the limits.
    """
    wanted = limits_in_words(unit, above=above, at_least=at_least, at_most=at_most)
    hint = next_step or f"measure or type the {name} again"
    try:
        number = None if isinstance(value, str) else float(value)
    except (TypeError, ValueError):
        number = None
    if number is None:
        raise BadInput(f"{value!r} is not a number", wanted, hint, where=name)
    too_low = (above is not None and number <= above) or (at_least is not None and number < at_least)
    too_high = at_most is not None and number > at_most
    if isinstance(value, bool) or number != number or abs(number) == float("inf") or too_low or too_high:
        raise BadInput(f"{value} {unit} was given".replace("  ", " "), wanted, hint, where=name)
    return number


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


def limits_in_words(unit, *, above=None, at_least=None, at_most=None, noun="a number"):
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

    Returns
    -------
    str
        "a number from 3 to 144 mm is allowed".
    """
    both = at_least is not None and at_most is not None
    limits = [("from", at_least if both else None), ("above", above), ("at least", None if both else at_least)]
    parts = [f"{word} {limit:.10g}" for word, limit in limits if limit is not None]
    if at_most is not None:
        parts.append(f"to {at_most:.10g}" if both else f"at most {at_most:.10g}")
    unit = "" if unit == "-" else unit
    said = (" " if both else " and ").join(parts) or ("in" if unit else "")
    return " ".join(filter(None, (noun, said, unit, "is allowed")))


def count_of(count, noun):
    """Say how many.

    Parameters
    ----------
    count : int
        How many [-].
    noun : str
        Of what, in the singular.

    Returns
    -------
    str
        Such as "1 cut" or "3 cuts".
    """
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
