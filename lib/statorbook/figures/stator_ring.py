"""Figure: the stator as it lies on the bench, its teeth numbered from the reader's mark, each coil in its phase."""

from dataclasses import dataclass
from html import escape
from math import cos, pi, radians, sin

# Told apart by pattern and letter, so that a black-and-white print says the same as the colours.
PHASE_LOOK = {"A": ("#0072B2", "solid"), "B": ("#F6D08A", "turns"), "C": ("#C9EBDD", "lengthwise")}
_INK, _IRON, _QUIET = "#222222", "#D9D9D9", "#666666"
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

    stator: object

    @property
    def size_px(self):
        """Width and height of the picture [px]."""
        return _SMALL_PX if self.stator.slots <= _MANY_TEETH else _LARGE_PX

    @property
    def description(self):
        """The picture in words: every coil in order from the mark."""
        order = ", ".join(f"{coil.number} {_name(coil)}" for coil in self.stator.coils)
        return (f"Stator with {self.stator.slots} teeth, tooth 1 at the mark on top, numbered clockwise; phase and "
                f"direction of each coil: {order}.")

    def svg(self):
        """The picture.

        Returns
        -------
        str
            An `<svg>` element without ids, so that any number of them can stand on one page.
        """
        size = self.size_px
        parts = [_iron(size / 2), *(_tooth(coil, self.stator.slots, size / 2) for coil in self.stator.coils),
                 _labels(self.stator, size / 2), _mark(size / 2), _middle(self.stator, size / 2)]
        return (f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(self.description)}" '
                f'width="{size}" height="{size}" viewBox="0 0 {size} {size}" style="max-width:100%;height:auto" '
                f'font-family="DejaVu Sans, Verdana, sans-serif">\n'
                f'<rect width="{size}" height="{size}" fill="white"/>\n' + "\n".join(parts) + "\n</svg>")

    def _repr_svg_(self):
        return self.svg()


def _name(coil):
    return f"{coil.phase}{'+' if coil.polarity > 0 else '−'}"


def _iron(half):
    middle, width = (_YOKE_IN + _YOKE_OUT) / 2 * half, (_YOKE_OUT - _YOKE_IN) * half
    return f'<circle cx="{half}" cy="{half}" r="{middle:.1f}" fill="none" stroke="{_IRON}" stroke-width="{width:.1f}"/>'


def _tooth(coil, slots, half):
    """One tooth with its coil, drawn upright and turned to its place; a light tip is a minus."""
    pitch = 2 * pi * half / slots
    stem, body = min(0.30 * pitch * _YOKE_OUT, 26), min(0.74 * pitch * _COIL_IN, 60)
    tip = min(0.84 * pitch * _TIP, 96)
    tip_fill = _INK if coil.polarity > 0 else "white"
    return "".join([
        f'<g transform="rotate({360 * (coil.number - 1) / slots:.3f} {half:g} {half:g})">',
        _box(half, stem, _YOKE_OUT * half - 1, _TIP * half, _IRON, "none"),
        _coil(coil.phase, half, body),
        _box(half, tip, (_TIP - 0.018) * half, _TIP * half, tip_fill, _INK), "</g>"])


def _box(half, width, inner, outer, fill, stroke):
    return (f'<rect x="{half - width / 2:.2f}" y="{half - outer:.2f}" width="{width:.2f}" height="{outer - inner:.2f}" '
            f'fill="{fill}" stroke="{stroke}" stroke-width="0.8"/>')


def _coil(phase, half, width):
    fill, pattern = PHASE_LOOK[phase]
    low, high = _COIL_IN * half, _COIL_OUT * half
    return _box(half, width, low, high, fill, _INK) + _lines(pattern, half, half - high, width, high - low)


def _lines(pattern, x, top, width, height):
    """The lines that make a coil's pattern."""
    left = x - width / 2
    if pattern == "turns":
        path = "".join(f"M{left:.1f} {top + height * n / 7:.1f}h{width:.1f}" for n in range(1, 7))
    elif pattern == "lengthwise":
        count = 3 if width > 18 else 1
        path = "".join(f"M{left + width * n / (count + 1):.1f} {top:.1f}v{height:.1f}" for n in range(1, count + 1))
    else:
        return ""
    return f'<path d="{path}" stroke="{_INK}" stroke-width="1" fill="none"/>'


def _labels(stator, half):
    """Numbers on the inside and phases on the outside, along the radius where upright ones would not fit."""
    numbers = _ring_of_words([str(coil.number) for coil in stator.coils], _NUMBER * half, half, "normal")
    return numbers + _ring_of_words([_name(coil) for coil in stator.coils], _LETTER * half, half, "bold")


def _ring_of_words(words, radius, half, weight):
    pitch = 2 * pi * radius / len(words)
    upright = pitch >= 9.0 * max(map(len, words))
    font = 13.0 if upright else min(13.0, 0.92 * pitch)
    places = ((word, 360 * index / len(words)) for index, word in enumerate(words))
    return "".join(_word(word, angle, radius, half, font, weight, upright) for word, angle in places)


def _word(text, angle_deg, radius, half, font, weight, upright):
    x, y = half + radius * sin(radians(angle_deg)), half - radius * cos(radians(angle_deg))
    turn = 0.0 if upright else angle_deg - 90 if angle_deg <= 180 else angle_deg + 90
    turned = f' transform="rotate({turn:.2f} {x:.1f} {y:.1f})"' if turn else ""
    return (f'<text x="{x:.1f}" y="{y + 0.36 * font:.1f}" font-size="{font:.1f}" font-weight="{weight}" fill="{_INK}" '
            f'text-anchor="middle"{turned}>{text}</text>')


def _mark(half):
    tip = half - (_LETTER + 0.045) * half
    return (f'<path d="M{half} {tip:.1f}l-8 -14h16z" fill="{_INK}"/>'
            f'<text x="{half + 14}" y="{tip - 3:.1f}" font-size="12" fill="{_INK}">your mark, tooth 1; count clockwise'
            '</text>')


def _middle(stator, half):
    """The key: what each pattern, letter and tip means."""
    lines = [f"{stator.slots} teeth, {stator.poles} poles", f"coils in each phase: {stator.coils_per_phase}",
             "", "", "", "", "dark tip, +: in step", "light tip, −: start and finish", "exchanged"]
    top = half - _LINE_PX * 1.25 * len(lines) / 2
    rows = [f'<text x="{half}" y="{top + 1.25 * _LINE_PX * n:.1f}" font-size="13" fill="{_INK if n < 2 else _QUIET}" '
            f'text-anchor="middle">{text}</text>' for n, text in enumerate(lines) if text]
    for place, (phase, (fill, pattern)) in enumerate(PHASE_LOOK.items()):
        left, y = half - 96 + 68 * place, top + 1.25 * _LINE_PX * 2 + 4
        rows.append(f'<rect x="{left}" y="{y:.1f}" width="24" height="34" fill="{fill}" stroke="{_INK}"/>'
                    + _lines(pattern, left + 12, y, 24, 34)
                    + f'<text x="{left + 30}" y="{y + 22:.1f}" font-size="15" font-weight="bold" fill="{_INK}">{phase}'
                    "</text>")
    return "".join(rows)
