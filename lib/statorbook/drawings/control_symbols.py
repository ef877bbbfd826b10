"""Signs of a controller's wiring, each drawn from the middle of its upper end downwards: IEC 60617, from memory."""

from statorbook.drawings.coil_symbols import stroke, tag
from statorbook.drawings.line_symbols import line
from statorbook.drawings.stator_ring import INK

_LINE_PX = 1.8
CONTACT_PX, LOAD_PX = 50.0, 50.0


def box(left, top, width, height, *, bold=False):
    """A rectangle, such as a relay's coil or a block."""
    return (
        f'<rect x="{left:g}" y="{top:g}" width="{width:g}" height="{height:g}" fill="white" stroke="{INK}" '
        f'stroke-width="{2.6 if bold else _LINE_PX:g}"/>'
    )


def coil():
    """A relay's coil, lying: its wires come from the left and leave on the right."""
    return line("M0 0H14M46 0H60") + box(14, -9, 32, 18) + line("M24 9L36 -9")


def open_contact():
    """A contact that is open while its coil has no current."""
    return line("M0 0V18M0 40L-12 21M0 40V50")


def closed_contact():
    """A contact that is closed while its coil has no current."""
    return line("M0 0V18H11M0 40L8 15M0 40V50")


def heater():
    """A heating element."""
    return line("M0 0V5M0 45V50") + box(-8, 5, 16, 40) + line("M-8 15H8M-8 25H8M-8 35H8")


def lamp():
    """A lamp, for an alarm."""
    circle = f'<circle cx="0" cy="25" r="13" fill="white" stroke="{INK}" stroke-width="{_LINE_PX}"/>'
    return line("M0 0V12M0 38V50") + circle + line("M-9 16L9 34M9 16L-9 34")


def device(words):
    """A device that is only named."""
    return line("M0 0V6M0 44V50") + box(-17, 6, 34, 38) + tag((0, 25), words, 10)


def small_fuse():
    """A small fuse, lying."""
    return line("M0 0H34") + stroke("M7 -5H27V5H7Z", INK, _LINE_PX)


def sensor(words):
    """A sensor, lying, with the sign of what it feels."""
    return line("M44 0H60") + box(0, -13, 44, 26) + tag((22, 0), words, 11)


def signal_contact():
    """A contact elsewhere, lying."""
    return line("M0 0H16M38 0L19 -11M38 0H60")


def divider():
    """Two resistors from plus down to minus, with the tap to the right; 100 px high."""
    parts = line("M0 0V12M0 40V60M0 88V100M0 50H60") + box(-7, 12, 14, 28) + box(-7, 60, 14, 28)
    return parts + tag((-20, 4), "+", 13) + tag((-20, 96), "−", 13)
