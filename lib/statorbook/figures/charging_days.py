"""Figure: bank volts, charge and flows over simulated days, with what was dropped in."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, line, round_end

_MOST_POINTS = 360  # across, about two pixels each; each minute of four weeks would take a second to send
_MOST_TICKS = 8
_TICKS = (0.2, 0.5, 1.0, 2.0, 4.0, 7.0, 14.0, 28.0, 56.0)  # days from one to the next
_DAY_S = 86_400.0
_GRID = "#DDDDDD"  # as the grid across
# From below upward; what rises over the line of the source comes out of the bank.
_STACK = (
    ("house", "house, inverter", ("house", "inverter_lost"), COLOURS["model"]),
    ("heaters", "water, air heater", ("water_heater", "air_heater"), COLOURS["second"]),
    ("dumps", "dump loads", ("dump_1", "dump_2", "dump_3"), COLOURS["limit"]),
)


def draw_charging_days(volts_axes, charge_axes, flow_axes, plan, found, *, days=None):
    """Draw or move the course of simulated days.

    Parameters
    ----------
    volts_axes : matplotlib.axes.Axes
        Upper axes, volts of the bank.
    charge_axes : matplotlib.axes.Axes
        Middle axes, its charge.
    flow_axes : matplotlib.axes.Axes
        Lower axes, watts.
    plan : ChargingPlan
        The plan, for its limits.
    found : Days
        Its days.
    days : int or None
        How many days the picture is wide, when others are being worked out; those found when None [-].

    Returns
    -------
    tuple of matplotlib.axes.Axes
        All three.
    """
    axes = volts_axes, charge_axes, flow_axes
    wide = days or found.days
    size = max(1, -(-1440 * wide // _MOST_POINTS))
    at = _blocks(found.minutes, size) / 1440.0
    _draw_volts(volts_axes, plan, found, at, size)
    line(charge_axes, "charge", at, 100.0 * _blocks(found.course["charge"], size), color=COLOURS["chosen"], linewidth=2)
    charge_axes.set(ylim=(-2.0, 104.0), ylabel="Charge [%]")
    _draw_flows(flow_axes, found, at, size)
    for each in axes:
        _span(each, wide, labelled=each is flow_axes)
        _draw_events(each, found)
    flow_axes.set_xlabel("Time since the first midnight [days]")
    return axes


def _span(axes, days, *, labelled):
    """From the first midnight on, the grid in one line: ticks that draw it each for itself take ten times as long."""
    step = next(step for step in _TICKS if days / step <= _MOST_TICKS)
    places = np.arange(0.0, days + 1e-9, step)
    if axes.get_autoscalex_on() or axes.get_xlim() != (0.0, float(days)):
        # Labels are all as wide, so that another number of days does not move the axes.
        words = [f"{place:g}".center(3) for place in places] if labelled else []
        axes.grid(False, axis="x")
        axes.set(xlim=(0.0, float(days)), xticks=places if labelled else [], xticklabels=words)
    upright = np.tile([0.0, 1.0, np.nan], len(places))
    where = axes.get_xaxis_transform()
    line(axes, "days", np.repeat(places, 3), upright, transform=where, color=_GRID, linewidth=0.7, zorder=0.6)


def _blocks(values, size):
    """Mean of each block of minutes, the last one shorter."""
    starts = np.arange(0, len(values), size)
    return np.add.reduceat(values, starts) / np.diff([*starts, len(values)])


def _draw_volts(axes, plan, found, days, size):
    """Least to most volts of each block, and the limits, which move with the temperature of the cells."""
    starts = np.arange(0, len(found.minutes), size)
    low = np.minimum.reduceat(found.least_bank_volts, starts)
    high = np.maximum.reduceat(found.most_bank_volts, starts)
    shift = plan.points.compensation_v_per_k * (_blocks(found.course["cell_c"], size) - 25.0)
    most, least = plan.points.most_volts + shift, np.full_like(days, plan.points.least_volts)
    edge = {"color": COLOURS["limit"], "linestyle": "--", "linewidth": 1.4}
    band(axes, "between", days, low, high, color=COLOURS["band"], alpha=0.6)
    line(axes, "volts", days, _blocks(found.course["bank_volts"], size), color=COLOURS["model"], linewidth=1.6)
    line(axes, "most", days, most, **edge)
    line(axes, "least", days, least, **edge)
    top = max(high.max(), most.max())
    # The lower limit lies far below a bank that is well: no more is shown below its volts than above them.
    bottom = max(min(low.min(), least.min()), 2.0 * low.min() - top)
    room = 0.06 * (top - bottom)
    axes.set(ylim=(bottom - room, top + room), ylabel="Bank, DC [V]")


def _draw_flows(axes, found, days, size):
    """Where the watts go, one on the other, with the source's line over them."""
    below = np.zeros_like(days)
    for name, label, flows, colour in _STACK:
        above = below + sum(_blocks(found.watts[flow], size) for flow in flows)
        band(axes, name, days, below, above, color=colour, alpha=0.55, label=label)
        below = above
    source = _blocks(found.watts["source"], size)
    line(axes, "source", days, source, color=COLOURS["measured"], linewidth=1.6, label="source")
    axes.set(ylim=(0.0, round_end(1.08 * max(below.max(), source.max(), 1.0))), ylabel="Watts [W]")
    if not axes.get_legend():
        axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=4, fontsize=SMALLEST_PT)


def _draw_events(axes, found):
    """Grey where something is wrong."""
    spans = _joined([(each.from_s / _DAY_S, min(each.until_s / _DAY_S, found.days)) for each in found.events])
    if not spans:
        hide(axes, "events")
        return
    bottom, top = axes.get_ylim()
    across = np.repeat(spans, 2, axis=1).ravel()
    high = np.tile([bottom, top, top, bottom], len(spans))
    band(axes, "events", across, np.full_like(high, bottom), high, color=COLOURS["quiet"], alpha=0.25, zorder=0.5)


def _joined(spans):
    """Spans that overlap as one."""
    found = []
    for begin, end in sorted(span for span in spans if span[0] < span[1]):
        if found and begin <= found[-1][1]:
            found[-1] = found[-1][0], max(end, found[-1][1])
        else:
            found.append((begin, end))
    return found
