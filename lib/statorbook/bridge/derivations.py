"""Where the bridge's formulas come from: each derived with sympy from its first line, for notebook 90.

Letters: E phase EMF peak, V DC volts with two diode drops in them, R and X = ωL of one star phase, I current,
theta electrical angle.
"""

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from statorbook.quantities import letters

if TYPE_CHECKING:
    import sympy


@dataclass(frozen=True, kw_only=True)
class Formula:
    """A derived current with the condition that fixes it and the limit up to which it is true."""

    condition: "sympy.Eq"  # what fixes the angle in the formula
    current: "sympy.Expr"  # mean DC current
    limit: "sympy.Expr"  # DC volts at which the formula stops, or starts, to be true


def six_pulse_mean():
    """Mean of the tops of six line-volts waves.

    Returns
    -------
    sympy.Expr
        Mean DC volts without load, E being the phase EMF peak.

    Notes
    -----
    Equation: mean of √3 E cos θ from −30° to 30°.
    Behind: `bridge.bridge`.
    """
    from sympy import Rational, cos, integrate, pi, sqrt

    e, theta = letters("E theta")
    sixth = pi * Rational(1, 3)
    return integrate(sqrt(3) * e * cos(theta), (theta, -sixth / 2, sixth / 2)) / sixth


def commutation_drop():
    """Mean volts lost while the current moves from one phase to the next.

    Returns
    -------
    tuple of sympy.Expr
        Volts lost, and the cosine of the overlap angle.

    Notes
    -----
    Equation: 2 X di/dθ = √3 E sin θ drives the incoming current from 0 to I; meanwhile half of √3 E sin θ is missing.
    Behind: `bridge.bridge`, `bridge.bridge_waveforms`.
    """
    from sympy import Rational, cos, integrate, pi, sin, solve, sqrt

    e, x, i, mu, theta = letters("E X I mu theta")
    driving = sqrt(3) * e * sin(theta)
    moved = integrate(driving / (2 * x), (theta, 0, mu))
    cosine = letters("c")
    end = solve(moved.subs(cos(mu), cosine) - i, cosine)[0]
    lost = integrate(driving / 2, (theta, 0, mu)).subs(cos(mu), end) / (pi * Rational(1, 3))
    return lost.simplify(), end.expand()


@cache
def lossless_current():
    """Exact current of a source without resistance while three diodes conduct all the time.

    Returns
    -------
    Formula
        δ is the angle from the zero of the EMF to the zero of the current.

    Notes
    -----
    Equation: X di/dθ = E sin θ − v, v the six-step wave V/3, 2V/3, V/3, −V/3, …, which starts with the current at δ.
    Behind: `bridge.bridge`, `bridge.bridge_waveforms`.
    """
    from sympy import Eq, Rational, acos, cos, integrate, pi, sin, solve, sqrt

    e, v, x, theta, delta = letters("E V X theta delta")
    sixth, steps = pi / 3, (v / 3, 2 * v / 3, v / 3)
    # Half a period after its zero the current is back at zero: the volt-seconds of EMF and steps are equal.
    balance = integrate(e * sin(theta), (theta, delta, delta + pi)) - sixth * sum(steps)
    cosine = solve(balance, cos(delta))[0]
    current, area = 0, 0
    for number_of_step, step in enumerate(steps):
        start = delta + number_of_step * sixth
        piece = current + integrate((e * sin(letters("s")) - step) / x, (letters("s"), start, theta))
        area += integrate(piece, (theta, start, start + sixth))
        current = piece.subs(theta, start + sixth)
    # Each of three leads gives its positive half-wave to the plus rail once a period.
    mean = (3 * area / (2 * pi)).expand(trig=True)
    mean = mean.subs(cos(delta), cosine).subs(sin(delta), sqrt(1 - cosine**2)).simplify()
    # The current must rise after its zero: E sin δ is at least V/3.
    limit = solve(e**2 * (1 - cosine**2) - v**2 / 9, v)
    return Formula(
        condition=Eq(delta, acos(cosine)), current=mean, limit=max(limit, key=lambda root: root.subs(e, Rational(1)))
    )


@cache
def resistive_gaps():
    """Exact current of a source without inductance while there are gaps between the pulses.

    Returns
    -------
    Formula
        v is half the angle of a pulse.

    Notes
    -----
    Equation: i = (√3 E cos θ − V) / 2R while positive, six pulses a period.
    Behind: `bridge.bridge`.
    """
    from sympy import Eq, acos, cos, integrate, pi, sqrt

    e, v, r, theta, half = letters("E V R theta v")
    cosine = v / (sqrt(3) * e)
    pulse = integrate((sqrt(3) * e * cos(theta) - v) / (2 * r), (theta, -half, half))
    mean = (pulse / (pi / 3)).subs(half, acos(cosine)).simplify()
    # The pulse fills its sixth of the period, 30° on each side, when V falls to here.
    return Formula(condition=Eq(half, acos(cosine)), current=mean, limit=sqrt(3) * e * cos(pi / 6))


@cache
def resistive_overlap():
    """Exact current of a source without inductance while two and three diodes conduct by turns.

    Returns
    -------
    Formula
        b is where the third lead joins in, counted from the top of the pulse.

    Notes
    -----
    Equation: two diodes (√3 E cos θ − V) / 2R up to b, three (E cos(θ − 30°) − 2V/3) / R from b to 30°.
    Behind: `bridge.bridge`.
    """
    from sympy import Eq, Rational, asin, cos, integrate, pi, sqrt

    e, v, r, theta, join = letters("E V R theta b")
    two = integrate((sqrt(3) * e * cos(theta) - v) / (2 * r), (theta, 0, join))
    three = integrate((e * cos(theta - pi / 6) - 2 * v / 3) / r, (theta, join, pi / 6))
    angle = asin(v / (3 * e))
    mean = ((two + three) / (pi / 6)).subs(join, angle).simplify()
    return Formula(condition=Eq(join, angle), current=mean, limit=Rational(3, 2) * e)


def shorted_current():
    """Mean DC current into no volts at all: the most that a bridge can give.

    Returns
    -------
    sympy.Expr
        Mean of the rectified sum of three sinusoids of peak E/|Z|.

    Notes
    -----
    Equation: the current in the plus rail is the top of three waves and their mirror images, 60° of it.
    Behind: `bridge.bridge`.
    """
    from sympy import cos, integrate, pi, sqrt

    e, r, x, theta = letters("E R X theta")
    return integrate(e / sqrt(r**2 + x**2) * cos(theta), (theta, -pi / 6, pi / 6)) / (pi / 3)


def scaling():
    """The bridge's equation in units of E and E/|Z|, and what k times the turns do to it.

    Returns
    -------
    dict of str to sympy.Expr
        "resistance" and "reactance" in units of |Z|, letters q = X/R; "voltage ratio" and "watts" with k times the
        turns, over those before.

    Notes
    -----
    Equation: X di/dθ = E sin θ − R i − v with i = (E/|Z|) j becomes x dj/dθ = sin θ − r j − v/E; k times the turns in
    series make k E, k² R, k² X.
    Behind: `bridge.bridge`, `operation.one_curve`.
    """
    from sympy import simplify, sqrt

    e, r, x, q, k, v = letters("E R X q k V")
    size = sqrt(r**2 + x**2)
    turns = {e: k * e, r: k**2 * r, x: k**2 * x}
    ratio = v / (sqrt(3) * e)
    unit_watts = e**2 / size
    return {
        "resistance": simplify((r / size).subs(x, q * r)),
        "reactance": simplify((x / size).subs(x, q * r)),
        "voltage ratio": simplify(ratio.subs(turns, simultaneous=True) / ratio),
        "watts": simplify(unit_watts.subs(turns, simultaneous=True) / unit_watts),
    }


def delta_as_star():
    """Volts between two leads of a delta, written in the currents of its leads.

    Returns
    -------
    tuple of sympy.Expr
        Volts from lead A to lead B of the delta, then the same of a star of (E_ab − E_ca)/3 and so on and Z/3.

    Notes
    -----
    Equation: v_ab = E_ab − Z j_ab, i_a = j_ab − j_ca and so on; the EMFs of the delta sum to zero, so no current
    goes round in it.
    Behind: `winding.Winding.star_equivalent`.
    """
    from sympy import solve, symbols

    e_ab, e_bc, i_a, i_b, z, j_ab, j_bc, j_ca = symbols("E_ab E_bc i_a i_b Z j_ab j_bc j_ca")
    e_ca = -e_ab - e_bc
    round_trip = e_ab + e_bc + e_ca - z * (j_ab + j_bc + j_ca)
    inside = solve([round_trip, j_ab - j_ca - i_a, j_bc - j_ab - i_b], [j_ab, j_bc, j_ca], dict=True)[0]
    delta = (e_ab - z * j_ab).subs(inside).expand()
    star_a, star_b = (e_ab - e_ca) / 3, (e_bc - e_ab) / 3
    star = ((star_a - z / 3 * i_a) - (star_b - z / 3 * i_b)).expand()
    return delta, star


@cache
def best_ratios():
    """Voltage ratio u of most power into the bank, without inductance and without resistance.

    Returns
    -------
    tuple of sympy.Expr
        For q → 0, a root found by number, and for q → ∞, in closed form.

    Notes
    -----
    Equation: d(V I)/dV = 0, u = V / (√3 E).
    Behind: `bridge.bridge`, `operation.best_dc_volts`.
    """
    from sympy import diff, nsolve, solve, sqrt

    e, v, r, x = letters("E V R X")
    line_peak = sqrt(3) * e
    slow = (v * resistive_overlap().current).subs({e: 1, r: 1})
    fast = v * lossless_current().current
    first = nsolve(diff(slow, v), v, 0.9) / sqrt(3)
    return first.evalf(), (solve(diff(fast, v), v)[0] / line_peak).simplify()
