"""Where the fields of a form stand: those needed first in sight, the others folded, what is assumed in one line."""

from html import escape

import ipywidgets as W

from statorbook.errors import count_of
from statorbook.widgets.controls import button, html, side_by_side, stacked
from statorbook.widgets.guard import ODD

TYPE_IT = "type it"


class FormOrder:
    """The fields of one form: in sight, folded, and the line of what is assumed."""

    # A field moves only when the fold is closed or other fields are asked for, never under the reader's hands.
    def __init__(self, model, fields, groups, guarded, shown):
        self._model, self._fields, self._guarded, self._asked, self._subject = model, fields, guarded, None, ""
        named = {name for names in groups.values() for name in names}
        rest = [name for name in fields if name not in named]
        self._groups = [*groups.items(), ("More" if groups else "", rest)]
        self._sight, self._inside, self._pairs, self._headings = stacked([]), stacked([]), {}, {}
        self._above, self.folded = (), ()
        self._inside.layout.display = "none"
        # A button and not the stock fold, whose heading the Tab key passes by.
        self.more = button("", guarded(lambda pressed: self.fold() if self.open else self.unfold()))
        self.assumed = side_by_side([])
        self.widget = stacked([self._sight, self.more, self._inside, self.assumed])
        self.show(shown)

    @property
    def open(self):
        """True while the folded fields can be seen."""
        return self._inside.layout.display is None

    @property
    def in_sight(self):
        """Names of the fields that stand above the fold."""
        return tuple(name for name in self._fields if name not in self.folded)

    def show(self, names):
        """Show some of the fields, and any other that has to be mended."""
        for name, field in self._fields.items():
            field.show(name in names or not field.check())
        asked, subject = (frozenset(names), self._first()), self._model.subject(self._given())
        if subject != self._subject:
            self._subject, self._inside.layout.display = subject, "none"
        if asked != self._asked:
            self._asked = asked
            self.arrange()
        else:
            self.follow()

    def follow(self):
        """Let the lines follow what stands in the fields; the fold opens when one in it has to be mended."""
        shown = [field for name, field in self._fields.items() if name in self.folded and self._shown(name)]
        if any(field.bad for field in shown):
            self._inside.layout.display = None
        self._place()
        sign, more = ("▾", "less") if self.open else ("▸", "more")
        full = sum(field.filled for field in shown)
        self.more.description = (
            f"{sign} {self._subject}: {more} – {count_of(len(shown), 'field')}, {full or 'none'} filled"
        )
        self.more.layout.display = None if shown else "none"
        self._follow_assumed()

    def unfold(self):
        """Let the folded fields be seen."""
        self._inside.layout.display = None
        self.follow()

    def fold(self):
        """Put the folded fields away; what was filled in, or has to be mended, stays in sight."""
        self._inside.layout.display = "none"
        self.arrange()

    def _given(self):
        return {name: field.control.value for name, field in self._fields.items()}

    def _first(self):
        return self._model.asked_first(self._given())

    def _shown(self, name):
        return self._fields[name].in_sight

    def arrange(self):
        """Put every field where it belongs now."""
        first = self._first()
        kept = [name for name, field in self._fields.items() if name in first or field.filled or field.bad]
        self.folded = tuple(name for name in self._fields if name not in kept)
        # Above the fold what is needed comes first; a form that folds nothing has its headings there.
        self._above = sorted(kept, key=lambda name: name not in first) if self.folded else ()
        self.follow()

    def _place(self):
        """Give the page the fields that can be seen, and no others: each of them is work for it."""
        kept = [name for name in self._fields if name not in self.folded]
        above = [self._fields[name].widget for name in self._above if self._shown(name)]
        _put(self._sight, above if self._above else self._under_headings(kept))
        _put(self._inside, self._under_headings(self.folded) if self.open else [])

    def _under_headings(self, chosen):
        boxes = []
        for heading, names in self._groups:
            there = [name for name in names if name in chosen and self._shown(name)]
            if there and heading:
                boxes.append(self._heading(heading))
            boxes += [self._fields[name].widget for name in there]
        return boxes

    def _heading(self, words):
        if words not in self._headings:
            self._headings[words] = html(f'<b style="font-size:1.05em">{escape(words)}</b>')
        return self._headings[words]

    def _follow_assumed(self):
        """One line that names what is assumed, each with a button that leads to its field."""
        names = [name for name, field in self._fields.items() if field.assumed and self._shown(name)]
        for name in names:
            if name not in self._pairs:
                self._pairs[name] = W.HBox((html(), self._type_it(name)), layout=W.Layout(align_items="center"))
            words = f'<span style="color:{ODD}">{escape(self._fields[name].in_words)}</span>'
            self._pairs[name].children[0].value = words
        pairs = [self._pairs[name] for name in names]
        if pairs != list(self.assumed.children[1:]):
            head = html(f'<b style="color:{ODD}">Assumed, not measured:</b>')
            self.assumed.children = [head, *pairs] if pairs else []

    def _type_it(self, name):
        made = button(TYPE_IT, self._guarded(lambda pressed: self._lead_to(name)))
        made.tooltip = f"{self._fields[name].name}: open its field and type over what is assumed"
        return made

    def _lead_to(self, name):
        if name in self.folded:
            self.unfold()
        self._fields[name].control.focus()


def _put(box, children):
    """Let a box hold these; one that holds them already is left alone, and so is the reader's place in it."""
    if tuple(children) != box.children:
        box.children = tuple(children)
