"""An editable log: rows of readings as typed, and beside each row what is to be said about it."""

from html import escape

import ipywidgets as W

from statorbook.bench import SESSION_LOGS
from statorbook.quantities import holds_anything, tidy_day
from statorbook.widgets.controls import button, choice, side_by_side, stacked
from statorbook.widgets.grid_exchange import GridExchange
from statorbook.widgets.grid_keys import LOG_CLASS, LogKeys
from statorbook.widgets.guard import BAD, GOOD, ODD, QUIET, MessageLine
from statorbook.widgets.session_day import TAKEN_ON, SessionDay

# Empty rows at the end: the Enter key finds the next one even while the kernel still works on those before.
_LEAST_ROWS, _SPARE_ROWS, _MOST_STEPS = 8, 3, 100
_SIGNS = {"good": ("✓", GOOD), "odd": ("!", ODD), "bad": ("✗", BAD)}


class GridRow:
    """One row: `cells` by column, and before and below them the `sign` and the `sentence` of its verdict."""

    def __init__(self, columns, options, raw, on_commit):
        self._given = raw
        self.number = W.HTML(layout=W.Layout(width="auto"))
        self.cells = {name: _cell(raw.get(name, ""), options.get(name)) for name in columns}
        self.sign = W.HTML(layout=W.Layout(width="auto"))
        self.sentence = W.HTML(layout=W.Layout(width="auto", grid_area="auto / 2 / auto / -1", display="none"))
        # The sign comes before the cells: behind a wide row it would be out of sight on a small page.
        self.widgets = [self.number, self.sign, *self.cells.values(), self.sentence]
        for cell in self.cells.values():
            cell.observe(on_commit, "value")

    @property
    def raw(self):
        """The cells as typed, by column."""
        # Cells of the file that have no column here, and whatever stood beyond the last one, go back as they came.
        return {**self._given, **{name: cell.value for name, cell in self.cells.items()}}

    def take(self, raw, options):
        """Hold other cells from now on."""
        self._given = raw
        for name, cell in self.cells.items():
            text = raw.get(name, "")
            if name in options and text not in cell.options:
                cell.options = [*cell.options, text]
            cell.value = text

    def place(self, number, columns):
        """Take a number, counted from 1; every cell says it to those who cannot see the row."""
        self.number.value = f'<div style="text-align:right;color:{QUIET}">{number}</div>'
        for name, cell in self.cells.items():
            cell.tooltip = f"{columns[name]}, row {number}"

    def judge(self, verdict):
        """Show a verdict, such as "odd: why"."""
        word, _, sentence = (part.strip() for part in verdict.partition(":"))
        sign, colour = _SIGNS.get(word.lower(), ("", QUIET))
        if not sign:
            word, sentence = "", verdict
        self.sign.value = f'<div style="line-height:1.3;color:{colour}"><b>{sign} {escape(word)}</b></div>'
        look = f"line-height:1.3;margin-bottom:4px;max-width:66ch;color:{colour}"  # in sight on a small page too
        self.sentence.value = f'<div style="{look}">{escape(sentence)}</div>'
        self.sentence.layout.display = None if sentence else "none"


class LogGrid:
    """Rows of a log, typed cell by cell; the raw text is kept as typed.

    Parameters
    ----------
    columns : dict of str to str
        Column name to heading with unit, such as {"speed_rpm": "Speed [rpm]"}.
    rows : sequence of dict of str to str
        The log as saved.
    options : dict of str to sequence of str or None
        Columns with fixed words. A saved word that is not among them stays and can be chosen in its row.
    on_change : callable or None
        Called with `rows()` at the start and after each committed cell, added or removed row; returns a verdict
        for each row, as a list or as a dict from row number: "good", "odd: why", "bad: why" or "".
    save : callable or None
        Called with `rows()` after each change, before `on_change`, so that a reading is kept whatever is said about it.
    widths : dict of str to str or None
        CSS widths of columns; made up from the words when left out.
    log : str or None
        Name of the log; with it rows can be pasted, and brought in and taken out as a file.
    drafts : Drafts or None
        Keeps what is pasted and not added yet.
    system : str or None
        "metric" or "US": the units that verdicts are told in; those of the page when None.
    """

    def __init__(
        self,
        columns,
        rows=(),
        options=None,
        on_change=None,
        *,
        save=None,
        widths=None,
        log=None,
        drafts=None,
        system=None,
    ):
        self.columns, self.options = dict(columns), dict(options or {})
        self._on_change, self._save = on_change, save
        self.message = MessageLine(system=system)
        self._past, self._future, self._quiet = [], [], False
        self._grid = self._box(widths or {})
        self._heads = [W.HTML(_heading(text)) for text in ("", "Verdict", *self.columns.values())]
        self._which = choice("Row", [1], 1)
        self._which.layout.width, self._which.style.description_width = "9em", "3em"
        self._undo, self._redo = self._button("Undo", self.undo), self._button("Redo", self.redo)
        self._undo.disabled = self._redo.disabled = True
        buttons = [
            self._button("Add a row", self.add_row),
            self._button("Add a row like the last", lambda: self.add_row(like_last=True)),
            self._which,
            self._button("Remove this row", lambda: self.remove_row(self._which.value)),
            self._undo,
            self._redo,
        ]
        self.session = SessionDay(rows) if log in SESSION_LOGS else None
        if self.session:
            buttons.append(self._button("Start a new session", self.start_session))
        exchange = [GridExchange(self, log, drafts).widget] if log else []
        self.widget = stacked([self._grid, side_by_side(buttons), *exchange, self.message.widget, LogKeys()])
        self._rows = [self._new_row(raw) for raw in rows]
        self._rows += [self._new_row({}) for _ in range(_rows_for(len(rows)) - len(self._rows))]
        self._arrange()
        self._now = self.rows()
        self.judge()

    def _box(self, widths):
        """The grid without its cells."""
        tracks = [widths.get(name) or self._width(name) for name in self.columns]
        layout = W.Layout(
            grid_template_columns=f"2em 4.5em {' '.join(tracks)}",
            grid_gap="1px 4px",
            align_items="center",
            overflow="auto hidden",
        )
        return W.GridBox(layout=layout).add_class(LOG_CLASS)

    def rows(self):
        """The log as typed, a dict of str to str for each row; empty rows at the end are left out."""
        raws = [row.raw for row in self._rows]
        while raws and not holds_anything(raws[-1:]):
            raws.pop()
        return raws

    def row(self, number):
        """One row as it stands on the page, such as `grid.row(1).cells["volts"].value`.

        Parameters
        ----------
        number : int
            Its number, from 1 [-].

        Returns
        -------
        GridRow
            Its cells, sign and sentence.
        """
        return self._rows[number - 1]

    @property
    def rows_shown(self):
        """How many rows the page shows, the empty ones at the end included [-]."""
        return len(self._rows)

    @property
    def can_undo(self):
        """Whether there is a change to take back."""
        return bool(self._past)

    @property
    def can_redo(self):
        """Whether there is a change to make again."""
        return bool(self._future)

    def add_row(self, *, like_last=False):
        """Put a row at the end, or the words of the last row below it.

        Parameters
        ----------
        like_last : bool
            True to repeat the fixed words of the last row that holds something, never its readings.
        """
        filled = len(self.rows())
        # All columns in the log's order: a row with its columns out of order would be taken for exchanged columns.
        last = self._rows[filled - 1].raw if like_last and filled else None
        kept = (*self.options, TAKEN_ON) if self.session else tuple(self.options)
        words = {name: last[name] if name in kept else "" for name in self.columns} if last else {}
        # With words, the first empty row gives way; without, the new one comes last.
        place = filled if words else len(self._rows)
        self._rows[place : place + 1] = [self._new_row(words)]
        self._arrange()
        self._changed()

    def remove_row(self, number):
        """Take a row out; `undo` brings it back.

        Parameters
        ----------
        number : int
            Its number, from 1 [-].
        """
        if not self._rows:
            self.message.remark("There is no row left to remove.")
            return
        del self._rows[number - 1]
        self._arrange()
        self._changed(f"Row {number} was removed; “Undo” brings it back.")

    def add_rows(self, raws, said="", *, replace=False):
        """Put rows below the last one that holds something, or in the place of all; `undo` takes that back.

        Parameters
        ----------
        raws : sequence of dict of str to str
            Cells by column.
        said : str
            What is to be said about it.
        replace : bool
            True to put them in the place of all rows.
        """
        self._put([*(() if replace else self.rows()), *raws])
        self._changed(said)

    def start_session(self):
        """Date the rows typed from now on with today."""
        self.message.remark(self.session.start())

    def undo(self):
        """Take the last change back, whatever it was."""
        self._step(self._past, self._future, "Undone")

    def redo(self):
        """Make the change again that was undone last."""
        self._step(self._future, self._past, "Done again")

    def _step(self, source, target, word):
        if source:
            target.append(self._now)
            self._put(source.pop())
            self._changed(f"{word}; {len(self._past)} more can be undone.", step=False)

    def _put(self, raws):
        """Show these rows; widgets that are there already take their cells over."""
        self._quiet = True
        try:
            wanted = _rows_for(len(raws))
            del self._rows[wanted:]
            self._rows += [self._new_row({}) for _ in range(wanted - len(self._rows))]
            for row, raw in zip(self._rows, [*raws, *([{}] * (wanted - len(raws)))], strict=True):
                row.take(raw, self.options)
        finally:
            self._quiet = False
        self._arrange()

    def in_units(self, system):
        """Tell every verdict in other units.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self.message.system = system
        self.judge()

    def judge(self):
        """Ask for the verdicts again, and tell whether they came; else the message line says why not."""
        verdicts = self.message.guarded(self._ask)()
        if verdicts is None:
            return False
        for number, row in enumerate(self._rows, start=1):
            row.judge(verdicts.get(number, ""))
        return True

    def _new_row(self, raw):
        return GridRow(self.columns, self.options, raw, self._committed)

    def _button(self, words, call):
        return button(words, self.message.guarded(lambda pressed: call()))

    def _committed(self, change):
        if not self._quiet:
            self._date_new_rows()
            self._tidy_day(change["owner"])
            self._changed()

    def _date_new_rows(self):
        """Rows that have just been begun get the day of the session; rows of before are never touched."""
        self._quiet = True
        try:
            for row in self.session.new_rows(self._now, self._rows) if self.session else ():
                row.cells[TAKEN_ON].value = self.session.day
        finally:
            self._quiet = False

    def _tidy_day(self, cell):
        """A day in another order is shown and kept as year-month-day; one that can mean two days stays as typed."""
        if any(row.cells.get(TAKEN_ON) is cell for row in self._rows):
            self._quiet = True
            cell.value = tidy_day(cell.value)
            self._quiet = False

    def _changed(self, done="", *, step=True):
        if step:
            self._past.append(self._now)
            del self._past[:-_MOST_STEPS]
            self._future.clear()
        self._now = self.rows()
        missing = len(self._now) + _SPARE_ROWS - len(self._rows)
        if missing > 0:
            self._rows += [self._new_row({}) for _ in range(missing)]
            self._arrange()
        self._undo.disabled, self._redo.disabled = not self.can_undo, not self.can_redo
        # First the disk, then the verdicts; a failure of the one must not stop the other, and stays to be read.
        saved = self._save is None or self.message.guarded(self._store)()
        if self.judge() and saved:
            self.message.remark(done)

    def _store(self):
        self._save(self.rows())
        return True

    def _arrange(self):
        """Number the rows and put them into the grid; widgets that stay are not built anew."""
        for number, row in enumerate(self._rows, start=1):
            row.place(number, self.columns)
        self._grid.children = [*self._heads, *(widget for row in self._rows for widget in row.widgets)]
        chosen = self._which.value or 1
        self._which.options = list(range(1, len(self._rows) + 1)) or [1]
        self._which.value = min(chosen, len(self._which.options))

    def _ask(self):
        said = self._on_change(self.rows()) if self._on_change else None
        return said if isinstance(said, dict) else dict(enumerate(said or (), start=1))

    def _width(self, name):
        words = self.options.get(name)
        heading = max(len(word) for word in self.columns[name].split()) * 0.65
        if words:
            return f"{max(heading, max(map(len, words)) * 0.55 + 3):.1f}em"
        return "minmax(8em, 14em)" if name == "note" else f"{max(heading, 5.5):.1f}em"


def _rows_for(filled):
    return max(_LEAST_ROWS, filled + _SPARE_ROWS)


def _cell(text, words):
    if words is None:
        return W.Text(value=text, continuous_update=False, layout=W.Layout(width="auto"))
    known = ["", *words]
    return W.Dropdown(options=known if text in known else [*known, text], value=text, layout=W.Layout(width="auto"))


def _heading(text):
    return f'<div style="line-height:1.3;font-weight:bold">{escape(text)}</div>'
