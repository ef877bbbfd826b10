"""The key in the middle of a bench drawing: what each line and sign means, and how many there are."""

from statorbook.drawings.coil_symbols import HALO, Look, badge, crossed_lines, dot, moved, ring, tag, wire, wire_end
from statorbook.drawings.stator_ring import INK, PHASE_LOOK, pattern_lines
from statorbook.errors import count_of

_ROW_PX, _LEFT_PX, _SIGN_PX, _FONT_PX, _RADIUS_PX = 20, -132, 46, 11.5, 200


def key(drawing):
    """The key as SVG, in the free disc in the middle."""
    plan, layout = drawing.plan, drawing.layout
    rows = [_phases(), _tips(), _ends(), *_wires(plan), *_rings(plan, layout)]
    if drawing.at_step is not None:
        rows.append(_now())
    counts = f"{count_of(len(plan.cuts), 'cut')}, {count_of(len(plan.joins), 'jumper')}"
    title = [tag((0, 0), f"{layout.slots} teeth, {counts}", 14)]
    if drawing.at_step is not None:
        title.append(tag((0, 18), f"step {drawing.at_step} of {len(drawing.steps)}", 13))
    top = 24 - (_ROW_PX * len(rows) + 18 * (len(title) - 1)) / 2
    parts = [_mark(), moved(0, top, "".join(title))]
    first = top + 24 + 18 * (len(title) - 1)
    parts += [moved(_LEFT_PX, first + _ROW_PX * n, row) for n, row in enumerate(rows)]
    scale = layout.key_px / _RADIUS_PX
    return (
        f'<g transform="translate({layout.half_px:.1f} {layout.half_px:.1f}) scale({scale:.3f})">{"".join(parts)}</g>'
    )


def _mark():
    """The reader's mark stands at tooth 1, on top."""
    words = ("your mark, tooth 1;", "count clockwise")
    lines = [tag((0, 32 - _RADIUS_PX + 14 * n), line, _FONT_PX, bold=False) for n, line in enumerate(words)]
    return f'<path d="M0 {12 - _RADIUS_PX}l-7 11h14z" fill="{INK}"/>' + "".join(lines)


def ring_words(plan, name):
    """The name of a lead or star point as the reader meets it: "old star point" for one that ceases."""
    return name if name in plan.buses else f"old {name}"


def _row(sign, words):
    return sign + tag((_SIGN_PX + 8, 0), words, _FONT_PX, anchor="start", bold=False)


def _phases():
    parts = []
    for place, (phase, (fill, _)) in enumerate(PHASE_LOOK.items()):
        left = 88 * place
        parts.append(
            f'<rect x="{left}" y="-8" width="30" height="16" fill="{fill}" stroke="{INK}"/>'
            + pattern_lines(phase, left + 15, -8, 30, 16)
            + tag((left + 36, 0), f"phase {phase}", _FONT_PX, anchor="start", bold=False)
        )
    return "".join(parts)


def _tips():
    box = f'y="-4" width="20" height="8" stroke="{INK}"'
    return _row(
        f'<rect x="0" {box} fill="{INK}"/><rect x="26" {box} fill="white"/>', "tip dark: + coil, tip light: - coil"
    )


def _ends():
    return _row(wire_end((12, 0), 8, "S") + wire_end((34, 0), 8, "F"), "start, then finish: clockwise")


def _wires(plan):
    line, new = f"M0 0H{_SIGN_PX}", Look(state="new", phase="A")
    yield _row(wire(line, Look(state="there")), "wire that stays")
    if plan.cuts:
        gone = Look(state="gone")
        yield _row(wire(line, gone) + crossed_lines((_SIGN_PX / 2, 0), gone), "cut, with its number")
    if plan.joins:
        yield _row(wire(line, new) + badge((_SIGN_PX / 2, 0), 8, "n", new), "new jumper, with its number")
    if any(plan.new_on_bus.values()):
        yield _row(wire(line, new) + dot((_SIGN_PX - 4, 0)), "new wire to a ring; joined at dots only")


def _rings(plan, layout):
    """The outer rings, two in a row."""
    names = list(layout.rings_px)
    for pair in (names[:2], names[2:]):
        parts = [
            ring(f"M{132 * place} 0h{_SIGN_PX - 8}", name, Look(state="new"))
            + tag((132 * place + _SIGN_PX - 2, 0), ring_words(plan, name), _FONT_PX, anchor="start", bold=False)
            for place, name in enumerate(pair)
        ]
        yield "".join(parts)


def _now():
    # Further in, because the disc is narrow down there.
    halo = f'<rect x="0" y="-8" width="{_SIGN_PX}" height="16" fill="{HALO}"/>'
    return moved(48, 0, _row(halo + wire(f"M0 0H{_SIGN_PX}", Look(state="there", now=True)), "this step; pale: later"))
