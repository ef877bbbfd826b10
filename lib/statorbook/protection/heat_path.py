"""Heat on its way from a diode to the air, as kelvins for each watt in a row."""

from math import inf

from statorbook.quantities import Fact

BOX_W_PER_M2K = Fact(
    value=5.5,
    unit="W/(m²·K)",
    source="painted sheet steel or plastic in still air, common practice, no source",
    low=3.5,
    high=6.0,
)
PLATE_W_PER_M2K = Fact(
    value=8.0,
    unit="W/(m²·K)",
    source="each face of an upright thick aluminium plate in still air, common practice, no source",
    low=5.0,
    high=12.0,
)
OPEN_AIR, VENTED, CLOSED = "in the open air", "in a box with vents above and below", "in a closed box"
ENCLOSURES = (OPEN_AIR, VENTED, CLOSED)
# Common practice, no source: vents let about half of the heat out.
_SHARE = {OPEN_AIR: 0.0, VENTED: 0.5, CLOSED: 1.0}


def left_k_per_w(watts, hot_c, air_c, *on_the_way_k_per_w):
    """What is left for the last part of the way, such as a heat sink [K/W]."""
    # (T − T_air) / P less the rest of the way; below 0 where no heat sink is enough, infinite where nothing is lost.
    return (hot_c - air_c) / watts - sum(on_the_way_k_per_w) if watts > 0.0 else inf


def box_k_per_w(enclosure, box_cm2):
    """Rise of the air in a box over the air round it, for each watt lost inside [K/W]."""
    return _SHARE[enclosure] / (BOX_W_PER_M2K.value * box_cm2 / 1e4)


def plate_cm2(k_per_w):
    """One face of an upright aluminium plate that serves as heat sink; both faces free [cm²]."""
    return 1e4 / (2.0 * PLATE_W_PER_M2K.value * k_per_w)
