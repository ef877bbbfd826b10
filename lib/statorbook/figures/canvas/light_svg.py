"""A quick writer of SVG: matplotlib lays out and draws, this turns each shape and each line of words into one path."""

import re
from functools import lru_cache
from zlib import crc32

import numpy as np
from matplotlib.backend_bases import FigureCanvasBase, RendererBase
from matplotlib.colors import to_hex
from matplotlib.path import Path
from matplotlib.textpath import text_to_path
from matplotlib.transforms import Affine2D

STEM = "@"  # stands before every id until the picture gets its own; no path, number or colour holds this sign
_LETTERS = {Path.MOVETO: "M", Path.LINETO: "L", Path.CURVE3: "Q", Path.CURVE4: "C"}
_FINE = 50  # steps of a point in which glyphs are told
_PART = re.compile(r"\d|[^\d\s]+|\s+")
_CAPS = {"projecting": "square"}  # the others have the same names in SVG


class _Renderer(RendererBase):
    """Collects the SVG elements of what a figure at 72 dots per inch draws; width and height are in points."""

    def __init__(self, width, height):
        super().__init__()
        self._size, self._upright = (width, height), Affine2D().scale(1.0, -1.0).translate(0.0, height)
        self._elements, self._clips = [], {}

    def taken(self):
        """What was drawn since the last time: the elements as text, and the clips that they name, by name."""
        taken = "\n".join(self._elements), self._clips
        self._elements, self._clips = [], {}
        return taken

    def get_canvas_width_height(self):
        return self._size

    def get_text_width_height_descent(self, s, prop, ismath):
        return _size(s, prop, bool(ismath))

    def draw_path(self, gc, path, transform, rgbFace=None):
        lines_only = rgbFace is None
        width, height = self._size
        clip = (-99.0, -99.0, width + 99.0, height + 99.0) if lines_only else None
        clean = path.cleaned(
            transform + self._upright,
            remove_nans=True,
            clip=clip,
            curves=True,
            simplify=path.should_simplify and lines_only,
        )
        if shape := _written(clean):
            self._add(gc, rgbFace, f'd="{shape}"')

    def draw_markers(self, gc, marker_path, marker_trans, path, trans, rgbFace=None):
        shape = _written(marker_path.cleaned(marker_trans + Affine2D().scale(1.0, -1.0), curves=True))
        for x, y in (trans + self._upright).transform(path.vertices):
            if np.isfinite(x + y):
                self._add(gc, rgbFace, f'd="{shape}"', f"translate({_short(x)} {_short(y)})")

    def draw_text(self, gc, x, y, s, prop, angle, ismath=False, mtext=None):
        shape = _glyphs(s, prop, bool(ismath))
        if shape:
            place = f"translate({_short(x)} {_short(y)}){f' rotate({_short(-angle)})' if angle else ''}"
            gc.set_linewidth(0.0)
            self._add(gc, gc.get_rgb(), f'd="{shape}"', f"{place} scale({1.0 / _FINE:g})")

    def draw_image(self, gc, x, y, im, transform=None):
        raise NotImplementedError("a picture of the workbook is made of shapes alone")

    def _add(self, gc, fill, shape, placed=""):
        clip, transform = self._clip(gc), f' transform="{placed}"' if placed else ""
        element = f"<path {shape} {_look(gc, fill)}{transform}{'' if placed else clip}/>"
        # A clip moves with the element that it stands on, so what is placed gets it from around.
        self._elements.append(f"<g{clip}>{element}</g>" if placed and clip else element)

    def _clip(self, gc):
        rectangle, (path, transform) = gc.get_clip_rectangle(), gc.get_clip_path()
        if path is not None:
            shape = f'<path d="{_written(path.cleaned(transform + self._upright, curves=True))}"/>'
        elif rectangle is not None:
            left, low, width, height = rectangle.bounds
            place = (left, self._size[1] - low - height, width, height)
            shape = "<rect {}/>".format(
                " ".join(
                    f'{name}="{_short(edge)}"' for name, edge in zip(("x", "y", "width", "height"), place, strict=True)
                )
            )
        else:
            return ""
        name = f"{STEM}c{crc32(shape.encode()):x}"  # the same for the same clip, whatever was drawn before
        self._clips[name] = shape
        return f' clip-path="url(#{name})"'


class LightCanvas(FigureCanvasBase):
    """Keeps one renderer, so that the sizes of words are measured once."""

    def get_renderer(self):
        """The renderer for this figure's size, the same one every time."""
        if not hasattr(self, "_kept"):
            self._kept = _Renderer(*(72.0 * self.figure.get_size_inches()))
        return self._kept

    def drawn(self, artist):
        """Elements and clips of one artist by itself, or of the whole figure, for `joined`."""
        artist.draw(self.get_renderer())
        return self._kept.taken()


def joined(pieces):
    """Pieces of a drawing, as `LightCanvas.drawn` returns them, the lowest first, in one text."""
    clips = {name: shape for _, named in pieces for name, shape in named.items()}
    defined = "".join(f'<clipPath id="{name}">{shape}</clipPath>' for name, shape in clips.items())
    return "\n".join([f"<defs>{defined}</defs>" if clips else "", *(text for text, _ in pieces)])


def _look(gc, fill):
    """Fill and stroke as attributes."""
    forced = gc.get_forced_alpha()
    look = [f'opacity="{_short(gc.get_alpha())}"'] if forced and gc.get_alpha() != 1.0 else []
    look.append('fill="none"' if fill is None else f'fill="{_hex(tuple(fill[:3]))}"')
    if fill is not None and len(fill) == 4 and fill[3] != 1.0 and not forced:
        look.append(f'fill-opacity="{_short(fill[3])}"')
    width = gc.get_linewidth()
    if width:
        colour, (offset, dashes) = gc.get_rgb(), gc.get_dashes()
        look.append(f'stroke="{_hex(tuple(colour[:3]))}" stroke-width="{_short(width)}"')
        if colour[3] != 1.0 and not forced:
            look.append(f'stroke-opacity="{_short(colour[3])}"')
        if dashes is not None:
            look.append(f'stroke-dasharray="{",".join(map(_short, dashes))}" stroke-dashoffset="{_short(offset)}"')
        look.append(f'stroke-linejoin="{gc.get_joinstyle()}"')
        look.append(f'stroke-linecap="{_CAPS.get(gc.get_capstyle(), gc.get_capstyle())}"')
    return " ".join(look)


@lru_cache(512)
def _hex(colour):
    return to_hex(colour)


def _short(number):
    """A length to a hundredth of a point, which no screen or printer can show."""
    return f"{number:.2f}".rstrip("0").rstrip(".") if number % 1.0 else f"{number:.0f}"


def _written(path):
    """The `d` of a path that `Path.cleaned` has gone over."""
    parts, before = [], None
    for (x, y), code in zip(path.vertices.tolist(), path.codes.tolist(), strict=True):
        if code == Path.STOP:
            break
        if code == Path.CLOSEPOLY:
            parts.append("Z")
        else:  # a letter holds for all numbers up to the next one
            letter = "" if code == before and code != Path.MOVETO else _LETTERS[code]
            parts.append(f"{letter}{x:.2f} {y:.2f}")
        before = code
    return " ".join(parts)


def _parts(words):
    """Words cut where nothing is kerned: a number that counts up brings digits in another order, and no new part."""
    return _PART.findall(words)


@lru_cache(2048)
def _size(words, font, ismath):
    """Width, height and descent of words: the same ticks and labels come back in the next figure."""
    if ismath or not words:
        return text_to_path.get_text_width_height_descent(words, font, ismath)
    widths, heights, descents = zip(*(_part_size(part, font) for part in _parts(words)), strict=True)
    descent = max(descents)
    return sum(widths), descent + max(h - d for h, d in zip(heights, descents, strict=True)), descent


@lru_cache(2048)
def _part_size(part, font):
    return text_to_path.get_text_width_height_descent(part, font, False)


@lru_cache(2048)
def _glyphs(words, font, ismath):
    """Words as one shape with its start at 0, 0, in whole small steps from point to point, which is short to send."""
    if ismath:
        return _shape(words, font, True, 0)
    shapes, right = [], 0.0
    for part in _parts(words):
        shapes.append(_shape(part, font, False, round(_FINE * right)))
        right += _part_size(part, font)[0]
    return " ".join(filter(None, shapes))


def _shape(words, font, ismath, right):
    """A piece of words so far right of the start."""
    (x, y), rest = _outline(words, font, ismath)
    return f"M{x + right} {y}{rest}" if rest else ""


@lru_cache(2048)
def _outline(words, font, ismath):
    """Where the pen first stands, and every step from there."""
    vertices, codes = text_to_path.get_text_path(font, words, ismath=ismath)
    if not len(codes):
        return (0, 0), ""
    scale = _FINE * font.get_size_in_points() / text_to_path.FONT_SCALE
    path = Path(vertices, codes).cleaned(Affine2D().scale(scale, -scale), curves=True)
    points = np.rint(path.vertices).astype(int).tolist()
    parts, at, start, before = [], points[0], points[0], Path.MOVETO
    for (x, y), code, last in zip(points[1:], path.codes.tolist()[1:], _ends_piece(path.codes)[1:], strict=True):
        if code == Path.STOP:
            break
        if code == Path.CLOSEPOLY:
            parts.append("z")
            at = start
        else:
            letter = "" if code == before and code != Path.MOVETO else _LETTERS[code].lower()
            parts.append(f"{letter}{x - at[0]} {y - at[1]}")
            start = (x, y) if code == Path.MOVETO else start
            at = (x, y) if last else at
        before = code
    return tuple(points[0]), " ".join(parts)


def _ends_piece(codes):
    """True at each point where the pen stands; steps count from there, not from a curve's control points."""
    ends, run = [], 0
    for code in codes.tolist():
        run += 1
        points = {Path.CURVE3: 2, Path.CURVE4: 3}.get(code, 1)
        ends.append(run == points)
        run = 0 if run == points else run
    return ends
