"""What every derivation stands on: letters, numbers put into a formula, and two numbers said beside each other."""

from typing import TYPE_CHECKING

from statorbook.quantities.unit_systems import say

if TYPE_CHECKING:
    pass


def letters(names):
    """Positive symbols for a derivation, the same ones at every call.

    Parameters
    ----------
    names : str
        Letters with blanks between, such as "E V R".

    Returns
    -------
    sympy.Symbol or tuple of sympy.Symbol
        One symbol, or one for each name.
    """
    from sympy import symbols

    return symbols(names, positive=True)


def number(expression, **values):
    """Put numbers into an expression.

    Parameters
    ----------
    expression : sympy.Expr
        From a derivation.
    **values : float
        Letter to number, in the unit that belongs to it.

    Returns
    -------
    float
        Its value, in the unit of the expression.
    """
    return float(expression.subs({letters(name): value for name, value in values.items()}).evalf())


def side_by_side(what, formula, library, unit, *, figures=4):
    """Say what a formula and what the library give, in the reader's units.

    Parameters
    ----------
    what : str
        What was worked out, and from which numbers.
    formula, library : float
        Both answers, in `unit`.
    unit : str
        Unit as `say` takes it; nothing for a bare ratio.
    figures : int
        Figures shown of each [-].

    Returns
    -------
    str
        One sentence with both numbers.
    """
    first, second = (say(value, unit, figures=figures) for value in (formula, library))
    return f"{what}: formula {first}, library {second}."
