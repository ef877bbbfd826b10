"""A wind rotor with fixed blades."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import inf, pi

import numpy as np

from statorbook.drives.air import (
    BETZ_SHARE,
    SHEAR_EXPONENT,
    heier_marks,
    heier_torque_coefficient,
    wind_at_height,
    wind_watts,
)
from statorbook.drives.drive import Drive, shaft_watts
from statorbook.drives.quantity import Quantity
from statorbook.drives.wind_words import guard_phrase, rotor_limits, rotor_words, strongest_phrase
from statorbook.errors import BadInput
from statorbook.quantities import BRAKE_OVERSHOOT, FURLING_OVERSHOOT, RAD_S_PER_RPM, TIP_M_S, Fact, require_number

POWER_COEFFICIENT = Fact(
    value=0.35,
    unit="-",
    source="small three-blade machines 0.35 to 0.45, Khan and Pillay, Design of a PM wind generator; the careful end",
    low=0.35,
    high=0.45,
)
TIP_SPEED_RATIO = Fact(
    value=6.0,
    unit="-",
    source="small three-blade machines 5 to 7, Khan and Pillay, Design of a PM wind generator",
    low=5.0,
    high=7.0,
)
STORM_M_S = Fact(
    value=40.0, unit="m/s", source="gust of many years on open land, common practice, no source", low=25, high=70
)
START_TORQUE = Fact(
    value=0.5,
    unit="torque coefficient at rest × tip speed ratio²",
    source="Lysen, Introduction to Wind Energy (from memory)",
    low=0.3,
    high=0.8,
)
_MOST_START_OVER_BEST = 2.0  # more pull at rest than this, over that at the best speed, would move the best speed
_SHARES = np.linspace(0.02, 1.2, 600)  # of the best tip speed ratio, where the pull of a stronger wind is looked for


@dataclass(frozen=True, kw_only=True)
class WindRotor(Drive):
    """A rotor with fixed blades that faces the wind, until a guard turns it away or holds it.

    Parameters
    ----------
    rotor_diameter_m : float
        Diameter of the circle that the tips run [m].
    wind_m_s : float
        Wind that is asked about, where it was measured [m/s].
    wind_height_m : float
        Height above ground of that place [m].
    hub_height_m : float
        Height of the hub above ground [m].
    air_kg_m3 : float
        Density of the air, see `air.air_kg_per_m3`, in the unit kg/m³.
    power_coefficient : float
        Shaft power at the best speed over the power of the wind through the circle [-].
    tip_speed_ratio : float
        Tip speed over wind at the best speed [-].
    shear_exponent : float
        How fast the wind grows with height, see `air.wind_at_height` [-].
    storm_m_s : float
        Strongest gust, at the height of the wind reading [m/s].
    gear_ratio : float
        Turns of the generator for one of the rotor; 1 on the rotor's own shaft [-].
    furls_from_m_s : float or None
        Wind at the hub from which a tail or a hinge turns it away by itself; None without one [m/s].
    brake_from_rpm : float or None
        Speed of the rotor from which a brake on its shaft grips by itself; None without one [rpm].
    gusty : bool
        True for the most torque that any wind up to the one named can bring, before furling has caught up.

    Raises
    ------
    BadInput
        When a number is out of range, or the power coefficient is above what any rotor can take.

    Notes
    -----
    Equation: P = Cp ½ ρ A v³, λ = Ω R / v; Cp(λ) is Heier's curve, its top moved to the coefficient and the tip speed
        ratio given; Cq = Cp / λ, below the best λ raised to 0.5 / λ² at rest. Above the wind that it furls from,
        v stays that wind; between the speed that the brake grips from and 1.2 times it, T goes down to 0.
    Valid: steady wind across the whole circle, rotor facing it, a gear without losses.
    Source: Heier, Grid Integration of Wind Energy; Lysen, Introduction to Wind Energy (both from memory).
    Derivation: `drives.most_of_the_wind`.
    """

    rotor_diameter_m: float
    wind_m_s: float
    wind_height_m: float = 10.0
    hub_height_m: float = 10.0
    air_kg_m3: float = 1.225
    power_coefficient: float = POWER_COEFFICIENT.value
    tip_speed_ratio: float = TIP_SPEED_RATIO.value
    shear_exponent: float = SHEAR_EXPONENT.value
    storm_m_s: float = STORM_M_S.value
    gear_ratio: float = 1.0
    furls_from_m_s: float | None = None
    brake_from_rpm: float | None = None
    gusty: bool = False
    loss_name = "off the best speed"

    def __post_init__(self):
        hint = "measure twice the length from the hub's middle to a tip"
        require_number(self.rotor_diameter_m, "rotor diameter", "m", above=0, at_most=100, next_step=hint)
        hint = "read it from an anemometer or a weather record"
        require_number(self.wind_m_s, "wind speed", "m/s", above=0, at_most=100, next_step=hint)
        hint = "ask the weather service for the strongest gust in 50 years"
        require_number(self.storm_m_s, "strongest gust of wind", "m/s", above=0, at_most=100, next_step=hint)
        hint = "about 1.2 near the sea, 1.0 at {2000 m}"
        require_number(self.air_kg_m3, "density of the air", "kg/m³", at_least=0.4, at_most=1.8, next_step=hint)
        hint = "5 to 7 for three slim blades, 1 to 2 for many wide ones"
        require_number(self.tip_speed_ratio, "best tip speed ratio", "", at_least=0.5, at_most=15, next_step=hint)
        hint = "divide the turns of the generator by those of the rotor; 1 when it sits on the rotor's shaft"
        require_number(self.gear_ratio, "gear ratio", "", above=0, at_most=100, next_step=hint)
        require_number(self.power_coefficient, "power coefficient", "", above=0)
        if self.power_coefficient > BETZ_SHARE.value:
            raise BadInput(
                f"{self.power_coefficient:g} was given, more than any rotor can take from the wind",
                "at most 16/27 = 0.593 is allowed, since the air has to flow on behind the rotor",
                "type 0.35, or shaft watts over the watts in the wind if you have measured both",
                where="power coefficient",
            )
        self._at_hub_m_s(1.0)  # refuses heights and exponent
        if self.furls_from_m_s is not None:
            hint = "watch it beside an anemometer at the hub, or leave it empty when nothing turns it away"
            require_number(self.furls_from_m_s, "furling wind", "m/s", above=0, at_most=100, next_step=hint)
        if self.brake_from_rpm is not None:
            hint = "take it from the brake's maker, or leave it empty when nothing grips by itself"
            require_number(self.brake_from_rpm, "brake speed", "rpm", above=0, at_most=20_000, next_step=hint)

    def _at_hub_m_s(self, wind_m_s):
        return wind_at_height(wind_m_s, self.wind_height_m, self.hub_height_m, self.shear_exponent)

    @property
    def hub_wind_m_s(self):
        """Wind at the hub [m/s]."""
        return self._at_hub_m_s(self.wind_m_s)

    @property
    def hub_storm_m_s(self):
        """Strongest gust at the hub, never below the wind itself [m/s]."""
        return self._at_hub_m_s(max(self.storm_m_s, self.wind_m_s))

    @property
    def passing_m_s(self):
        """Wind at the hub up to which gusts pass before it has furled; infinite when it never does [m/s]."""
        return inf if self.furls_from_m_s is None else FURLING_OVERSHOOT.value * self.furls_from_m_s

    @cached_property
    def driving_m_s(self):
        """Wind at the hub that drives it: above the one that it furls from it stays that one [m/s]."""
        most = self.passing_m_s if self.gusty or self.furls_from_m_s is None else self.furls_from_m_s
        return min(self.hub_wind_m_s, most)

    @property
    def held_rpm(self):
        """Speed of the generator at which the brake holds everything; infinite without one [rpm]."""
        return inf if self.brake_from_rpm is None else BRAKE_OVERSHOOT.value * self.brake_from_rpm * self.gear_ratio

    @property
    def guard_words(self):
        """What turns it away or holds it, as a noun phrase; empty without."""
        return guard_phrase(self)

    @property
    def strongest_words(self):
        """What is taken for the strongest wind."""
        return strongest_phrase(self)

    def unguarded(self):
        """The rotor with furling and brake failed."""
        return replace(self, furls_from_m_s=None, brake_from_rpm=None)

    def strongest(self):
        """The rotor in any wind up to its strongest gust, or to the gust that passes before it furls; pulls no less."""
        # At each speed the most torque of all those winds, for a slim rotor that is held slow stalls in more wind.
        most = max(self.wind_m_s, self.storm_m_s)
        return replace(self, wind_m_s=min(most, self.passing_m_s / self._at_hub_m_s(1.0)), gusty=True)

    @property
    def source_watts(self):
        """Power of the wind that drives it, through the rotor's circle [W]."""
        return wind_watts(self.rotor_diameter_m, self.driving_m_s, self.air_kg_m3)

    @property
    def source_steps(self):
        """The wind, what no rotor can take of it, and what these blades leave beside; pairs of name and watts."""
        watts = self.source_watts
        return (
            ("wind through the rotor disc", watts),
            ("left in the wind", -(1.0 - BETZ_SHARE.value) * watts),
            ("blades", -(BETZ_SHARE.value - self.power_coefficient) * watts),
        )

    @property
    def best_shaft_watts(self):
        """Shaft power at the best speed [W]."""
        best = self.best_speed_rpm
        if best < self._rpm_at(self.tip_speed_ratio, self.driving_m_s):  # the brake grips first
            return shaft_watts(self, best)
        return self.power_coefficient * self.source_watts

    @property
    def best_speed_rpm(self):
        """Speed of most shaft power in the wind as it stands; no faster than the brake lets it turn freely [rpm]."""
        return min(self._rpm_at(self.tip_speed_ratio, self.driving_m_s), self.held_rpm / BRAKE_OVERSHOOT.value)

    @property
    def free_speed_rpm(self):
        """Speed with no load at all in the wind as it stands [rpm]."""
        return min(self._rpm_at(self._free_ratio, self.driving_m_s), self.held_rpm)

    @property
    def runaway_speed_rpm(self):
        """Speed with no load at all in the strongest gust, with furling and brake, if any, at work [rpm]."""
        return min(self._rpm_at(self._free_ratio, min(self.hub_storm_m_s, self.passing_m_s)), self.held_rpm)

    @property
    def latest_furling_m_s(self):
        """Wind at the hub from which it must furl for its tips to stay slow enough unloaded [m/s]."""
        return TIP_M_S.value / (self._free_ratio * FURLING_OVERSHOOT.value)

    @property
    def latest_brake_rpm(self):
        """Rotor speed from which a brake must grip for its tips to stay slow enough unloaded [rpm]."""
        return self._rotor_rpm(TIP_M_S.value) / BRAKE_OVERSHOOT.value

    def tip_m_s(self, speed_rpm):
        """Speed of the blade tips at a speed of the generator.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Speed of the generator's shaft [rpm].

        Returns
        -------
        float or ndarray
            Speed of the tips, same shape [m/s].

        Notes
        -----
        Equation: v = π D n / 60, n of the rotor.
        Valid: any speed.
        Source: definition.
        Derivation: `drives.rotor_torque`.
        """
        return pi * self.rotor_diameter_m * speed_rpm / self.gear_ratio / 60.0

    @property
    def _free_ratio(self):
        best, _, free = heier_marks()
        return self.tip_speed_ratio * free / best

    def _rpm_at(self, ratio, wind_m_s):
        return self._rotor_rpm(ratio * wind_m_s) * self.gear_ratio

    def _rotor_rpm(self, tip_m_s):
        return tip_m_s / (self.rotor_diameter_m / 2.0) / RAD_S_PER_RPM

    def tip_ratio(self, speed_rpm):
        """Tip speed over wind at a speed of the generator.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Speed of the generator's shaft [rpm].

        Returns
        -------
        float or ndarray
            λ, same shape [-].

        Notes
        -----
        Equation: λ = Ω R / v, Ω of the rotor, v the wind at the hub that drives it.
        Valid: any speed.
        Source: definition.
        Derivation: `drives.rotor_torque`.
        """
        return speed_rpm / self._rpm_at(1.0, self.driving_m_s)

    @property
    def quantities(self):
        """Wind, rotor and, when it furls, from which wind; a tuple of `Quantity`."""
        wind = {"value": self.wind_m_s, "low": 2.0, "high": 25.0, "step": 0.5, "digits": 1}
        rotor = {"value": self.rotor_diameter_m, "low": 0.5, "high": 6.0, "step": 0.1, "digits": 1}
        furls = {"value": self.furls_from_m_s, "low": 4.0, "high": 15.0, "step": 0.5, "digits": 1}
        guard = (Quantity(field="furls_from_m_s", label="Furls from a wind of", unit="m/s", **furls),)
        return (
            Quantity(field="wind_m_s", label="Wind speed", unit="m/s", **wind),
            Quantity(field="rotor_diameter_m", label="Rotor diameter", unit="m", **rotor),
            *(guard if self.furls_from_m_s is not None else ()),
        )

    def describe(self):
        """What it does, in a sentence."""
        return rotor_words(self)

    @property
    def limits(self):
        """When the model is not true, in sentences."""
        return rotor_limits(self)

    def power_share(self, ratio):
        """Power coefficient at a tip speed ratio.

        Parameters
        ----------
        ratio : float or ndarray
            Tip speed over wind [-].

        Returns
        -------
        float or ndarray
            Cp, same shape [-].

        Notes
        -----
        Equation: Cp = λ Cq, see the class.
        Valid: in the wind that drives it, without a brake.
        Source: see the class.
        """
        return self._torque_share(ratio) * ratio

    @cached_property
    def _most_pull(self):
        """Tip speed ratios, and the most of Cq / λ² at each or above it: the pull in that wind or any lighter one."""
        ratios = self.tip_speed_ratio * _SHARES
        pull = self._torque_share(ratios) / ratios**2
        return ratios, np.append(np.maximum.accumulate(pull[::-1])[::-1], -inf)

    def _gusty_share(self, ratio):
        """Torque coefficient at a tip speed ratio, of that wind or of the lighter one that pulls harder."""
        ratios, most = self._most_pull
        better = np.where(ratio > 0.0, most[np.searchsorted(ratios, ratio)] * np.square(ratio), -inf)
        return np.maximum(self._torque_share(ratio), better)

    def _torque_share(self, ratio):
        """Torque coefficient Cq at a tip speed ratio."""
        best, top, _ = heier_marks()
        share = np.asarray(ratio, dtype=float) / self.tip_speed_ratio
        at_best = self.power_coefficient / self.tip_speed_ratio
        start = min(START_TORQUE.value / self.tip_speed_ratio**2, _MOST_START_OVER_BEST * at_best)
        scale = at_best * best / top
        missing = start - scale * heier_torque_coefficient(0.0)
        found = scale * heier_torque_coefficient(best * share) + missing * np.maximum(1.0 - share, 0.0) ** 2
        return found if found.ndim else float(found)

    def torque_nm(self, speed_rpm):
        """Torque at the generator's shaft.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Speed of the generator's shaft [rpm].

        Returns
        -------
        float or ndarray
            Torque, 0 at the free speed, negative above it [N·m].

        Notes
        -----
        Equation: T = Cq ½ ρ A R v² / gear ratio.
        Valid: see the class; beyond twice the free speed Cq stays what it is there.
        Source: see the class.
        Derivation: `drives.rotor_torque`.
        """
        push = self.source_watts / self.driving_m_s * self.rotor_diameter_m / 2.0
        ratio = self.tip_ratio(speed_rpm)
        torque = (self._gusty_share if self.gusty else self._torque_share)(ratio) * push / self.gear_ratio
        if self.brake_from_rpm is None:
            return torque
        left = np.interp(speed_rpm, [self.held_rpm / BRAKE_OVERSHOOT.value, self.held_rpm], [1.0, 0.0])
        return np.minimum(torque, torque * left)
