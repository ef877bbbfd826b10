"""Where the winding's formulas come from: each derived with sympy from its first line, for notebook 91.

Letters: Q slots, p pole pairs, z different directions among the coils of a phase; e, r, l volts, ohms and henries of
one coil; s coils in series, a paths, k the distribution factor, I amps in a lead; theta degrees Celsius.
"""

from statorbook.quantities import letters

_TURN = 3  # leads, a third of a turn apart


def tooth_coil_factors(order=1):
    """What the coils of a phase lose by standing apart, and a coil by being narrower or wider than a pole.

    Parameters
    ----------
    order : int
        1 for the wave itself, 3 for its third harmonic [-].

    Returns
    -------
    tuple of sympy.Expr
        Distribution factor in z, pitch factor in p and Q.

    Notes
    -----
    Equation: z arrows end to end, each turned by 60°/z, are chords of a circle; a tooth is 2πp/Q wide, a pole π.
    Behind: `winding.Stator`.
    """
    from sympy import Abs, Rational, cos, integrate, pi, sin

    z, slots, pairs, theta = letters("z Q p theta")
    turned = order * pi * Rational(1, 3) / z

    def chord(angle):
        return sin(angle / 2)  # in diameters

    def flux(width):
        return integrate(cos(order * theta), (theta, -width / 2, width / 2))

    tooth = 2 * pi * pairs / slots
    return chord(z * turned) / (z * chord(turned)), Abs(flux(tooth) / flux(pi / order))


def regrouped(connection="star"):
    """The star that the leads of a regrouped winding show, and what one coil carries.

    Parameters
    ----------
    connection : str
        "star" or "delta".

    Returns
    -------
    dict of str to sympy.Expr
        "emf", "ohm", "henry" of one star phase and "coil amps".

    Notes
    -----
    Equation: each of a paths takes an equal share; s coils add e and (r + jωl) i. In a delta a lead carries the
        difference of two sides a third of a turn apart, and a star phase has a third of the difference of two sides.
    Behind: `winding.Winding`, `winding.Winding.phase_ohm`, `winding.Winding.coil_amps`,
        `winding.Winding.line_volts_rms`, `winding.Winding.star_equivalent`, `winding.coil_from_star`.
    """
    from sympy import I, Integer, exp, expand, pi

    s, a, k, e, r, henry, amps, omega = letters("s a k e r l I omega")
    span = Integer(1) if connection == "star" else abs(1 - exp(2 * I * pi / _TURN)).expand(complex=True)
    coil_amps = amps / (span * a)
    side = s * (k * e - (r + I * omega * henry) * coil_amps)
    volts = expand(side * span / (1 if connection == "star" else _TURN))
    lost = -volts.coeff(amps)
    return {
        "emf": volts.coeff(amps, 0),
        "ohm": lost.coeff(omega, 0),
        "henry": lost.coeff(omega) / I,
        "coil amps": coil_amps,
    }


def warm_factors():
    """Ohms and volts at theta over those at 20 °C.

    Returns
    -------
    tuple of sympy.Expr
        Ohms, the metal's line meeting no ohms at −k; volts, the magnets losing a share beta for each degree.

    Notes
    -----
    Equation: ohms in a straight line through 0 at −k; d(volts)/dθ = β × volts at 20 °C.
    Behind: `winding.resistance_factor`, `winding.magnet_factor`, `winding.Winding.phase_ohm`, `cable.cable_ohm`.
    """
    from sympy import integrate

    theta, k, beta, slope = letters("theta k beta c")
    ohms = integrate(slope, (theta, -k, theta))
    return ohms.factor() / ohms.subs(theta, 20).factor(), 1 + integrate(beta, (theta, 20, theta))


def third_round_delta():
    """Third-harmonic amps round a delta, and the watts that they lose in it.

    Returns
    -------
    dict of str to sympy.Expr
        "corner": volts across an open corner, peak, over those of one phase. "amps" and "watts" from V, those volts
        rms, and R and X of one phase against currents alike in all three.

    Notes
    -----
    Equation: e₃ cos 3θ in three phases a third of a turn apart, added; V = 3 (R + jX) I round the closed ring.
    Behind: `winding.OpenCorner`, `winding.circulating`.
    """
    from sympy import I, cos, expand_trig, pi, simplify

    v, r, x, theta = letters("V R X theta")
    added = sum(expand_trig(cos(3 * (theta - 2 * pi * lead / _TURN))) for lead in range(_TURN))
    amps = v / abs(_TURN * (r + I * x))
    corner = simplify(added / expand_trig(cos(3 * theta)))
    return {"corner": corner, "amps": amps, "watts": _TURN * r * amps**2}
