"""What a ball bearing bears besides wear: the load that dents it, and the speed that its grease and seals take."""

from statorbook.quantities import Fact, require_number

SPEED_FACTOR = Fact(
    value=300_000.0,
    unit="mm·rpm, mean diameter × speed",
    source="deep groove ball bearing with rubbing seals and grease; open ones reach half as much again (from memory)",
    low=250_000.0,
    high=500_000.0,
)
STATIC_SAFETY = Fact(
    value=2.0,
    unit="-",
    source="ball bearings under knocks, ISO 76 and handbooks: 0.5 smooth and slow, 1 usual, 2 knocks (from memory)",
    low=0.5,
    high=2.0,
)
# ISO 76:2006, 5.1 and table 1, single-row deep groove ball bearings (from memory): P0 = X0 Fr + Y0 Fa, never below Fr.
_STATIC_X, _STATIC_Y = 0.6, 0.5


def static_load_n(radial_n, axial_n):
    """Equivalent static load: across the shaft alone it would dent the bearing at rest as much as both do [N]."""
    require_number(radial_n, "radial load", "N", at_least=0)
    require_number(axial_n, "axial load", "N", at_least=0)
    return float(max(radial_n, _STATIC_X * radial_n + _STATIC_Y * axial_n))


def limiting_rpm(size):
    """Speed above which grease and rubbing seals of a lightly loaded bearing run hot; open ones bear more [rpm]."""
    return SPEED_FACTOR.value / (0.5 * (size.bore_mm + size.outer_mm))
