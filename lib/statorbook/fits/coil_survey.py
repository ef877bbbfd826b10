"""Coil by coil before anything is cut: which coils do not belong to the others, and what that points at."""

from dataclasses import dataclass, field
from math import hypot, isnan
from statistics import median

from statorbook.bench import ODD_SHARE, coil_means
from statorbook.cautions import SPUN, Exposure, Instruction
from statorbook.fits.coil_shares import FEWEST, coil_shares, meaning
from statorbook.fits.fit import usable_rows
from statorbook.fits.kept import kept_fit
from statorbook.quantities import Fact, cell_text, read_only

WIDE_SHARE = Fact(
    value=0.03, unit="of the middle coil, one sigma", source="common practice, no source", low=0.02, high=0.05
)

READ_A_FEW = Instruction(
    "read the volts or the ohms of a few coils", (Exposure.STANDING, Exposure.TURNING, Exposure.VOLTS)
)


@dataclass(frozen=True, kw_only=True)
class OddCoil:
    """A coil that does not belong to the others."""

    tooth: int
    what: str  # what its readings point at, in a few words
    share: float  # how far its volts are off the middle, or its ohms where the volts are not; infinite for OL
    sentence: Instruction  # what was read and what to do next
    off_in: tuple[str, ...]  # "volts", "ohms" or both, where it does not belong


@dataclass(frozen=True, kw_only=True)
class Survey:
    """What the coils are to each other.

    Parameters
    ----------
    emf_share : dict of int to Estimate
        By tooth, its volts over the middle of the coils; 1 is typical.
    ohm_share : dict of int to Estimate
        The same of its ohms; coils that showed OL stand in `open_teeth` instead.
    open_teeth : tuple of int
        Teeth with OL instead of ohms [-].
    odd : tuple of OddCoil
        Coils that do not belong, by tooth.
    missing : dict of str to tuple
        Under "volts" and "ohms" the teeth that were not read.
    spread : dict of str to float
        Under "volts" and "ohms" one robust sigma of the shares; nothing for what was not read [-].
    limit : dict of str to float
        Under "volts" and "ohms" the share off beyond which a coil is odd [-].
    notes : tuple of str
        Sentences about what was assumed, and about rows of one tooth that disagree.
    """

    emf_share: dict
    ohm_share: dict
    open_teeth: tuple[int, ...] = ()
    odd: tuple[OddCoil, ...] = ()
    missing: dict = field(default_factory=dict)
    spread: dict = field(default_factory=dict)
    limit: dict = field(default_factory=dict)
    notes: tuple = ()

    def __post_init__(self):
        read_only(self)

    @property
    def sentences(self):
        """How many coils were read and how alike they are, the odd ones, what is missing, notes."""
        read = {"volts": len(self.emf_share), "ohms": len(self.ohm_share) + len(self.open_teeth)}
        slots = read["volts"] + len(self.missing["volts"])
        said = [
            f"Of {slots} coils {' and '.join(self._counted(name, count) for name, count in read.items())} are read."
        ]
        judged = [f"{100 * self.limit[name]:.0f} % in {name}" for name in self.limit if read[name] >= FEWEST]
        if self.odd:
            said += ["1 coil stands out." if len(self.odd) == 1 else f"{len(self.odd)} coils stand out."]
        elif judged:
            said += [f"No coil differs from the middle one by more than {' or '.join(judged)}."]
        said += [odd.sentence for odd in self.odd]
        said += [_missing(name, teeth, read[name]) for name, teeth in self.missing.items() if teeth]
        return (*said, *self.notes)

    def _counted(self, name, count):
        spread = f" (spread ±{100 * self.spread[name]:.1f} %)" if name in self.spread and count >= FEWEST else ""
        return f"the {name} of {count or 'none'}{spread}"


@kept_fit
def fit_survey(readings, stator, *, found=None):
    """Compare each coil with the middle of the coils.

    Parameters
    ----------
    readings : sequence of CoilReading
        From `bench.read_coils`.
    stator : Stator
        The machine.
    found : Grouping or None
        How the coils were joined while they were read; taken as one path in star when None.

    Returns
    -------
    Survey
        Shares with their 95 % ±, odd coils, what is missing.

    Raises
    ------
    BadInput
        When no row is usable, or more than half of the coils show nothing, or OL.

    Notes
    -----
    Equation: share = value / median; odd when |share − 1| exceeds 5 % (volts) or 8 % (ohms), 4 robust sigmas
        (1.4826 × median |share − 1|) and 4 sigmas of rounding (last digit / √12); nothing below 0.1, open above 20.
    Valid: fewer than half of the coils bad, at least 4 read; magnitudes only, so a reversed coil does not show.
    Source: median absolute deviation, Huber and Ronchetti, Robust Statistics (from memory).
    """
    used = usable_rows(readings, "coils", READ_A_FEW)
    volts, ohms = (coil_shares(name, coil_means(used, name)) for name in ("volts", "ohms"))
    teeth = range(1, stator.slots + 1)
    missing = {column.name: tuple(t for t in teeth if t not in column.means) for column in (volts, ohms)}
    spread = {column.name: column.spread for column in (volts, ohms) if column.shares}
    return Survey(
        emf_share=volts.shares,
        ohm_share=ohms.shares,
        open_teeth=ohms.open,
        odd=tuple(filter(None, (_odd(tooth, volts, ohms) for tooth in teeth))),
        missing=missing,
        spread=spread,
        limit={column.name: median(column.limits.values()) for column in (volts, ohms) if column.shares},
        notes=(*_assumed(used, found), *_disagreements(volts, ohms), *_wide(spread)),
    )


def _odd(tooth, volts, ohms):
    """The coil as an odd one, or None when it belongs to the others."""
    states = volts.state(tooth), ohms.state(tooth)
    if set(states) <= {"fine", "unread"}:
        return None
    off_in = tuple(name for name, state in zip(("volts", "ohms"), states) if state not in ("fine", "unread"))
    what, next_step = meaning(*states, volts_lower=states == ("low", "low") and _volts_lower(tooth, volts, ohms))
    share = volts.share_off(tooth) if "volts" in off_in and states[1] != "open" else ohms.share_off(tooth)
    sentence = f"Tooth {tooth}, {what}: {volts.words(tooth)}, {ohms.words(tooth)}"
    return OddCoil(tooth=tooth, what=what, share=share, sentence=next_step.within(f"{sentence}; ", "."), off_in=off_in)


def _volts_lower(tooth, volts, ohms):
    apart = hypot(volts.shares[tooth].plus_minus, ohms.shares[tooth].plus_minus)
    return volts.share_off(tooth) < ohms.share_off(tooth) - max(apart, ODD_SHARE["volts"].value)


def _assumed(used, found):
    notes = []
    speeds = [r for r in used if not isnan(r.coil_volts_rms)]
    if speeds and all(isnan(r.speed_rpm) for r in speeds):
        notes.append("No speed is typed, so all volts are taken as read at one steady speed (assumed).")
    elif any(not cell_text(r.raw.get("speed_rpm")) for r in speeds):
        notes.append("Rows without a speed are taken at the speed of the row above (assumed).")
    if found is not None and (found.parallel > 1 or found.connection == "delta"):
        words = (
            f"As found ({found.label}) the other coils are connected across the one that is read, so a fault shows "
            "weaker than it is and an open coil does not show OL; for clear readings disconnect the phases and the "
            "paths at one end each."
        )
        notes.append(Instruction(words, (Exposure.STANDING, Exposure.SHARP, Exposure.SOLDER)))
    return notes


def _disagreements(*columns):
    return [mean.note for column in columns for mean in column.means.values() if mean.note]


def _wide(spread):
    wide = [name for name, sigma in spread.items() if sigma > WIDE_SHARE.value]
    said = "That is a lot for the coils of one machine and can hide smaller faults: "
    hints = {
        "volts": Instruction(
            "hold the speed steadier; volts that rise and fall once round the ring point at an off-centre rotor", SPUN
        ),
        "ohms": Instruction(
            "press harder on bright metal, and take the ohms of the touching probes off",
            (Exposure.STANDING, Exposure.SHARP),
        ),
    }
    return [hints[name].within(f"The {name} spread by ±{100 * spread[name]:.0f} %. {said}", ".") for name in wide]


def _missing(name, teeth, read):
    if not read:
        hint = "a few shorted turns show best there" if name == "volts" else "a bad joint shows only there"
        return f"No {name} yet; {hint}."
    few = f"; at least {FEWEST} are needed to compare" if read < FEWEST else ""
    return f"No {name} yet of {_teeth(teeth)}{few}."


def _teeth(teeth):
    """Teeth in words, neighbours as a stretch."""
    runs = []
    for tooth in teeth:
        if runs and tooth == runs[-1][1] + 1:
            runs[-1][1] = tooth
        else:
            runs.append([tooth, tooth])
    words = [f"{first}" if first == last else f"{first} to {last}" for first, last in runs]
    return f"tooth {words[0]}" if len(teeth) == 1 else f"teeth {', '.join(words)}"
