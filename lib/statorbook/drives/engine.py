"""A small engine with a governor, which drives the generator by a belt."""

from dataclasses import dataclass, replace
from math import pi

import numpy as np

from statorbook.drives.drive import Drive
from statorbook.drives.quantity import Quantity
from statorbook.quantities import RAD_S_PER_RPM, Fact, require_number, say

BELT_M_S = Fact(value=30.0, unit="m/s", source="V-belts on cast pulleys, belt handbooks (from memory)", low=25, high=35)
FUEL_G_PER_KWH = Fact(
    value=375.0,
    unit="g/kWh",
    source="small petrol engines at their best, heat-engine texts (from memory)",
    low=300.0,
    high=450.0,
)


def ratio_of_pulleys(engine_pulley_mm, generator_pulley_mm):
    """Turns of the generator for one of the engine.

    Parameters
    ----------
    engine_pulley_mm : float
        Diameter of the engine's pulley where the belt runs [mm].
    generator_pulley_mm : float
        Diameter of the generator's pulley where the belt runs [mm].

    Returns
    -------
    float
        Ratio [-].

    Raises
    ------
    BadInput
        When a diameter is out of range.

    Notes
    -----
    Equation: ratio = engine's pulley / generator's pulley.
    Valid: a belt that does not slip; creep of 1 to 2 % is left out.
    Source: definition.
    """
    hint = "measure across the pulley where the belt runs"
    require_number(engine_pulley_mm, "engine pulley", "mm", above=0, at_most=2000, next_step=hint)
    require_number(generator_pulley_mm, "generator pulley", "mm", above=0, at_most=2000, next_step=hint)
    return float(engine_pulley_mm / generator_pulley_mm)


def belt_m_s(pulley_mm, pulley_rpm):
    """Speed of a belt that does not slip, π d n / 60 [m/s]."""
    return pi * pulley_mm / 1000.0 * pulley_rpm / 60.0


def belt_caution(pulley_mm, pulley_rpm):
    """What to do when the belt runs too fast.

    Parameters
    ----------
    pulley_mm : float
        Diameter of one pulley where the belt runs [mm].
    pulley_rpm : float
        Highest speed of that pulley [rpm].

    Returns
    -------
    str
        A sentence; empty when the belt is slow enough.
    """
    speed = belt_m_s(pulley_mm, pulley_rpm)
    if speed <= BELT_M_S.value:
        return ""
    told, most = say(speed, "m/s"), say(BELT_M_S.value, "m/s")
    return (
        f"The belt would run at {told}, above the {most} that cast pulleys and V-belts stand (from memory): "
        "a pulley can burst, so take smaller pulleys of the same ratio, and stay out of their plane."
    )


def fuel_words(engine_watts):
    """What a petrol engine burns in an hour, roughly, as a sentence."""
    watts = require_number(engine_watts, "power of the engine", "W", at_least=0, at_most=50_000)
    least, most = (
        say(grams / 1000.0 * watts / 1000.0, "kg", figures=2) for grams in (FUEL_G_PER_KWH.low, FUEL_G_PER_KWH.high)
    )
    return (
        f"For {watts:.0f} W it burns roughly {least} to {most} of petrol an hour (from memory), "
        "and more for each watt at part load."
    )


@dataclass(frozen=True, kw_only=True)
class Engine(Drive):
    """An engine whose governor opens the throttle as it slows down.

    Parameters
    ----------
    rated_watts : float
        Power at its own shaft, throttle open, at the governed speed [W].
    engine_rpm : float
        Governed speed of the engine at full load [rpm].
    pulley_ratio : float
        Turns of the generator for one of the engine, see `ratio_of_pulleys` [-].
    droop : float
        Speed gained from full load to none, over the governed speed [-].
    belt_efficiency : float
        Power at the generator over power of the engine [-].
    overspeed_ratio : float
        Speed with the governor stuck and no load, over the speed without load [-].
    governor_stuck : bool
        True when the throttle stays open up to that speed.

    Raises
    ------
    BadInput
        When a number is out of range.

    Notes
    -----
    Equation: torque = rated watts / Ω up to the governed speed, from there straight down to 0 at (1 + droop) times it;
        over the pulley ratio and times the belt's efficiency at the generator.
    Valid: engine warm and running, near its governed speed; below it the torque is taken as flat.
    Source: proportional governor, texts on engines (from memory).
    Derivation: `drives.governed_torque`.
    """

    rated_watts: float
    engine_rpm: float
    pulley_ratio: float
    droop: float = 0.05
    belt_efficiency: float = 0.93
    overspeed_ratio: float = 1.2
    governor_stuck: bool = False
    strongest_words = "the throttle open and the governor stuck"
    loss_name = "not asked for"

    def __post_init__(self):
        hint = "read the plate; 1 hp is 746 W"
        require_number(self.rated_watts, "rated power", "W", above=0, at_most=50_000, next_step=hint)
        hint = "read the plate or measure it under load"
        require_number(self.engine_rpm, "governed speed", "rpm", above=0, at_most=20_000, next_step=hint)
        hint = "divide the engine's pulley by the generator's pulley"
        require_number(self.pulley_ratio, "pulley ratio", "", above=0, at_most=50, next_step=hint)
        hint = "measure the speed with and without load; 0.05 is usual"
        require_number(self.droop, "droop", "", above=0, at_most=0.3, next_step=hint)
        hint = "keep 0.93 for a belt that is tight, 1 without a belt"
        require_number(self.belt_efficiency, "belt efficiency", "", above=0, at_most=1, next_step=hint)
        hint = "keep 1.2 unless the maker says otherwise"
        require_number(self.overspeed_ratio, "overspeed ratio", "", at_least=1, at_most=3, next_step=hint)

    @property
    def source_watts(self):
        """Power of the engine at full load [W]."""
        return float(self.rated_watts)

    @property
    def source_steps(self):
        """The engine, then what the belt takes; pairs of name and watts."""
        return (("engine at full load", self.source_watts), ("belt", -(1.0 - self.belt_efficiency) * self.source_watts))

    @property
    def best_shaft_watts(self):
        """Power at the generator's shaft at the governed speed [W]."""
        return self.belt_efficiency * self.source_watts

    @property
    def best_speed_rpm(self):
        """Speed of the generator with the engine at full load [rpm]."""
        return float(self.engine_rpm * self.pulley_ratio)

    @property
    def free_speed_rpm(self):
        """Speed of the generator without load, the governor at work unless it is stuck [rpm]."""
        return self.runaway_speed_rpm if self.governor_stuck else (1.0 + self.droop) * self.best_speed_rpm

    @property
    def runaway_speed_rpm(self):
        """Speed of the generator without load, the governor stuck [rpm]."""
        return self.overspeed_ratio * ((1.0 + self.droop) * self.best_speed_rpm)

    def strongest(self):
        """The engine with its throttle open and its governor stuck: the torque falls to 0 at the runaway speed."""
        return replace(self, governor_stuck=True)

    @property
    def quantities(self):
        """Governed speed, pulleys and power, a tuple of `Quantity`."""
        speed = {"value": self.engine_rpm, "low": 800.0, "high": 4000.0, "step": 50.0}
        ratio = {"value": self.pulley_ratio, "low": 0.1, "high": 4.0, "step": 0.05, "digits": 2}
        power = {"value": self.rated_watts, "low": 200.0, "high": 10_000.0, "step": 100.0}
        return (
            Quantity(field="engine_rpm", label="Governed speed", unit="rpm", **speed),
            Quantity(field="pulley_ratio", label="Pulley ratio", unit="", **ratio),
            Quantity(field="rated_watts", label="Rated power", unit="W", **power),
        )

    def describe(self):
        """What it does, in two sentences."""
        return (
            f"At full load the engine gives {self.rated_watts:.0f} W at {self.engine_rpm:.0f} rpm, of which "
            f"{self.best_shaft_watts:.0f} W come to the generator at {self.best_speed_rpm:.0f} rpm; unloaded the "
            f"governor lets the generator turn at {self.free_speed_rpm:.0f} rpm, and a stuck one would let it run away "
            f"to {self.runaway_speed_rpm:.0f} rpm. {fuel_words(self.rated_watts)}"
        )

    @property
    def limits(self):
        """When the model is not true, as a sentence."""
        return (
            "The torque is taken as flat below the governed speed: a real engine sags there and stalls when it is "
            "pulled far down. It does not start under load: start it on a slack belt or with a clutch open. "
            "Run it outdoors only, away from doors and windows: its exhaust holds carbon monoxide, which "
            "kills unnoticed. Guard the belt, and have a switch in reach that stops the engine."
        )

    def torque_nm(self, speed_rpm):
        """Torque at the generator's shaft.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Speed of the generator's shaft [rpm].

        Returns
        -------
        float or ndarray
            Torque, flat up to the governed speed, 0 from the free speed up [N·m].

        Notes
        -----
        Equation: see the class.
        Valid: see the class.
        Source: see the class.
        Derivation: `drives.governed_torque`.
        """
        rated = self.best_shaft_watts / (self.best_speed_rpm * RAD_S_PER_RPM)
        torque = np.interp(speed_rpm, [self.best_speed_rpm, self.free_speed_rpm], [rated, 0.0])
        return torque if np.ndim(speed_rpm) else float(torque)
