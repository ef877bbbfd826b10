"""What can be wrong with the three phases, their leads and the six diodes, and the circuit that is left."""

from dataclasses import dataclass

import numpy as np

from statorbook.bridge.circuit import PHASE_ANGLE
from statorbook.bridge.waveforms import LEADS
from statorbook.errors import BadInput

DIODES = tuple(f"{lead}{rail}" for rail in "+−" for lead in LEADS)  # by lead and rail, as in `Interval.diodes`
OPEN, SOUND, SHORTED = 0, 1, 2  # what stands in the place of a diode


@dataclass(frozen=True, kw_only=True)
class BridgeFault:
    """What is wrong with a bridge and its machine; without anything named it is sound.

    Parameters
    ----------
    open_diodes : tuple of str
        Diodes that conduct no longer, by lead and rail, such as "A+".
    shorted_diodes : tuple of str
        Diodes that conduct both ways, all of one rail.
    lead_off : str
        Lead that has come off the bridge, or empty.
    phase_off : str
        Phase that has come off at one end, or empty: in a star off the star point, in a delta the one from the lead of
        that name to the next, off its corner.

    Raises
    ------
    BadInput
        When a name is unknown, a diode is named twice, or shorted diodes of both rails short the bank.
    """

    open_diodes: tuple[str, ...] = ()
    shorted_diodes: tuple[str, ...] = ()
    lead_off: str = ""
    phase_off: str = ""

    def __post_init__(self):
        named = (*self.open_diodes, *self.shorted_diodes)
        _require_known(named, DIODES, "diodes")
        _require_known([name for name in (self.lead_off, self.phase_off) if name], LEADS, "lead or phase")
        if len(set(named)) < len(named):
            raise BadInput(
                f"{', '.join(named)} were given",
                "each diode is allowed once",
                "name it open or shorted",
                where="diodes",
            )
        if len({name[1] for name in self.shorted_diodes}) > 1:
            raise BadInput(
                f"shorted diodes of both rails, {', '.join(self.shorted_diodes)}, were given",
                "shorted diodes of one rail are allowed, since those of both short the bank itself",
                "reckon that as a short circuit of the bank",
                where="diodes",
            )

    @property
    def slots(self):
        """What stands in the place of each diode, shape (2, 3): rail, plus first, and lead."""
        slots = np.full(len(DIODES), SOUND)
        slots[[DIODES.index(name) for name in self.open_diodes]] = OPEN
        slots[[DIODES.index(name) for name in self.shorted_diodes]] = SHORTED
        slots = slots.reshape(2, 3)
        if self.lead_off:
            slots[:, LEADS.index(self.lead_off)] = OPEN
        return slots


def _require_known(names, known, where):
    for name in names:
        if name not in known:
            raise BadInput(f"{name!r} was given", f"{', '.join(known)} are allowed", "choose one of them", where=where)


@dataclass(frozen=True, kw_only=True)
class Source:
    """What stands behind the three leads, as a star, in units of the phase EMF peak and |R + jωL| of a sound star."""

    emf: np.ndarray  # complex, e = Im(emf exp(jθ)), shape (3,)
    share: np.ndarray  # of a star phase's impedance, shape (3,)
    live: np.ndarray  # legs that can carry current, shape (3,)
    phases: np.ndarray  # currents of the phases from those of the leads, shape (3, 3)
    phase_share: float  # of a star phase's impedance in a phase as it is wound
    loose: np.ndarray  # what EMF stands behind the end that has come off, shape (3,)
    gap: np.ndarray  # volts of which leads stand at the place where it was, one row for each to be looked at, (2, 3)


def source_of(fault, connection):
    """What a fault leaves of the machine, star or delta, as a `Source`."""
    # A delta whose corner opens is two phases that meet at the far lead: a star with its point at that lead.
    sound, emf = np.eye(3), np.exp(-1j * PHASE_ANGLE)
    delta = connection == "delta"
    phases, share = (sound - np.roll(sound, 1, axis=1)) / 3.0 if delta else sound, np.ones(3)
    off = fault.lead_off or fault.phase_off
    loose = np.array([float(lead == off) for lead in LEADS])
    gap = np.stack([np.roll(loose, 1), np.roll(loose, 2)])
    live = np.array([lead not in (fault.lead_off, "" if delta else fault.phase_off) for lead in LEADS])
    if delta and fault.phase_off:
        first = LEADS.index(fault.phase_off)
        second, far = (first + 1) % 3, (first + 2) % 3
        emf = emf - emf[far]
        share = np.where(np.arange(3) == far, 0.0, 3.0)
        phases = np.zeros((3, 3))
        phases[far, first], phases[second, second] = 1.0, -1.0
        loose = sound[first] - sound[second]
        gap = np.stack([loose, loose])
    wound = 3.0 if delta else 1.0
    return Source(emf=emf, share=share, live=live, phases=phases, phase_share=wound, loose=loose, gap=gap)
