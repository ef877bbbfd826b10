"""Where the best volts of a converter come from: derived with sympy from its first line, for notebook 92.

Letters: E phase EMF peak, X = ωL of one star phase, b the bank's volts over the best ones, e the efficiency.
"""

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from statorbook.bridge import lossless_current
from statorbook.quantities import letters

if TYPE_CHECKING:
    import sympy


@dataclass(frozen=True, kw_only=True)
class BestVolts:
    """DC volts of most power behind a reactance alone, and what a bank at other volts gets."""

    volts: "sympy.Expr"  # behind the bridge, letter E
    watts: "sympy.Expr"  # there, letters E and X
    share: "sympy.Expr"  # of those watts that a bank straight on the bridge gets, letter b
    pays_below: "sympy.Expr"  # the b at which a converter gives as much as the bank gets without it, letter e


@cache
def converter_optimum():
    """Volts that a converter has to seek, and from which volts of the bank on it pays.

    Returns
    -------
    BestVolts
        As formulas.

    Notes
    -----
    Equation: d(V I)/dV = 0 with the lossless current I of the bridge; V I at b times these volts over V I there.
    Behind: `operation.best_dc_volts`, `year.between_years`.
    """
    from sympy import diff, solve, sqrt

    e, v, b, efficiency, square = letters("E V b e s")
    # Where V I is highest its square is; as a function of s = V² that has one bend.
    power = v * lossless_current().current
    best = sqrt(solve(diff((power**2).expand().subs(v, sqrt(square)), square), square)[0])
    most = power.subs(v, best).simplify()
    share = (power.subs(v, b * best) / most).simplify()
    # The lower of the two: above the best volts a converter that steps down has nothing to seek.
    equal = solve((share**2).subs(b, sqrt(square)) - efficiency**2, square)
    lower = min(equal, key=lambda root: root.subs(efficiency, 0.5))
    return BestVolts(volts=best, watts=most, share=share, pays_below=sqrt(lower))
