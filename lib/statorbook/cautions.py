"""What an instruction exposes hands to, and the words for it: on screen and in print they stay together."""

from dataclasses import dataclass, replace
from enum import Enum

from statorbook.errors import BadInput

_ENDS = (".", "!", "?", ":")


class Exposure(Enum):
    """Something that can hurt at a step: a few words for a row of a list, and the whole caution."""

    STANDING = (
        "rotor tied, bank off",
        "At rest: source shut, rotor standing and tied, bank and rectifier off, since a rotor that moves puts volts on "
        "every bare end.",
    )
    TURNING = (
        "rotor: guard on, stop first",
        "Rotor: guard on, sleeves and hair tied back, no gloves; stop it before you reach in.",
    )
    VOLTS = (
        "volts: touch nothing bare",
        "Volts: bare ends in insulated terminals, meter clipped on while the rotor stands, nothing touched while it "
        "can turn.",
    )
    BANK = (
        "bank: only at rest, fuse out",
        "Bank: on or off only with the rotor at rest; fuse out first and in last, rings off, insulated spanner, other "
        "pole covered.",
    )
    SUPPLY = (
        "supply: limit, fuse, switch off",
        "Supply: 12 V or less, current limit set first, a fuse in the wire; switch it off at the supply and never "
        "break the circuit by hand, since the coil kicks back with hundreds of volts.",
    )
    TESTER = (
        "tester bites",
        "Insulation tester: everyone off the machine, used as its manual and the local electrical code say, by a "
        "licensed person where the law asks; then leads and iron joined for a few seconds, since the winding stays "
        "charged.",
    )
    HEAT = (
        "hot: let it cool",
        "Heat: it burns skin and sets wood alight; on brick or tiles, never alone, cooled before it is touched.",
    )
    SOLDER = (
        "hot iron, fumes: glasses, air",
        "Soldering: the iron burns, solder spits, fumes of flux and enamel harm; glasses on, fresh air.",
    )
    SHARP = ("sharp ends: glasses", "Sharp ends: cut wire flies and stabs; glasses on, cut away from you.")
    CHEMICALS = (
        "enamel, varnish: do not breathe",
        "Enamel dust and varnish: do not breathe them, keep them off the skin and away from flames.",
    )
    MAGNETS = ("magnets crush fingers", "Magnets: they snap onto iron; fingers out of the gap, no loose steel near.")
    WATER = (
        "jet: valve shut first",
        "Water: valve shut, and nobody at it, before a hand goes near nozzle or runner; never in the way of the jet, "
        "glasses on, everything electric covered and dry.",
    )
    PRESSURE = (
        "pipe: let the pressure off",
        "Pressure pipe: shut valves slowly, let the pressure off before a joint is opened; the local code and the "
        "supplier's limits have the last word.",
    )
    HEIGHT = (
        "tower: never climb to a turning rotor",
        "Tower: measure from the ground; nobody climbs to a rotor that can turn, and work at height is for those the "
        "local code allows.",
    )
    ENGINE = (
        "engine: off and cold, outdoors",
        "Engine: outdoors, since exhaust kills; off and cold before you reach in, belt guarded, the local code kept.",
    )
    CHAIN = ("chain: at rest", "Chain, belt, flywheel: they take fingers; measure at rest, cover them before it runs.")
    MAINS = (
        "mains: dry, with a breaker that trips on leakage",
        "Mains tools: dry, cable whole, on an outlet with a residual-current breaker.",
    )
    LEVER = (
        "lever off before it turns",
        "Lever: source shut and leads open, eyes and face out of its way; take it off before anything turns.",
    )

    @property
    def tag(self):
        """A few words for a row of a list whose key says the rest."""
        return self.value[0]

    @property
    def short(self):
        """The one or two words that its sentence begins with."""
        return self.sentence.partition(":")[0].lower()

    @property
    def sentence(self):
        """The whole caution."""
        return self.value[1]


# What often goes together.
STILL = (Exposure.STANDING,)
SPUN = (Exposure.TURNING, Exposure.VOLTS)
SPUN_HOT = (*SPUN, Exposure.HEAT)
SOLDERED = (*STILL, Exposure.SHARP, Exposure.SOLDER, Exposure.CHEMICALS)
PIPED = (Exposure.PRESSURE, Exposure.WATER)


@dataclass(frozen=True)
class Instruction:
    """Something for hands to do, with what it exposes them to; as text it always brings its caution along.

    Parameters
    ----------
    text : str
        What to do: a clause or whole sentences.
    exposures : tuple of Exposure
        What can hurt at it.
    harmless : str
        Where nothing can: why, in a few words, such as "arithmetic"; never shown.

    Raises
    ------
    BadInput
        When it says neither what it exposes to nor why it is harmless, or both.
    """

    text: str
    exposures: tuple = ()
    harmless: str = ""

    def __post_init__(self):
        known = all(isinstance(exposure, Exposure) for exposure in self.exposures)
        if not known or bool(self.exposures) == bool(self.harmless.strip()):
            raise BadInput(
                f"the instruction {self.text[:40]!r} names {len(self.exposures)} exposures",
                "at least one, or a word why it is harmless, is needed",
                "say what it exposes hands to",
                where="instruction",
            )

    def __str__(self):
        if not self.exposures:
            return self.text
        end = "" if self.text.endswith(_ENDS) else "."
        return f"{self.text}{end} {self.caution}"

    @property
    def caution(self):
        """What it exposes hands to, in whole sentences; empty when it is harmless."""
        return caution_of(self.exposures)

    @property
    def brief(self):
        """Its caution in few words, for the end of a refusal; empty when it is harmless."""
        return f"Caution: {self.tags_but(())}." if self.exposures else ""

    def tags_but(self, said, *, names_only=False):
        """Its tags without those of a key that stands above the list.

        Parameters
        ----------
        said : collection of Exposure
            What the key says of every row.
        names_only : bool
            Whether the row is too narrow for more than what it is, with which the key's sentence begins.

        Returns
        -------
        str
            A few words; empty when nothing is left.
        """
        left = [exposure for exposure in self.exposures if exposure not in said]
        return (
            ", ".join(exposure.short for exposure in left)
            if names_only
            else "; ".join(exposure.tag for exposure in left)
        )

    def within(self, before, after=""):
        """The same instruction inside a sentence.

        Parameters
        ----------
        before : str
            What stands before it.
        after : str
            What stands behind it.

        Returns
        -------
        Instruction
            With the same exposures.
        """
        return replace(self, text=f"{before}{self.text}{after}")

    def told(self, tell):
        """The same instruction with its text told anew.

        Parameters
        ----------
        tell : callable
            Takes the text and gives the new one.

        Returns
        -------
        Instruction
            With the same exposures.
        """
        return replace(self, text=tell(self.text))


def require_instruction(words, where):
    """Refuse words to hands that do not say what they expose to.

    Parameters
    ----------
    words : object
        What was given.
    where : str
        What it was given for.

    Raises
    ------
    BadInput
        When it is no `Instruction`.
    """
    if not isinstance(words, Instruction):
        raise BadInput(
            f"{str(words)[:40]!r} was given",
            "an instruction with what it exposes hands to is needed",
            "write it as an Instruction",
            where=where,
        )


def together(*parts, between=" "):
    """Put findings and instructions into one.

    Parameters
    ----------
    *parts : str or Instruction
        In their order; empty ones are left out.
    between : str
        What stands between two of them.

    Returns
    -------
    str or Instruction
        All texts, with every exposure once; plain text when no part is an instruction.
    """
    kept = [part for part in parts if text_of(part)]
    text, found = between.join(map(text_of, kept)), exposures_of(kept)
    reasons = dict.fromkeys(part.harmless for part in kept if isinstance(part, Instruction) and part.harmless)
    if not found and not reasons:
        return text
    return Instruction(text, found, harmless="" if found else "; ".join(reasons))


def text_of(part):
    """What is said, without the caution; for where that is shown beside it.

    Parameters
    ----------
    part : str or Instruction
        Words.

    Returns
    -------
    str
        Their text.
    """
    return part.text if isinstance(part, Instruction) else part


def exposures_of(parts):
    """What a list exposes hands to.

    Parameters
    ----------
    parts : iterable
        Instructions, and anything else, which exposes to nothing.

    Returns
    -------
    tuple of Exposure
        Each once, in the order of the list.
    """
    every = (exposure for part in parts if isinstance(part, Instruction) for exposure in part.exposures)
    return tuple(dict.fromkeys(every))


def shared_by(parts):
    """What every row of a list exposes hands to, so that the key above it is enough.

    Parameters
    ----------
    parts : iterable
        Instructions; anything else is left out.

    Returns
    -------
    tuple of Exposure
        Those that all of them share; none where there is one row.
    """
    rows = [part.exposures for part in parts if isinstance(part, Instruction) and part.exposures]
    return tuple(exposure for exposure in rows[0] if all(exposure in row for row in rows)) if len(rows) > 1 else ()


def caution_of(exposures):
    """The whole caution for several exposures.

    Parameters
    ----------
    exposures : iterable of Exposure
        What can hurt.

    Returns
    -------
    str
        Each caution once.
    """
    return " ".join(dict.fromkeys(exposure.sentence for exposure in exposures))
