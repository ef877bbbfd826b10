"""How the heat of the diodes gets to the air, and the heat sink that it needs."""

from dataclasses import dataclass
from itertools import accumulate

from statorbook.protection.heat_path import box_k_per_w, left_k_per_w
from statorbook.protection.rectifier_label import BLOCK, SINGLE
from statorbook.quantities import Fact

BASE_C = Fact(
    value=80.0,
    unit="°C",
    source="base under the diodes, for the wires at its ends and the amps on labels, common practice, no source",
    low=55.0,
    high=100.0,
)
JUNCTION_SPARE_K = Fact(
    value=15.0, unit="K below the hottest junction of the sheet", source="common practice, no source", low=10, high=40
)
LEAST_HEAT_SINK = Fact(
    value=0.1, unit="K/W", source="the largest ones without a fan, common practice, no source", low=0.05, high=0.2
)
# From base to heat sink: worked examples of power-electronics texts have 0.075 to 0.6 K/W.
CONTACT_K_PER_W = {
    BLOCK: Fact(value=0.1, unit="K/W", source="a block with paste, common practice, no source", low=0.05, high=0.3),
    SINGLE: Fact(value=0.5, unit="K/W", source="one diode, common practice, no source", low=0.2, high=1.0),
}


@dataclass(frozen=True, kw_only=True)
class HeatWay:
    """From the busiest junction to the air, each step in kelvins for each watt of the whole bridge."""

    # Heat as a current through resistances in a row, any power-electronics text. Steady, one heat sink, no sun on it.
    junction_k_per_w: float  # from junction to base; 0 while nothing is known of the diodes
    contact_k_per_w: float  # from base to heat sink
    box_k_per_w: float  # from the air in the box to the air round it
    junction_limit_c: float  # hottest junction, the spare taken off

    def heat_sink_k_per_w(self, watts, air_c):
        """At most, so that neither base nor junction is too hot; below 0 when none is enough [K/W]."""
        outside = self.contact_k_per_w + self.box_k_per_w
        of_base = left_k_per_w(watts, BASE_C.value, air_c, outside)
        return min(of_base, left_k_per_w(watts, self.junction_limit_c, air_c, outside, self.junction_k_per_w))

    def steps_c(self, watts, air_c, heat_sink_k_per_w):
        """Air in the box, heat sink, base under the busiest diode, its junction [°C]."""
        # Where nothing is lost any heat sink does, also an infinite one.
        sink = heat_sink_k_per_w if watts > 0.0 else 0.0
        steps = accumulate((self.box_k_per_w, sink, self.contact_k_per_w, self.junction_k_per_w))
        return tuple(air_c + watts * k_per_w for k_per_w in steps)


def heat_way(rectifier, drop_v):
    """The way of the heat in a rectifier by its label, as far as that is known."""
    # Each of the six places loses a sixth; the busiest of those side by side takes its share of that.
    share, contact = rectifier.busiest_share, CONTACT_K_PER_W[rectifier.kind].value
    diode = rectifier.junction_case_k_per_w
    if diode is None:
        diode = _by_label(rectifier, drop_v)
    return HeatWay(
        junction_k_per_w=share * diode / 6.0,
        contact_k_per_w=share * contact / (6.0 if rectifier.kind == SINGLE else 1.0),
        box_k_per_w=box_k_per_w(rectifier.enclosure, rectifier.box_cm2),
        junction_limit_c=rectifier.max_junction_c - JUNCTION_SPARE_K.value,
    )


def _by_label(rectifier, drop_v):
    """Junction to base of one diode, so that the amps on the label take it from the usual base to its limit [K/W]."""
    if rectifier.label_amps is None:
        return 0.0
    mean = rectifier.label_amps / (1.0 if rectifier.kind == SINGLE else 3.0)
    watts = drop_v * mean + rectifier.slope_ohm * 3.0 * mean**2  # 120° of smooth current: rms √3 times the average
    return (rectifier.max_junction_c - BASE_C.value) / watts if watts else 0.0
