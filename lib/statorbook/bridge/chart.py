"""The bridge as one stored chart: every grouping at every speed is a point (u, q) on it.

Rebuild it with `python -m statorbook.bridge.chart` after a change of `bridge.solver`.
"""

import hashlib
from functools import cache
from importlib.resources import files
from zipfile import BadZipFile

import numpy as np

from statorbook.bridge.circuit import Problem
from statorbook.bridge.solver import outlasts_sixth, solve

# Conduction half-angle v = acos(u) spreads the points where the current starts; log q covers slow to fast.
# The surface has one crease, where the gap between current pulses closes: one patch on each side.
BUILD = {"gap_points": 161, "closed_points": 241, "ratios": 201, "least_ratio": 1e-2, "most_ratio": 1e2}
_FILE = "bridge_chart.npz"
_MARGIN = 8
_HALVINGS = 45
_SHAPED = ("dc", "phase_rms", "dc_rms")
# Near cut-in currents grow as these powers of v; dividing by them leaves smooth surfaces to interpolate.
_POWERS = {"dc": 3.0, "phase_rms": 2.5, "dc_rms": 2.5}
_PATCHES = ("gap", "closed")


def crease_half_angle(q):
    """Half-angle v = acos u above which the DC current has no gap, for each q; without DC-side resistance [rad]."""
    # A pulse from rest lasts exactly 60° there. Halved by hand: yes or no leaves a root finder nothing to steer by.
    low, high = np.full_like(q, 1e-3), np.full_like(q, np.pi / 2.0)
    for _ in range(_HALVINGS):
        v = 0.5 * (low + high)
        closed = outlasts_sixth(_problem(np.cos(v), q, 0.0 * q))
        low, high = np.where(closed, low, v), np.where(closed, v, high)
    return 0.5 * (low + high)


def _problem(u, q, dc_ratio):
    r = 1.0 / np.hypot(1.0, q)
    return Problem(dc_ratio=u * np.sqrt(3.0), resistance=r, reactance=q * r, dc_resistance=dc_ratio * r)


def build(parameters=None):
    """Solve the bridge exactly on the chart's grid: the crease, and per patch and current a table in E/|Z|."""
    p = parameters or BUILD
    q = np.exp(np.linspace(np.log(p["least_ratio"]), np.log(p["most_ratio"]), p["ratios"]))
    crease = crease_half_angle(q)
    tables = {"crease": crease}
    for patch, start, end in (("gap", 0.0 * crease, crease), ("closed", crease, np.full_like(q, np.pi / 2.0))):
        v = np.linspace(start, end, p[f"{patch}_points"])
        inside = v[1:] if patch == "gap" else v
        exact = currents(np.cos(inside).ravel(), np.broadcast_to(q, inside.shape).ravel())
        for name in _SHAPED:
            shaped = exact[name].reshape(inside.shape) / np.sin(inside) ** _POWERS[name]
            tables[f"{patch}_{name}"] = np.vstack([_before(shaped), shaped]) if patch == "gap" else shaped
    return tables


def _before(table):
    """One more line before the first, on the parabola through the first three."""
    return np.maximum(3.0 * table[0] - 3.0 * table[1] + table[2], 0.0)[None]


def currents(u, q, dc_ratio=0.0):
    """Exact currents "dc", "phase_rms", "dc_rms" for u ≥ 0 and q > 0; none for u ≥ 1 [E/|Z|]."""
    u, q, dc_ratio = (np.ascontiguousarray(a, dtype=float) for a in np.broadcast_arrays(u, q, dc_ratio))
    found = solve(_problem(u, q, dc_ratio))
    # Just below u = 1 rounding can leave a mean square a hair below 0.
    phase_square, dc_square = np.maximum(found["phase_square"], 0.0), np.maximum(found["dc_square"], 0.0)
    return {"dc": np.maximum(found["dc"], 0.0), "phase_rms": np.sqrt(phase_square / 3.0), "dc_rms": np.sqrt(dc_square)}


def checksum(tables):
    """SHA-256 of a chart, rounded so that the last digits of another processor do not matter."""
    digest = hashlib.sha256()
    for name in sorted(tables):
        digest.update(name.encode() + np.asarray(tables[name], dtype="<f4").tobytes())
    return digest.hexdigest()


@cache
def coefficients():
    """Bicubic spline coefficients of each table, with margins that keep the edges' mirror rule away."""
    from scipy.ndimage import spline_filter

    try:
        with files("statorbook").joinpath("tables", _FILE).open("rb") as stored:
            tables = dict(np.load(stored, allow_pickle=False))
        kept = str(tables.pop("checksum"))
        whole = checksum(tables) == kept
    except (OSError, ValueError, KeyError, BadZipFile):
        whole = False
    if not whole:
        raise ArithmeticError(
            "the stored bridge chart does not match its checksum; rebuild it: python -m statorbook.bridge.chart"
        )
    return {
        name: spline_filter(_with_margins(table.astype(float)), order=3, mode="mirror")
        for name, table in tables.items()
    }


def _with_margins(table):
    for axis in range(table.ndim):
        table = np.moveaxis(table, axis, 0)
        for _ in range(_MARGIN):
            before = 3.0 * table[0] - 3.0 * table[1] + table[2]
            after = 3.0 * table[-1] - 3.0 * table[-2] + table[-3]
            table = np.concatenate([before[None], table, after[None]])
        table = np.moveaxis(table, 0, axis)
    return table


def covers(u, q):
    """Where the chart may be used, as an array of bool."""
    return (u >= 0.0) & (q >= BUILD["least_ratio"]) & (q <= BUILD["most_ratio"])


def _column(q):
    least, most = np.log(BUILD["least_ratio"]), np.log(BUILD["most_ratio"])
    return (np.log(q) - least) * (BUILD["ratios"] - 1) / (most - least) + _MARGIN


def beyond_crease(u, q):
    """How far acos u lies beyond the crease, negative where the current has gaps; where `covers` is true [rad]."""
    from scipy.ndimage import map_coordinates

    crease = map_coordinates(coefficients()["crease"], _column(q)[None], order=3, prefilter=False)
    return np.arccos(np.clip(u, 0.0, 1.0)) - crease


def look_up(u, q, names=_SHAPED, *, crease=None):
    """Interpolated currents by name, where `covers` is true; exactly 0 for u ≥ 1 [E/|Z|]."""
    # Bicubic in (acos u, ln q) on each side of the crease, times a power of sin v.
    from scipy.ndimage import map_coordinates

    u, q = np.broadcast_arrays(np.asarray(u, dtype=float), np.asarray(q, dtype=float))
    v = np.arccos(np.clip(u, 0.0, 1.0))
    beyond, column = beyond_crease(u, q) if crease is None else v - crease, _column(q)
    crease = v - beyond
    found = {name: np.zeros(v.shape) for name in names}
    for patch, rows in zip(_PATCHES, (beyond < 0.0, beyond >= 0.0), strict=True):
        if not rows.any():  # as often with few points: a call of scipy costs as much as some hundred of them
            continue
        share = v[rows] / crease[rows] if patch == "gap" else beyond[rows] / (np.pi / 2.0 - crease[rows])
        place = np.stack([share * (BUILD[f"{patch}_points"] - 1) + _MARGIN, column[rows]])
        for name in names:
            table = coefficients()[f"{patch}_{name}"]
            found[name][rows] = np.maximum(map_coordinates(table, place, order=3, prefilter=False), 0.0)
    rise = np.sin(v)
    return {name: found[name] * rise ** _POWERS[name] for name in names}


def write():
    """Build the chart, store it with the package, and return its checksum."""
    tables = build()
    target = files("statorbook").joinpath("tables", _FILE)
    np.savez_compressed(str(target), checksum=checksum(tables), **{k: t.astype(np.float32) for k, t in tables.items()})
    return checksum(tables)


if __name__ == "__main__":
    print("chart stored, checksum", write())
