"""Does it start by itself, does it come as far as charging, and where else could it hang?"""

from dataclasses import dataclass

import numpy as np

from statorbook.operation.operating_point import Crossing, crossings
from statorbook.operation.settling import held_for
from statorbook.operation.speed_sweep import cut_in_rpm, sweep
from statorbook.quantities import Fact, say

STARTS_OVER_DRAG = Fact(
    value=2.0,
    unit="pull that starts it over drag",
    source="teeth hold a standing rotor back; common practice, no source",
    low=1.0,
    high=5.0,
)


@dataclass(frozen=True, kw_only=True)
class StartUp:
    """What happens from rest to work."""

    rest_nm: float  # of the drive on the standing rotor
    needed_nm: float  # lets the standing rotor go
    assumed: bool  # that torque was not measured
    cut_in_rpm: float  # where charging sets in
    found: tuple[Crossing, ...]  # wherever drive and generator pull alike, slow to fast
    settles_rpm: float  # where it settles once it turns, 0 when it does not

    @property
    def starts(self):
        """True when it lets go by itself."""
        return self.rest_nm > self.needed_nm

    @property
    def charges(self):
        """True when it then comes as far as charging."""
        return self.settles_rpm > self.cut_in_rpm

    @property
    def push_rpm(self):
        """Speed to which it must be pushed before it runs up; 0 when no push helps or none is needed [rpm]."""
        unstable = [crossing.speed_rpm for crossing in self.found if not crossing.stable]
        return unstable[0] if unstable and self.settles_rpm == 0.0 else 0.0

    @property
    def sentence(self):
        """Start, charging and other resting places in plain words, in metric units."""
        return self.in_words()

    def in_words(self):
        """Start, charging and other resting places in up to three sentences, in metric or US units."""
        return " ".join(filter(None, (self._start_words(), self._work_words(), self._hang_words())))

    def _start_words(self):
        if np.isinf(self.rest_nm):
            return "It is assumed that the drive can start it."
        guess = f" (assumed, {STARTS_OVER_DRAG.value:g} times the drag)" if self.assumed else ""
        rest, needed = (say(torque, "N·m", figures=2) for torque in (self.rest_nm, self.needed_nm))
        pulls = f"the drive pulls {rest} on the standing rotor and {needed}{guess}"
        if self.starts:
            return f"It starts by itself: {pulls} are needed."
        if self.push_rpm:
            return (
                f"It does not start by itself: {pulls} are needed; it must be turned to {self.push_rpm:.0f} rpm first."
            )
        return f"It does not start by itself: {pulls} are needed, so it needs a push."

    def _work_words(self):
        if self.settles_rpm == 0.0:
            return "" if self.push_rpm else "The drive cannot turn it against its drag."
        if self.charges:
            passed = f"It passes {self.cut_in_rpm:.0f} rpm, where charging starts"
            return f"{passed}, and settles at {self.settles_rpm:.0f} rpm."
        return (
            f"It settles at {self.settles_rpm:.0f} rpm and never reaches the {self.cut_in_rpm:.0f} rpm at which "
            "charging starts."
        )

    def _hang_words(self):
        others = [c.speed_rpm for c in self.found if c.stable and c.speed_rpm > 1.001 * self.settles_rpm]
        if not others or self.settles_rpm == 0.0:
            return ""
        return (
            f"It could also run at {others[-1]:.0f} rpm, but from rest it sticks at {self.settles_rpm:.0f} rpm: the "
            "generator loads it too early."
        )


def start_up(drive, winding, bank_state, conditions, *, start_nm=None):
    """Follow the machine from rest to where it settles.

    Parameters
    ----------
    drive : Drive
        What turns it.
    winding : Winding
        The winding.
    bank_state : BankState
        Volts and inner resistance of the bank.
    conditions : Conditions
        Temperatures, drag, rectifier, cable.
    start_nm : float or None
        Torque that lets the standing rotor go; assumed from the drag when None [N·m].

    Returns
    -------
    StartUp
        Start, charging, resting places.

    Notes
    -----
    Equation: starts when the drive's torque at rest exceeds the torque that lets the rotor go; settles at the first
        stable crossing above rest, or above the first unstable one when it has to be pushed.
    Valid: a slow start; a heavy rotor in gusts passes a narrow resting place.
    Source: mechanics of steady operation.
    """
    conditions = held_for(drive, winding, bank_state, conditions)
    found = crossings(drive, winding, bank_state, conditions)
    rest = drive.torque_nm(0.0)
    stable = [crossing.speed_rpm for crossing in found if crossing.stable]
    turns = rest > conditions.drag_nm
    return StartUp(
        rest_nm=float(rest),
        needed_nm=STARTS_OVER_DRAG.value * conditions.drag_nm if start_nm is None else start_nm,
        assumed=start_nm is None,
        cut_in_rpm=cut_in_rpm(winding, bank_state, conditions),
        found=found,
        settles_rpm=stable[0] if stable and turns else 0.0,
    )


def torque_curves(drive, winding, bank_state, conditions, speed_rpm):
    """Torque of drive and generator against speed, for a picture of their crossings.

    Parameters
    ----------
    drive : Drive
        What turns it.
    winding : Winding
        The winding.
    bank_state : BankState
        Volts and inner resistance of the bank.
    conditions : Conditions
        Temperatures, drag, rectifier, cable.
    speed_rpm : ndarray
        Speeds above 0, shape (n,) [rpm].

    Returns
    -------
    tuple of ndarray
        Drive and generator, shape (n,) each; infinite where a drive holds its speed [N·m].
    """
    around = held_for(drive, winding, bank_state, conditions)
    return drive.torque_nm(speed_rpm), sweep([winding], speed_rpm, bank_state, around).torque_nm[0]
