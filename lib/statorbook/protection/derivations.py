"""Where the plant's formulas come from, derived with sympy: heat on its way to the air, and the bank that comes off.

Letters: P watts, θ temperatures, R_jc, R_cs, R_sb, R_ba kelvins for each watt from junction to base, heat sink, air in
the box and air outside; V drop and r slope of a diode; E peak of a phase's volts or volts of a source, V_0 and V_m
volts before and at the most, L henries, C farads, I amps, t time; J inertia, T torque at rest, ω speeds.
"""

from functools import cache

from statorbook.quantities import letters


@cache
def diode_heat():
    """What the six diodes of a bridge lose together.

    Returns
    -------
    dict of str to sympy.Expr
        "smooth", with 120° of even current in each, and "sinusoid", with half a sinusoid in each, I the DC amps [W].

    Notes
    -----
    Equation: mean of (V + r i) i over a period, six times.
    Behind: `protection.rectifier_needs`, `bridge.DiodeAmps.bridge_watts`.
    """
    from sympy import Rational, expand, integrate, pi, sin

    drop, slope, dc, theta = letters("V r I theta")

    def of_six(amps, angle):
        return expand(6 * integrate(expand((drop + slope * amps) * amps), (theta, 0, angle)) / (2 * pi))

    # Each diode carries a third of the DC on average, so that half a sinusoid has a peak of π/3 of it.
    return {"smooth": of_six(dc, Rational(2, 3) * pi), "sinusoid": of_six(pi / 3 * dc * sin(theta), pi)}


@cache
def heat_in_a_row():
    """How hot a diode gets whose heat goes to the air through one thing after the other.

    Returns
    -------
    dict of str to sympy.Expr
        "junction", "base", "heat sink" and "box", the temperatures [°C]; "needed", the most that the heat sink may have
        for a junction of θ_j [K/W].

    Notes
    -----
    Equation: P R = difference of temperature over each part of the way, the same P through all of them.
    Behind: `protection.rectifier_fit`, `protection.rectifier_needs`.
    """
    from sympy import solve

    watts, air = letters("P theta_a")
    to_base, to_sink, to_box, to_air = letters("R_jc R_cs R_sb R_ba")
    junction, base, sink, box = letters("theta_j theta_c theta_s theta_b")
    way = (junction - base, base - sink, sink - box, box - air)
    parts = [fall - watts * part for fall, part in zip(way, (to_base, to_sink, to_box, to_air), strict=True)]
    found = solve(parts, [junction, base, sink, box], dict=True)[0]
    return {
        "junction": found[junction],
        "base": found[base],
        "heat sink": found[sink],
        "box": found[box],
        "needed": solve(found[junction] - junction, to_box)[0].expand(),
    }


@cache
def bank_comes_off():
    """What becomes of volts and speed when nothing takes the amps any more.

    Returns
    -------
    dict of str to sympy.Expr
        "volts", the peak behind the bridge with E the peak of a phase [V]; "seconds" from the speed ω_0 to ω [s], and
        "speed" after the time t [rad/s].

    Notes
    -----
    Equation: the highest difference of two phases; J dω/dt = T (1 − ω/ω_r), a torque that falls in a straight line to
        nothing at the runaway speed ω_r.
    Behind: `protection.load_lost`.
    """
    from sympy import cos, integrate, pi, solve, sqrt

    peak, theta, inertia, stall, time = letters("E theta J T t")
    start, speed, runaway, left = letters("omega_0 omega omega_r x")
    line = peak * (cos(theta) - cos(theta - 2 * pi / 3))
    # Written in x = 1 − ω/ω_r, what is left of the way: dω = −ω_r dx.
    begins, ends = 1 - start / runaway, letters("x_1")
    seconds = integrate(inertia * runaway / (stall * left), (left, ends, begins))
    return {
        "volts": sqrt(line.subs(theta, 0) ** 2 + line.subs(theta, pi / 2) ** 2),
        "seconds": seconds.subs(ends, 1 - speed / runaway),
        "speed": (runaway * (1 - solve(seconds - time, ends)[0])).expand(),
    }


@cache
def capacitor_at_rectifier():
    """What a capacitor across the rectifier does before the over-voltage load acts.

    Returns
    -------
    dict of str to sympy.Expr
        "struck", the highest volts that the current in the coils can drive it to [V]; "farad", what it needs so that
        the amps I, which flow on for the time t, raise it no further than from V_0 to V_m [F].

    Notes
    -----
    Equation: ½ L I² + ½ C (V_0 − E)² = ½ C (V − E)², with a source of E behind the coils; C (V_m − V_0) = I t.
    Behind: `protection.load_lost`, `protection.guard_needs`.
    """
    from sympy import integrate, solve

    henry, farad, amps, source, before, most, first, over = letters("L C I E V_0 V_m x y")
    energy = henry * amps**2 / 2 + farad * first**2 / 2
    charge, rise = integrate(amps, (letters("tau"), 0, letters("t"))), letters("u")
    return {
        "struck": source + solve(energy - farad * over**2 / 2, over)[0].subs(first, before - source),
        "farad": solve(farad * rise - charge, farad)[0].subs(rise, most - before),
    }
