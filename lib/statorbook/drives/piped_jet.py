"""A water jet at the end of a pipe: the drop is known, and the pipe takes its share of it."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from statorbook.cautions import PIPED, Instruction
from statorbook.drives.drive import Drive
from statorbook.drives.pipe import MeasuredLoss, Pipe
from statorbook.drives.quantity import Quantity
from statorbook.drives.water_jet import WaterJet, nozzle_words, require_largest_nozzle, water_watts, with_nozzle
from statorbook.errors import BadInput
from statorbook.quantities import require_number, say

_MOST_DOUBLINGS = 60  # from 1 mL/s up: a pipe that takes nothing then has no end to its flow


@dataclass(frozen=True, kw_only=True)
class PipedJet(Drive):
    """One or more jets on a bucket runner, fed by a pipe.

    Parameters
    ----------
    gross_head_m : float
        Drop from the water at the intake to the nozzle, or the gauge with the valve shut [m].
    pipe : Pipe or MeasuredLoss
        Anything with `loss_m(flow_l_s)`.
    pitch_diameter_mm : float
        Diameter of the circle that the jet touches [mm].
    nozzle_mm : float or None
        Bore of one nozzle, when the flow is not given [mm].
    flow_l_s : float or None
        Measured flow of all nozzles together, when the bore is not given [L/s].
    jets : int
        Number of jets [-].
    efficiency : float
        Shaft power at the best speed over the power of the water at the nozzle [-].
    velocity_coefficient : float
        Jet speed over the ideal √(2 g H) [-].
    speed_ratio : float
        Best bucket speed over jet speed [-].
    runaway_ratio : float
        Runaway speed over best speed [-].
    largest_nozzle_mm : float or None
        Bore of the largest nozzle that may ever be fitted; None when it is the one that runs [mm].

    Raises
    ------
    BadInput
        When a number is out of range, the pipe cannot carry the flow, the nozzle is wider than the pipe, or runner
        and jet do not match.

    Notes
    -----
    Equation: gross head − h(Q) = net head; Q = nozzles' area × Cv √(2 g net head); the rest as `WaterJet`.
    Valid: full pipe, steady level at the intake; as pipe and jet.
    Source: Bernoulli's equation with losses, any fluid mechanics text.
    Derivation: `drives.piped_flow`.
    """

    gross_head_m: float
    pipe: Pipe | MeasuredLoss
    pitch_diameter_mm: float
    nozzle_mm: float | None = None
    flow_l_s: float | None = None
    jets: int = 1
    efficiency: float = 0.70
    velocity_coefficient: float = 0.97
    speed_ratio: float = 0.46
    runaway_ratio: float = 1.8
    largest_nozzle_mm: float | None = None
    loss_name = "runner"

    def __post_init__(self):
        hint = Instruction("survey the drop, or read the gauge with the valve shut; {1 bar} is {10.2 m}", PIPED)
        require_number(self.gross_head_m, "static head", "m", above=0, at_most=1000, next_step=hint)
        bore_mm = getattr(self.pipe, "bore_mm", np.inf)
        if self.jet.jet_mm > bore_mm * (1.0 + 1e-9):
            raise BadInput(
                "a jet of {} from a pipe of {} was given".format(
                    *(say(bore, "mm", form=".3g") for bore in (self.jet.jet_mm, bore_mm))
                ),
                "a jet no wider than the pipe is allowed",
                Instruction("measure the nozzle, the flow and the pipe's bore again", PIPED),
                where="nozzle bore" if self.flow_l_s is None else "flow",
            )
        require_largest_nozzle(self)

    @cached_property
    def jet(self):
        """The jet at the head that the pipe leaves, a `WaterJet`."""
        wheel = {
            "pitch_diameter_mm": self.pitch_diameter_mm,
            "jets": self.jets,
            "efficiency": self.efficiency,
            "velocity_coefficient": self.velocity_coefficient,
            "speed_ratio": self.speed_ratio,
            "runaway_ratio": self.runaway_ratio,
        }
        outlet = {"nozzle_mm": self.nozzle_mm, "flow_l_s": self.flow_l_s}
        if self.flow_l_s is not None and self.nozzle_mm is None:
            net_head_m = self._head_left_m()
        else:
            free_l_s = WaterJet(head_m=self.gross_head_m, **outlet, **wheel).total_flow_l_s
            flow_l_s = nozzle_flow_l_s(self.pipe, self.gross_head_m, free_l_s)
            net_head_m = self.gross_head_m * (flow_l_s / free_l_s) ** 2
        return WaterJet(head_m=net_head_m, **outlet, **wheel)

    def _head_left_m(self):
        """Net head at the measured flow; a flow that the head cannot push is refused."""
        require_number(self.flow_l_s, "flow", "L/s", above=0, at_most=1000)
        net_head_m = self.gross_head_m - self.pipe.loss_m(self.flow_l_s)
        if net_head_m <= 0.0:
            open_l_s = open_flow_l_s(self.pipe, self.gross_head_m)
            raise BadInput(
                f"{say(self.flow_l_s, 'L/s', form='.4g')} was given",
                f"a drop of {say(self.gross_head_m, 'm', form='.4g')} pushes less than "
                f"{say(open_l_s, 'L/s', form='.3g')} through this pipe, even without a nozzle",
                Instruction("time a bucket again, or measure the drop and the pipe's bore again", PIPED),
                where="flow",
            )
        return net_head_m

    @property
    def net_head_m(self):
        """Head at the nozzle while it runs [m]."""
        return self.jet.head_m

    @property
    def pipe_loss_m(self):
        """Head that the pipe takes [m]."""
        return self.gross_head_m - self.jet.head_m

    @property
    def jet_m_s(self):
        """Speed of the jet [m/s]."""
        return self.jet.jet_m_s

    @property
    def jet_mm(self):
        """Diameter of one jet [mm]."""
        return self.jet.jet_mm

    @property
    def total_flow_l_s(self):
        """Flow of all jets together [L/s]."""
        return self.jet.total_flow_l_s

    @property
    def source_watts(self):
        """Power of the water at the full drop [W]."""
        return water_watts(self.total_flow_l_s, self.gross_head_m)

    @property
    def source_steps(self):
        """The water at rest, then what pipe and nozzle take; pairs of name and watts."""
        nozzle = self.jet.source_steps[1]
        return (
            ("water at rest in the pipe", self.source_watts),
            ("pipe", self.jet.source_watts - self.source_watts),
            nozzle,
        )

    @property
    def best_speed_rpm(self):
        """Speed of most shaft power [rpm]."""
        return self.jet.best_speed_rpm

    @property
    def free_speed_rpm(self):
        """Speed with no load at all, the same as the runaway speed [rpm]."""
        return self.jet.free_speed_rpm

    @property
    def runaway_speed_rpm(self):
        """Speed with no load at all [rpm]."""
        return self.jet.runaway_speed_rpm

    @property
    def strongest_words(self):
        """What is taken for the strongest jet."""
        return nozzle_words(self.strongest().jet_mm)

    def strongest(self):
        """The jet from the nozzle that gives most, up to the largest named; it may run away slower, with less head."""
        if self.largest_nozzle_mm is None:
            return self
        from statorbook.drives.nozzle_choice import best_nozzle_mm

        return with_nozzle(self, min(self.largest_nozzle_mm, best_nozzle_mm(self)))

    @property
    def best_shaft_watts(self):
        """Shaft power at the best speed [W]."""
        return self.jet.best_shaft_watts

    @property
    def quantities(self):
        """Drop and jet, a tuple of `Quantity`; a flow that was given moves as the bore of its jet."""
        drop = {"value": self.gross_head_m, "low": 1.0, "high": 60.0, "step": 0.5, "digits": 1}
        return (Quantity(field="gross_head_m", label="Static head", unit="m", **drop), self.jet.quantities[1])

    def describe(self):
        """What it does, in two sentences."""
        taken, drop = (say(head, "m") for head in (self.pipe_loss_m, self.gross_head_m))
        share = self.pipe_loss_m / self.gross_head_m
        return f"The pipe takes {taken} of the {drop} of static head, {share:.0%}. {self.jet.describe()}"

    @property
    def limits(self):
        """When the model is not true, as two sentences."""
        return (
            f"{self.jet.limits} The pipe is assumed full and clean: air at a high point, roots, lime or a "
            "half-shut valve cost more head."
        )

    def torque_nm(self, speed_rpm):
        """Shaft torque at a speed.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Shaft speed [rpm].

        Returns
        -------
        float or ndarray
            Torque, 0 at runaway, negative above it [N·m].

        Notes
        -----
        Equation: as `WaterJet.torque_nm`; the flow does not change with the runner's speed.
        Valid: see the class.
        Source: see `WaterJet.torque_nm`.
        Derivation: `drives.bent_jet_torque`.
        """
        return self.jet.torque_nm(speed_rpm)


def nozzle_flow_l_s(pipe, gross_head_m, free_flow_l_s):
    """Flow of nozzles at the end of a pipe, from their flow under the whole drop, which is above 0 [L/s]."""
    # Bernoulli's equation with a loss that grows with the flow: H − h(Q) − H (Q / Q free)² = 0.

    def head_over_m(flow, free):
        return gross_head_m * (1.0 - (flow / free) ** 2) - pipe.loss_m(flow)

    if np.ndim(free_flow_l_s) == 0:
        from scipy.optimize import brentq

        return brentq(head_over_m, 0.0, free_flow_l_s, args=(free_flow_l_s,), xtol=1e-13 * free_flow_l_s)
    from scipy.optimize.elementwise import find_root

    free = np.asarray(free_flow_l_s, dtype=float)
    return find_root(head_over_m, (np.zeros_like(free), free), args=(free,)).x


def open_flow_l_s(pipe, gross_head_m):
    """Flow at which the pipe takes the whole drop, so that no more passes; infinite when it takes nothing [L/s]."""
    # h(Q) = H: the speed that the water leaves with is left out, so that it is an upper end. Bracketed by doubling:
    # scipy's `bracket_root` with `find_root` takes 3 to 12 times as long for one pipe.
    from scipy.optimize import brentq

    highest = 1e-3
    for _ in range(_MOST_DOUBLINGS):
        if pipe.loss_m(highest) >= gross_head_m:
            return brentq(lambda flow: pipe.loss_m(flow) - gross_head_m, 0.0, highest, xtol=1e-12 * highest)
        highest *= 2.0
    return float("inf")
