"""How the wind spreads over the hours of a year: Weibull's distribution, given by its mean and its shape."""

from math import gamma

import numpy as np

from statorbook.quantities import Fact, require_number
from statorbook.year.hats import hat_shares

RAYLEIGH_SHAPE = Fact(
    value=2.0,
    unit="-",
    source="Rayleigh's distribution, IEC 61400-12-1 for the energy of a year where only the mean is known (from "
    "memory); 1.5 in gusty valleys, 3 in trade winds, texts on wind power (from memory)",
    low=1.5,
    high=3.0,
)
LEAST_SHAPE, MOST_SHAPE = 1.0, 5.0
MOST_MEAN_M_S = 20.0


def require_mean_wind(mean_m_s, where="mean wind"):
    """A mean of many hours that a place on earth can have [m/s], or one sentence."""
    hint = "read the mean of the year from a wind map or a weather record, at the height that the drive names"
    return require_number(mean_m_s, where, "m/s", above=0, at_most=MOST_MEAN_M_S, next_step=hint)


def require_shape(shape):
    """A shape that winds over a year have [-], or one sentence."""
    hint = "type 2 unless a record says otherwise"
    return require_number(shape, "shape", "", at_least=LEAST_SHAPE, at_most=MOST_SHAPE, next_step=hint)


def weibull_scale_m_s(mean_m_s, shape):
    """Scale A of Weibull's distribution: its mean is A Γ(1 + 1/k), k the shape [m/s]."""
    return mean_m_s / gamma(1.0 + 1.0 / shape)


def share_below(wind_m_s, mean_m_s, shape):
    """Share of the hours with less wind, 1 − exp(−(v / A)^k) [-]."""
    return -np.expm1(-((wind_m_s / weibull_scale_m_s(mean_m_s, shape)) ** shape))


def pattern_factor(shape):
    """Mean of the wind cubed over the cube of its mean, Γ(1 + 3/k) / Γ(1 + 1/k)³ [-]."""
    return gamma(1.0 + 3.0 / shape) / gamma(1.0 + 1.0 / shape) ** 3


def wind_with_share_above(share, mean_m_s, shape):
    """Wind that is passed for a share of the hours only [m/s]."""
    return weibull_scale_m_s(mean_m_s, shape) * (-np.log(share)) ** (1.0 / shape)


def weibull_shares(winds_m_s, mean_m_s, shape):
    """Share of the hours of each wind of a grid, (k,), or (n, k) for n means; each adds up to 1 [-]."""
    from scipy.special import gammainc

    # ∫ v f dv from 0 to v is the mean times the regularised incomplete gamma function P(1 + 1/k, (v / A)^k), by the
    # definition of both (DLMF 8.2, from memory).
    mean = np.asarray(mean_m_s, dtype=float)[..., None]
    winds = np.append(np.asarray(winds_m_s, dtype=float), np.inf)
    summed = mean * gammainc(1.0 + 1.0 / shape, (winds / weibull_scale_m_s(mean, shape)) ** shape)
    return hat_shares(winds[:-1], share_below(winds, mean, shape), summed)
