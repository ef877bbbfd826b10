"""Heating elements that people get: ohms hot and cold, and how many of them in series and parallel make a dump load."""

from dataclasses import dataclass
from math import ceil, floor, log10

from statorbook.quantities import Fact, say

AIR, WATER, LAMPS = "wire or resistor in air", "element in water", "lamps"
HOT_OVER_COLD = {
    AIR: Fact(value=1.06, unit="Ω hot over Ω cold", source="nichrome; common practice, no source", low=1, high=1.07),
    WATER: Fact(
        value=1.0, unit="Ω hot over Ω cold", source="water keeps it cool; common practice, no source", low=1, high=1.02
    ),
    LAMPS: Fact(value=15.0, unit="Ω hot over Ω cold", source="tungsten; common practice, no source", low=10, high=15),
}
# IEC 60063, E24; every other one is of E12 (from a package of the series; the standard from memory).
E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
E12 = E24[::2]
MAINS_VOLTS = {"metric": 230.0, "US": 120.0}
MAINS_WATTS = 2000.0
# Labels of elements as they are sold, volts and watts; common practice, no source.
_LABELS = {
    "metric": ((12, 300), (24, 600), (48, 1000), (48, 1500), (230, 1000), (230, 2000), (230, 3000)),
    "US": ((12, 300), (24, 600), (48, 1000), (48, 1500), (120, 1500), (120, 2000), (240, 4500)),
}
_RESISTOR_WATTS = 300.0  # of a wire-wound one on its heat sink; run at half of them; common practice, no source
_RESISTOR_SHARE = 0.5
_MOST_SERIES, _MOST_PIECES = 4, 12
_STRONGEST = 0.5  # of the ohms asked for: fewer would make the step in volts needlessly large
_HAIR = 1e-9


@dataclass(frozen=True, kw_only=True)
class ElementGroup:
    """Like elements in series and parallel that together make one dump load."""

    label: str  # what stands on each
    each_ohm: float
    each_watts: float  # that each may take for hours
    series: int
    parallel: int

    @property
    def pieces(self):
        """How many elements it takes [-]."""
        return self.series * self.parallel

    @property
    def ohm(self):
        """All together, hot [Ω]."""
        return self.each_ohm * self.series / self.parallel

    @property
    def standing_watts(self):
        """What all together stand for hours [W]."""
        return self.pieces * self.each_watts

    @property
    def joined(self):
        """How they are joined, in words."""
        if self.series == 1:
            return f"{self.parallel} in parallel" if self.parallel > 1 else "one"
        return f"{self.series} in series" + (f", {self.parallel} such rows in parallel" if self.parallel > 1 else "")


def mains_watts(dc_volts, *, rated_watts=MAINS_WATTS, rated_volts=230.0):
    """What an element for mains takes straight on the bank: P (V / V_n)² [W]."""
    return rated_watts * (dc_volts / rated_volts) ** 2


def preferred_ohm(ohm, *, series=E24):
    """The largest value of a preferred series at or below some ohms [Ω]."""
    decade = 10.0 ** floor(log10(ohm) + _HAIR)
    below = [value for value in series if value * decade / 10.0 <= ohm * (1.0 + _HAIR)]
    return float(f"{(max(below) if below else series[-1] / 10.0) * decade / 10.0:.3g}")


def element_groups(most_ohm, top_volts, *, system="metric"):
    """Of each kind sold, the fewest that make a load, none of them overloaded.

    Parameters
    ----------
    most_ohm : float
        That the load may have [Ω].
    top_volts : float
        The highest of the bank, DC [V].
    system : str
        "metric" or "US": what the reader's shops have.

    Returns
    -------
    tuple of ElementGroup
        Fewest pieces first; a kind of which none fits is left out.

    Notes
    -----
    Equation: ohms = r s / p for s in series and p rows in parallel; each takes (V / s)² / r.
    Valid: like elements, ohms hot; resistors of IEC 60063, E12, at half of their watts.
    Source: Ohm's law; labels as sold are common practice, no source.
    Derivation: `charging.element_group_ohms`.
    """
    kinds = [(f"{watts:g} W for {volts:g} V", volts**2 / watts, watts) for volts, watts in _LABELS[system]]
    found = [_fewest(label, ohm, watts, most_ohm, top_volts) for label, ohm, watts in kinds]
    found.append(_resistors(most_ohm, top_volts))
    return tuple(sorted(filter(None, found), key=lambda group: (group.pieces, group.ohm)))


def _fewest(label, each_ohm, each_watts, most_ohm, top_volts):
    """The fewest of one kind, None where more than a box full would be needed."""
    fitting = []
    for series in range(1, _MOST_SERIES + 1):
        parallel = max(1, ceil(each_ohm * series / most_ohm * (1.0 - _HAIR)))
        group = ElementGroup(label=label, each_ohm=each_ohm, each_watts=each_watts, series=series, parallel=parallel)
        cool = (top_volts / series) ** 2 / each_ohm <= each_watts * (1.0 + _HAIR)
        if cool and group.pieces <= _MOST_PIECES and group.ohm >= _STRONGEST * most_ohm:
            fitting.append(group)
    return min(fitting, key=lambda group: group.pieces, default=None)  # more in series are always more pieces


def _resistors(most_ohm, top_volts):
    """Wire-wound resistors of the E12 series, at half of their watts."""
    watts = _RESISTOR_SHARE * _RESISTOR_WATTS
    decade = 10.0 ** floor(log10(most_ohm))
    values = [value * decade * scale for scale in (0.1, 1.0) for value in E12]
    found = [_fewest(_resistor_label(ohm), ohm, watts, most_ohm, top_volts) for ohm in values]
    return min(filter(None, found), key=lambda group: (group.pieces, -group.ohm), default=None)


def _resistor_label(ohm):
    return f"{say(ohm, 'Ω', figures=2)}, {_RESISTOR_WATTS:g} W, wire-wound, at half its watts"
