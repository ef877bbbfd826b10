"""One row of a log on the page: its cells as typed, and what is said about it."""

from html import escape

import ipywidgets as W
from ipywidgets.widgets.widget_description import DescriptionStyle
from ipywidgets.widgets.widget_string import TextStyle

from statorbook.quantities import holds_anything
from statorbook.widgets.controls import html, shared_look
from statorbook.widgets.guard import BAD, GOOD, ODD, QUIET

_SIGNS = {"good": ("✓", GOOD), "odd": ("!", ODD), "bad": ("✗", BAD), "begun": ("…", QUIET)}
# Names in the page, for `grid_keys`: what stays at the left edge, and where the Enter key goes.
SIGN, WORDS, NEEDED = "statorbook-row-sign", "statorbook-row-words", "statorbook-needed"


class Looks:
    """What all cells of a grid share, so that each of them is one thing for the page to make and not three."""

    def __init__(self):
        self.cell, self.hidden = W.Layout(width="auto"), W.Layout(display="none")
        self.words = W.Layout(width="auto", grid_area="auto / 1 / auto / -1")
        self.text, self.list = shared_look(TextStyle), shared_look(DescriptionStyle)


class _Cells(dict):
    """Cells by column, each made when it is first asked for: most columns of a log are out of sight."""

    def __init__(self, make):
        super().__init__()
        self._make = make

    def __missing__(self, name):
        self[name] = self._make(name)
        return self[name]


class GridRow:
    """One row: `cells` by column, before them the `sign` and below them the `sentence` of its verdict."""

    def __init__(self, columns, options, raw, on_commit, *, looks, needed):
        self._columns, self._options, self._on_commit = columns, options, on_commit
        self._looks, self._needed = looks, needed
        self.cells, self._texts = _Cells(self._cell), {}
        self._number, self._said = 0, ("", "")
        self.sign = html(layout=looks.cell, _dom_classes=(SIGN,))
        self.sentence = html(layout=looks.hidden, _dom_classes=(WORDS,))
        self.take(raw)

    def widgets(self, shown):
        """The row as it stands in the page, with these columns."""
        return [self.sign, *(self.cells[name] for name in shown), self.sentence]

    def text(self, name):
        """What stands in a column, in sight or not."""
        return self.cells[name].value if name in self.cells else self._texts[name]

    @property
    def begun(self):
        """Whether anything stands in it besides the words that were offered."""
        beyond = {name: cell for name, cell in self._given.items() if name not in self._columns}
        own = {name: self.text(name) for name in self._columns if self.text(name) != self._offered.get(name, "")}
        return holds_anything([{**beyond, **own}])

    @property
    def raw(self):
        """The cells as typed, by column; words that were offered are part of it once it is begun."""
        # Cells of the file that have no column here, and whatever stood beyond the last one, go back as they came.
        begun = self.begun
        return {**self._given, **{name: self.text(name) if begun else "" for name in self._columns}}

    def take(self, raw):
        """Hold other cells from now on."""
        self._given, self._offered = raw, {}
        for name in self._columns:
            self._put(name, raw.get(name, ""))

    def offer(self, words):
        """Show words by column while nothing else is typed; they count from the first thing that is."""
        if not self.begun:
            self._offered = words
            for name in self._columns:
                self._put(name, words.get(name, ""))

    def place(self, number):
        """Take a number, counted from 1; every cell says it to those who cannot see the row."""
        if number != self._number:
            self._number = number
            for name, cell in self.cells.items():
                cell.tooltip = self._title(name)
            self._show_sign()

    def mark(self, name):
        """Tell the page anew whether a cell is one that the reader fills in."""
        if name in self.cells:
            (self.cells[name].add_class if name in self._needed else self.cells[name].remove_class)(NEEDED)

    def judge(self, verdict):
        """Show a verdict, such as "odd: why"."""
        word, _, sentence = (part.strip() for part in verdict.partition(":"))
        if word.lower() not in _SIGNS:
            word, sentence = "", verdict
        self._said = word, sentence
        self._show_sign()
        look = f"line-height:1.3;margin-bottom:4px;color:{_SIGNS.get(word.lower(), ('', QUIET))[1]}"
        self.sentence.value = f'<div style="{look}">{escape(sentence)}</div>'
        # Under a good row is nothing but the next row: what is to be said of it all the same stands below the log.
        self.sentence.layout = self._looks.words if sentence and word.lower() != "good" else self._looks.hidden

    def _show_sign(self):
        word = self._said[0]
        sign, colour = _SIGNS.get(word.lower(), ("", QUIET))
        words = f'<b style="color:{colour}">{sign} {escape(word)}</b>' if word else ""
        self.sign.value = f'<span style="color:{QUIET}">{self._number}</span> {words}'

    def _title(self, name):
        return f"{self._columns[name]}, row {self._number}"

    def _put(self, name, text):
        cell = self.cells.get(name)
        if cell is None:
            self._texts[name] = text
            return
        if name in self._options and text not in cell.options:
            cell.options = [*cell.options, text]
        cell.value = text

    def _cell(self, name):
        text, words = self._texts[name], self._options.get(name)
        known = {"value": text, "tooltip": self._title(name), "layout": self._looks.cell}
        known["_dom_classes"] = (NEEDED,) if name in self._needed else ()
        if words is None:
            cell = W.Text(continuous_update=False, style=self._looks.text, **known)
        else:
            options = ["", *words]
            options = options if text in options else [*options, text]
            cell = W.Dropdown(options=options, style=self._looks.list, **known)
        cell.observe(self._on_commit, "value")
        return cell
