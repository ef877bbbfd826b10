"""Figure: nozzle, jet, runner and one bucket, all drawn to one scale each."""

import numpy as np

from statorbook.drives import least_bucket_width_mm
from statorbook.figures.canvas.artists import COLOURS, line, words
from statorbook.quantities import say, shown_unit, to_shown

# A bucket over its width, as drawn: handbooks (from memory); only the width is asked of the reader.
_HEIGHT_SHARE, _DEPTH_SHARE = 0.85, 0.3
_TAPER_JETS, _FREE_JETS, _HOSE_JETS = 3.0, 3.0, 2.2
_LOOK = {"color": COLOURS["measured"], "linewidth": 1.6}
_ENDS = {"marker": "|", "markersize": 12}
_PAPER = {"facecolor": "white", "edgecolor": "none", "alpha": 0.8, "pad": 1.0}


def draw_jet_and_bucket(runner_axes, bucket_axes, drive, bucket_width_mm=None):
    """Draw or move the runner seen along its shaft, and one bucket as the jet sees it.

    Parameters
    ----------
    runner_axes : matplotlib.axes.Axes
        Left axes.
    bucket_axes : matplotlib.axes.Axes
        Right axes, at a larger scale.
    drive : WaterJet or PipedJet
        Jet and pitch diameter.
    bucket_width_mm : float or None
        Width across one bucket; the least that suits the jet when None [mm].

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    width = least_bucket_width_mm(drive.jet_mm) if bucket_width_mm is None else bucket_width_mm
    _draw_runner(runner_axes, drive, width)
    _draw_bucket(bucket_axes, drive.jet_mm, width, bucket_width_mm is not None)
    for axes, title in ((runner_axes, "Along the shaft, to scale"), (bucket_axes, "One bucket as the jet sees it")):
        axes.set_aspect("equal")
        axes.set(title=title, xlabel=f"[{shown_unit('mm')}]", ylabel=f"[{shown_unit('mm')}]")
        axes.grid(visible=False)
    return runner_axes, bucket_axes


def _draw_runner(axes, drive, width):
    """The pitch circle, the jet that touches it from the left below, and the bucket that it meets."""
    radius, jet = drive.pitch_diameter_mm / 2.0, drive.jet_mm
    height, depth = _HEIGHT_SHARE * width, _DEPTH_SHARE * width
    turn = np.linspace(0.0, 2.0 * np.pi, 181)
    shapes = {
        "pitch circle": (radius * np.cos(turn), radius * np.sin(turn), {"linestyle": "--", "color": COLOURS["quiet"]}),
        "shaft": (0.08 * radius * np.cos(turn), 0.08 * radius * np.sin(turn), _LOOK),
        "pitch diameter": ([-radius, radius], [0.0, 0.0], {"color": COLOURS["quiet"], "linewidth": 1.0, **_ENDS}),
    }
    nozzle, hose = _nozzle_and_jet(jet, radius)
    shapes |= nozzle
    half = np.linspace(-np.pi / 2.0, np.pi / 2.0, 41)
    cup = (depth * np.cos(half), height / 2.0 * np.sin(half) - radius)
    shapes["bucket"] = (*cup, {**_LOOK, "linewidth": 2.6})
    low, right = -radius - max(height / 2.0, 1.25 * jet), max(radius, depth)
    left = min(-radius, hose)
    _draw(axes, shapes)
    gap = 0.05 * (right - left)
    _fit(axes, (left, right, low - 3.0 * gap, radius))
    _say(
        axes,
        [
            (0.0, -0.12 * radius, f"pitch circle {say(drive.pitch_diameter_mm, 'mm')}", "center", "top"),
            (left, low - gap, f"jet and nozzle {say(jet, 'mm')}", "left", "top"),
        ],
    )


def _nozzle_and_jet(jet, radius):
    """Both edges of nozzle and jet, and how far left the hose begins."""
    tip = -_FREE_JETS * jet
    mouth = tip - _TAPER_JETS * jet
    hose = mouth - _HOSE_JETS * jet
    shapes = {}
    for side in (-1.0, 1.0):
        edge = np.array([0.5, 1.25, 1.25]) * side * jet - radius
        shapes[f"nozzle {side:+.0f}"] = ([tip, mouth, hose], edge, {**_LOOK, "linewidth": 2.6})
        water = np.full(2, side * jet / 2.0 - radius)
        shapes[f"jet {side:+.0f}"] = ([tip, 0.0], water, {"color": COLOURS["model"]})
    return shapes, hose


def _draw_bucket(axes, jet, width, measured):
    """Outline and splitter of the bucket, and the jet in its middle."""
    turn = np.linspace(0.0, 2.0 * np.pi, 121)
    height = _HEIGHT_SHARE * width
    squared = [np.sign(way) * np.abs(way) ** 0.6 for way in (np.cos(turn), np.sin(turn))]
    below = -height / 2.0 - 0.12 * width
    shapes = {
        "bucket": (width / 2.0 * squared[0], height / 2.0 * squared[1], {**_LOOK, "linewidth": 2.6}),
        "splitter": ([0.0, 0.0], [-height / 2.0, height / 2.0], _LOOK),
        "jet": (jet / 2.0 * np.cos(turn), jet / 2.0 * np.sin(turn), {"color": COLOURS["model"]}),
        "width": ([-width / 2.0, width / 2.0], [below, below], {**_LOOK, **_ENDS}),
    }
    _draw(axes, shapes)
    half = max(width, jet) / 2.0
    _fit(axes, (-half, half, below - 0.2 * width, max(height, jet) / 2.0))
    kind = "measured" if measured else "at least"
    _say(
        axes,
        [
            (0.0, below - 0.05 * width, f"bucket width {say(width, 'mm')}, {kind}", "center", "top"),
            (0.0, height / 2.0 - 0.05 * width, f"jet {say(jet, 'mm')}", "center", "top"),
        ],
    )


def _draw(axes, shapes):
    for name, (x, y, look) in shapes.items():
        line(axes, name, to_shown(np.asarray(x), "mm"), to_shown(np.asarray(y), "mm"), **look)


def _fit(axes, edges):
    left, right, low, high = (to_shown(edge, "mm") for edge in edges)
    room = 0.06 * max(right - left, high - low)
    axes.set(xlim=(left - room, right + room), ylim=(low - room, high + room))


def _say(axes, notes):
    for number, (x, y, text, ha, va) in enumerate(notes):
        place = [to_shown(x, "mm")], [to_shown(y, "mm")]
        words(axes, f"note{number}", *place, [text], ha=ha, va=va, bbox=_PAPER)
