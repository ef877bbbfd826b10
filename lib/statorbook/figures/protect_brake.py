"""Figure: what joined leads pull against the drive, and the amps in each lead, over speed."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, limit, line, round_end
from statorbook.quantities import shown_unit, to_shown


def draw_brake(torque, amps, curves, joined):
    """Draw or move torque and amps of joined leads.

    Parameters
    ----------
    torque : matplotlib.axes.Axes
        Where to draw the torque.
    amps : matplotlib.axes.Axes
        Where to draw the amps, below.
    curves : BrakeCurves
        From `protection.brake_curves`.
    joined : JoinedAt
        From `protection.joined_at`: marked in both.

    Returns
    -------
    tuple of matplotlib.axes.Axes
        Both axes.
    """
    per_nm = float(to_shown(1.0, "N·m"))
    speed = curves.speed_rpm
    top = round_end(float(speed[-1]))
    drive = np.where(np.isfinite(curves.drive_nm), curves.drive_nm, np.nan)
    highest = max(float(np.nanmax(drive, initial=0.0)), float(curves.leads_nm.max()), 1e-3)
    torque.set(xlim=(0.0, top), ylim=(0.0, round_end(1.1 * per_nm * highest)), xticklabels=[])
    torque.set_ylabel(f"Torque at the shaft [{shown_unit('N·m')}]")
    line(torque, "drive", speed, per_nm * drive, color=COLOURS["model"], label="drive at its strongest")
    line(
        torque, "leads", speed, per_nm * curves.leads_nm, color=COLOURS["second"], label="joined leads, warm, with drag"
    )
    look = {"marker": "o", "markersize": 10, "linestyle": "none", "zorder": 4, "color": COLOURS["chosen"]}
    line(torque, "at", [joined.speed_rpm], [per_nm * joined.torque_nm], **look)
    line(
        amps, "swing", speed, curves.first_swing_amps, color=COLOURS["limit"], linestyle="--", label="first swing, peak"
    )
    line(amps, "steady", speed, curves.lead_amps_rms, color=COLOURS["second"], label="steady, rms")
    line(amps, "at", [joined.speed_rpm], [joined.lead_amps_rms], **look)
    most = round_end(max(1.1 * float(curves.first_swing_amps.max()), 1e-3))
    amps.set(xlim=(0.0, top), ylim=(0.0, most), xlabel="Speed [rpm]", ylabel="Amps in each lead [A]")
    limit(torque, "runaway", float(speed[-1]), "runaway", across="y", color=COLOURS["quiet"])
    for axes in (torque, amps):
        if not axes.get_legend():
            axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=2, fontsize=SMALLEST_PT)
    return torque, amps
