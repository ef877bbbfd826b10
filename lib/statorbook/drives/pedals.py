"""A rider on pedals: legs, gear, chain and a flywheel."""

from dataclasses import dataclass, replace
from math import inf, log

import numpy as np

from statorbook.drives.drive import Drive
from statorbook.drives.quantity import Quantity
from statorbook.errors import BadInput
from statorbook.quantities import RAD_S_PER_RPM, Fact, require_number, say

_CHART = "chart of 1983 by Malewicki, as reported"
SUSTAINED = {  # what a healthy adult keeps up, by hours; 300 W stands at the short end of its 10 min to be careful
    2.0 / 60.0: Fact(value=300.0, unit="W", source=f"exhausts an adult within 10 min, {_CHART}", low=300, high=450),
    1.0: Fact(value=100.0, unit="W", source="50 to 150 W, encyclopaedia; 100 W, university course", low=50, high=150),
    8.0: Fact(value=75.0, unit="W", source=f"a healthy adult, {_CHART}; a labourer the same", low=50, high=100),
}
SPRINT_WATTS = max(fact.high for fact in SUSTAINED.values())  # for a few minutes, by that chart
_LEAST_HOURS, _MOST_HOURS = 0.033, 8.0  # 2 min as a person types it
DISC_SHARE = Fact(
    value=0.5, unit="of mass × radius²", source="solid disc, 1 a rim; texts on mechanics", low=0.5, high=1
)
_FREE_OVER_BEST = 2.0  # hand algebra: a straight line of torque has its most power half way
_SWING_RAD = 1.0  # hand algebra: pedal torque over its mean is 1 − cos 2θ; −cos 2θ from 45° to 135° adds up to 1 rad


def sustained_watts(hours):
    """Power that a healthy adult keeps up at the pedals.

    Parameters
    ----------
    hours : float or ndarray
        How long at a stretch [h].

    Returns
    -------
    float or ndarray
        Power at the pedals, same shape [W].

    Raises
    ------
    BadInput
        When the time is not from 2 min to 8 h.

    Notes
    -----
    Equation: straight between 300 W at 2 min, 100 W at 1 h and 75 W at 8 h over the logarithm of time.
    Valid: healthy adults not trained for it; half as much to half as much again is usual.
    Source: see `SUSTAINED`.
    """
    for stretch in np.ravel(hours).tolist():
        hint = "type the hours that one rider keeps going"
        number = require_number(stretch, "hours at a stretch", "h", next_step=hint)
        if not _LEAST_HOURS <= number <= _MOST_HOURS:
            raise BadInput(
                f"{stretch:g} h was given",
                "0.033 h (2 min) to 8 h is allowed, since nothing is known of what legs keep up outside that",
                "let riders take turns, or type the watts instead",
                where="hours at a stretch",
            )
    watts = np.interp(
        np.log(np.asarray(hours, dtype=float)),
        [log(known) for known in SUSTAINED],
        [f.value for f in SUSTAINED.values()],
    )
    return watts if np.ndim(hours) else float(watts)


@dataclass(frozen=True, kw_only=True)
class Pedals(Drive):
    """A rider who turns the generator through a chain or belt.

    Parameters
    ----------
    rider_watts : float
        What the rider keeps up at the pedals, see `sustained_watts` [W].
    gear_ratio : float
        Turns of the generator for one of the crank [-].
    cadence_rpm : float
        Turns of the crank at which the legs give most [rpm].
    chain_efficiency : float
        Power at the generator over power at the pedals [-].
    crank_mm : float
        From the axle to the pedal's axle [mm].
    flywheel_kg : float
        Mass of a flywheel; 0 without one [kg].
    flywheel_diameter_mm : float
        Its outside diameter; 0 without one [mm].
    flywheel_ratio : float
        Turns of the flywheel for one of the generator; 1 on the generator's shaft [-].

    Raises
    ------
    BadInput
        When a number is out of range, or only one of mass and diameter of the flywheel is given.

    Notes
    -----
    Equation: crank torque = 2 P / Ω × (1 − cadence / (2 × best cadence)), P and Ω at the best cadence; over the gear
        and times the chain's efficiency at the generator.
    Valid: one rider at a steady effort, mean over a turn of the crank, with a freewheel.
    Source: straight line of torque against cadence, texts on cycling (from memory).
    Derivation: `drives.flywheel_swing`.
    """

    rider_watts: float
    gear_ratio: float
    cadence_rpm: float = 70.0
    chain_efficiency: float = 0.95
    crank_mm: float = 170.0
    flywheel_kg: float = 0.0
    flywheel_diameter_mm: float = 0.0
    flywheel_ratio: float = 1.0
    loss_name = "legs off their best cadence"

    def __post_init__(self):
        hint = "100 W is what a healthy adult keeps up for an hour"
        require_number(self.rider_watts, "rider's watts", "W", above=0, at_most=1500, next_step=hint)
        hint = "divide the turns of the generator by those of the crank"
        require_number(self.gear_ratio, "gear ratio", "", above=0, at_most=100, next_step=hint)
        hint = "count the turns of one foot in a minute"
        require_number(self.cadence_rpm, "cadence", "rpm", at_least=20, at_most=150, next_step=hint)
        hint = "keep 0.95 for a chain, 0.85 for a roller on a tyre"
        require_number(self.chain_efficiency, "chain efficiency", "", above=0, at_most=1, next_step=hint)
        require_number(self.crank_mm, "crank length", "mm", at_least=50, at_most=300)
        require_number(self.flywheel_kg, "flywheel mass", "kg", at_least=0, at_most=500)
        require_number(self.flywheel_diameter_mm, "flywheel diameter", "mm", at_least=0, at_most=3000)
        hint = "divide the turns of the flywheel by those of the generator"
        require_number(self.flywheel_ratio, "flywheel ratio", "", above=0, at_most=100, next_step=hint)
        if (self.flywheel_kg > 0) != (self.flywheel_diameter_mm > 0):
            raise BadInput(
                "only one of its mass and its diameter was given",
                "both or neither are allowed",
                "weigh and measure it, or leave both empty",
                where="flywheel",
            )

    @property
    def source_watts(self):
        """Power that the rider keeps up at the pedals [W]."""
        return float(self.rider_watts)

    @property
    def source_steps(self):
        """The rider, then what the chain takes; pairs of name and watts."""
        return (("rider", self.source_watts), ("chain", -(1.0 - self.chain_efficiency) * self.source_watts))

    @property
    def best_shaft_watts(self):
        """Power at the generator's shaft at the best cadence [W]."""
        return self.chain_efficiency * self.source_watts

    @property
    def best_speed_rpm(self):
        """Speed of the generator at the best cadence [rpm]."""
        return float(self.cadence_rpm * self.gear_ratio)

    @property
    def free_speed_rpm(self):
        """Speed of the generator when the legs meet no load [rpm]."""
        return _FREE_OVER_BEST * self.best_speed_rpm

    @property
    def runaway_speed_rpm(self):
        """The free speed, for the legs themselves are the limit [rpm]."""
        return self.free_speed_rpm

    @property
    def strongest_words(self):
        """What is taken for the strongest rider."""
        return f"a rider who sprints with {max(self.rider_watts, SPRINT_WATTS):.0f} W"

    def strongest(self):
        """A healthy adult, not trained for it, who sprints at the same cadence, see `SUSTAINED`."""
        return replace(self, rider_watts=max(self.rider_watts, SPRINT_WATTS))

    @property
    def quantities(self):
        """Rider, gear and cadence, a tuple of `Quantity`."""
        rider = {"value": self.rider_watts, "low": 20.0, "high": 400.0, "step": 5.0}
        gear = {"value": self.gear_ratio, "low": 0.5, "high": 20.0, "step": 0.1, "digits": 1}
        cadence = {"value": self.cadence_rpm, "low": 40.0, "high": 110.0, "step": 1.0}
        return (
            Quantity(field="rider_watts", label="Rider's watts", unit="W", **rider),
            Quantity(field="gear_ratio", label="Gear ratio", unit="", **gear),
            Quantity(field="cadence_rpm", label="Cadence", unit="rpm", **cadence),
        )

    def describe(self):
        """What it does, in a sentence or two."""
        words = (
            f"The rider gives {self.rider_watts:.0f} W at {self.cadence_rpm:.0f} rpm of the pedals, of which at most "
            f"{self.best_shaft_watts:.0f} W come to the generator at {self.best_speed_rpm:.0f} rpm; without load the "
            f"legs would spin up to {_FREE_OVER_BEST * self.cadence_rpm:.0f} rpm and "
            f"the generator to {self.free_speed_rpm:.0f} rpm."
        )
        if not self.flywheel_kg:
            return words
        best, disc = self.best_speed_rpm, say(self.flywheel_kg, "kg")
        return (
            f"{words} The flywheel of {disc}, taken to be a solid disc, stores {self.flywheel_joules(best):.0f} J at "
            f"{best:.0f} rpm, where each push of a leg swings the speed by {100.0 * self.swing_share:.2g} %."
        )

    @property
    def limits(self):
        """When the model is not true, as a sentence."""
        return (
            "The rider is assumed healthy, fresh and steady: legs tire, and a sprint or a trained rider gives more "
            "and, with the load gone, spins faster than the free speed above. Torque is the mean over a turn of the "
            "crank. A freewheel is assumed: without one the flywheel drives the pedals on against the legs. "
            "Guard the chain and the flywheel, and keep hands, laces and sleeves out of them."
        )

    def torque_nm(self, speed_rpm):
        """Torque at the generator's shaft, mean over a turn of the crank.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Speed of the generator's shaft [rpm].

        Returns
        -------
        float or ndarray
            Torque, twice that at the best speed at rest, 0 from the free speed up [N·m].

        Notes
        -----
        Equation: see the class.
        Valid: see the class.
        Source: see the class.
        Derivation: `drives.pedal_torque`.
        """
        at_best = self.best_shaft_watts / (self.best_speed_rpm * RAD_S_PER_RPM)
        share = np.asarray(speed_rpm, dtype=float) / self.best_speed_rpm
        torque = at_best * np.maximum(_FREE_OVER_BEST - share, 0.0)
        return torque if torque.ndim else float(torque)

    @property
    def flywheel_kg_m2(self):
        """Moment of inertia of the flywheel, a solid disc, as felt at the generator's shaft [kg·m²]."""
        radius_m = self.flywheel_diameter_mm / 2000.0
        return DISC_SHARE.value * self.flywheel_kg * radius_m**2 * self.flywheel_ratio**2

    @property
    def swing_share(self):
        """Highest less lowest speed over the mean, within one push of a leg; infinite without a flywheel [-]."""
        # The generator's pull is taken as steady at the mean, so the flywheel takes up the whole swing of the push.
        swing_j = self.best_shaft_watts / (self.cadence_rpm * RAD_S_PER_RPM) * _SWING_RAD
        return swing_j / (2.0 * self.flywheel_joules(self.best_speed_rpm)) if self.flywheel_kg else inf

    def flywheel_joules(self, speed_rpm):
        """Energy in the flywheel at a speed.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Speed of the generator's shaft [rpm].

        Returns
        -------
        float or ndarray
            Energy, same shape; 0 without a flywheel [J].

        Notes
        -----
        Equation: E = ½ J Ω².
        Valid: a solid disc; a heavy rim holds up to twice as much.
        Source: any text on mechanics.
        Derivation: `drives.flywheel_swing`.
        """
        return 0.5 * self.flywheel_kg_m2 * (speed_rpm * RAD_S_PER_RPM) ** 2

    def coast_seconds(self, speed_rpm, against_nm):
        """Time in which the flywheel falls to half its speed with the legs still.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Speed of the generator's shaft at first [rpm].
        against_nm : float
            Torque that slows the generator's shaft, above 0 [N·m].

        Returns
        -------
        float or ndarray
            Time, same shape as the speed; 0 without a flywheel [s].

        Raises
        ------
        BadInput
            When the torque is not above 0.

        Notes
        -----
        Equation: t = J Ω / (2 T).
        Valid: a steady torque; the rotor's own inertia left out.
        Source: hand algebra.
        Derivation: `drives.flywheel_swing`.
        """
        require_number(against_nm, "torque against the flywheel", "N·m", above=0, at_most=1000)
        return self.flywheel_kg_m2 * speed_rpm * RAD_S_PER_RPM / (2.0 * against_nm)
