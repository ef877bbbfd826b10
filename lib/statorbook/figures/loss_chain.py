"""Figure: where the watts go from the source to the bank, step by step in watts and percent."""

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, line, round_end, words

_MOST_STEPS = 12
_THICK = 15.0
_OWN_LEVELS = ("shaft", "bank")
_IN_WORDS = {
    "shaft": "at the shaft",
    "drag": "drag: bearings, air, iron",
    "copper": "copper of the coils",
    "diode": "rectifier diodes",
    "cable": "cable",
    "bank": "into the bank",
}


def chain_levels(chain_watts):
    """Name, watts, start and end of each bar of the chain, and its share of the first step."""
    source, level, found = chain_watts[0][1], 0.0, []
    for number, (name, watts) in enumerate(chain_watts):
        whole = number == 0 or name in _OWN_LEVELS
        start, level = (0.0, watts) if whole else (level, level + watts)
        found.append((name, watts, start, level, watts / source if source else 0.0))
    return found


def draw_loss_chain(axes, chain_watts):
    """Draw or move the chain of losses.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    chain_watts : tuple
        Pairs of name and watts from the source to the bank; losses negative [W].

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    levels = chain_levels(chain_watts)
    top = max(1.0, *(max(start, end) for _, _, start, end, _ in levels))
    rows = list(range(len(levels)))
    axes.set(xlim=(0.0, round_end(1.32 * top)), ylim=(len(levels) - 0.4, -0.6), xlabel="Power [W]")
    axes.set_yticks(rows, [_IN_WORDS.get(name, name) for name, *_ in levels])
    axes.grid(visible=False, axis="y")
    for row, (_, watts, start, end, _) in enumerate(levels):
        look = {"linewidth": _THICK, "solid_capstyle": "butt"}
        line(axes, f"bar {row}", [start, end], [row, row], color=COLOURS["limit" if watts < 0.0 else "model"], **look)
    for row in range(len(levels), _MOST_STEPS):
        line(axes, f"bar {row}", [], [])
    texts = [f"{round(watts)} W, {round(100 * share)} %".replace("-", "−") for _, watts, _, _, share in levels]
    right = [max(start, end) + 0.012 * top for _, _, start, end, _ in levels]
    words(axes, "amount", right, rows, texts, va="center", ha="left", fontsize=SMALLEST_PT)
    return axes
