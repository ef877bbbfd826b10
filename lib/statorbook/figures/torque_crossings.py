"""Figure: torque of drive and generator against speed, and where they agree."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, hide, limit, line, round_end, words
from statorbook.operation import torque_curves
from statorbook.quantities import shown_unit, to_shown

_POINTS = 240
_HALF = 0.45  # of the height: the words of a mark take no more
_CROWDED = 0.04  # of the width, that two upright lines of words need


def draw_torque_crossings(axes, drive, winding, bank_state, conditions, start, *, before=None):
    """Draw or move both torque curves with their crossings.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    drive : Drive
        What turns it.
    winding : Winding
        The winding.
    bank_state : BankState
        Volts and inner resistance of the bank.
    conditions : Conditions
        Temperatures, drag, rectifier, cable.
    start : StartUp
        From `operation.starting.start_up`, for the same drive and winding.
    before : tuple of float or None
        Speed and torque where it settled before the last change [rpm, N·m].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    top = round_end(1.05 * max(drive.free_speed_rpm, min(start.cut_in_rpm, 2.0 * drive.free_speed_rpm)))
    speed = np.linspace(top / _POINTS, top, _POINTS)
    pull, hold = torque_curves(drive, winding, bank_state, conditions, speed)
    known = bool(np.isfinite(pull).all())
    found = max([crossing.torque_nm for crossing in start.found], default=0.0)
    highest = max(1.25 * max(float(pull.max()) if known else 0.0, found), 1.15 * start.needed_nm, 1e-3)
    per_nm = to_shown(1.0, "N·m")
    axes.set(xlim=(0.0, top), ylim=(0.0, round_end(per_nm * highest)), xlabel="Speed [rpm]")
    axes.set_ylabel(f"Torque at the generator's shaft [{shown_unit('N·m')}]")
    drawn = per_nm * pull if known else np.full_like(speed, np.nan)
    line(axes, "drive", speed, drawn, color=COLOURS["model"], label="drive")
    line(axes, "generator", speed, per_nm * hold, color=COLOURS["second"], label="generator with its drag")
    _mark_points(axes, start, per_nm)
    _mark_before(axes, start, before, per_nm)
    _mark_speeds(axes, start.cut_in_rpm, drive.best_speed_rpm, top, drawn / axes.get_ylim()[1])
    look = {"transform": axes.transAxes, "ha": "left", "va": "top", "color": COLOURS["quiet"]}
    words(axes, "unknown", [0.02], [0.97], ["" if known else "the drive's torque is not known"], **look)
    if not axes.get_legend():
        # Above the picture: inside it a curve would pass under it.
        axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=3, fontsize=SMALLEST_PT)
    return axes


def _mark_before(axes, start, before, per_nm):
    """Where it settled before the last change, as long as that was elsewhere."""
    stays = before is None or any(np.allclose(before, (c.speed_rpm, c.torque_nm)) for c in start.found)
    look = {"marker": "o", "markersize": 11, "linestyle": "none", "zorder": 3, "alpha": 0.45}
    place = ([], []) if stays else ([before[0]], [per_nm * before[1]])
    line(axes, "before", *place, color=COLOURS["chosen"], label="before the move", **look)


def _mark_points(axes, start, per_nm):
    """What a start needs, a full dot where it holds, an open ring where it does not."""
    look = {"marker": "_", "markersize": 26, "markeredgewidth": 3, "linestyle": "none", "clip_on": False}
    line(axes, "start", [0.0], [per_nm * start.needed_nm], color=COLOURS["odd"], label="needed to start", **look)
    for stable, name in ((True, "holds"), (False, "does not hold")):
        points = [(c.speed_rpm, per_nm * c.torque_nm) for c in start.found if c.stable is stable]
        x, y = zip(*points, strict=True) if points else ((), ())
        look = {"marker": "o", "markersize": 11, "markeredgewidth": 2.4, "linestyle": "none", "zorder": 4}
        fill = "full" if stable else "none"
        line(axes, name, x, y, label=name, color=COLOURS["chosen"], fillstyle=fill, **look)


def _mark_speeds(axes, cut_in_rpm, best_speed_rpm, top_rpm, pull_share):
    """Words at the end of their line that the drive's curve leaves free, and never both beside each other."""
    high_at = [
        float(np.interp(rpm / top_rpm, np.linspace(0.0, 1.0, _POINTS), pull_share)) > _HALF
        for rpm in (cut_in_rpm, best_speed_rpm)
    ]
    close = abs(cut_in_rpm - best_speed_rpm) < _CROWDED * top_rpm
    limit(axes, "cut-in", cut_in_rpm, f"cut-in {cut_in_rpm:.0f} rpm", across="y", at_foot=high_at[0])
    if cut_in_rpm > top_rpm:
        hide(axes, "cut-in")
    best = f"best {best_speed_rpm:.0f} rpm"
    at_foot = not high_at[0] if close else high_at[1]
    limit(axes, "best", best_speed_rpm, best, across="y", color=COLOURS["quiet"], at_foot=at_foot)
