"""What there is to say about a wind rotor: its guard, its tips, and why one wind is not a year."""

from math import floor, log10

from statorbook.drives.air import RAYLEIGH_CUBES
from statorbook.quantities import TIP_M_S, say


def guard_phrase(rotor):
    """What turns a rotor away or holds it, as a noun phrase; empty without a guard."""
    said = []
    if rotor.furls_from_m_s is not None:
        said.append(f"furling from a wind of {_wind(rotor.furls_from_m_s)} at the hub")
    if rotor.brake_from_rpm is not None:
        said.append(f"a brake that grips from {rotor.brake_from_rpm:.0f} rpm of the rotor")
    return " and ".join(said)


def strongest_phrase(rotor):
    """What is taken for the strongest wind, as a noun phrase."""
    wind = _wind(rotor.strongest().hub_wind_m_s)
    passes = rotor.passing_m_s < rotor.hub_storm_m_s
    return f"gusts of wind of up to {wind} at the hub" + (", which pass before it has furled" if passes else "")


def rotor_words(rotor):
    """What a rotor does and what holds it: wind at the hub, power, speeds, tips and guard."""
    wind = _wind(rotor.hub_wind_m_s)
    held = rotor.driving_m_s < rotor.hub_wind_m_s
    start = f"A wind of {wind} at the hub" + (
        f" is more than it furls from, so it is taken as {_wind(rotor.driving_m_s)}, and that" if held else ""
    )
    return (
        f"{start} carries {rotor.source_watts:.0f} W through the rotor's circle; "
        f"the rotor gives at most {rotor.best_shaft_watts:.0f} W at {rotor.best_speed_rpm:.0f} rpm of the generator "
        f"and turns at {rotor.free_speed_rpm:.0f} rpm unloaded. {runaway_words(rotor)}"
    )


def runaway_words(rotor):
    """How fast a rotor and its tips run with the load gone, with its guard and without."""
    storm = _wind(rotor.hub_storm_m_s)
    free = f"it would run away to {_speed(rotor, rotor.unguarded_runaway_speed_rpm)}, in gusts of {storm}"
    if not rotor.guard_words:
        return f"Nothing is given that turns it out of the wind or brakes it: {free}."
    return (
        f"With {guard_phrase(rotor)} it is taken to run no faster than "
        f"{_speed(rotor, rotor.runaway_speed_rpm)}; should that fail, {free}."
    )


def tip_caution(rotor):
    """What tips that are too fast mean, and what keeps them slow enough.

    Parameters
    ----------
    rotor : WindRotor
        The rotor.

    Returns
    -------
    str
        Sentences; empty when the tips stay slow enough even with the guard failed.

    Notes
    -----
    Equation: see `WindRotor.tip_m_s`.
    Valid: blades of the usual strength.
    Source: see `quantities.facts.TIP_M_S`.
    """
    with_guard, without = (
        rotor.tip_m_s(speed) for speed in (rotor.runaway_speed_rpm, rotor.unguarded_runaway_speed_rpm)
    )
    if without <= TIP_M_S.value:
        return ""
    limit, fast = say(TIP_M_S.value, "m/s"), say(without, "m/s")
    usual = f"{say(TIP_M_S.low, 'm/s').split(' ')[0]} to {limit}"
    burst = (
        f"tips at {fast} are no speed that a rotor reaches whole: blades burst long before, for small rotors are "
        f"usually built for tips below about {usual} (common practice, no source)"
    )
    late = (
        f"For tips of at most {limit} it must furl from a wind of {_wind(_down(rotor.latest_furling_m_s))} at "
        f"the hub or lighter, or a brake must grip from {_down(rotor.latest_brake_rpm):.0f} rpm of the rotor or less"
    )
    clear = (
        "Work on it only in calm, with the rotor down or tied, never on one that turns, and let nobody stand under it "
        "or in the plane of its blades in strong wind."
    )
    if not rotor.guard_words:
        return f"Without a guard {burst}. Fit furling or a brake that acts by itself. {late}. {clear}"
    if with_guard > TIP_M_S.value:
        return (
            f"Even with its guard the tips reach {say(with_guard, 'm/s')}, too fast. {late}. "
            f"Should it fail, {burst}. {clear}"
        )
    return f"Should its guard fail – ice, rust, a broken spring – {burst}. Look after the guard every season. {clear}"


def rotor_limits(rotor):
    """When the model of a wind rotor is not true."""
    furls = (
        "Furling is taken to hold the power where it begins; most rotors then lose some. "
        if rotor.furls_from_m_s is not None
        else ""
    )
    return (
        "The wind is taken to be steady and to meet the rotor squarely: gusts, trees, roofs and the tower are not "
        f"in it. {furls}A gear is taken to lose nothing. {year_words()}"
    )


def year_words():
    """Why one wind speed is not a year.

    Returns
    -------
    str
        Two sentences.

    Notes
    -----
    Equation: mean of v³ = 6/π × (mean of v)³ in Rayleigh's distribution.
    Valid: many open sites, over a year.
    Source: see `air.RAYLEIGH_CUBES`.
    """
    return (
        f"One wind speed is not a year: power goes with the cube of the wind, and over a year with Rayleigh's "
        f"distribution the mean of the cubes is {RAYLEIGH_CUBES.value:.2f} times the cube of the mean, so that most of "
        "the energy comes in winds above the mean: add up the year on page 04b_add_up_the_year before you choose a "
        "grouping."
    )


def _down(value):
    """Rounded down to two figures, so that what was told and typed in keeps to the limit."""
    step = 10.0 ** (floor(log10(value)) - 1)
    return step * floor(value / step)


def _wind(wind_m_s):
    return say(wind_m_s, "m/s", name="wind")


def _speed(rotor, speed_rpm):
    return f"{speed_rpm:.0f} rpm, with its tips at {say(rotor.tip_m_s(speed_rpm), 'm/s')}"
