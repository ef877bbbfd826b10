"""What a panel shows for its inputs as they stand, and its words and pictures as HTML."""

from collections.abc import Callable
from dataclasses import dataclass, field
from html import escape

from statorbook.cautions import Exposure, Instruction, exposures_of
from statorbook.widgets.guard import BAD, ODD, QUIET
from statorbook.widgets.table import Table

_CAUTIONS = frozenset(exposure.sentence for exposure in Exposure)
_STALE = "for the values before the last change"
_RESULT, _BEFORE = "statorbook-result", "statorbook-before"  # names in the page


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What a panel shows for the inputs as they stand.

    Parameters
    ----------
    sentence : str or Instruction
        The result in words, with its numbers and units; plain text. An instruction adds its caution.
    headline : dict of str to object
        The sentence's leading numbers: name to the number as said, such as "537 W", or an estimate. After a change the
        panel says what those that moved were before.
    pictures : sequence of str
        SVG elements from `figures.canvas.kept`, shown below each other.
    folded : dict of str to callable
        Name of a fold, one of the panel's `picture_folds`, to what draws its picture as SVG; called only while it is
        open. A name that is left out is not shown.
    table : Table or None
        Rows under the picture, in a fold where the panel has a `table_fold`.
    caution : str
        A warning that belongs to the result; plain text.
    exposures : tuple of Exposure
        What else the panel has hands do; sentence and table bring their own.
    whole : callable or None
        Gives the answer with all that takes longer to work out, such as every ± and the table: shown in the place of
        this one once the controls rest, at once when nothing stands there yet. Until then table and folds stay.
    later : callable or None
        Gives one more sentence; asked for only when the controls rest, since it takes longer to work out.
    busy : bool
        True while more is being worked out, which comes by itself.
    aged : bool
        True when pictures and table are still those before the last change; they are then greyed.
    at : object
        Where it stands in the picture, kept for the panel: after a move `Panel.rested` has the place before.
    """

    sentence: str | Instruction
    headline: dict = field(default_factory=dict)
    pictures: tuple = ()
    folded: dict = field(default_factory=dict)
    table: Table | None = None
    caution: str = ""
    exposures: tuple = ()
    whole: Callable | None = None
    later: Callable | None = None
    busy: bool = False
    aged: bool = False
    at: object = None

    @property
    def whole_caution(self):
        """The warning, and once each caution that panel, sentence and table call for, each on a line."""
        of_table = self.table.exposures if self.table else ()
        found = dict.fromkeys((*self.exposures, *exposures_of([self.sentence]), *of_table))
        return "\n".join(filter(None, (self.caution, *(exposure.sentence for exposure in found))))

    def before(self, old):
        """What the leading numbers that moved were in an older answer, in words; empty when none moved.

        Parameters
        ----------
        old : Answer or None
            The older answer.

        Returns
        -------
        str
            Such as "Before: power 512 W, speed 990 rpm.", a sentence.
        """
        known = old.headline if old else {}
        moved = [f"{name} {known[name]}" for name, said in self.headline.items() if known.get(name, said) != said]
        return f"Before: {', '.join(moved)}." if moved else ""

    def words_html(self, before="", *, stale=False, room_for="", busy=False):
        """Sentence, what was before and caution, escaped.

        Parameters
        ----------
        before : str
            From `before`.
        stale : bool
            True when the inputs have changed since and give no answer.
        room_for : str
            Words of the last whole answer, whose further lines are not said yet; their place is kept, so that the
            caution below does not jump while a control moves.
        busy : bool
            True while there is more to come once the controls rest; told to a screen reader.

        Returns
        -------
        str
            HTML.
        """
        mark = f'<i style="color:{ODD}">({_STALE})</i> ' if stale else ""
        look = "line-height:1.5;font-size:1.1em" + (f";color:{QUIET}" if stale else "")
        words = f'<span class="{_RESULT}">{_lines(self.sentence)}</span>'
        further = "\n".join(room_for.split("\n")[self.sentence.count("\n") + 1 :])
        words += f'<div aria-hidden="true" style="visibility:hidden">{_lines(further)}</div>' if further else ""
        # Its line is kept also while it is empty, so that nothing jumps.
        kept = f'<div class="{_BEFORE}">{escape(before) or "&nbsp;"}</div>' if self.headline else ""
        more = ' aria-busy="true"' if busy else ""
        return f'<div style="{look}"{more}>{mark}{words}</div>{kept}{lines_html(self.caution.splitlines())}'

    def pictures_html(self):
        """Its pictures below each other."""
        return "\n".join(map(picture_html, [self.pictures] if isinstance(self.pictures, str) else self.pictures))


def _lines(words):
    return escape(words).replace("\n", "<br>")


def picture_html(picture):
    """One picture as it stands in a panel; refused when it is no drawing."""
    if not picture.startswith("<svg"):
        raise ValueError("a picture of a panel must be an SVG element")
    return f'<div style="line-height:0">{picture}</div>'


def lines_html(lines):
    """Warnings, each on a line."""
    said = "".join(f"<div>{_marked(line)}</div>" for line in lines)
    return f'<div style="color:{ODD};line-height:1.4">{said}</div>' if said else ""


def refusal_html(trouble):
    """Why there is no answer."""
    return f'<div style="color:{BAD};line-height:1.5"><b>✗</b> {escape(trouble)}</div>'


def _marked(line):
    """A warning in bold; of a caution that stands in many places only what it is about."""
    if line not in _CAUTIONS:
        return f"<b>⚠ {escape(line)}</b>"
    what, _, rest = line.partition(":")
    return f"<b>⚠ {escape(what)}:</b>{escape(rest)}"
