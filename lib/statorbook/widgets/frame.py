"""The base of every panel: inputs, then the result in a sentence, the picture, the table, and a message line."""

from contextlib import contextmanager
from dataclasses import replace
from functools import cached_property, partial
from pathlib import Path

import ipywidgets as W

from statorbook.cautions import text_of
from statorbook.quantities import units_now
from statorbook.widgets.answer import picture_html, refusal_html
from statorbook.widgets.at_rest import when_at_rest
from statorbook.widgets.controls import button, html, side_by_side, stacked
from statorbook.widgets.fold import Fold
from statorbook.widgets.guard import QUIET, MessageLine
from statorbook.widgets.picture_box import PictureBox
from statorbook.widgets.table import in_a_box

_PANEL, _COLUMNS, _INPUTS, _ANSWER = (f"statorbook-{part}" for part in ("panel", "columns", "inputs", "answer"))
_SENTENCE, _PICTURE = "statorbook-sentence", "statorbook-picture"
# Greyed, framed, and said in words: paler would be too faint to read.
_AGED = "filter:grayscale(1);outline:2px dashed currentColor;outline-offset:-2px"
_LOOK = f"<style>{Path(__file__).with_name('panel.css').read_text(encoding='utf-8')}</style>"
_NOT_INPUTS = (W.HTML, W.HTMLMath, W.Label, W.Button)


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
    inputs_beside = False  # inputs left of the answer on a wide page; a log needs the whole width
    picture_folds = ()  # names of the pictures that are closed at first, for `Answer.folded`
    message_lines = 2  # kept for the message line
    table_fold = ""  # name of the table when it is closed at first; nothing that a verdict needs may be only in it

    def __init__(self, *, inputs, system=None, actions=None, picture_px=0, table_px=None, sentence_lines=3):
        self._answer, self._trouble, self._working, self._picture_px = None, "", False, picture_px
        self._rested, self._before, self._said, self._table_px = None, "", "", table_px
        self.system = self.message.system = system or units_now()
        self.sentence_box = html(layout=W.Layout(min_height=f"{1.7 * sentence_lines}em")).add_class(_SENTENCE)
        high = f"{picture_px + 8}px" if picture_px else "auto"
        self.picture_box = PictureBox(layout=W.Layout(height=high)).add_class(_PICTURE)
        table_height = W.Layout(height=f"{table_px}px" if table_px else "auto")
        self.table_box = Fold(self.table_fold) if self.table_fold else html(layout=table_height)
        self.folds = {name: self._fold(name) for name in self.picture_folds}
        rows = [self._shown(given) for given in inputs]
        self.buttons = {
            words: button(words, self.guarded(lambda pressed, call=call: call()), main=True)
            for words, call in (actions or {}).items()
        }
        self.widget = stacked(self._laid_out(rows)).add_class(_PANEL)
        self.redraw()

    def _laid_out(self, rows):
        """Everything in the order of the keyboard, which is that of the eye."""
        look = html(_LOOK, layout=W.Layout(display="none"))
        table_above, table_below = ([], [self.table_box]) if self.table_fold else ([self.table_box], [])
        actions = side_by_side([*self.buttons.values(), look])
        answer = [self.sentence_box, self.picture_box, *table_above, actions, self.message.widget, *self.folds.values()]
        if not self.inputs_beside:
            return [*rows, *answer, *table_below]
        sides = [stacked(rows).add_class(_INPUTS), stacked(answer).add_class(_ANSWER)]
        return [stacked(sides).add_class(_COLUMNS), *table_below]

    def _fold(self, name):
        fold = Fold(name)
        fold.observe(self.guarded(lambda change: self._fill(name)), "is_open")
        return fold

    @cached_property
    def message(self):
        """The message line, there before the rest so that inputs can be given guarded callbacks."""
        return MessageLine(lines=self.message_lines)

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
        self._rested = None  # its numbers were said in the other units
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

    @property
    def rested(self):
        """The last answer that stood while the controls rested: what a move is held against; None before the first."""
        return self._rested

    def as_before(self, name, value, words):
        """A leading number of an answer that is not yet whole: with the ± that it had at rest where it did not move.

        Parameters
        ----------
        name : str
            Its name in the headline.
        value : float
            What it is now, in its unit [-].
        words : str
            The same in words, without ±.

        Returns
        -------
        object
            The estimate that stood at rest, or the words.
        """
        old = self._rested.headline.get(name) if self._rested else None
        return old if getattr(old, "value", None) == value else words

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
        if answer.whole and self._answer is None:  # nothing moves yet, and a page is stored with it
            answer = answer.whole()
        elif not answer.whole and self._answer and any(fold.is_open for fold in self.folds.values()):
            answer = replace(answer, whole=partial(replace, answer))  # what is in a fold waits for the hand to rest
        answer = _with_cautions(answer)
        self._present(answer, self._rested)
        when_at_rest(self.message.guarded(lambda: self._rest(answer), on_failure=self._say))

    def _present(self, answer, old):
        """Show an answer, and what moved since an older one."""
        before, pictures = answer.before(old), self._pictures_of(answer)
        if answer.whole:  # what stands under the sentence and its picture waits for the hand to rest
            table, folded = self.table_box.value, {name: fold.value for name, fold in self.folds.items()}
        else:
            table, folded = self._table_of(answer), {name: self._folded(answer, name) for name in self.folds}
        # Nothing is shown before everything is worked out: a failure half-way leaves the old answer whole.
        self._answer, self._trouble, self._before = answer, "", before
        self._say(busy=bool(answer.whole or answer.later or answer.busy))
        self.picture_box.value, self.table_box.value = pictures, table
        if self.table_fold:
            self.table_box.layout.display = None if table else "none"
        for name, fold in self.folds.items():
            fold.value, fold.layout.display = folded[name], None if name in answer.folded else "none"
        self.message.clear()

    def _rest(self, answer):
        """Take an answer for what the next change is held against, and add what took longer, unless it is old."""
        if self._is_old(answer):
            return
        if answer.whole:
            quick, answer = answer, self._worked_out(answer)
            # Asked again: JupyterLab may hand the kernel a control's move on another thread while this is worked out.
            if self._is_old(quick):
                return
            self._present(answer, self._rested)
        self._rested = answer
        said = answer.later() if answer.later else ""
        if answer.later and not self._is_old(answer):
            self._answer = replace(answer, sentence="\n".join(filter(None, (answer.sentence, said))), later=None)
            self._say()

    def _say(self, *, busy=False):
        """Show the answer's words; `busy` while there is more to come, whose place is kept."""
        room_for = self._said if busy else ""
        self._said = self._said if busy else self._answer.sentence
        self.sentence_box.value = self._answer.words_html(self._before, room_for=room_for, busy=busy)

    def _worked_out(self, answer):
        """The answer with all that takes longer; where that fails what is of the values before is greyed."""
        try:
            return _with_cautions(answer.whole())
        except Exception:
            for box in (self.table_box, *self.folds.values()):
                box.value = _aged(box.value)
            raise

    def _is_old(self, answer):
        return self._answer is not answer or bool(self._trouble)

    def _mark_stale(self):
        self._trouble = self.message.text
        if self._answer is None:
            self.sentence_box.value = f'<span style="color:{QUIET}">No result yet.</span>{refusal_html(self._trouble)}'
            return
        # The message line may be out of sight under the picture, so the reason stands here as well.
        self.sentence_box.value = refusal_html(self._trouble) + self._answer.words_html(stale=True)
        self.picture_box.value, self.table_box.value = (
            _aged(self._pictures_of(self._answer)),
            _aged(self._table_of(self._answer)),
        )
        for fold in self.folds.values():
            fold.value = _aged(fold.value)

    def _fill(self, name):
        """Draw what is in a fold when it is opened."""
        if self._answer is not None:
            drawn = self._folded(self._answer, name)
            self.folds[name].value = _aged(drawn) if self._trouble else drawn

    def _folded(self, answer, name):
        """The picture of a fold; while it is closed nothing is drawn, so that a move is seen sooner."""
        wanted = name in answer.folded and self.folds[name].is_open
        return picture_html(answer.folded[name]()) if wanted else ""

    def _pictures_of(self, answer):
        pictures = answer.pictures_html()
        pictures = in_a_box(pictures, self.scrolled_picture, self._picture_px) if self.scrolled_picture else pictures
        return _aged(pictures) if answer.aged else pictures

    def _table_of(self, answer):
        table = answer.table.in_its_own_box(height_px=self._table_px) if answer.table else ""
        return _aged(table) if answer.aged else table


def _with_cautions(answer):
    return replace(answer, sentence=text_of(answer.sentence), caution=answer.whole_caution, exposures=())


def _aged(old):
    if not old or old.startswith(f'<div style="{_AGED}">'):
        return old
    return f'<div style="{_AGED}">{old}</div>'
