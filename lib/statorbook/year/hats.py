"""Hours shared out to settings by hat functions: each time to the two settings beside it, as its distance asks."""

import numpy as np

# Between settings v1 and v2 the right one gets ∫ (v − v1) dt / (v2 − v1), the left one the rest: exact for the mean of
# all that runs straight between settings, by the definition of linear interpolation. What lies below the first setting
# is the first one's, what lies above the last one the last one's.


def hat_shares(grid, below, summed_below):
    """Hours of each setting, from the hours below each and ∫ value dt over them, both (..., k + 1), the last of all."""
    inside = np.diff(below[..., :-1], axis=-1)
    moment = np.diff(summed_below[..., :-1], axis=-1) - inside * grid[:-1]
    right = np.clip(moment / np.diff(grid), 0.0, inside)
    shares = np.zeros(below[..., :-1].shape)
    shares[..., 1:] += right
    shares[..., :-1] += inside - right
    shares[..., 0] += below[..., 0]
    shares[..., -1] += below[..., -1] - below[..., -2]
    return shares


def bin_hours(grid, low, high, hours):
    """Hours of each setting from a table of hours a bin, each spread evenly over the width of its bin, (k,) [h]."""
    reached = np.clip(np.append(grid, np.inf)[:, None], low, high)
    density = hours / (high - low)
    below = (density * (reached - low)).sum(axis=1)
    return hat_shares(grid, below, (density * (reached**2 - low**2) / 2.0).sum(axis=1))


def reading_hours(grid, values, hours, months):
    """Hours of each month and setting, (12, k), from readings, how long each held, and its month, 0 for January [h]."""
    place = np.interp(values, grid, np.arange(len(grid)))
    left = np.minimum(place.astype(int), len(grid) - 2)
    right_share = place - left
    at, size = np.asarray(months) * len(grid) + left, 12 * len(grid)
    found = np.bincount(at, weights=hours * (1.0 - right_share), minlength=size)
    found += np.bincount(at + 1, weights=hours * right_share, minlength=size)
    return found.reshape(12, len(grid))
