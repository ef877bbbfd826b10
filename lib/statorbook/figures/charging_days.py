"""Figure: bank volts, charge and flows over simulated days, with what was dropped in."""

import numpy as np

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, band, hide, line, round_end

_MOST_POINTS = 480  # across; more is not seen, and each minute of four weeks would take a second to send
_DAY_S = 86_400.0
# From below upward; what rises over the line of the source comes out of the bank.
_STACK = (
    ("house", "house, inverter", ("house", "inverter_lost"), COLOURS["model"]),
    ("heaters", "water, air heater", ("water_heater", "air_heater"), COLOURS["second"]),
    ("dumps", "dump loads", ("dump_1", "dump_2", "dump_3"), COLOURS["limit"]),
)


def draw_charging_days(volts_axes, charge_axes, flow_axes, plan, found):
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

    Returns
    -------
    tuple of matplotlib.axes.Axes
        All three.
    """
    axes = volts_axes, charge_axes, flow_axes
    size = max(1, -(-len(found.minutes) // _MOST_POINTS))
    days = _blocks(found.minutes, size) / 1440.0
    _draw_volts(volts_axes, plan, found, days, size)
    line(
        charge_axes, "charge", days, 100.0 * _blocks(found.course["charge"], size), color=COLOURS["chosen"], linewidth=2
    )
    charge_axes.set(ylim=(-2.0, 104.0), ylabel="Charge [%]")
    _draw_flows(flow_axes, found, days, size)
    for each in axes:
        each.set_xlim(0.0, float(found.days))
        _draw_events(each, found)
    flow_axes.set_xlabel("Time since the first midnight [days]")
    return axes


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
