"""Figure: the stator as it lies on the bench, its teeth numbered from the reader's mark, each coil in its phase."""

from dataclasses import dataclass
from html import escape
from math import cos, pi, radians, sin

from statorbook.winding import Stator

# Told apart by pattern and letter, so that a black-and-white print says the same as the colours.
PHASE_LOOK = {"A": ("#0072B2", "solid"), "B": ("#F6D08A", "turns"), "C": ("#C9EBDD", "lengthwise")}
INK, IRON, QUIET = "#222222", "#D9D9D9", "#666666"
_MANY_TEETH, _SMALL_PX, _LARGE_PX = 72, 640, 880
# Radii as shares of half the picture.
_NUMBER, _YOKE_IN, _YOKE_OUT, _COIL_IN, _COIL_OUT, _TIP, _LETTER = 0.475, 0.52, 0.59, 0.60, 0.775, 0.815, 0.885
_LINE_PX = 15


@dataclass(frozen=True, kw_only=True)
class StatorRing:
    """A stator drawn as a ring of teeth; a cell may end with it.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    """

    stator: Stator

    @property
    def size_px(self):
        """Width and height of the picture [px]."""
        return _SMALL_PX if self.stator.slots <= _MANY_TEETH else _LARGE_PX

    @property
    def description(self):
        """The picture in words: every coil in order from the mark."""
        order = ", ".join(f"{coil.number} {_name(coil)}" for coil in self.stator.coils)
        return (
            f"Stator with {self.stator.slots} teeth, tooth 1 at the mark on top, numbered clockwise; phase and "
            f"direction of each coil: {order}."
        )

    def svg(self):
        """The picture as an `<svg>` element without ids, so that any number of them can stand on one page."""
        size = self.size_px
        half = size / 2
        teeth = [tooth(coil, self.stator.slots, half, _radii(half)) for coil in self.stator.coils]
        parts = [
            iron(half, _YOKE_IN * half, _YOKE_OUT * half),
            *teeth,
            _labels(self.stator, half),
            _mark(half),
            _middle(self.stator, half),
        ]
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(self.description)}" '
            f'width="{size}" height="{size}" viewBox="0 0 {size} {size}" style="max-width:100%;height:auto" '
            f'font-family="DejaVu Sans, Verdana, sans-serif">\n'
            f'<rect width="{size}" height="{size}" fill="white"/>\n' + "\n".join(parts) + "\n</svg>"
        )

    def _repr_svg_(self):
        return self.svg()


def _name(coil):
    return f"{coil.phase}{'+' if coil.polarity > 0 else '−'}"


@dataclass(frozen=True, kw_only=True)
class ToothRadii:
    """Where the parts of a tooth lie, from the middle of the picture."""

    yoke_px: float  # outside of the yoke, where the tooth begins
    coil_in_px: float
    coil_out_px: float
    tip_in_px: float
    tip_px: float


def _radii(half):
    return ToothRadii(
        yoke_px=_YOKE_OUT * half,
        coil_in_px=_COIL_IN * half,
        coil_out_px=_COIL_OUT * half,
        tip_in_px=(_TIP - 0.018) * half,
        tip_px=_TIP * half,
    )


def iron(half_px, inner_px, outer_px):
    """The yoke, a grey ring."""
    middle, width = (inner_px + outer_px) / 2, outer_px - inner_px
    return (
        f'<circle cx="{half_px}" cy="{half_px}" r="{middle:.1f}" fill="none" stroke="{IRON}" '
        f'stroke-width="{width:.1f}"/>'
    )


def tooth(coil, slots, half_px, radii):
    """One tooth with its coil, drawn upright and turned to its place; a light tip is a minus."""
    turn = 2 * pi / slots
    stem, body = min(0.30 * turn * radii.yoke_px, 26), min(0.74 * turn * radii.coil_in_px, 60)
    tip = min(0.84 * turn * radii.tip_px, 96)
    tip_fill = INK if coil.polarity > 0 else "white"
    return "".join(
        [
            f'<g transform="rotate({360 * (coil.number - 1) / slots:.3f} {half_px:g} {half_px:g})">',
            _box(half_px, stem, radii.yoke_px - 1, radii.tip_px, IRON, "none"),
            _coil(coil.phase, half_px, body, radii.coil_in_px, radii.coil_out_px),
            _box(half_px, tip, radii.tip_in_px, radii.tip_px, tip_fill, INK),
            "</g>",
        ]
    )


def _box(half, width, inner, outer, fill, stroke):
    return (
        f'<rect x="{half - width / 2:.2f}" y="{half - outer:.2f}" width="{width:.2f}" height="{outer - inner:.2f}" '
        f'fill="{fill}" stroke="{stroke}" stroke-width="0.8"/>'
    )


def _coil(phase, half, width, low, high):
    return _box(half, width, low, high, PHASE_LOOK[phase][0], INK) + pattern_lines(
        phase, half, half - high, width, high - low
    )


def pattern_lines(phase, x_px, top_px, width_px, height_px):
    """The lines that make a coil's pattern, from the middle and the upper edge of the coil; none for a solid one."""
    left, pattern = x_px - width_px / 2, PHASE_LOOK[phase][1]
    if pattern == "turns":
        path = "".join(f"M{left:.1f} {top_px + height_px * n / 7:.1f}h{width_px:.1f}" for n in range(1, 7))
    elif pattern == "lengthwise":
        count = 3 if width_px > 18 else 1
        path = "".join(
            f"M{left + width_px * n / (count + 1):.1f} {top_px:.1f}v{height_px:.1f}" for n in range(1, count + 1)
        )
    else:
        return ""
    return f'<path d="{path}" stroke="{INK}" stroke-width="1" fill="none"/>'


def _labels(stator, half):
    """Numbers on the inside and phases on the outside, along the radius where upright ones would not fit."""
    numbers = ring_of_words([str(coil.number) for coil in stator.coils], _NUMBER * half, half, "normal")
    return numbers + ring_of_words([_name(coil) for coil in stator.coils], _LETTER * half, half, "bold")


def ring_of_words(words, radius_px, half_px, weight):
    """A word for each tooth, upright where there is room, else along the radius."""
    pitch = 2 * pi * radius_px / len(words)
    upright = pitch >= 9.0 * max(map(len, words))
    font = 13.0 if upright else min(13.0, 0.92 * pitch)
    places = ((word, 360 * index / len(words)) for index, word in enumerate(words))
    return "".join(_word(word, angle, radius_px, half_px, font, weight, upright) for word, angle in places)


def _word(text, angle_deg, radius, half, font, weight, upright):
    x, y = half + radius * sin(radians(angle_deg)), half - radius * cos(radians(angle_deg))
    turn = 0.0 if upright else angle_deg - 90 if angle_deg <= 180 else angle_deg + 90
    turned = f' transform="rotate({turn:.2f} {x:.1f} {y:.1f})"' if turn else ""
    return (
        f'<text x="{x:.1f}" y="{y + 0.36 * font:.1f}" font-size="{font:.1f}" font-weight="{weight}" fill="{INK}" '
        f'text-anchor="middle"{turned}>{text}</text>'
    )


def _mark(half):
    tip = half - (_LETTER + 0.045) * half
    return (
        f'<path d="M{half} {tip:.1f}l-8 -14h16z" fill="{INK}"/>'
        f'<text x="{half + 14}" y="{tip - 3:.1f}" font-size="12" fill="{INK}">your mark, tooth 1; count clockwise'
        "</text>"
    )


def _middle(stator, half):
    """The key: what each pattern, letter and tip means."""
    lines = [
        f"{stator.slots} teeth, {stator.poles} poles",
        f"coils in each phase: {stator.coils_per_phase}",
        "",
        "",
        "",
        "",
        "dark tip, +: in step",
        "light tip, −: start and finish",
        "exchanged",
    ]
    top = half - _LINE_PX * 1.25 * len(lines) / 2
    rows = [
        f'<text x="{half}" y="{top + 1.25 * _LINE_PX * n:.1f}" font-size="13" fill="{INK if n < 2 else QUIET}" '
        f'text-anchor="middle">{text}</text>'
        for n, text in enumerate(lines)
        if text
    ]
    for place, (phase, (fill, _)) in enumerate(PHASE_LOOK.items()):
        left, y = half - 96 + 68 * place, top + 1.25 * _LINE_PX * 2 + 4
        rows.append(
            f'<rect x="{left}" y="{y:.1f}" width="24" height="34" fill="{fill}" stroke="{INK}"/>'
            + pattern_lines(phase, left + 12, y, 24, 34)
            + f'<text x="{left + 30}" y="{y + 22:.1f}" font-size="15" font-weight="bold" fill="{INK}">{phase}'
            "</text>"
        )
    return "".join(rows)
