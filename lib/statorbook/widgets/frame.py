"""The base of every panel: inputs, then the result in a sentence, the picture, the table, and a message line."""

import asyncio
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cached_property
from html import escape

import ipywidgets as W

from statorbook.cautions import Exposure, Instruction, exposures_of, text_of
from statorbook.quantities import units_now
from statorbook.widgets.controls import button, side_by_side, stacked
from statorbook.widgets.guard import BAD, ODD, QUIET, MessageLine
from statorbook.widgets.table import Table, in_a_box

_REST_S = 0.3  # nobody who is still moving a slider pauses longer
_CAUTIONS = frozenset(exposure.sentence for exposure in Exposure)
_STALE = "for the values before the last change"
_SENTENCE, _PICTURE, _RESULT = "statorbook-sentence", "statorbook-picture", "statorbook-result"  # names in the page
# Greyed, framed, and said in words: paler would be too faint to read.
_AGED = "filter:grayscale(1);outline:2px dashed currentColor;outline-offset:-2px"
# Lab marks the control that has the keyboard by a slightly other border only, which nobody sees at arm's length, and
# breaks what a cell prints in the middle of a word.
_LOOK = """<style>.jp-OutputArea .jp-RenderedText pre {word-break: normal; overflow-wrap: anywhere}
.jp-OutputArea .jupyter-widgets :is(input, select, textarea, button, [tabindex]):focus-visible,
.jp-OutputArea .jupyter-widgets:focus-visible
{outline: 3px solid var(--jp-brand-color1, #1976d2) !important; outline-offset: 1px}</style>"""
_NOT_INPUTS = (W.HTML, W.HTMLMath, W.Label, W.Button)


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What a panel shows for the inputs as they stand.

    Parameters
    ----------
    sentence : str or Instruction
        The result in words, with its numbers and units; plain text. An instruction adds its caution.
    pictures : sequence of str
        SVG elements from `figures.canvas.kept`, shown below each other.
    table : Table or None
        Rows under the picture.
    caution : str
        A warning that belongs to the result; plain text.
    exposures : tuple of Exposure
        What else the panel has hands do; sentence and table bring their own.
    later : callable or None
        Gives one more sentence; asked for only when the controls rest, since it takes longer to work out.
    """

    sentence: str | Instruction
    pictures: tuple = ()
    table: Table | None = None
    caution: str = ""
    exposures: tuple = ()
    later: Callable | None = None

    @property
    def whole_caution(self):
        """The warning, and once each caution that panel, sentence and table call for, each on a line."""
        of_table = self.table.exposures if self.table else ()
        found = dict.fromkeys((*self.exposures, *exposures_of([self.sentence]), *of_table))
        return "\n".join(filter(None, (self.caution, *(exposure.sentence for exposure in found))))


class Panel:
    """A panel: subclass it, set up the inputs, call `super().__init__` last, and write `answer`.

    Parameters
    ----------
    inputs : sequence
        Widgets, a list of widgets for one row, or things with a `.widget` (`Form`, `LogGrid`). Every widget with a
        value redraws the panel when it changes; a `Form` or `LogGrid` is given a callback that calls `redraw`.
    system : str or None
        "metric" or "US": the units that the panel speaks in; those of the page when None.
    actions : dict of str to callable or None
        Words on a button to what it does, called without arguments inside the guard; they stand above the message line.
    picture_px : int
        Height kept for the pictures together [px].
    table_px : int or None
        Height kept for the table, which then scrolls; as tall as it is when None [px].
    sentence_lines : int
        Lines kept for the sentence and the caution [-].
    """

    scrolled_picture = ""  # name of the picture when it scrolls in its box; the keyboard then reaches the box

    def __init__(self, *, inputs, system=None, actions=None, picture_px=0, table_px=None, sentence_lines=3):
        self._answer, self._trouble, self._working, self._picture_px = None, "", False, picture_px
        self.system = self.message.system = system or units_now()
        self.sentence_box = W.HTML(layout=W.Layout(min_height=f"{1.7 * sentence_lines}em")).add_class(_SENTENCE)
        self.picture_box = W.HTML(layout=W.Layout(height=f"{picture_px + 8}px" if picture_px else "auto"))
        self.picture_box.add_class(_PICTURE)
        self.table_box = W.HTML(layout=W.Layout(height=f"{table_px}px" if table_px else "auto"))
        self._table_px = table_px
        rows = [self._shown(given) for given in inputs]
        self.buttons = {
            words: button(words, self.guarded(lambda pressed, call=call: call()), main=True)
            for words, call in (actions or {}).items()
        }
        look = W.HTML(_LOOK, layout=W.Layout(display="none"))
        self.widget = stacked(
            [
                *rows,
                self.sentence_box,
                self.picture_box,
                self.table_box,
                side_by_side([*self.buttons.values(), look]),
                self.message.widget,
            ]
        )
        self.redraw()

    @cached_property
    def message(self):
        """The message line, there before the rest so that inputs can be given guarded callbacks."""
        return MessageLine()

    def answer(self):
        """What to show for the inputs as they stand, an `Answer`, or the refusal of one; every panel writes its own."""
        raise NotImplementedError(f"{type(self).__name__} has no answer")

    def in_units(self, system):
        """Tell everything in other units, form and log too; nothing typed is lost.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self.system = self.message.system = system
        for kept in ("form", "grid"):
            if hasattr(self, kept):
                getattr(self, kept).in_units(system)
        self.redraw()

    def redraw(self, change=None):
        """Show the answer for the inputs as they stand, or say why there is none and keep the last one.

        Parameters
        ----------
        change : object
            The event that started it; not used.
        """
        if not self._working:
            self._working = True
            try:
                self.message.guarded(self._redraw, on_failure=self._mark_stale)()
            finally:
                self._working = False

    def guarded(self, call):
        """Wrap any other callback, so that an error becomes a sentence in the message line.

        Parameters
        ----------
        call : callable
            What a widget's event starts.

        Returns
        -------
        callable
            For `observe`, `on_click` or `controls.button`.
        """
        return self.message.guarded(call)

    @contextmanager
    def together(self):
        """Change several inputs inside `with panel.together():` and redraw once at the end."""
        self._working = True
        try:
            yield
        finally:
            self._working = False
        self.redraw()

    @property
    def sentence(self):
        """What the panel says now: its result, or why there is none."""
        return self._trouble or self._answer.sentence

    @property
    def shown_answer(self):
        """The last answer that was shown, in the reader's units; None before the first."""
        return self._answer

    def _repr_mimebundle_(self, include=None, exclude=None):
        bundle = self.widget._repr_mimebundle_(include=include, exclude=exclude)
        return {**bundle, "text/plain": self.sentence}

    def _shown(self, given):
        if isinstance(given, (list, tuple)):
            return side_by_side([self._shown(one) for one in given])
        if hasattr(given, "widget"):
            return given.widget
        if given.has_trait("value") and not isinstance(given, _NOT_INPUTS):
            given.observe(self.redraw, "value")
        return given

    def _redraw(self):
        answer = self.answer()
        answer = replace(answer, sentence=text_of(answer.sentence), caution=answer.whole_caution, exposures=())
        pictures, table = self._pictures_of(answer), self._table_of(answer)
        # Nothing is shown before everything is worked out: a failure half-way leaves the old answer whole.
        self._answer, self._trouble = answer, ""
        self.sentence_box.value, self.picture_box.value, self.table_box.value = _words(answer), pictures, table
        self.message.clear()
        if answer.later:
            when_at_rest(self.message.guarded(lambda: self._add_later(answer)))

    def _add_later(self, answer):
        """Add what took longer, unless the controls were moved in the meantime."""
        if self._answer is not answer or self._trouble:
            return
        said = answer.later()
        # Asked again: JupyterLab may hand the kernel a control's move on another thread while this is worked out.
        if self._answer is answer and not self._trouble:
            self._answer = replace(answer, sentence=f"{answer.sentence}\n{said}", later=None)
            self.sentence_box.value = _words(self._answer)

    def _mark_stale(self):
        self._trouble = self.message.text
        if self._answer is None:
            self.sentence_box.value = f'<span style="color:{QUIET}">No result yet.</span>{_reason(self._trouble)}'
            return
        # The message line may be out of sight under the picture, so the reason stands here as well.
        self.sentence_box.value = _reason(self._trouble) + _words(self._answer, stale=True)
        pictures, table = self._pictures_of(self._answer), self._table_of(self._answer)
        self.picture_box.value, self.table_box.value = (
            f'<div style="{_AGED}">{old}</div>' if old else "" for old in (pictures, table)
        )

    def _pictures_of(self, answer):
        pictures = _pictures(answer)
        return in_a_box(pictures, self.scrolled_picture, self._picture_px) if self.scrolled_picture else pictures

    def _table_of(self, answer):
        return answer.table.in_its_own_box(height_px=self._table_px) if answer.table else ""


def when_at_rest(call):
    """Call something once the page's controls rest for a moment; at once where no event loop runs.

    Parameters
    ----------
    call : callable
        Called without arguments.
    """
    try:
        asyncio.get_running_loop().call_later(_REST_S, call)
    except RuntimeError:
        call()


def caution_html(exposures):
    """Cautions as they stand above a table that is no part of an answer.

    Parameters
    ----------
    exposures : iterable of Exposure
        What can hurt.

    Returns
    -------
    str
        HTML, each on a line; empty without any.
    """
    return _lines_html([exposure.sentence for exposure in exposures])


def _lines_html(lines):
    said = "".join(f"<div>{_marked(line)}</div>" for line in lines)
    return f'<div style="color:{ODD};line-height:1.4">{said}</div>' if said else ""


def _marked(line):
    """A warning in bold; of a caution that stands in many places only what it is about."""
    if line not in _CAUTIONS:
        return f"<b>⚠ {escape(line)}</b>"
    what, _, rest = line.partition(":")
    return f"<b>⚠ {escape(what)}:</b>{escape(rest)}"


def _reason(trouble):
    return f'<div style="color:{BAD};line-height:1.5"><b>✗</b> {escape(trouble)}</div>'


def _words(answer, *, stale=False):
    mark = f'<i style="color:{ODD}">({_STALE})</i> ' if stale else ""
    caution = _lines_html(answer.caution.splitlines())
    look = "line-height:1.5;font-size:1.1em" + (f";color:{QUIET}" if stale else "")
    words = f'<span class="{_RESULT}">{escape(answer.sentence).replace(chr(10), "<br>")}</span>'
    return f'<div style="{look}">{mark}{words}</div>{caution}'


def _pictures(answer):
    pictures = [answer.pictures] if isinstance(answer.pictures, str) else answer.pictures
    if not all(picture.startswith("<svg") for picture in pictures):
        raise ValueError("a picture of a panel must be an SVG element")
    return "".join(f'<div style="line-height:0">{picture}</div>' for picture in pictures)
