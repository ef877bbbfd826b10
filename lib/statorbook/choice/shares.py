"""What makes up a ±: the share that each thing measured or assumed has in the square of the whole."""

import numpy as np

from statorbook.choice.assumed_ranges import variations
from statorbook.choice.uncertainty import at_all_ends, half_width, reach

CONSTANTS = ("emf_v_per_rpm", "ohm", "henry")  # in the order of `windings_at_ends`


def shares_in_squares(constants, assumed):
    """Share of each thing in the square of a half-width.

    Parameters
    ----------
    constants : ndarray
        A result at the best value and at the ends of each coil constant, as `half_width` takes it, any unit [-].
    assumed : ndarray
        The same at the ends of what is assumed, as `reach` takes it, same unit [-].

    Returns
    -------
    ndarray
        The constants in their order, then what is assumed; together 1, or all 0 when nothing moves the result [-].

    Notes
    -----
    Equation: dᵢ² / Σ d², dᵢ from `half_width` or `reach` with this thing alone.
    Valid: see `half_width` and `reach`; things independent of each other.
    Source: contributions to a variance, JCGM 100:2008 (GUM), 5.1.3 (from memory).
    """
    of_constants = [half_width(constants[[0, low, low + 1]]) for low in range(1, len(constants), 2)]
    of_assumed = [reach(assumed[[0, low, low + 1]]) for low in range(1, len(assumed), 2)]
    squares = np.square([*of_constants, *of_assumed])
    return squares / squares.sum() if squares.any() else squares


def shares_of(machine, grouping):
    """What makes up each ± of `with_plus_minus`.

    Parameters
    ----------
    machine : Machine
        Constants with ends, drive, bank, setting, what is assumed.
    grouping : Grouping
        How the coils are joined.

    Returns
    -------
    dict of str to dict
        Name of the result to name of the thing (a field of the coil, or of a `Variation`) to its share [-].

    Notes
    -----
    Equation: `shares_in_squares`.
    Valid: see `with_plus_minus`.
    Source: see `shares_in_squares`.
    """
    constants, assumed = at_all_ends(machine, grouping)
    names = (*CONSTANTS, *(variation.name for variation in variations(machine)))
    return {
        result: dict(zip(names, shares_in_squares(constants[result], assumed[result]).tolist(), strict=True))
        for result in constants
    }
