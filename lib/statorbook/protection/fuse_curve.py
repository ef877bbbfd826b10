"""Fuses as they are sold: their sizes, and how long the slowest of them lets a current flow."""

from math import exp, inf, log

import numpy as np

from statorbook.quantities import Fact, units_now

# Rated amps. IEC 60269-1, and for US readers NEC 240.6(A), both from memory.
_FUSE_AMPS = (
    2.0, 4.0, 6.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0, 315.0,
    400.0, 500.0, 630.0, 800.0, 1000.0, 1250.0,
)  # fmt: skip
_US_FUSE_AMPS = (
    1.0, 3.0, 6.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0,
    150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0, 700.0, 800.0, 1000.0, 1200.0,
)  # fmt: skip
# Rated amps: amps that open it within 5 s and within 0.1 s at the latest, and the most A²s in thousands before its arc.
# Gates of gG fuses, IEC 60269-1 (from memory).
_GATES = {
    16: (65, 150, 1.0), 20: (85, 200, 1.8), 25: (110, 260, 3.0), 32: (150, 350, 5.0), 40: (190, 450, 9.0),
    50: (250, 610, 16.0), 63: (320, 820, 27.0), 80: (425, 1100, 46.0), 100: (580, 1450, 86.0), 125: (715, 1910, 140.0),
    160: (950, 2590, 250.0), 200: (1250, 3420, 400.0), 250: (1650, 4500, 760.0), 315: (2200, 6000, 1300.0),
    400: (2840, 8060, 2250.0), 500: (3800, 10600, 3800.0), 630: (5100, 14140, 7500.0), 800: (7000, 19000, 13600.0),
    1000: (9500, 24000, 25000.0), 1250: (13000, 35000, 47000.0),
}  # fmt: skip
# An hour up to 63 A, then longer: IEC 60269-1 (from memory).
_HOURS = ((63.0, 1.0), (160.0, 2.0), (400.0, 3.0), (inf, 4.0))
OPENS_FOR_SURE = Fact(
    value=1.6, unit="times its rated amps", source="gG from 16 A up, IEC 60269-1 (from memory)", low=1.45, high=2.1
)
ARC_FACTOR = Fact(
    value=2.0,
    unit="A²s of the whole break over those before the arc",
    source="common practice, no source; the fuse's sheet has the number for DC",
    low=1.5,
    high=3.0,
)


def fuse_sizes():
    """The rated amps that are sold, as a tuple [A]."""
    return _US_FUSE_AMPS if units_now() == "US" else _FUSE_AMPS


def let_through_a2s(fuse_amps):
    """The most A²s that a gG fuse lets through while it breaks a short circuit, the arc counted [A²s]."""
    return ARC_FACTOR.value * 1000.0 * _gates(fuse_amps)[2]


def opens_within_s(fuse_amps, amps):
    """How long a current flows at the longest before a gG fuse opens; infinite for one that may never open it [s]."""
    five_s_amps, tenth_s_amps, thousand_a2s = _gates(fuse_amps)
    slowest_s = 3600.0 * next(hours for most, hours in _HOURS if fuse_amps <= most)
    hundredth_s_amps = (1000.0 * thousand_a2s / 0.01) ** 0.5
    gates = (OPENS_FOR_SURE.value * fuse_amps, five_s_amps, tenth_s_amps, hundredth_s_amps)
    if amps < gates[0] * (1.0 - 1e-9):
        return inf
    if amps >= gates[-1]:
        return let_through_a2s(fuse_amps) / amps**2
    # Straight between the gates in logarithms.
    before_arc_s = exp(np.interp(log(amps), np.log(gates), np.log((slowest_s, 5.0, 0.1, 0.01))))
    return before_arc_s + (ARC_FACTOR.value - 1.0) * 1000.0 * thousand_a2s / amps**2


def five_second_amps(fuse_amps):
    """The least amps that open a gG fuse within 5 s, its arc not counted [A]."""
    return _gates(fuse_amps)[0]


def _gates(fuse_amps):
    """The row of a fuse, between two rows of the table in logarithms; outside it in proportion to the nearest row."""
    rated = np.array(list(_GATES), dtype=float)
    near = float(np.clip(fuse_amps, rated[0], rated[-1]))
    columns = np.log(np.array(list(_GATES.values()), dtype=float)).T
    row = [exp(np.interp(log(near), np.log(rated), column)) for column in columns]
    beyond = fuse_amps / near
    return row[0] * beyond, row[1] * beyond, row[2] * beyond**2
