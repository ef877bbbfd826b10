"""Named artists: the first call draws one, later calls on the same axes move it."""

from functools import lru_cache
from math import floor, log10
from weakref import WeakKeyDictionary

import numpy as np

_LOOKS = WeakKeyDictionary()  # what each artist was given last
_ROUND_ENDS = (1, 1.1, 1.25, 1.4, 1.6, 1.8, 2, 2.25, 2.5, 2.8, 3.2, 3.6, 4, 4.5, 5, 5.6, 6.4, 7.2, 8, 9, 10)
SMALLEST_PT = 11.5  # a figure shrinks to four fifths on a small tablet; smaller than 9 pt nothing is read at the bench
COLOURS = {
    "measured": "#222222",
    "model": "#0072B2",
    "second": "#CC79A7",
    "limit": "#D55E00",
    "chosen": "#009E73",
    "odd": "#D55E00",
    "band": "#56B4E9",
    "quiet": "#888888",
}

# On white; Web Content Accessibility Guidelines 2.1 ask for 4.5 (criterion 1.4.3, from memory), and some words stand on
# a light band. Contrast = 1.05 / (relative luminance + 0.05).
_TEXT_CONTRAST = 6.0


@lru_cache(maxsize=64)
def ink(colour):
    """The same hue, dark enough to be read as text on white; `COLOURS` are made for lines and points."""
    from matplotlib.colors import to_hex, to_rgb

    red, green, blue = to_rgb(colour)
    for shade in range(100, -1, -2):
        mixed = [part * shade / 100 for part in (red, green, blue)]
        linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in mixed]
        luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
        if 1.05 / (luminance + 0.05) >= _TEXT_CONTRAST:
            break
    return to_hex(mixed)


def line(axes, name, x, y, **look):
    """Draw or move a line, or points when `linestyle="none"` and a marker are given; a later look is applied too."""
    artist = _find(axes.lines, name)
    if artist is None:
        return axes.plot(x, y, gid=name, **look)[0]
    return _change(artist, data=(x, y), **look)


def band(axes, name, x, low, high, **look):
    """Draw or move the band between two curves."""
    artist = _find(axes.collections, name)
    if artist is None:
        return axes.fill_between(
            x, low, high, gid=name, **{"color": COLOURS["band"], "alpha": 0.25, "linewidth": 0, **look}
        )
    artist.set_data(x, low, high)
    artist.set(visible=True, **look)
    return artist


def words(axes, name, x, y, texts, **look):
    """Write or move a list of short texts, "$" as such; those left over from a longer list are hidden."""
    shown = []
    if "color" in look:
        look["color"] = ink(look["color"])
    for number, (left, up, text) in enumerate(zip(x, y, texts, strict=True)):
        artist = _find(axes.texts, f"{name} {number}")
        if artist is None:
            artist = axes.text(left, up, text, gid=f"{name} {number}", parse_math=False, **{"clip_on": True, **look})
        _change(artist, position=(left, up), text=text, **look)
        shown.append(artist)
    for artist in axes.texts:
        if str(artist.get_gid()).rpartition(" ")[0] == name and artist not in shown and artist.get_visible():
            artist.set_visible(False)
    return shown


def limit(axes, name, value, text, *, across="x", color=COLOURS["limit"], at_foot=False):
    """Draw or move a labelled dashed line: level across "x", upright across "y" with its words at top or foot."""
    level, low = across == "x", across == "x" or at_foot
    frame = axes.get_yaxis_transform() if level else axes.get_xaxis_transform()
    words(
        axes,
        name,
        [0.995 if level else value],
        [value if level else 0.02 if low else 0.985],
        [text],
        transform=frame,
        color=color,
        fontsize=SMALLEST_PT,
        ha="right",
        va="bottom" if low else "top",
        rotation=0 if level else 90,
        bbox={"facecolor": "white", "edgecolor": "none", "alpha": 0.75, "pad": 1.0},
    )
    artist = _find(axes.lines, name)
    if artist is None:
        draw = axes.axhline if level else axes.axvline
        return draw(value, gid=name, color=color, linestyle="--", linewidth=1.4)
    return _change(artist, data=((0, 1), (value, value)) if level else ((value, value), (0, 1)))


def round_end(value):
    """Where an axis ends that has to show this value, above 0: the next of a few round numbers."""
    # An axis that follows a slider step by step trembles, and ticks and labels have to be drawn anew each time.
    decade = 10.0 ** floor(log10(value))
    return next(end for factor in _ROUND_ENDS if (end := factor * decade) >= value * (1.0 - 1e-9))


def apart(heights, least):
    """Heights of words above each other, none nearer to the next one below than can be read."""
    order, placed = np.argsort(heights), np.array(heights, dtype=float)
    for before, after in zip(order, order[1:], strict=False):
        placed[after] = max(placed[after], placed[before] + least)
    return placed.tolist()


def hide(axes, name):
    """Hide a named artist, with its texts or a limit's label, until it is drawn again; nothing when there is none."""
    for artist in (*axes.lines, *axes.collections, *axes.texts):
        gid = str(artist.get_gid())
        if name in (gid, gid.rpartition(" ")[0]) and artist.get_visible():
            artist.set_visible(False)


def _change(artist, **look):
    """Set what is new, and only if something is: an artist that was not touched need not be drawn again."""
    if "data" in look:
        look["data"] = np.array(look["data"], dtype=float)  # a copy: the caller's array may change in place
    was = _LOOKS.get(artist)
    if was is None or not artist.get_visible() or not _alike(was, look):
        artist.set(visible=True, **look)
        _LOOKS[artist] = look
    return artist


def _alike(was, look):
    same = [
        np.array_equal(value, was[name], equal_nan=True) if name == "data" else value == was[name]
        for name, value in look.items()
        if name in was
    ]
    return len(same) == len(look) == len(was) and all(same)


def _find(artists, name):
    return next((a for a in artists if a.get_gid() == name), None)
