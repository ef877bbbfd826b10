"""From what the meter did say to the fault: ranked, twins named together, and the next reading that parts them best."""

from dataclasses import dataclass
from math import inf, isnan, log10, nan

import numpy as np

from statorbook.cautions import Exposure, Instruction
from statorbook.errors import BadInput
from statorbook.quantities import require_number
from statorbook.rewiring.faults.evidence import FaultEvidence, weigh
from statorbook.rewiring.faults.next_probe import next_reading
from statorbook.rewiring.faults.single_faults import single_faults
from statorbook.rewiring.faults.table import fault_table, require_place
from statorbook.rewiring.faults.words import hidden_words, named_together, nothing_fits, sentence_of
from statorbook.rewiring.probes import LEAD_PAIRS
from statorbook.winding import PHASES

KINDS = ("ohms", "volts")
# Faults whose readings differ by less than this many sigma are twins for these readings.
_TWIN_SIGMAS = 0.5
_LEAST_CHANCE, _MOST_RANKED = 0.002, 12
# One set of good readings in a thousand would be called bad.
_BAD_FIT = 0.001


@dataclass(frozen=True, kw_only=True)
class Measured:
    """One reading of the meter.

    Parameters
    ----------
    name : str
        Where the probes were, such as "A-B", "A-star", "A2", "tooth 7" or "1S-16F".
    kind : str
        "ohms", or "volts" for AC rms with the rotor turned by hand and the leads open.
    value : float
        What the meter showed, in ohms or volts, which is its unit; inf for OL, nan for volts that wander.
    speed_rpm : float
        Rotor speed for volts; nan for ohms [rpm].

    Raises
    ------
    BadInput
        When the kind is unknown, the value is below 0, or volts have no speed.
    """

    name: str
    kind: str
    value: float
    speed_rpm: float = nan

    def __post_init__(self):
        if self.kind not in KINDS:
            raise BadInput(
                f"{self.kind!r} was given", "ohms or volts is allowed", "choose one of them", where=str(self.name)
            )
        unit = {"ohms": "Ω", "volts": "V"}[self.kind]
        if not (isinstance(self.value, float) and (isnan(self.value) or self.value == inf)):
            require_number(self.value, f"{self.kind} at {self.name}", unit, at_least=0)
        if self.kind == "volts":
            step = "type the hand speed; the meter's Hz × 60 / pole pairs gives it"
            require_number(self.speed_rpm, f"speed for the volts at {self.name}", "rpm", above=0, next_step=step)


@dataclass(frozen=True, kw_only=True)
class Candidate:
    """Faults that these readings cannot tell apart."""

    faults: tuple  # of Fault, the likeliest first
    words: str  # all of them in one clause
    chance: float  # that one of them is the fault, if there is one fault at most
    misfit: float  # sum of squares of reading minus expected over sigma, for the likeliest


@dataclass(frozen=True, kw_only=True)
class Diagnosis:
    """What the readings say."""

    ranked: tuple  # of Candidate, the likeliest first
    sentence: str | Instruction  # what is the matter and what to do
    hidden: str = ""  # what readings that look healthy cannot rule out, as a clause
    next_probe: str = ""  # where to measure next; empty when nothing would be learnt
    next_kinds: tuple = ()  # of KINDS
    next_words: str | Instruction = ""  # with what each outcome would mean
    fits: bool = True  # the likeliest explains the readings at all

    @property
    def healthy(self):
        """Whether the readings are those of a healthy machine."""
        return self.fits and all(fault.harmless for fault in self.ranked[0].faults)


def first_readings(wired, *, apart=False):
    """What to measure before anything else, as (where, "ohms" or "volts"): leads and star point, or each path alone."""
    legs = tuple(f"{phase}-star" for phase in PHASES) if wired.connection == "star" else ()
    names = tuple(wired.named_paths) if apart else LEAD_PAIRS + legs
    return tuple((name, kind) for name in names for kind in KINDS)


def find_faults(
    wired,
    coils_of,
    measured,
    *,
    sigma_share=0.01,
    floor_ohm=0.01,
    floor_volts_rms=0.01,
    scale_share=0.05,
    hand_rpm=60.0,
    apart=False,
):
    """Rank the single faults by what the meter showed.

    Parameters
    ----------
    wired : Wiring
        The winding as it should be.
    coils_of : callable
        Coils of the healthy machine by tooth for a speed in rpm, as from `coil_values`.
    measured : sequence of Measured
        The readings.
    sigma_share : float
        Standard deviation of one reading as a share of it: the meter, and coils that are not quite alike [-].
    floor_ohm : float
        The same at the low end of the ohms range, such as half the last digit [Ω].
    floor_volts_rms : float
        The same at the low end of the volts range, between leads or coil ends, rms [V].
    scale_share : float
        Standard deviation of a factor common to all volts (speed) and of one common to all ohms (temperature) [-].
    hand_rpm : float
        Speed for the next reading when no volts were measured yet [rpm].
    apart : bool
        True while the paths are not joined to each other yet.

    Returns
    -------
    Diagnosis
        Ranked faults, a sentence, and the next reading to take.

    Raises
    ------
    BadInput
        When a reading's places do not exist, or a setting is out of range.

    Notes
    -----
    Equation: likelihood = normal density of (reading − (1 + g) expected) / sigma, g ~ N(0, scale share) apart for volts
        and for ohms; a way found where none is expected, or none where one is, once in ten thousand.
    Valid: one fault at most; volts near one hand speed, with which they are scaled; before the first
        reading 70 % of the chance is assumed for a healthy machine, the rest for all faults alike.
    Source: Sivia and Skilling, Data Analysis: A Bayesian Tutorial, ch. 4 (from memory).
    """
    _require_settings(sigma_share, floor_ohm, floor_volts_rms, scale_share, hand_rpm)
    if not measured:
        return _nothing_yet(wired, apart)
    turned_rpm = float(np.median([reading.speed_rpm for reading in measured if reading.kind == "volts"] or [hand_rpm]))
    speed = _table_rpm(turned_rpm)
    table = fault_table(wired, coils_of(speed), apart=apart)
    probes = [_place_of(reading.name, table, wired) for reading in measured]
    floors = {"ohms": floor_ohm, "volts": floor_volts_rms}
    evidence = FaultEvidence(
        table=table,
        measured=tuple(measured),
        probes=tuple(probes),
        speed_rpm=speed,
        hand_rpm=turned_rpm,
        sigma_share=sigma_share,
        floors=floors,
        scale_share=scale_share,
    )
    weighed = weigh(evidence)
    ranked = _ranked(table, weighed, wired)
    if not _fits(ranked[0].misfit, len(measured)):
        return Diagnosis(ranked=ranked, sentence=nothing_fits(ranked), fits=False)
    where, kinds, words = next_reading(evidence, weighed.chance, wired)
    said = sentence_of(ranked, table, wired, more=bool(where))
    hidden = hidden_words(ranked, wired)
    return Diagnosis(ranked=ranked, sentence=said, hidden=hidden, next_probe=where, next_kinds=kinds, next_words=words)


def _place_of(name, table, wired):
    return name if name in table.probes else require_place(wired, name, apart=table.apart).name


def _require_settings(sigma_share, floor_ohm, floor_volts_rms, scale_share, hand_rpm):
    require_number(sigma_share, "uncertainty of a reading", "", above=0, at_most=0.2)
    require_number(floor_ohm, "smallest ohms told apart", "Ω", above=0)
    require_number(floor_volts_rms, "smallest volts told apart", "V", above=0)
    require_number(scale_share, "uncertainty of the scale", "", above=0, at_most=0.5)
    require_number(hand_rpm, "hand speed", "rpm", above=0)


def _nothing_yet(wired, apart):
    """Before the first reading every fault is possible, and the easiest places come first."""
    faults, wanted = single_faults(wired, apart=apart), first_readings(wired, apart=apart)
    places = ", ".join(dict.fromkeys(name for name, _ in wanted))
    nothing = Candidate(faults=faults, words="nothing is measured yet", chance=1.0, misfit=0.0)
    words = Instruction(
        f"Measure at {places}: the ohms with the rotor still, then the volts with the leads open and the meter clipped "
        "on, the rotor turned by hand at one steady speed.",
        (Exposure.STANDING, Exposure.TURNING, Exposure.VOLTS),
    )
    return Diagnosis(
        ranked=(nothing,),
        sentence="Nothing is measured yet.",
        next_probe=wanted[0][0],
        next_kinds=KINDS,
        next_words=words,
    )


def _table_rpm(speed_rpm):
    """A speed near those measured, in steps of a tenth of a decade, so that one more reading keeps the same table."""
    return 10.0 ** (round(10.0 * log10(speed_rpm)) / 10.0)


def _fits(misfit, readings):
    from scipy.special import chdtri

    return misfit <= chdtri(readings, _BAD_FIT)


def _ranked(table, weighed, wired):
    left, groups = np.argsort(-weighed.chance, kind="stable"), []
    while len(left) and len(groups) < _MOST_RANKED:
        best = left[0]
        with np.errstate(invalid="ignore"):
            apart = np.abs(weighed.sigmas[left] - weighed.sigmas[best])
        # An expected OL against an expected number is inf apart, OL against OL is no difference.
        apart[np.isnan(apart)] = 0.0
        alike = np.all(apart <= _TWIN_SIGMAS, axis=1)
        rows, left = left[alike], left[~alike]
        chance = float(weighed.chance[rows].sum())
        if groups and chance < _LEAST_CHANCE:
            continue
        faults = tuple(table.faults[row] for row in rows)
        words = named_together(faults, wired)
        groups.append(Candidate(faults=faults, words=words, chance=chance, misfit=float(weighed.misfit[best])))
    return tuple(sorted(groups, key=lambda group: -group.chance))
