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
# ISO 76:2006, deep groove ball bearings (from memory): P0 = X0 Fr + Y0 Fa, never below Fr.
_STATIC_X, _STATIC_Y = 0.6, 0.5


def static_load_n(radial_n, axial_n):
    """Radial load that dents a bearing at rest as much as radial and axial load together.

    Parameters
    ----------
    radial_n : float
        Across the shaft [N].
    axial_n : float
        Along the shaft [N].

    Returns
    -------
    float
        Equivalent static load P0 [N].

    Raises
    ------
    BadInput
        When a load is below 0.

    Notes
    -----
    Equation: P0 = 0.6 Fr + 0.5 Fa, at least Fr.
    Valid: single-row deep groove ball bearings.
    Source: ISO 76:2006, 5.1 and table 1 (from memory).
    """
    require_number(radial_n, "radial load", "N", at_least=0)
    require_number(axial_n, "axial load", "N", at_least=0)
    return float(max(radial_n, _STATIC_X * radial_n + _STATIC_Y * axial_n))


def limiting_rpm(size):
    """Speed above which grease and seals of a bearing run hot.

    Parameters
    ----------
    size : BearingSize
        The bearing.

    Returns
    -------
    float
        Limiting speed [rpm].

    Notes
    -----
    Equation: speed factor over the mean of bore and outer diameter.
    Valid: grease, rubbing seals, light load; open bearings bear more.
    Source: catalogues of deep groove ball bearings, see `SPEED_FACTOR` (from memory).
    """
    return SPEED_FACTOR.value / (0.5 * (size.bore_mm + size.outer_mm))
