"""A kept figure: built once, its artists' data changed, sent to the page as SVG text."""

import io
import re
import uuid
from contextlib import contextmanager
from functools import cache
from html import escape
from pathlib import Path
from weakref import WeakKeyDictionary

WIDTH_IN = 8.0
HEIGHT_IN = 4.2
PX_PER_IN = 96
_POINTS_PER_IN = 72
_STYLE = Path(__file__).parent.parent.parent / "statorbook.mplstyle"
_IDS = re.compile(r'(\bid="|href="#|url\(#)')
_NOT_WANTED = re.compile(
    r"(?s)^.*?<svg[^>]*>|<metadata>.*?</metadata>|<!--.*?-->|</svg>\s*$|"
    r"<defs>\s*<style[^>]*>.*?</style>\s*</defs>"
)


@contextmanager
def look():
    """Lend the workbook's figure style to everything drawn inside `with look():`."""
    from matplotlib import rcParams

    # Only what the style sets is lent and given back, and unchecked, since it was checked when it was read:
    # matplotlib's own way checks every one of its settings, twice.
    before = {name: rcParams[name] for name in _style()}
    dict.update(rcParams, _style())
    try:
        yield
    finally:
        dict.update(rcParams, before)


class KeptFigure:
    """A figure whose axes stay while their data, limits, labels and tick places change.

    Parameters
    ----------
    rows : int
        Axes below each other [-].
    columns : int
        Axes beside each other [-].
    width_in : float
        Width [in].
    height_in : float
        Height of the whole figure [in].
    **layout : object
        Passed on to `Figure.subplots`, such as `sharex=True` or `height_ratios=[2, 1]`.
    """

    def __init__(self, *, rows=1, columns=1, width_in=WIDTH_IN, height_in=HEIGHT_IN, **layout):
        from matplotlib.figure import Figure

        from statorbook.figures.canvas.light_svg import LightCanvas

        with look():
            self.figure = Figure(figsize=(width_in, height_in), dpi=_POINTS_PER_IN)
            LightCanvas(self.figure)
            self.axes = self.figure.subplots(rows, columns, squeeze=False, **layout).ravel().tolist()
        self._laid_out_for, self._framed_for, self._frames = None, None, None
        self._stem = _new_stem()  # the same every time: what did not change is then the same text
        self._pieces = WeakKeyDictionary()  # of each artist: the state of its axes, and what was drawn then

    @property
    def height_px(self):
        """Height that the picture needs on the page [px]."""
        return round(self.figure.get_figheight() * PX_PER_IN)

    def draw(self, function, *values, **options):
        """Call a drawing function on the axes, in the workbook's style.

        Parameters
        ----------
        function : callable
            Takes the axes, then the values; moves named artists (see `figures.canvas.artists`), adds none.
        *values : object
            What to draw.
        **options : object
            Passed on.

        Returns
        -------
        KeptFigure
            This figure, so that a cell can end with the call.
        """
        with look():
            function(*self.axes, *values, **options)
        return self

    def svg(self, description, *, id_stem=None):
        """The picture as it stands now.

        Parameters
        ----------
        description : str
            Alternative text: what the picture shows, in a sentence.
        id_stem : str or None
            Fixed start of all ids, for text that must be the same every time; the figure's own when None.

        Returns
        -------
        str
            An `<svg>` element.
        """
        from statorbook.figures.canvas.light_svg import STEM, joined

        with look():
            ticks = [_ticks_of(axes) for axes in self.figure.axes]
            moved = self._lay_out_when_needed(ticks)
            for axes in self.figure.axes:
                axes.apply_aspect()
            if moved or any(axes.get_aspect() != "auto" for axes in self.figure.axes):
                ticks = [_ticks_of(axes) for axes in self.figure.axes]  # there may be room for more of them, or less
            now = [_frame_state(axes, shown) for axes, shown in zip(self.figure.axes, ticks, strict=True)]
            if now != self._framed_for:
                self._framed_for = now
                self._frames = self._draw_frames()
            drawn = joined([*self._frames, *self._draw_data()])
            return _element(self.figure, description, [drawn.replace(STEM, f"{id_stem or self._stem}-")])

    def _repr_svg_(self):
        return self.svg(", ".join(filter(None, (a.get_title(loc="left") or a.get_ylabel() for a in self.axes))))

    def _lay_out_when_needed(self, ticks):
        """Lay the axes out anew, and tell whether that was needed."""
        # Laying out anew costs more than the drawing and lets the axes tremble: only when a tick's label may be wider,
        # or when words beside the axes take another line.
        widths = [[max(map(len, words), default=0) for _, words in shown] for shown in ticks]
        lines = [
            [len(words.splitlines()) for words in (a.get_title(loc="left"), a.get_xlabel(), a.get_ylabel())]
            for a in self.figure.axes
        ]
        keys = [axes.get_legend() is not None for axes in self.figure.axes]  # one may stand above its axes
        if (widths, lines, keys) == self._laid_out_for:
            return False
        self.figure.set_layout_engine("constrained")
        self.figure.get_layout_engine().execute(self.figure)
        self.figure.set_layout_engine("none")
        self._laid_out_for = widths, lines, keys
        return True

    # Ticks, grid and labels take most of the time of a drawing and seldom change; each axis is drawn anew by itself.
    def _draw_frames(self):
        pieces = [self.figure.canvas.drawn(self.figure.patch)]
        for axes, where in zip(self.figure.axes, self._framed_for, strict=True):
            place, across, up, _ = where
            for artist in _frame_of(axes) if axes.get_visible() else ():
                if artist.get_visible() and (axes.axison or artist in _titles_of(axes)):
                    own = {axes.xaxis: (place, across), axes.yaxis: (place, up)}.get(artist, where)
                    pieces.append(self._piece(artist, own))
        return pieces

    def _draw_data(self):
        """Everything else, from below upward; what did not change is taken as it was drawn before."""
        pieces, apart = [], [*self.figure.axes, self.figure.patch]
        for axes, where in zip(self.figure.axes, self._framed_for, strict=True):
            data = [child for child in axes.get_children() if child not in _frame_of(axes) and child.get_visible()]
            for artist in sorted(data, key=lambda child: child.get_zorder()) if axes.get_visible() else ():
                pieces.append(self._piece(artist, where, anew=artist.stale))
        over = [child for child in self.figure.get_children() if child not in apart]
        return [*pieces, *map(self.figure.canvas.drawn, over)]

    def _piece(self, artist, where, *, anew=False):
        if anew or self._pieces.get(artist, (None,))[0] != where:
            self._pieces[artist] = where, self.figure.canvas.drawn(artist)
        return self._pieces[artist][1]


def svg(figure, description, *, id_stem=None):
    """A figure as an SVG element among others on a page, without prolog, date or page-wide style."""
    with look():
        return _element(figure, description, [_IDS.sub(rf"\g<1>{id_stem or _new_stem()}-0-", _drawn(figure))])


def _new_stem():
    """Two figures on one page must not share ids: a clip of the one would cut the other."""
    return f"f{uuid.uuid4().hex[:10]}"


def _element(figure, description, layers):
    width, height = figure.get_size_inches()
    words = escape(" ".join(description.split()))  # on one line, as every element of the picture
    opening = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" role="img" '
        f'aria-label="{words}" width="{width * PX_PER_IN:.0f}" height="{height * PX_PER_IN:.0f}" '
        f'viewBox="0 0 {width * _POINTS_PER_IN:g} {height * _POINTS_PER_IN:g}" '
        'style="max-width:100%;height:auto;stroke-linejoin:round;stroke-linecap:butt">'
    )
    return "\n".join([opening, *layers, "</svg>"])


def _drawn(figure):
    """What matplotlib draws now, without the element around it."""
    from matplotlib import rc_context
    from matplotlib.backends.backend_svg import FigureCanvasSVG

    sheet, canvas, dpi = io.StringIO(), figure.canvas, figure.dpi
    try:
        # The salt is safe here because every id gets the stem in front. Figure.savefig would draw everything twice.
        with rc_context({"svg.hashsalt": "statorbook"}):
            FigureCanvasSVG(figure).print_svg(sheet, metadata={"Date": None})
    finally:
        figure.set_canvas(canvas)
        figure.dpi = dpi
        for artist in figure.findobj():  # a kept figure has not yet seen what was new in this drawing
            artist.stale = True
    # Matplotlib's "* {…}" would restyle every icon of the page; the same on the element itself is inherited.
    return _NOT_WANTED.sub("", sheet.getvalue()).strip()


def _titles_of(axes):
    return [child for child in axes.get_children() if child in (axes.title, axes._left_title, axes._right_title)]


def _frame_of(axes):
    return [axes.patch, axes.xaxis, axes.yaxis, *axes.spines.values(), *_titles_of(axes)]


def _ticks_of(axes):
    """Places and words of the ticks that show, for both axes."""
    found = []
    for axis, ends in ((axes.xaxis, axes.get_xlim()), (axes.yaxis, axes.get_ylim())):
        places = axis.get_majorticklocs()
        words = axis.get_major_formatter().format_ticks(places)
        found.append(
            list(
                zip(
                    *[
                        (place, word)
                        for place, word in zip(places, words, strict=True)
                        if min(ends) <= place <= max(ends)
                    ],
                    strict=True,
                )
            )
            or [(), ()]
        )
    return found


def _frame_state(axes, ticks):
    """What the frame looks like: its place, what the axis across shows, what the one upward shows, the titles."""
    ticks_across, ticks_up = ticks
    return (
        (axes.get_position().bounds, axes.get_visible(), axes.axison),
        (axes.get_xlim(), axes.get_xscale(), axes.get_xlabel(), ticks_across),
        (axes.get_ylim(), axes.get_yscale(), axes.get_ylabel(), ticks_up),
        [title.get_text() for title in _titles_of(axes)],
    )


@cache
def _style():
    from matplotlib import rc_params_from_file

    return rc_params_from_file(_STYLE, use_default_template=False)
