"""A water jet on a bucket runner."""

from dataclasses import dataclass, replace
from math import pi, sqrt

import numpy as np

from statorbook.drives.drive import Drive
from statorbook.drives.quantity import Quantity
from statorbook.errors import BadInput
from statorbook.quantities import (
    GRAVITY_M_PER_S2,
    RAD_S_PER_RPM,
    WATER_KG_PER_M3,
    require_count,
    require_number,
    say,
    say_pair,
)

LEAST_DIAMETER_RATIO = 5.0  # pitch over jet diameter below which buckets crowd each other
MOST_DIAMETER_RATIO = 60.0  # above it the jet is too thin to turn the wheel against its own windage


def water_watts(flow_l_s, head_m):
    """Power of fresh water that falls, ρ g Q H [W]."""
    return WATER_KG_PER_M3.value * GRAVITY_M_PER_S2.value * flow_l_s / 1000.0 * head_m


def nozzle_words(jet_mm):
    """What is taken for the strongest jet, as a noun phrase."""
    return f"every nozzle open, with jets of {say(jet_mm, 'mm', form='.3g')}"


def with_nozzle(drive, nozzle_mm):
    """A jet with a wider nozzle; the drive itself when its jet is as wide already."""
    if nozzle_mm is None or nozzle_mm <= drive.jet_mm:
        return drive
    return replace(drive, nozzle_mm=nozzle_mm, flow_l_s=None, largest_nozzle_mm=None)


def require_largest_nozzle(drive):
    """Refuse a largest nozzle that runner or pipe cannot use."""
    if drive.largest_nozzle_mm is None:
        return
    where = "largest nozzle bore"
    require_number(drive.largest_nozzle_mm, where, "mm", above=0, at_most=500)
    try:
        with_nozzle(drive, drive.largest_nozzle_mm)
    except BadInput as refusal:
        raise BadInput(refusal.given, refusal.allowed, refusal.next_step, where=where) from None


@dataclass(frozen=True, kw_only=True)
class WaterJet(Drive):
    """One or more free jets on a runner with buckets.

    Parameters
    ----------
    head_m : float
        Net head at the nozzle, while it runs [m].
    pitch_diameter_mm : float
        Diameter of the circle that the jet touches [mm].
    nozzle_mm : float or None
        Bore of one nozzle, when the flow is not given [mm].
    flow_l_s : float or None
        Flow of all nozzles together, when the bore is not given [L/s].
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
        When a number is out of range, the flow is given twice or not at all, or runner and jet do not match.

    Notes
    -----
    Equation: V = Cv √(2 g H); best U = 0.46 V; P = η ρ g Q H at best speed.
    Valid: full jet on the pitch circle, runner clear of the tail water, net head known.
    Source: Int. J. Rotating Machinery 2017, 3030217, Table 5 (Cv, ratio 0.46, runaway 1.8); Euler's turbine equation.
    Derivation: `drives.best_jet_speed`.
    """

    head_m: float
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
        require_number(
            self.head_m,
            "net head",
            "m",
            above=0,
            at_most=1000,
            next_step="read the pressure at the nozzle while it runs; {1 bar} is {10.2 m}",
        )
        require_number(self.pitch_diameter_mm, "runner pitch diameter", "mm", above=0, at_most=5000)
        require_number(self.efficiency, "runner efficiency", "", above=0, at_most=0.95)
        require_number(self.velocity_coefficient, "nozzle velocity coefficient", "", at_least=0.8, at_most=1)
        require_number(self.speed_ratio, "bucket to jet speed ratio", "", at_least=0.3, at_most=0.5)
        require_number(self.runaway_ratio, "runaway ratio", "", at_least=1.75, at_most=2)
        require_count(self.jets, "jets", 1, 6, "count the nozzles")
        if (self.nozzle_mm is None) == (self.flow_l_s is None):
            raise BadInput(
                "both or neither of nozzle bore and flow were given",
                "exactly one of the two is allowed",
                "give the nozzle bore, or the measured flow and leave the bore empty",
                where="nozzle or flow",
            )
        if self.nozzle_mm is not None:
            require_number(self.nozzle_mm, "nozzle bore", "mm", above=0, at_most=500)
        else:
            require_number(self.flow_l_s, "flow", "L/s", above=0, at_most=1000)
        self._require_match()
        require_largest_nozzle(self)

    def _require_match(self):
        ratio = self.pitch_diameter_mm / self.jet_mm
        if not LEAST_DIAMETER_RATIO <= ratio <= MOST_DIAMETER_RATIO:
            smallest, largest = (self.jet_mm * k for k in (LEAST_DIAMETER_RATIO, MOST_DIAMETER_RATIO))
            raise BadInput(
                f"a {say(self.pitch_diameter_mm, 'mm', form='.0f')} runner with a {say(self.jet_mm, 'mm', form='.3g')} "
                f"jet was given, {ratio:.3g} jet diameters across",
                f"this jet can turn a runner of {say_pair(smallest, largest, 'mm', form='.0f')}",
                "change the runner or the nozzle",
                where="runner and jet",
            )

    @property
    def jet_m_s(self):
        """Speed of the jet [m/s]."""
        return self.velocity_coefficient * sqrt(2.0 * GRAVITY_M_PER_S2.value * self.head_m)

    @property
    def jet_mm(self):
        """Diameter of one jet [mm]."""
        if self.nozzle_mm is not None:
            return float(self.nozzle_mm)
        return 1000.0 * sqrt(4.0 * self.flow_l_s / 1000.0 / (self.jets * pi * self.jet_m_s))

    @property
    def total_flow_l_s(self):
        """Flow of all jets together [L/s]."""
        if self.flow_l_s is not None:
            return float(self.flow_l_s)
        return self.jets * pi / 4.0 * (self.nozzle_mm / 1000.0) ** 2 * self.jet_m_s * 1000.0

    @property
    def source_watts(self):
        """Power of the water at the nozzle [W]."""
        return water_watts(self.total_flow_l_s, self.head_m)

    @property
    def source_steps(self):
        """The water at the nozzle, then what the nozzle takes; pairs of name and watts."""
        return (
            ("water at the nozzle", self.source_watts),
            ("nozzle", -(1.0 - self.velocity_coefficient**2) * self.source_watts),
        )

    @property
    def best_speed_rpm(self):
        """Speed of most shaft power [rpm]."""
        return 60.0 * self.speed_ratio * self.jet_m_s / (pi * self.pitch_diameter_mm / 1000.0)

    @property
    def free_speed_rpm(self):
        """Speed with no load at all, the same as the runaway speed [rpm]."""
        return self.runaway_speed_rpm

    @property
    def runaway_speed_rpm(self):
        """Speed with no load at all [rpm]."""
        return self.runaway_ratio * self.best_speed_rpm

    @property
    def strongest_words(self):
        """What is taken for the strongest jet."""
        return nozzle_words(self.strongest().jet_mm)

    def strongest(self):
        """The jet from the largest nozzle at the same head: an upper end, for a pipe takes more of it then."""
        return with_nozzle(self, self.largest_nozzle_mm)

    @property
    def best_shaft_watts(self):
        """Shaft power at the best speed [W]."""
        return self.efficiency * self.source_watts

    @property
    def quantities(self):
        """Head and jet, a tuple of `Quantity`; a flow that was given moves as the bore of its jet."""
        fine = {"step": 0.5, "digits": 1}
        return (
            Quantity(field="head_m", label="Net head", unit="m", value=self.head_m, low=1.0, high=60.0, **fine),
            Quantity(
                field="nozzle_mm", label="Jet diameter, each", unit="mm", value=self.jet_mm, low=2.0, high=30.0, **fine
            ),
        )

    def describe(self):
        """What it does, in a sentence."""
        return (
            f"{say(self.total_flow_l_s, 'L/s')} leave the nozzle at {say(self.jet_m_s, 'm/s')} "
            f"with {self.source_watts:.0f} W; the runner gives at most {self.best_shaft_watts:.0f} W "
            f"at {self.best_speed_rpm:.0f} rpm and runs away to {self.runaway_speed_rpm:.0f} rpm."
        )

    @property
    def limits(self):
        """When the model is not true, as a sentence."""
        return (
            "The jet is assumed to hit the buckets squarely and the water to fall clear: "
            "a jet off the pitch circle, a nozzle that does not taper, "
            "chipped buckets or a flooded casing give less."
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
        Equation: T = T0 (1 − a y − (1 − a) y²), y = speed / runaway speed, a = (3 − k²)/(3 − 2k),
        k = runaway / best speed: Euler's straight line for k = 2, bent by windage and missed buckets for less.
        Valid: k from 1.75 to 2; T0 is set by the shaft power at the best speed.
        Source: Euler's turbine equation; the square term is the simplest curve through both speeds.
        Derivation: `drives.bent_jet_torque`.
        """
        k = self.runaway_ratio
        bend = (3.0 - k**2) / (3.0 - 2.0 * k)
        omega_best = self.best_speed_rpm * RAD_S_PER_RPM
        share_at_best = 1.0 - bend / k - (1.0 - bend) / k**2
        y = np.asarray(speed_rpm, dtype=float) / self.runaway_speed_rpm
        torque = self.best_shaft_watts / (omega_best * share_at_best) * (1.0 - bend * y - (1.0 - bend) * y**2)
        return torque if torque.ndim else float(torque)
