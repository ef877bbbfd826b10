"""Other ways to the inductance than shorted amps: an LCR meter, one reading on a bank or resistors, all together."""

from dataclasses import replace
from math import hypot, inf, pi, sqrt

from statorbook.bench import METER_CLASS
from statorbook.bridge import bridge
from statorbook.errors import BadInput
from statorbook.quantities import DIODE_DROP_V, NORMAL_95, Estimate, Fact, require_number
from statorbook.winding import resistance_factor

LCR_SHARE = Fact(
    value=0.05,
    unit="of the reading, 95 %",
    low=0.01,
    high=0.15,
    source="hand-held LCR meter, rotor in place, mean of several rotor angles; common practice, no source",
)
ROTOR_OFF_SHARE = Fact(
    value=0.6,
    unit="of the value, 95 %",
    low=0.4,
    high=0.8,
    source="without the rotor the reading can be half the running value, common practice, no source",
)
SPEED_SHARE = Fact(
    value=0.01,
    unit="of the speed, 95 %",
    low=0.003,
    high=0.05,
    source="meter's Hz or hand-held rpm meter, common practice, no source",
)
RESISTOR_SHARE = Fact(
    value=0.02,
    unit="of the value, 95 %",
    low=0.01,
    high=0.1,
    source="read with a multimeter while warm from the load, three alike; common practice, no source",
)
_STAR_SHARE = {"star": 1.0, "delta": 1.0 / 3.0}
_ROTOR_OFF_FACTOR = 1.5  # middle between the reading and twice the reading
_ROOM = 60.0  # reactance over resistance at which the search ends


def from_lcr(line_henry, *, rotor_on):
    """Star-equivalent phase inductance from an LCR meter between two leads.

    Parameters
    ----------
    line_henry : float
        Reading between two leads, the third one open; best the mean of several rotor angles [H].
    rotor_on : bool
        Whether the rotor was in place.

    Returns
    -------
    Estimate
        Inductance of one phase of the equivalent star [H].

    Raises
    ------
    BadInput
        When the reading is not above 0.

    Notes
    -----
    Equation: two phases in a row, so half the reading; without the rotor 1.5 times that, ± 60 %.
    Valid: magnets in place, iron as at work; the reading of a phase in a row counts its coupling as in work.
    Source: Bird, Electrical Circuit Theory and Technology, ch. 19 (from memory); factor without rotor common
        practice, no source.
    """
    require_number(line_henry, "LCR reading", "H", above=0, at_most=10)
    phase = line_henry / 2.0
    if rotor_on:
        how = "one phase of the equivalent star from an LCR meter, rotor in place; ± 95 % from its class and the angle"
        return Estimate(value=phase, plus_minus=LCR_SHARE.value * phase, unit="H", how=how)
    value = _ROTOR_OFF_FACTOR * phase
    how = "one phase of the equivalent star from an LCR meter without the rotor, 1.5 times the reading assumed"
    return Estimate(value=value, plus_minus=ROTOR_OFF_SHARE.value * value, unit="H", how=how, assumed=True)


def from_load(stator, emf, ohm, *, speed_rpm, dc_amps, dc_volts, copper_c=20.0, conductor="copper"):
    """Star-equivalent phase inductance from one reading of the winding as found, charging a bank through six diodes.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    emf : Estimate
        Star-equivalent phase EMF, rms per rpm, magnets as warm as in the reading [V/rpm].
    ohm : Estimate
        Star-equivalent phase resistance at 20 °C [Ω].
    speed_rpm : float
        Rotor speed [rpm].
    dc_amps : float
        Into the bank, DC mean [A].
    dc_volts : float
        At the rectifier's DC side, DC [V].
    copper_c : float
        Winding temperature [°C].
    conductor : str
        "copper" or "aluminium".

    Returns
    -------
    Estimate
        Inductance of one phase of the equivalent star [H].

    Raises
    ------
    BadInput
        When EMF and ohms cannot drive that current, or a number is out of range.

    Notes
    -----
    Equation: the henries for which `bridge.bridge` gives the amps read; ± 95 % by moving each input by its
        own ±.
    Valid: stiff DC volts, as a bank gives; at a speed where the inductance holds the current back.
    Source: inverse of `bridge.bridge`; JCGM 100:2008 (GUM), 5.1.2 (from memory).
    """
    require_number(speed_rpm, "speed", "rpm", above=0, at_most=20_000)
    require_number(dc_amps, "amps into the bank", "A", above=0, at_most=1_000)
    require_number(dc_volts, "volts of the bank", "V", above=0, at_most=1_000)
    warm = resistance_factor(copper_c, conductor=conductor)
    best = {"emf": emf.value, "ohm": ohm.value * warm, "rpm": speed_rpm, "amps": dc_amps, "volts": dc_volts}
    step = {
        "emf": emf.plus_minus,
        "ohm": ohm.plus_minus * warm,
        "rpm": SPEED_SHARE.value * speed_rpm,
        "amps": METER_CLASS["amps"].value * dc_amps,
        "volts": METER_CLASS["volts"].value * dc_volts,
    }
    return _solved(_henry, stator, best, step, "one loaded reading")


def from_resistors(
    stator,
    emf,
    ohm,
    *,
    speed_rpm,
    resistor_ohm,
    joined,
    line_amps=None,
    line_volts=None,
    copper_c=20.0,
    conductor="copper",
):
    """Star-equivalent phase inductance from one reading of the winding as found on three equal resistors.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    emf : Estimate
        Star-equivalent phase EMF, rms per rpm, magnets as warm as in the reading [V/rpm].
    ohm : Estimate
        Star-equivalent phase resistance at 20 °C [Ω].
    speed_rpm : float
        Rotor speed [rpm].
    resistor_ohm : float
        One of the three resistors, as warm as in the reading [Ω].
    joined : str
        "star" or "delta": how the three are joined.
    line_amps : float or None
        In one lead, rms; None when the volts were read [A].
    line_volts : float or None
        Between two leads, rms, under load; None when the amps were read [V].
    copper_c : float
        Winding temperature [°C].
    conductor : str
        "copper" or "aluminium".

    Returns
    -------
    Estimate
        Inductance of one phase of the equivalent star [H].

    Raises
    ------
    BadInput
        When not just one of amps and volts is given, EMF and ohms cannot drive that current, or a number is out of
        range.

    Notes
    -----
    Equation: (ωL)² = (E / I)² − (R + r)², r of one star phase of the resistors, a third of one in delta; with volts
        I = U / (√3 r); ± 95 % by moving each input by its own ±.
    Valid: sinusoidal EMF, resistors without inductance of their own, alike within their ±.
    Source: phasor algebra, Bird, Electrical Circuit Theory and Technology, ch. 15 and 34 (from memory).
    Derivation: `fits.henry_share`.
    """
    if (line_amps is None) == (line_volts is None) or joined not in _STAR_SHARE:
        both = "neither or both of amps and volts were given"
        raise BadInput(
            both if joined in _STAR_SHARE else f"{joined!r} was given",
            "one of amps and volts, and resistors in star or delta are allowed",
            "give one reading at a time",
            where="reading on resistors",
        )
    require_number(speed_rpm, "speed", "rpm", above=0, at_most=20_000)
    require_number(resistor_ohm, "one resistor", "Ω", above=0, at_most=10_000)
    what, read = ("amps", line_amps) if line_volts is None else ("volts", line_volts)
    require_number(read, f"{what} on the resistors", "A" if what == "amps" else "V", above=0, at_most=2_000)
    warm = resistance_factor(copper_c, conductor=conductor)
    best = {
        "emf": emf.value,
        "ohm": ohm.value * warm,
        "rpm": speed_rpm,
        "load": resistor_ohm * _STAR_SHARE[joined],
        what: read,
    }
    step = {
        "emf": emf.plus_minus,
        "ohm": ohm.plus_minus * warm,
        "rpm": SPEED_SHARE.value * speed_rpm,
        "load": RESISTOR_SHARE.value * best["load"],
        what: METER_CLASS[what].value * read,
    }
    return _solved(_resistor_henry, stator, best, step, f"{what} on three resistors")


def _resistor_henry(stator, emf, ohm, rpm, load, amps=None, volts=None):
    current = amps if volts is None else volts / (sqrt(3.0) * load)
    squared = (emf * rpm / current) ** 2 - (ohm + load) ** 2
    if squared <= 0.0:
        read = f"{amps:g} A" if volts is None else f"{volts:g} V between the leads"
        raise BadInput(
            f"{read} at {rpm:g} rpm on resistors of {load:.3g} Ω a star phase was given",
            "less than EMF and ohms alone can drive is allowed",
            "read the resistors warm, and check speed, reading, and whether they are in star or delta",
            where="reading on resistors",
        )
    return sqrt(squared) / (2.0 * pi * stator.electrical_hz(rpm))


def _solved(solve, stator, best, step, source):
    """The henries at the values read, and how far the ± of each of these moves them."""
    henry = solve(stator, **best)
    moved = {name: _moved(solve, stator, best, name, by, henry) for name, by in step.items()}
    how = f"one phase of the equivalent star from {source}; ± 95 % from meters, speed, EMF and ohms"
    together = {name: moved[name] for name in ("emf", "ohm")}
    return Estimate(value=henry, plus_minus=hypot(*moved.values()), unit="H", how=how, moved_by=together)


def _moved(solve, stator, best, name, by, henry):
    """Half of what the henries change over the ± of one input; where one end has no answer, all of the other's."""
    ends = []
    for sign in (-1, 1):
        try:
            ends.append(sign * (solve(stator, **{**best, name: best[name] + sign * by}) - henry))
        except BadInput:
            continue
    return sum(ends) / len(ends) if ends else henry


def _henry(stator, emf, ohm, rpm, amps, volts):
    from scipy.optimize import brentq

    omega = 2.0 * pi * stator.electrical_hz(rpm)

    def excess(ratio):
        got = bridge(sqrt(2.0) * emf * rpm, ohm, ratio * ohm, volts, diode_drop_v=DIODE_DROP_V.value, method="exact")
        return got.dc_amps - amps

    if excess(0.0) < 0.0:
        raise BadInput(
            f"{amps:g} A at {rpm:g} rpm into {volts:g} V was given",
            "no more than EMF and ohms alone can drive is allowed",
            "check speed, amps and volts, and that the winding is joined as the stator facts say",
            where="loaded reading",
        )
    if excess(_ROOM) > 0.0:
        raise BadInput(
            f"{amps:g} A at {rpm:g} rpm into {volts:g} V was given",
            "a current that the inductance still lets through is allowed",
            "read the amps again, at a higher speed",
            where="loaded reading",
        )
    return float(brentq(excess, 0.0, _ROOM, xtol=1e-9)) * ohm / omega


def combined(estimates):
    """What several estimates of the same constant say together.

    Parameters
    ----------
    estimates : dict of str to Estimate
        By the way they were found, such as "shorted amps"; one or more.

    Returns
    -------
    tuple of Estimate and tuple of str
        The weighted mean, and the ways that do not agree with the others within their ±.

    Raises
    ------
    BadInput
        When there is none.

    Notes
    -----
    Equation: mean = Σ g x, g = 1/u² / Σ 1/u²; ± = √(Σ (Σ g d)² + Σ (g v)²), d what EMF or ohms move a way, v what is
        left of its own ±; widened by √(χ²/(n − 1)) when that is above 1.
    Valid: ways independent of each other but for EMF and ohms.
    Source: JCGM 100:2008 (GUM), 5.2, correlated input quantities; widening, Birge, Phys. Rev. 40, 207 (both from
        memory).
    """
    if not estimates:
        raise BadInput("no estimate was given", "one or more are needed", "read one way at least", where="inductance")
    weights = {way: 1.0 / one.plus_minus**2 if one.plus_minus else inf for way, one in estimates.items()}
    total = sum(weights.values())
    mean = sum(weights[way] * one.value for way, one in estimates.items()) / total
    chi = sum(weights[way] * (one.value - mean) ** 2 for way, one in estimates.items()) * NORMAL_95**2
    widen = max(1.0, sqrt(chi / (len(estimates) - 1))) if len(estimates) > 1 else 1.0
    apart = tuple(way for way, one in estimates.items() if abs(one.value - mean) > one.plus_minus)
    first = next(iter(estimates.values()))
    how = first.how if len(estimates) == 1 else f"weighted mean of {', '.join(estimates)}"
    assumed = all(one.assumed for one in estimates.values())
    pull = {way: widen * weight / total for way, weight in weights.items()}
    causes = {cause for one in estimates.values() for cause in one.moved_by}
    moved = {
        cause: sum(pull[way] * one.moved_by.get(cause, 0.0) for way, one in estimates.items())
        for cause in sorted(causes)
    }
    own = (pull[way] * one.own_plus_minus for way, one in estimates.items())
    width = hypot(*moved.values(), *own)
    made = replace(first, value=mean, plus_minus=width, how=how, assumed=assumed, moved_by=moved)
    return made, apart
