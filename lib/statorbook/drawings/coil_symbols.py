"""Signs of a bench drawing: wires, cuts, badges, wire ends, words. Each can be told without colour."""

from dataclasses import dataclass
from math import cos, radians, sin

from statorbook.drawings.stator_ring import INK, PHASE_LOOK

PALE, HALO, THERE = "#9C9C9C", "#FFE14D", "#4A4A4A"
_BOLD_PX, _NOW_PX, _HALO_PX = 5.0, 7.0, 14


@dataclass(frozen=True, kw_only=True)
class Look:
    """How a wire stands at a step."""

    state: str  # "there" for one that stays, "gone" for one that is cut, "new", or "later" for one to come
    now: bool = False  # the step at hand concerns it
    phase: str = ""  # empty for a wire of no phase


def wire(path, look):
    """A wire along a path."""
    halo = stroke(path, HALO, _HALO_PX) if look.now else ""
    if look.state == "later":
        return halo + stroke(path, PALE, 1.3)
    if look.state == "there":
        return halo + stroke(path, THERE, 3.2 if look.now else 1.3)
    if look.state == "gone":
        return halo + (stroke(path, INK, 3.2, "6 4") if look.now else stroke(path, PALE, 1.3, "4 3"))
    width = _NOW_PX if look.now else _BOLD_PX
    under = halo or stroke(path, "white", width + 2.4)
    return under + stroke(path, INK, width) + _phase_core(path, look.phase, width)


def _phase_core(path, phase, width):
    """The light inside of a bold wire, patterned as the phase's coils are."""
    if not phase:
        return ""
    fill, pattern = PHASE_LOOK[phase]
    core = stroke(path, fill, width - 2.0)
    if pattern == "turns":
        return core + stroke(path, INK, width - 1.0, "2 5")
    return core + (stroke(path, INK, 0.8) if pattern == "lengthwise" else "")


def stroke(path, colour, width_px, dashes=""):
    """A plain line along a path."""
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{width_px:g}"{dashed}/>'


def ring(path, name, look):
    """A ring on which a lead or the star point lies: a lead patterned as its phase's coils, the star point dashed."""
    if name.startswith("lead") or look.state != "new":
        return wire(path, Look(state=look.state, now=look.now, phase=name[-1]))
    halo = stroke(path, HALO, _HALO_PX) if look.now else ""
    return halo + stroke(path, INK, 5.4 if look.now else 3.6, "10 3 2 3")


def crossed_lines(place, look):
    """The sign of a cut, two crossed lines."""
    x, y = place
    size, width = (6.5, 4.2) if look.now else (4.6, 2.8)
    sign = f"M{x - size:.1f} {y - size:.1f}L{x + size:.1f} {y + size:.1f}"
    sign += f"M{x - size:.1f} {y + size:.1f}L{x + size:.1f} {y - size:.1f}"
    return stroke(sign, PALE if look.state == "later" else INK, width)


def cross(place, number, look, *, along_deg, outward):
    """The sign of a cut with its number: further out on a radial wire, else beside it along the ring."""
    x, y = place
    font, words, out = 10.0, str(number), radians(along_deg)
    colour, turn = "#6A6A6A" if look.state == "later" else INK, 0.0
    long = 0.33 * font * len(words)
    if outward:
        # Along the radius, so that neighbours have room.
        away, turn = 8 + long, along_deg + (-90 if along_deg % 360 < 180 else 90)
        left, top = x + away * sin(out), y - away * cos(out)
    else:
        away = 7 + long * abs(cos(out)) + 0.5 * font * abs(sin(out))
        left, top = x + away * cos(out), y + away * sin(out)
    number = tag((left, top), words, font, colour=colour, turn_deg=turn, clear=True)
    return f"<g>{crossed_lines(place, look)}{number}</g>"


def tag(place, text, font_px, *, colour=INK, turn_deg=0.0, clear=False, anchor="middle", bold=True):
    """A word in the picture, its middle at the place unless anchored otherwise; `clear` lays white under it."""
    x, y = place
    turned = f' transform="rotate({turn_deg:.1f} {x:.1f} {y:.1f})"' if turn_deg % 360 else ""
    weight = ' font-weight="bold"' if bold else ""
    word = (
        f'<text x="{x:.1f}" y="{y + 0.36 * font_px:.1f}" font-size="{font_px:g}"{weight} fill="{colour}" '
        f'text-anchor="{anchor}"{turned}>{text}</text>'
    )
    if not clear:
        return word
    width, height = 0.66 * font_px * len(text) + 1, font_px + 0.5
    return (
        f'<rect x="{x - width / 2:.1f}" y="{y - height / 2:.1f}" width="{width:.1f}" height="{height:.1f}" '
        f'fill="white"{turned}/>' + word
    )


def badge(place, radius_px, words, look):
    """The round badge of a jumper with its number."""
    x, y = place
    line, fill, colour = (PALE, "white", "#777777") if look.state == "later" else (INK, INK, "white")
    size = radius_px * (1.35 if look.now else 1.0)
    font = size * (1.25, 1.12, 0.85)[len(words) - 1]
    return (
        f'<g><circle cx="{x:.1f}" cy="{y:.1f}" r="{size:.1f}" fill="{fill}" stroke="{line}" stroke-width="1.2"/>'
        f"{tag(place, words, round(font, 1), colour=colour)}</g>"
    )


def wire_end(place, radius_px, side, *, now=False):
    """A wire end of a coil: light for the start, dark for the finish, each with its letter."""
    x, y = place
    fill, letter = ("white", INK) if side == "S" else (INK, "white")
    halo = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius_px + 5:.1f}" fill="{HALO}" stroke="{INK}" ' if now else ""
    ring = f'{halo}stroke-width="2"/>' if now else ""
    return (
        f'{ring}<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius_px:.1f}" fill="{fill}" stroke="{INK}" '
        f'stroke-width="1"/>{tag(place, side, round(1.35 * radius_px, 1), colour=letter)}'
    )


def dot(place, *, pale=False):
    """A joint of a wire with a ring."""
    x, y = place
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.6" fill="{PALE if pale else INK}"/>'


def moved(x, y, parts):
    """Parts of a picture with their own zero laid at a place."""
    return f'<g transform="translate({x:.1f} {y:.1f})">{parts}</g>'
