"""What the coils turn into heat at work and at the most that can flow, where the winding settles, and how soon."""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf, isinf, isnan, nan

import numpy as np

from statorbook.choice import around_delta
from statorbook.errors import BadInput
from statorbook.operation import operating_points, sweep
from statorbook.protection.warming import HOTTEST_C, Warming, copper_joule_per_k
from statorbook.quantities import say, shown_unit, to_shown
from statorbook.winding import resistance_factor, wire_area_mm2

AT_WORK, STRONGEST, MOST, OVERLOAD = "at work", "source at its strongest", "most that can flow", "overload"
_GRID_C = tuple(np.linspace(-40.0, HOTTEST_C, 7).tolist())
_SPEEDS = 200


@dataclass(frozen=True, kw_only=True)
class Heating:
    """One state of the plant that heats the coils."""

    name: str
    coil_amps_rms: float  # where the winding settles, or at the limit of its class, as the next three
    amps_per_mm2: float  # nan when the wire was not measured
    copper_watts: float  # lost in all coils
    coil_watts: float  # in one
    settles_c: float  # mean of the winding after hours in the hottest air; infinite when it does not settle
    cold_s: float  # from the hottest air to that limit; infinite when it stays below, nan when the wire is not known
    warm_s: float  # the same from where it is at work; 0 when it is too hot there already
    warming: Warming


@dataclass(frozen=True, kw_only=True)
class HeatFound:
    """All states of a plant that heat the coils, and what its class allows."""

    states: tuple  # at work, with the source at its strongest, and with the most amps that can flow
    k_per_w: float  # rise over the air for each watt, measured or assumed
    limit_c: float  # what the class allows for the mean of the winding, itself still allowed

    @property
    def at_work(self):
        """The state at work, a `Heating`."""
        return self.states[0]

    @property
    def warm_up_min(self):
        """Four time constants, after which little more comes; nan when the wire is not known [min]."""
        return 4.0 * self.k_per_w * self.at_work.warming.joule_per_k / 60.0

    @property
    def stays_below(self):
        """Whether the winding keeps to its class at work and with the source at its strongest."""
        return all(state.settles_c <= self.limit_c for state in self.states[:2])


def heat_of(plant):
    """What the coils turn into heat, where the winding settles, and how soon it is too hot.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    HeatFound
        Three states, from work to the most that can flow.

    Raises
    ------
    BadInput
        When the run that was measured cannot be one of this machine.

    Notes
    -----
    Equation: C dθ/dt = P(θ) − (θ − air) / K; P from the operating point with the copper at θ, so that hotter copper
        loses more; C of the wire alone, or time constant / K where that was typed.
    Valid: a mean of the winding; most that can flow: amps that stay as they are. Iron loss counts in a measured rise.
    Source: heat balance; resistance of copper by IEC 60034-1 (from memory).
    """
    k_per_w, limit_c = rise_k_per_w(plant), plant.heat.limit_c
    body = _body(plant, k_per_w)
    half, empty = plant.bank.states[1], plant.bank.states[0]
    works = [
        (AT_WORK, *_settled(plant, plant.drive, half)),
        (STRONGEST, *_settled(plant, plant.drive.strongest(), empty)),
        (MOST, *_held(plant, plant.most.coil_amps_rms, plant.most.speed_rpm)),
    ]
    made = [(name, amps, Warming(watts=tuple(watts), **body)) for name, amps, watts in works]
    settled = made[0][2].settles_c
    start = min(settled, limit_c)
    return HeatFound(
        states=tuple(_state(plant, *each, start, limit_c) for each in made), k_per_w=k_per_w, limit_c=limit_c
    )


def overload(plant, found, times):
    """Amps in each coil that stay at a multiple of those at work.

    Parameters
    ----------
    plant : Plant
        The plant.
    found : HeatFound
        From `heat_of`.
    times : float
        Multiple of the amps at work [-].

    Returns
    -------
    Heating
        Where the winding would settle, and how long it bears it.

    Notes
    -----
    Equation: as in `heat_of`.
    Valid: whatever makes them flow, a second source or a shorted diode.
    Source: as there.
    """
    amps, watts = _held(plant, times * found.at_work.coil_amps_rms)
    warming = Warming(watts=tuple(watts), **_body(plant, found.k_per_w))
    return _state(plant, OVERLOAD, amps, warming, min(found.at_work.settles_c, found.limit_c), found.limit_c)


def rise_k_per_w(plant):
    """Rise over the air for each watt of copper loss: by the run that was measured, else as typed [K/W]."""
    # (θ2 − air) / P: θ2 by the resistance method, P the loss at the amps of the run with the copper at θ2. Heat of the
    # iron counts as copper's, which is right at the speed of the run.
    run = plant.heat.run
    if run is None:
        return plant.heat.k_per_w
    hot = run.hot_c(plant.machine.coil.conductor)
    conditions = replace(plant.conditions, copper_c=min(hot, HOTTEST_C))
    speeds = np.linspace(plant.runaway_rpm / _SPEEDS, plant.runaway_rpm, _SPEEDS)
    found = sweep([plant.winding], speeds, plant.bank.states[1], conditions)
    amps = np.maximum.accumulate(found.dc_amps[0])
    if run.dc_amps > amps[-1]:
        raise BadInput(
            f"{run.dc_amps:g} A into the bank were given for the run",
            f"this machine makes at most {amps[-1]:.0f} A in {plant.grouping.label}",
            "read the amps of the run again, or run it once more in this grouping",
            where="amps of the run",
        )
    return (hot - run.air_c) / float(np.interp(run.dc_amps, amps, found.copper_watts[0]))


def held_warming(plant, coil_amps_rms):
    """How the winding warms under amps in each coil that stay as they are, a Warming."""
    return Warming(watts=tuple(_held(plant, coil_amps_rms)[1]), **_body(plant, rise_k_per_w(plant)))


def _body(plant, k_per_w):
    tau = plant.heat.time_constant_min
    return {
        "temperatures_c": _GRID_C,
        "k_per_w": k_per_w,
        "air_c": plant.site.hottest_c,
        "joule_per_k": copper_joule_per_k(plant) if tau is None else 60.0 * tau / k_per_w,
    }


def _settled(plant, drive, bank_state):
    """Amps in a coil and copper loss at each temperature of the grid, where the drive settles with copper that warm."""
    # The temperature that pages reckon with and the volts that the reader accepts move nothing here.
    setting = replace(plant.machine.setting, conditions=replace(plant.conditions, copper_c=20.0))
    return _settled_by(drive, plant.winding, bank_state, replace(setting, accepted_dc_volts=None))


@lru_cache(maxsize=64)
def _settled_by(drive, winding, bank_state, setting):
    conditions = [replace(setting.conditions, copper_c=at) for at in _GRID_C]
    found = operating_points(drive, [winding] * len(_GRID_C), bank_state, conditions)
    extra_amps, extra_watts = _round_delta(winding, setting, found.speed_rpm[:, 0])
    amps = np.hypot(winding.coil_amps(found.phase_amps_rms[:, 0]), extra_amps)
    return amps, found.copper_watts[:, 0] + extra_watts


def _held(plant, coil_amps_rms, speed_rpm=0.0):
    """The same with amps that stay as they are, and with what circulates in a delta at a speed."""
    coil, coils = plant.machine.coil, plant.machine.stator.slots
    extra_amps, extra_watts = _round_delta(plant.winding, plant.machine.setting, speed_rpm)
    warm = resistance_factor(np.array(_GRID_C), conductor=coil.conductor)
    amps = np.hypot(coil_amps_rms * np.ones(len(_GRID_C)), extra_amps)
    return amps, coils * coil_amps_rms**2 * coil.ohm * warm + extra_watts


def _round_delta(winding, setting, speed_rpm):
    """Amps in a coil and watts that circulate in a delta at each temperature of the grid, where that was measured."""
    if winding.grouping.connection != "delta" or not setting.open_corner_v_per_rpm:
        return 0.0, 0.0
    speeds = np.broadcast_to(speed_rpm, len(_GRID_C))
    settings = [replace(setting, conditions=replace(setting.conditions, copper_c=at)) for at in _GRID_C]
    found = [around_delta(winding, at, float(rpm)) for at, rpm in zip(settings, speeds, strict=True)]
    return np.array([each.coil_amps_rms for each in found]), np.array([each.watts for each in found])


def _state(plant, name, amps, warming, start_c, limit_c):
    setting, settles = plant.machine.setting, warming.settles_c
    at = min(settles, limit_c)
    diameter = setting.wire_diameter_mm
    area = wire_area_mm2(diameter, setting.wires_in_hand) if diameter else nan
    coil_amps, watts = (float(np.interp(at, _GRID_C, column)) for column in (amps, warming.watts))
    return Heating(
        name=name,
        coil_amps_rms=coil_amps,
        amps_per_mm2=coil_amps / area,
        copper_watts=watts,
        coil_watts=watts / plant.machine.stator.slots,
        settles_c=settles,
        cold_s=warming.seconds_to(limit_c, warming.air_c),
        warm_s=warming.seconds_to(limit_c, start_c),
        warming=warming,
    )


def duration_words(seconds):
    """A time in words that are worth its figures: seconds, minutes or hours.

    Parameters
    ----------
    seconds : float
        The time [s].

    Returns
    -------
    str
        Such as "40 s", "12 min" or "3 h"; "never", or "an unknown time".
    """
    if isnan(seconds):
        return "an unknown time"
    if isinf(seconds):
        return "never"
    for name, size, most in (("s", 1.0, 120.0), ("min", 60.0, 7200.0), ("h", 3600.0, inf)):
        if seconds < most:
            return f"{float(f'{seconds / size:.2g}'):g} {name}"
    return ""


def two_figures(value, unit):
    """A number with two figures, however large, as models of heat and short circuits are worth.

    Parameters
    ----------
    value : float
        In the unit named [unit].
    unit : str
        The unit.

    Returns
    -------
    str
        Such as "47 A" or "1300 W".
    """
    return say(float(f"{value:.2g}"), unit, figures=2)


def degrees(copper_c):
    """A temperature of the winding in words, to the degree.

    Parameters
    ----------
    copper_c : float
        Temperature; infinite when it does not settle [°C].

    Returns
    -------
    str
        Such as "95 °C" or "over 200 °C", in the reader's unit.
    """
    over, shown_c = ("over ", HOTTEST_C) if isinf(copper_c) else ("", copper_c)
    return f"{over}{to_shown(shown_c, '°C'):.0f} {shown_unit('°C')}"
