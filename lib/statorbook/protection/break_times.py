"""How soon the fuse opens, and how long the cable would stand it, current by current."""

from dataclasses import dataclass
from math import isfinite

import numpy as np

from statorbook.cable import SHORT_CIRCUIT_C, adiabatic_constant
from statorbook.protection.fuse import OPENS_SHORT_WITHIN_S, Fuse, fuse_needs, short_circuits
from statorbook.protection.fuse_curve import OPENS_FOR_SURE, opens_within_s

_POINTS = 80
_SOON_S = 0.01


@dataclass(frozen=True, kw_only=True)
class BreakTimes:
    """Fuse and cable against each other over the current."""

    fuse_amps: float
    continuous_amps: float  # the most that can flow for hours
    cable_amps: float  # what the cable carries for hours; infinite where it is short leads
    far_amps: float  # the least at a short circuit at the far end
    bank_amps: float  # the most that the bank drives
    amps: np.ndarray
    fuse_s: np.ndarray  # until it opens, at the latest; not a number where it may never
    cable_s: np.ndarray  # until the insulation is as hot as it stands; not a number beyond 5 s

    @property
    def words(self):
        """What the picture shows, in a sentence."""
        opens = f"it opens within {self.fuse_s[-1]:.1g} s" if self.fuse_s[-1] >= _SOON_S else "it opens at once"
        cable = f", and {self.cable_amps:.0f} A are what the cable carries" if isfinite(self.cable_amps) else ""
        return (
            f"A fuse of {self.fuse_amps:g} A: up to {OPENS_FOR_SURE.value:g} times its amps it may never open; at the "
            f"most that the bank drives {opens}. At most {self.continuous_amps:.0f} A flow for hours{cable}."
        )


def break_times(plant):
    """How soon the fuse opens against what the cable stands.

    Parameters
    ----------
    plant : Plant
        The plant, with the fuse that the reader has; the one that it needs when None.

    Returns
    -------
    BreakTimes
        Over all currents up to the most of the bank.

    Notes
    -----
    Equation: gates of gG fuses; t = (k S / I)² for the cable.
    Valid: for a cable up to 5 s; for fuses no slower than gG.
    Source: IEC 60269-1 (from memory), IEC 60364-5-54 (read in a reproduction).
    """
    needs = fuse_needs(plant)
    fuse = plant.fuse or Fuse(amps=needs.size_amps or needs.least_amps)
    top = max(needs.breaking_amps, 20.0 * fuse.amps) if isfinite(needs.breaking_amps) else 1000.0 * fuse.amps
    amps = np.geomspace(fuse.amps, top, _POINTS)
    opens = np.array([opens_within_s(fuse.amps, each) for each in amps])
    stands = (adiabatic_constant(*SHORT_CIRCUIT_C[plant.run.insulation]) * plant.run.area_mm2 / amps) ** 2
    return BreakTimes(
        fuse_amps=fuse.amps,
        continuous_amps=needs.continuous_amps,
        cable_amps=needs.cable_amps,
        far_amps=short_circuits(plant, fuse).far_amps,
        bank_amps=needs.breaking_amps,
        amps=amps,
        fuse_s=np.where(np.isfinite(opens), opens, np.nan),
        cable_s=np.where(stands <= OPENS_SHORT_WITHIN_S, stands, np.nan),
    )
