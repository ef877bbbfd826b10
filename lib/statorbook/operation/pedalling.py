"""What the rider's legs feel when charging sets in, and where they settle."""

from dataclasses import dataclass, replace
from math import isnan, nan

import numpy as np

from statorbook.drives import shaft_watts
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_point
from statorbook.operation.settling import held_for
from statorbook.operation.speed_sweep import cut_in_rpm, sweep
from statorbook.quantities import Fact, say

BOGGED_SHARE = Fact(
    value=0.7,
    unit="of the cadence of most power",
    source="below it most riders change down; common practice, no source",
    low=0.6,
    high=0.8,
)
_STEP = 1.1  # the second force is that at 10 % more cadence
_FASTEST = 20.0  # times the onset of charging, up to where a better gear is looked for
_SPEEDS = 100  # slower speeds at which the legs must pull harder than the load


@dataclass(frozen=True, kw_only=True)
class PedalFeel:
    """Forces on the pedals around the onset of charging, mean along the pedals' path over a turn."""

    cut_in_cadence_rpm: float  # of the crank, where charging sets in
    force_before_n: float  # just below it: drag alone [N]
    force_after_n: float  # at 10 % more cadence [N]
    settles_cadence_rpm: float  # 0 when the drag is not overcome
    settles_watts: float  # at the pedals there
    held_cadence_rpm: float  # which the rider holds, where the legs give most
    gear_ratio: float  # turns of the generator for one of the crank
    fitting_gear_ratio: float  # with which the rider would charge and settle at the cadence held; nan without one

    @property
    def charges(self):
        """True when the rider comes as far as charging."""
        return self.settles_cadence_rpm > self.cut_in_cadence_rpm

    @property
    def too_hard(self):
        """True when the load holds the legs far below the cadence that they like."""
        return self.settles_cadence_rpm < BOGGED_SHARE.value * self.held_cadence_rpm

    def sentence(self):
        """Onset, settling and what to change in two or three sentences, in metric or US units."""
        before, after = (say(force, "N", figures=2) for force in (self.force_before_n, self.force_after_n))
        onset = (
            f"At {self.cut_in_cadence_rpm:.0f} rpm of the pedals charging starts: their mean push goes "
            f"from {before} to {after} within 10 % more cadence."
        )
        return " ".join(filter(None, (onset, self._settling_words(), self._advice())))

    def _settling_words(self):
        if self.settles_cadence_rpm == 0.0:
            return "The legs cannot turn the pedals against the drag."
        return f"The rider settles at {self.settles_cadence_rpm:.0f} rpm with {self.settles_watts:.0f} W at the pedals."

    def _advice(self):
        """What is wrong with it, and the change that helps; empty when nothing is."""
        held = f"the {self.held_cadence_rpm:.0f} rpm that the rider holds"
        if self.settles_cadence_rpm == 0.0:
            return "Find what drags, or take a lower gear."
        if self.too_hard and not self.charges:
            return f"That is far below {held}: the drag alone slows the legs; find what drags."
        if self.too_hard:
            remedy = f"{self._gear_words()}a grouping that charges later"
            return f"That is far below {held}: the load slows the legs; take {remedy}."
        if self.cut_in_cadence_rpm < self.held_cadence_rpm:
            return ""
        why = "it charges only while the legs spin faster" if self.charges else "it never charges"
        remedy = f"{self._gear_words()}a grouping that charges earlier"
        return f"Charging starts above {held}: {why}; take {remedy}."

    def _gear_words(self):
        if isnan(self.fitting_gear_ratio):
            return ""
        return f"a gear of {self.fitting_gear_ratio:.2g} instead of {self.gear_ratio:.2g}, or "


def pedal_force_n(drive, torque_nm):
    """Mean push of both legs along the path of the pedals that gives a torque at the generator [N]."""
    # The lever law; at its height the push is about twice the mean, as the torque goes as 1 − cos 2θ.
    return torque_nm * drive.gear_ratio / (drive.chain_efficiency * drive.crank_mm / 1000.0)


def pedal_feel(drive, winding, bank_state, conditions):
    """Follow the legs from the onset of charging to where they settle.

    Parameters
    ----------
    drive : Pedals
        The rider.
    winding : Winding
        The winding.
    bank_state : BankState
        Volts and inner resistance of the bank.
    conditions : Conditions
        Temperatures, drag, rectifier, cable.

    Returns
    -------
    PedalFeel
        Cadences, forces, watts.

    Notes
    -----
    Equation: cadence = speed / gear; force = torque × gear / (chain efficiency × crank length); the fitting gear turns
        the generator, at the cadence held, as fast as takes the power that the rider has there.
    Valid: a steady effort; a flywheel spreads the step over more turns but does not make it smaller.
    Source: energy balance.
    """
    conditions = held_for(drive, winding, bank_state, conditions)
    starts = cut_in_rpm(winding, bank_state, conditions)
    torque = sweep([winding], np.array([starts, _STEP * starts]), bank_state, conditions).torque_nm[0]
    before, after = pedal_force_n(drive, torque)
    speed = operating_point(drive, winding, bank_state, conditions).speed_rpm
    return PedalFeel(
        cut_in_cadence_rpm=starts / drive.gear_ratio,
        force_before_n=float(before),
        force_after_n=float(after),
        settles_cadence_rpm=speed / drive.gear_ratio,
        settles_watts=float(shaft_watts(drive, speed) / drive.chain_efficiency),
        held_cadence_rpm=float(drive.cadence_rpm),
        gear_ratio=float(drive.gear_ratio),
        fitting_gear_ratio=_fitting_gear_ratio(drive, winding, bank_state, conditions),
    )


def _fitting_gear_ratio(drive, winding, bank_state, conditions):
    """Gear in which the rider charges and settles at the cadence held; not a number where there is none."""
    from scipy.optimize import brentq

    def missing_watts(speed_rpm):
        taken = sweep([winding], np.array([speed_rpm]), bank_state, conditions).shaft_watts[0, 0]
        return float(taken) - drive.best_shaft_watts

    slowest = cut_in_rpm(winding, bank_state, conditions)
    if missing_watts(slowest) >= 0.0 or missing_watts(_FASTEST * slowest) <= 0.0:
        return nan
    speed = brentq(missing_watts, slowest, _FASTEST * slowest)
    try:
        geared = replace(drive, gear_ratio=speed / drive.cadence_rpm)
    except BadInput:  # a gear that cannot be built is none
        return nan
    slower = speed * np.linspace(0.0, 0.99, _SPEEDS + 1)[1:]
    asked = sweep([winding], slower, bank_state, conditions).torque_nm[0]
    return geared.gear_ratio if np.all(geared.torque_nm(slower) > asked) else nan  # else it hangs at a slower speed
