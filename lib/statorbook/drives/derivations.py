"""Where the drives' formulas come from: each derived with sympy from its first line, for notebook 91.

Letters, in metres, seconds, kilograms, newtons and watts: g pull of the earth, rho density, Q flow, H head, V jet, U
bucket, D diameter that turns, d nozzle, P power, T torque; n speed of the generator in turns a minute, n_b where most
power is.
"""

from functools import cache

from statorbook.quantities import letters


@cache
def best_jet_speed():
    """Torque of a jet on buckets, where it gives most power, and where it pulls no more.

    Returns
    -------
    dict of str to sympy.Expr
        "jet" from the head; "torque" at bucket speed U; "best bucket", "free bucket" and "share of the jet" at the
        best; "best speed" in rpm. C is jet speed over the ideal one, m the share of its speed that the water turns
        back in the bucket.

    Notes
    -----
    Equation: g H C² = V²/2; the bucket meets the water with V − U and sends it back with m (V − U), so that the push
    is ρ Q (1 + m)(V − U).
    Behind: `drives.WaterJet`, `drives.pitch_diameter_for_speed_mm`.
    """
    from sympy import Rational, diff, pi, solve

    g, h, c, rho, q, v, u, d, m = letters("g H C rho Q V U D m")
    push = rho * q * (1 + m) * (v - u)
    watts = push * u
    best = solve(diff(watts, u), u)[0]
    return {
        "jet": solve(v**2 / 2 - c**2 * g * h, v)[0],
        "torque": push * d / 2,
        "best bucket": best,
        "free bucket": solve(push, u)[0],
        "share of the jet": (watts.subs(u, best) / (rho * q * v**2 * Rational(1, 2))).simplify(),
        "best speed": 60 * best / (pi * d),
    }


@cache
def bent_jet_torque():
    """Torque of a jet runner whose runaway is less than twice its best speed.

    Returns
    -------
    dict of str to sympy.Expr
        "bend" a, and "torque" at speed n of a runner with most power P at n_b and runaway at k n_b.

    Notes
    -----
    Equation: torque goes as 1 − a y − (1 − a) y², y = n / (k n_b), which is nothing at y = 1; a is what makes the
    power, torque times n, greatest at n_b.
    Behind: `drives.WaterJet.torque_nm`, `drives.PipedJet.torque_nm`.
    """
    from sympy import diff, solve

    p, n, best, k, a = letters("P n n_b k a")
    y = n / (k * best)
    shape = 1 - a * y - (1 - a) * y**2
    bend = solve(diff(shape * n, n).subs(n, best), a)[0].factor()
    shape = shape.subs(a, bend)
    torque = torque_of_power().subs(n, best) * shape / shape.subs(n, best)
    return {"bend": bend, "torque": torque.factor()}


@cache
def piped_flow():
    """Flow of a pipe with a nozzle at its end, with a friction factor that stays.

    Returns
    -------
    dict of str to sympy.Expr
        "loss" of head at a flow, "flow" of j nozzles. L length, B bore, f friction factor, K losses of fittings in
        velocity heads; C jet speed over the ideal one.

    Notes
    -----
    Equation: head is what the pipe takes, (f L/B + K) of its velocity heads, and what the jets carry, (V/C)² / 2 g.
    Behind: `drives.Pipe.loss_m`, `drives.PipedJet`, `drives.nozzle_sweep`.
    """
    from sympy import pi, solve

    g, h, q, length, bore, f, k, c, d, j = letters("g H Q L B f K C d j")
    loss = (f * length / bore + k) * (q / (pi * bore**2 / 4)) ** 2 / (2 * g)
    jet = q / (j * pi * d**2 / 4)
    return {"loss": loss, "flow": solve(h - loss - (jet / c) ** 2 / (2 * g), q)[0].simplify()}


@cache
def third_of_the_head():
    """Flow, head and nozzle of most power at the end of a pipe.

    Returns
    -------
    dict of str to sympy.Expr
        "flow", "share lost" of the head and "nozzle" of j nozzles; the pipe takes c Q².

    Notes
    -----
    Equation: ρ g Q (H − c Q²) is greatest where its slope is nothing; a nozzle lets C √(2 g (H − c Q²)) through.
    Behind: `drives.best_nozzle_mm`.
    """
    from sympy import diff, pi, solve, sqrt

    rho, g, h, q, c, speed_share, d, j = letters("rho g H Q c C d j")
    best = solve(diff(rho * g * q * (h - c * q**2), q), q)[0]
    left = h - c * best**2
    through = j * pi * d**2 / 4 * speed_share * sqrt(2 * g * left)
    return {"flow": best, "share lost": (1 - left / h).simplify(), "nozzle": solve(through - best, d)[0].simplify()}


@cache
def most_of_the_wind():
    """What a rotor can take from the wind at most.

    Returns
    -------
    dict of str to sympy.Expr
        "at the rotor" the wind when w is left behind it, "best behind" that wind, "share" taken then, and "watts" of
        the wind v through a circle of diameter D.

    Notes
    -----
    Equation: the air that passes at s pushes by ρ A s (v − w), which times s is the energy that it loses,
    ρ A s (v² − w²) / 2; the power is greatest where its slope is nothing.
    Behind: `drives.WindRotor`.
    """
    from sympy import diff, pi, solve

    rho, d, v, w, s = letters("rho D v w s")
    mass = rho * pi * d**2 / 4 * s
    lost = mass * (v**2 - w**2) / 2
    at_rotor = solve((mass * (v - w) * s - lost) / mass, s)[0].factor()
    power = lost.subs(s, at_rotor)
    best = next(root for root in solve(diff(power, w), w) if root.is_positive)
    watts = lost.subs({s: v, w: 0})
    return {"at the rotor": at_rotor, "best behind": best, "share": (power.subs(w, best) / watts), "watts": watts}


@cache
def rotor_torque():
    """Torque of a wind rotor from its power coefficient.

    Returns
    -------
    dict of str to sympy.Expr
        "tip" speed, "tip ratio" and "torque" of a rotor with power coefficient C at n turns a minute of the generator
        on its shaft; "speed" in rpm at a tip ratio λ.

    Notes
    -----
    Equation: tips run π D n / 60, and the torque is C times the wind's power over the angle turned in a second.
    Behind: `drives.WindRotor.torque_nm`, `drives.WindRotor.tip_ratio`, `drives.WindRotor.tip_m_s`.
    """
    from sympy import pi, solve

    p, n, d, v, c, ratio = letters("P n D v C lamda")
    tip = pi * d * n / 60
    torque = torque_of_power().subs(p, c * most_of_the_wind()["watts"])
    return {"tip": tip, "tip ratio": tip / v, "torque": torque, "speed": solve(tip / v - ratio, n)[0]}


@cache
def thinner_air():
    """Density of the air at a height.

    Returns
    -------
    sympy.Expr
        h above the sea, T the temperature there; p_0 and T_0 at the sea, T_0 in kelvin as T, G by which it falls for
        each metre, R gas constant of air.

    Notes
    -----
    Equation: dp = −ρ g dh, p = ρ R T, T = T_0 − G h, so that dp/p = g/(R G) dT/T.
    Behind: `drives.air_kg_per_m3`.
    """
    from sympy import integrate, log

    p_0, t_0, fall, r, g, h, t, x, y = letters("p_0 T_0 G R g h T x y")
    left = y ** (integrate(g / (r * fall) / x, (x, 1, y)) / log(y))  # e^a is y^(a / ln y)
    return p_0 * left.subs(y, 1 - fall * h / t_0) / (r * t)


@cache
def torque_of_power():
    """Torque at the shaft that carries a power P at n turns a minute.

    Returns
    -------
    sympy.Expr
        Torque.

    Notes
    -----
    Equation: one turn does the work 2 π T, and there are n / 60 of them a second.
    Behind: `drives.shaft_watts`.
    """
    from sympy import pi, solve

    p, t, n = letters("P T n")
    return solve(2 * pi * t * n / 60 - p, t)[0]


@cache
def pedal_torque():
    """Torque of legs at the generator, from a straight line against cadence.

    Returns
    -------
    dict of str to sympy.Expr
        "best" and "free" cadence over the free one, and "torque" at n when the legs give P at cadence c through a gear
        r and a chain that keeps e.

    Notes
    -----
    Equation: torque falls straight from rest to the free cadence; the power, torque times cadence, is greatest where
    its slope is nothing; what passes the gear is e P at r times the cadence.
    Behind: `drives.Pedals.torque_nm`.
    """
    from sympy import diff, solve

    p, n, c, r, e, x = letters("P n c r e x")
    line = 1 - x
    best = solve(diff(line * x, x), x)[0]
    at_best = torque_of_power().subs({p: e * p, n: r * c}, simultaneous=True)
    torque = at_best * (line / line.subs(x, best)).subs(x, best * n / (r * c))
    return {"best": best, "free": solve(line, x)[0], "torque": torque.factor()}


@cache
def flywheel_swing():
    """What a flywheel stores, how long it lasts, and how far a push of the legs swings its speed.

    Returns
    -------
    dict of str to sympy.Expr
        "inertia" of a solid disc of mass M and diameter D; "energy" of an inertia J at n turns a minute; "swing" of
        the speed over itself with P at cadence c; "half time" until a torque T has halved the speed.

    Notes
    -----
    Equation: J = ∫ r² dM; J Ω² / 2; legs pull 1 − cos 2θ times their mean, and what they pull above it, from 45° to
    135°, is J Ω ΔΩ; T = −J dΩ/dt.
    Behind: `drives.Pedals`, `drives.Pedals.flywheel_joules`, `drives.Pedals.coast_seconds`.
    """
    from sympy import cos, integrate, pi

    mass, d, inertia, n, p, c, t, r, theta = letters("M D J n P c T r theta")
    omega = 2 * pi * n / 60
    disc = integrate(r**2 * mass / (pi * d**2 / 4) * 2 * pi * r, (r, 0, d / 2))
    above = torque_of_power().subs(n, c) * integrate(-cos(2 * theta), (theta, pi / 4, 3 * pi / 4))
    return {
        "inertia": disc,
        "energy": inertia * omega**2 / 2,
        "swing": above / (inertia * omega) / omega,
        "half time": integrate(inertia / t, (r, omega / 2, omega)),
    }


@cache
def governed_torque():
    """Torque of an engine with a governor at the generator, behind its belt.

    Returns
    -------
    dict of str to sympy.Expr
        "flat" up to the governed speed, "falling" at n above it, and "slope of power" just above it over that just
        below; P at N turns a minute of the engine, b turns of the generator for one of it, e what the belt keeps, s
        the speed gained without load over N.

    Notes
    -----
    Equation: the belt hands e P on at b N turns a minute; from there the torque falls straight to nothing at
    (1 + s) b N.
    Behind: `drives.Engine`, `drives.Engine.torque_nm`.
    """
    from sympy import diff

    p, n, speed, b, e, s = letters("P n N b e s")
    governed = b * speed
    flat = torque_of_power().subs({p: e * p, n: governed}, simultaneous=True)
    falling = flat * ((1 + s) * governed - n) / (s * governed)
    slopes = [diff(torque * n, n).subs(n, governed) for torque in (falling, flat)]
    return {"flat": flat, "falling": falling, "slope of power": (slopes[0] / slopes[1]).simplify()}
