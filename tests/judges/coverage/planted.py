"""Machines as they truly are, and the meters that read them: what the library is told of neither but by its logs.

Every error is drawn as the library's own error model states it. A share "95 %" is 1.96 sigma of a normal distribution,
drawn once for a meter or a cause and shared by all of its rows; a row's own error is normal with the sigma stated. What
is only assumed lies below or above its value with equal chance, half a normal distribution on each side, whose 95 %
is the end of the plausible range there.
"""

from dataclasses import dataclass

from samples.made_up_logs import COUNTS, Machine
from samples.metered_logs import meters_read, random_meters
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding


@dataclass(frozen=True, kw_only=True)
class Planted:
    """A salvaged machine as it truly is, and the reader's meters."""

    coil: CoilConstants
    found: Grouping
    leads: Machine  # what its three leads do
    part: object  # the meters as the reader described them
    meters: tuple  # volts, amps, ohms, each with its own gain


def planted(rng):
    """One machine, with the meters that it is read with."""
    slots, poles = COUNTS[rng.integers(len(COUNTS))]
    stator, ohm = Stator(slots=slots, poles=poles), float(rng.uniform(0.3, 1.5))
    coil = CoilConstants(
        emf_v_per_rpm=float(rng.uniform(0.01, 0.03)), ohm=ohm, henry=ohm * float(rng.uniform(0.003, 0.009))
    )
    likely = [each for each in stator.groupings() if each.parallel <= 2]
    found = likely[rng.integers(len(likely))]
    star = Winding(stator=stator, coil=coil, grouping=found).star_equivalent()
    leads = Machine(
        stator,
        star.emf_v_per_rpm,
        star.ohm,
        star.henry,
        copper_c=float(rng.integers(5, 31)),
        connection=found.connection,
    )
    part = random_meters(rng)
    return Planted(coil=coil, found=found, leads=leads, part=part, meters=meters_read(rng, part))
