"""Where the energy of a windy year comes from: derived with sympy from its first line, for notebook 92.

Letters: v wind, M its mean, k shape and A scale of Weibull's distribution, F the wind from which a rotor furls.
"""

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from statorbook.quantities import letters

if TYPE_CHECKING:
    import sympy


@dataclass(frozen=True, kw_only=True)
class WindyYear:
    """What the hours of a year with one mean and one shape come to."""

    density: "sympy.Expr"  # share of the hours in each metre per second of wind, letters v, M, k
    pattern: "sympy.Expr"  # mean of the wind cubed over the cube of its mean, letter k
    cube: "sympy.Expr"  # mean of the wind cubed, every wind above F counted as F; letters M, k, F


@cache
def windy_year():
    """Mean of the wind cubed over a year, of all winds and of those up to the wind from which a rotor furls.

    Returns
    -------
    WindyYear
        With the hours of each wind.

    Notes
    -----
    Equation: wind is above v for exp(−(v / A)^k) of the hours. Cut into slices, the mean of v^n is the sum of n v^(n−1)
    dv, each slice counted for the hours above it; x = (v / A)^k makes of it A^n (n / k) ∫ x^(n/k − 1) e^(−x) dx.
    Behind: `year.year_of_mean_wind`, `year.year_of_monthly_winds`.
    """
    from sympy import diff, exp, integrate, lowergamma, oo

    v, mean, k, scale, furls, x, a, top = letters("v M k A F x a t")
    above = exp(-((v / scale) ** k))
    # a stands for n / k, so that one integral serves the mean and the cube.
    whole = integrate(x ** (a - 1) * exp(-x), (x, 0, oo))
    sliced = lowergamma(a, top)  # the same integral as far as a top, by definition
    scale_of_mean = mean / (whole.subs(a, 1 / k) / k)
    cube, capped = (3 * scale**3 / k * part.subs(a, 3 / k) for part in (whole, sliced))
    return WindyYear(
        density=(-diff(above, v)).subs(scale, scale_of_mean),
        pattern=cube.subs(scale, scale_of_mean) / mean**3,
        cube=capped.subs(top, (furls / scale) ** k).subs(scale, scale_of_mean),
    )
