"""The rectifier by its label, and how it is mounted."""

from dataclasses import dataclass, replace

from statorbook.errors import BadInput
from statorbook.protection.heat_path import ENCLOSURES, OPEN_AIR
from statorbook.quantities import Fact, require_count, require_number

BLOCK, SINGLE = "three-phase block", "single diodes"
KINDS = (BLOCK, SINGLE)
UNMATCHED, MATCHED, OWN_COILS = ("as they come", "of one batch, on one heat sink", "each on its own path of coils")
SHARINGS = (UNMATCHED, MATCHED, OWN_COILS)
MATCHED_SHARE = Fact(
    value=0.8,
    unit="of the sum of their amps",
    source="like diodes side by side on one heat sink, common practice, no source",
    low=0.7,
    high=0.9,
)


@dataclass(frozen=True, kw_only=True)
class Rectifier:
    """A three-phase bridge, or diodes, as the reader's label says, and where it is mounted.

    Parameters
    ----------
    kind : str
        "three-phase block" or "single diodes".
    label_amps : float or None
        On its label: DC amps of a block, average amps of one single diode; None without a label [A].
    reverse_volts : float or None
        Repetitive peak reverse DC volts of each diode on its label; None without a label [V].
    drop_v : float or None
        Drop of one diode; the one that page 04 counts with when None [V].
    slope_ohm : float
        What the drop gains for each ampere [Ω].
    junction_case_k_per_w : float or None
        From one junction to its base; worked out from the amps on the label when None [K/W].
    max_junction_c : float
        Hottest junction on its sheet [°C].
    side_by_side : int
        Blocks, or diodes in each of the six places [-].
    sharing : str
        How those share the amps: "as they come", "of one batch, on one heat sink", "each on its own path of coils".
    heat_sink_k_per_w : float or None
        The one heat sink for all of them; None when it still has to be found [K/W].
    enclosure : str
        "in the open air", "in a box with vents above and below" or "in a closed box".
    box_cm2 : float
        Outer surface of that box, without the side on a wall [cm²].

    Raises
    ------
    BadInput
        When a number is out of range, or a word is unknown.
    """

    kind: str = BLOCK
    label_amps: float | None = None
    reverse_volts: float | None = None
    drop_v: float | None = None
    slope_ohm: float = 0.0
    junction_case_k_per_w: float | None = None
    max_junction_c: float = 125.0
    side_by_side: int = 1
    sharing: str = UNMATCHED
    heat_sink_k_per_w: float | None = None
    enclosure: str = OPEN_AIR
    box_cm2: float = 3000.0

    def __post_init__(self):
        _require_word(self.kind, KINDS, "kind of rectifier")
        _require_word(self.sharing, SHARINGS, "how they share")
        _require_word(self.enclosure, ENCLOSURES, "enclosure")
        for value, name, unit, most in (
            (self.label_amps, "amps on the label", "A", 10_000),
            (self.reverse_volts, "reverse volts on the label", "V", 20_000),
            (self.drop_v, "drop of one diode", "V", 3),
            (self.junction_case_k_per_w, "junction to base", "K/W", 100),
            (self.heat_sink_k_per_w, "heat sink", "K/W", 100),
        ):
            if value is not None:
                require_number(value, name, unit, above=0, at_most=most)
        require_number(self.slope_ohm, "slope of one diode", "Ω", at_least=0, at_most=1)
        require_number(self.max_junction_c, "hottest junction", "°C", at_least=100, at_most=250)
        require_number(self.box_cm2, "surface of the box", "cm²", above=0, at_most=1_000_000)
        require_count(self.side_by_side, "side by side", 1, 24, "count the blocks or diodes again")

    @property
    def labelled(self):
        """Whether amps and reverse volts are known."""
        return self.label_amps is not None and self.reverse_volts is not None

    @property
    def bare(self):
        """The same place and kind for another one, of which no label is known yet, a `Rectifier`."""
        return replace(self, label_amps=None, reverse_volts=None, junction_case_k_per_w=None, side_by_side=1)

    @property
    def count_that_helps(self):
        """By how many ones of its label it may be loaded [-]."""
        if self.sharing == UNMATCHED or self.side_by_side == 1:
            return 1.0  # the one with the lowest drop takes nearly all
        share = MATCHED_SHARE.value if self.sharing == MATCHED else 1.0
        return max(1.0, share * self.side_by_side)

    @property
    def busiest_share(self):
        """Part of the amps in one of its six places that the busiest diode there takes [-]."""
        return 1.0 / self.count_that_helps

    @property
    def whole_amps(self):
        """DC amps of the whole bridge by the label, None without one [A]."""
        if self.label_amps is None:
            return None
        return self.label_amps * self.count_that_helps * (3.0 if self.kind == SINGLE else 1.0)


def _require_word(given, allowed, where):
    if given not in allowed:
        raise BadInput(f"{given!r} was given", f"allowed are {', '.join(allowed)}", "choose one of them", where=where)
