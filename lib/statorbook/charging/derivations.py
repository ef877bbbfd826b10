"""Where the dump load's formulas come from: Ohm's and Kirchhoff's laws at the bank, put together with sympy.

Letters: V volts of the bank, I amps of the source, k how much more than those is asked for, n loads alike, R ohms of a
load, r ohms inside the bank or of one element, s elements in series, p rows in parallel, E the bank's own volts.
"""

from functools import cache

from statorbook.quantities import letters


@cache
def dump_ohms():
    """The most ohms with which dump loads take all that the source gives.

    Returns
    -------
    dict of str to sympy.Expr
        "ohms" of each of n alike [Ω], and "watts" that one of R takes [W].

    Notes
    -----
    Equation: k I = n V / R, so that nothing is left for a full bank.
    Behind: `charging.judged_dumps`, `charging.usual_dumps`.
    """
    from sympy import solve

    volts, amps, spare, loads, ohm = letters("V I k n R")
    each = volts / ohm
    return {"ohms": solve(spare * amps - loads * each, ohm)[0], "watts": volts * each}


@cache
def element_group_ohms():
    """What like elements in rows make together, and what each of them takes.

    Returns
    -------
    dict of str to sympy.Expr
        "ohms" of the group [Ω], and "watts" of one element [W].

    Notes
    -----
    Equation: the same amps through all s elements of a row, the same volts over all p rows.
    Behind: `charging.element_groups`.
    """
    from sympy import solve

    volts, each, series, rows, amps = letters("V r s p i")
    through = solve(volts - series * each * amps, amps)[0]
    return {"ohms": volts / (rows * through), "watts": through**2 * each}


@cache
def dump_step_volts():
    """By how much the bank's volts fall at once when a dump load comes on.

    Returns
    -------
    dict of str to sympy.Expr
        "exact", V the volts before [V], and "small", what is left of it when r is small beside R [V].

    Notes
    -----
    Equation: E + (I − V'/R) r = V' with the load, E + I r = V without.
    Behind: `charging.dump_steps`.
    """
    from sympy import solve

    volts, own, amps, load, inside, after = letters("V E I R r V_1")
    rests = solve(own + amps * inside - volts, own)[0]
    step = volts - solve(rests + (amps - after / load) * inside - after, after)[0]
    return {"exact": step.simplify(), "small": (step.diff(inside).subs(inside, 0) * inside).simplify()}
