"""Where the cable's formula comes from: how hot a wire gets while a short circuit flows, derived with sympy.

Letters: Q heat of a volume, ρ ohms of it at 20 °C, β where its ohms would be gone, counted from 0 °C downward, θ
temperatures, I amps, t time, S cross-section.
"""

from functools import cache

from statorbook.quantities import letters


@cache
def short_circuit_heating():
    """What a short circuit does to a wire that keeps all of its heat.

    Returns
    -------
    dict of str to sympy.Expr
        "k", what a wire of 1 mm² stands between two temperatures [A·√s/mm²]; "area", the thinnest wire for that k
        [mm²]; and "end", to which a wire of S warms in the time t [°C].

    Notes
    -----
    Equation: I² ρ(θ) / S dt = Q S dθ for each millimetre, ρ(θ) = ρ20 (β + θ) / (β + 20).
    Valid: up to 5 s, in which next to no heat leaves the wire.
    Source: energy; that ohms rise in a straight line, any text on electricity.
    Behind: `cable.adiabatic_constant`, `cable.short_circuit_area_mm2`.
    """
    from sympy import integrate, solve, sqrt

    heat, beta, rho, amps, area, seconds, k = letters("Q beta rho I S t k")
    first, last, warmth, ratio = letters("theta_i theta_f w x")
    # Written in w = β + θ, to which the ohms go in proportion: c dw / w is the I² t of a square millimetre.
    of_a_mm2 = heat * warmth / (rho * warmth / (beta + 20))
    way = integrate(1 / warmth, (warmth, 1, ratio))
    given = integrate(amps**2, (letters("tau"), 0, seconds))
    end = solve(way - given / (area**2 * of_a_mm2), ratio)[0]
    return {
        "k": sqrt(of_a_mm2 * way.subs(ratio, (beta + last) / (beta + first))),
        "area": solve(given - (k * area) ** 2, area)[0],
        "end": end * (beta + first) - beta,
    }
