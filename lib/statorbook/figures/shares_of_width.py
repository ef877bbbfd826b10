"""Figure: what makes up a ±, a bar for each number behind it, by how that number is known."""

from statorbook.figures.canvas.artists import COLOURS, SMALLEST_PT, ink, line, words

MOST_BARS = 8
_REST = "all others"
_THICK = 15.0
_ROOM = 150.0  # of the axis in per cent, so that the words behind a whole bar stand inside
# Told by colour and by the words behind the bar.
_LOOKS = {
    "assumed": COLOURS["limit"],
    "typed": COLOURS["model"],
    "measured": COLOURS["chosen"],
    "from a table": COLOURS["second"],
    "": COLOURS["quiet"],
}


def draw_shares(axes, names, shares, known):
    """Draw or move one bar a number, largest share first; the small ones together in the last.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    names : sequence of str
        What each number is, largest share first.
    shares : sequence of float
        Share of each in the square of the ± [-].
    known : sequence of str
        How each is known: "measured", "typed", "assumed" or "from a table".

    Returns
    -------
    matplotlib.axes.Axes
        The axes.
    """
    rows = [*zip(names, shares, known, strict=True)]
    rest = rows[MOST_BARS - 1 :]
    if len(rest) > 1:
        rows = [*rows[: MOST_BARS - 1], (_REST, sum(share for _, share, _ in rest), "")]
    axes.set(xlim=(0.0, _ROOM), ylim=(MOST_BARS - 0.4, -0.6))
    axes.set_xlabel("Share of the ±, in squares [%]")
    axes.set_yticks(range(len(rows)), [name for name, _, _ in rows])
    axes.set_xticks(range(0, 101, 20))
    axes.grid(visible=False, axis="y")
    for number in range(MOST_BARS):
        _, share, how = rows[number] if number < len(rows) else ("", 0.0, "")
        ends, at = ([0.0, 100.0 * share], [number, number]) if number < len(rows) else ([], [])
        line(axes, f"bar {number}", ends, at, color=_LOOKS[how], linewidth=_THICK, solid_capstyle="butt", zorder=2)
    texts = [f"{share:.0%}{', ' if how else ''}{how}" for _, share, how in rows]
    places = [100.0 * share + 2.0 for _, share, _ in rows]
    words(axes, "share", places, range(len(rows)), texts, va="center", ha="left", fontsize=SMALLEST_PT)
    for artist, (_, _, how) in zip(axes.get_yticklabels(), rows, strict=True):
        artist.set_color(ink(_LOOKS[how]) if how else ink(COLOURS["quiet"]))
    return axes
