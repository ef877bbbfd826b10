"""Signs of a single-line diagram, each drawn from the middle of its upper end downwards: IEC 60617, from memory."""

from statorbook.drawings.coil_symbols import dot, moved, stroke, tag
from statorbook.drawings.stator_ring import INK

SIGN_PX = 64  # every sign on the line is so high, its leads included
BRANCH_PX = 74  # how far left of the line a branch goes down
_LINE_PX, _FONT_PX = 1.8, 13.0


def line(path, dashes=""):
    """A conductor, or another line of a sign."""
    return stroke(path, INK, _LINE_PX, dashes)


def _box(left, top, width, height):
    return (
        f'<rect x="{left:g}" y="{top:g}" width="{width:g}" height="{height:g}" fill="white" stroke="{INK}" '
        f'stroke-width="{_LINE_PX}"/>'
    )


def conductors(count, height_px=SIGN_PX):
    """A line that stands for so many wires, with one stroke for each."""
    middle = height_px / 2
    strokes = "".join(f"M-7 {middle + 4 + 7 * n:g}l14 -8" for n in range(-(count // 2), count - count // 2))
    return line(f"M0 0V{height_px:g}") + line(strokes)


def generator():
    """A synchronous generator of three phases."""
    circle = f'<circle cx="0" cy="32" r="27" fill="white" stroke="{INK}" stroke-width="{_LINE_PX}"/>'
    words = tag((0, 25), "GS", 15) + tag((0, 42), "3 ~", _FONT_PX)
    return line("M0 0V5M0 59V64") + circle + words


def source(words):
    """What turns it, with its shaft down to the generator."""
    width = 9.0 * len(words) + 16
    return _box(-width / 2, 4, width, 30) + tag((0, 19), words, _FONT_PX) + line("M-3 34V69M3 34V69", "6 3")


def converter(above, below):
    """A converter, with what enters it on top and what leaves it below, such as "3 ~" and "="."""
    words = tag((-11, 18), above, 11.5) + tag((11, 46), below, 13)
    return line("M0 0V6M0 58V64") + _box(-26, 6, 52, 52) + line("M-26 58L26 6") + words


def load_switch():
    """A switch that parts visibly and breaks its load: bar and ring on the fixed contact."""
    ring = f'<circle cx="0" cy="16.5" r="3.5" fill="white" stroke="{INK}" stroke-width="{_LINE_PX}"/>'
    return line("M0 0V13M-7 13H7M0 50L-15 21M0 50V64") + ring


def fuse():
    """A fuse."""
    return _box(-8, 12, 16, 40) + line("M0 0V64")


def battery():
    """A battery, plus on top."""
    thick = stroke("M-9 26H9M-9 50H9", INK, 4.5)
    return line("M0 0V18M-18 18H18M-18 42H18M0 50V58") + line("M0 27V42", "3 3") + thick + tag((-26, 10), "+", 14)


def branch(*signs):
    """A joint on the line, and from it to the left and down one sign after the other, each with its height."""
    parts, down = [dot((0, 0)), line(f"M0 0H-{BRANCH_PX}V10")], 10
    for sign, height_px in signs:
        parts.append(moved(-BRANCH_PX, down, sign))
        down += height_px
    return "".join(parts)


def contact(*, wires=1, words=""):
    """A contact that closes, of so many wires; with the sign of what closes it, such as "U >"."""
    strokes = line("".join(f"M-6 {7 + 4 * n}l12 -6" for n in range(wires))) if wires > 1 else ""
    relay = line("M-9 31H-28", "3 3") + _box(-62, 20, 34, 22) + tag((-45, 31), words, 12) if words else ""
    return line("M0 0V18M0 40L-12 21M0 40V50") + strokes + relay


def resistor():
    """A resistor, with the return wire not drawn."""
    return line("M0 0V6M0 44V50") + _box(-8, 6, 16, 38)


def joined():
    """Where all wires of a line are joined to each other."""
    return line("M0 0V8M-13 8H13") + dot((0, 8)) + dot((-10, 8)) + dot((10, 8))


def earth():
    """Earth."""
    return line("M0 0V12M-12 12H12M-7.5 17H7.5M-3 22H3")


def boundary(left, top, width, height):
    """What stands in one enclosure."""
    return (
        f'<rect x="{left:g}" y="{top:g}" width="{width:g}" height="{height:g}" fill="none" stroke="{INK}" '
        'stroke-width="1" stroke-dasharray="10 3 2 3"/>'
    )
