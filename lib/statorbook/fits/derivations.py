"""Where the ± of volts per rpm, ohms and henries come from: each derived with sympy from its first line, for page 91.

Letters of a share over the value: s one sigma of a row by itself, c what all rows share, e, i, r, v the ± of volts,
amps, ohms and speed.
"""

from typing import TYPE_CHECKING

from statorbook.quantities import letters

if TYPE_CHECKING:
    pass


def weighted_line():
    """The line through the origin that three rows make, each weighed by its own error, and how far it may be off.

    Returns
    -------
    tuple of sympy.Expr
        Slope, and its one sigma; each row has its abscissa x, its ordinate y and its one sigma s.

    Notes
    -----
    Equation: d/db Σ ((y − b x) / s)² = 0; σ² of the slope is Σ (∂b/∂y s)², since the rows' own errors are independent.
    Behind: `fits.fit_emf`, `fits.fit_ohms`.
    """
    from sympy import diff, factor_terms, sqrt

    rows, b = [letters(f"x_{row} y_{row} s_{row}") for row in (1, 2, 3)], letters("b")
    steepness = diff(sum(((y - b * x) / s) ** 2 for x, y, s in rows), b).expand()
    bend = factor_terms(diff(steepness, b))
    slope = factor_terms(-steepness.subs(b, 0)) / bend
    # Each row's part has the same denominator, so that only the numerators are left to be added.
    return slope, sqrt(factor_terms(sum((diff(slope, y) * bend * s) ** 2 for _, y, s in rows)) / bend**2)


def slope_share():
    """The ± of volts per rpm over the value, for any number of rows that are alike.

    Returns
    -------
    sympy.Expr
        n rows, t Student's factor for them.

    Notes
    -----
    Equation: a row that is off by a share moves the line by w x (b x) / Σ w x² of that share, w = 1 / (s b x)²; own
        errors add up in squares over the rows, one that all rows share adds up as it is.
    Behind: `fits.fit_emf`, `fits.terminal_constants`.
    """
    from sympy import IndexedBase, Sum, sqrt

    s, c, n, t, b, row = letters("s c n t b row")
    x, rows = IndexedBase("x")[row], (row, 1, n)
    weight = 1 / (s * b * x) ** 2
    pull = weight * x * (b * x) / Sum(weight * x**2, rows).doit() / b
    own_squared, shared = Sum((pull * s) ** 2, rows).doit(), Sum(pull * c, rows).doit()
    return sqrt(t**2 * own_squared + shared**2)


def ohm_share():
    """The part of the ± of a phase's ohms that more rows do not take away, over the value.

    Returns
    -------
    sympy.Expr
        U ohms between two leads, z those of the probes, d last digit of both, k sigmas in a ±, tau ± of a temperature
        that was not read, T the metal's constant, 235 for copper.

    Notes
    -----
    Equation: one phase is half of U − z, so its share is the same; the error of a rounded number is evenly spread over
        its last digit; ohms go with T + θ; independent causes add up in squares.
    Behind: `fits.fit_ohms`, `bench.Meter.digits_sigma`.
    """
    from sympy import diff, integrate, log, sqrt

    reading, z, d, c, k, tau, metal, off, theta = letters("U z d c k tau T x theta")
    rounding = integrate(off**2 / d, (off, -d / 2, d / 2))
    phases = reading - z
    digits = sum(diff(phases, number) ** 2 * rounding for number in (reading, z))
    warmth = diff(log(metal + theta), theta).subs(theta, 20)
    return sqrt(c**2 + k**2 * digits / phases**2 + (warmth * tau) ** 2)


def henry_share():
    """The ± of the henries over the value, from what the ± of volts, amps, ohms and speed make of it.

    Returns
    -------
    sympy.Expr
        q reactance over all ohms in the path.

    Notes
    -----
    Equation: I = E / √(R² + (ωL)²) for L, E and ω in step with speed; gain of an input = ∂ln L / ∂ln of it;
        independent causes add up in squares.
    Behind: `fits.from_resistors`, `fits.terminal_constants`.
    """
    from sympy import diff, log, sqrt

    volts, amps, ohm, speed, w, q = letters("E I R n w q")
    log_henry = log(((volts * speed / amps) ** 2 - ohm**2) / (w * speed) ** 2) / 2
    total = 0
    for number, share in zip((volts, amps, ohm, speed), letters("e i r v")):
        gain = (diff(log_henry, number) * number).subs(volts, amps * ohm * sqrt(1 + q**2) / speed)
        total += (gain.cancel() * share) ** 2
    return sqrt(total)
