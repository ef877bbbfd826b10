"""An editable log: rows of readings as typed, and beside each row what is to be said about it."""

from html import escape

import ipywidgets as W

from statorbook.bench import SESSION_LOGS
from statorbook.errors import BadInput
from statorbook.quantities import holds_anything, tidy_day
from statorbook.widgets.controls import button, choice, html, side_by_side, stacked
from statorbook.widgets.grid_columns import ColumnsInSight, next_in_turn
from statorbook.widgets.grid_exchange import GridExchange
from statorbook.widgets.grid_keys import LOG_CLASS, LogKeys
from statorbook.widgets.grid_row import SIGN, GridRow, Looks
from statorbook.widgets.grid_said import TAKEN_ON, SaidOnce
from statorbook.widgets.guard import MessageLine

# Empty rows at the end: the Enter key finds the next one even while the kernel still works on those before.
_LEAST_ROWS, _SPARE_ROWS, _MOST_STEPS = 6, 3, 100
_MORE, _FEWER = "More columns", "Fewer columns"


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
        Name of the log; with it rows can be pasted, and brought in and taken out as a file, and what is the same in
        every row is said once above.
    drafts : Drafts or None
        Keeps what is pasted and not added yet, and what is said above the log.
    system : str or None
        "metric" or "US": the units that verdicts are told in; those of the page when None.
    first : dict of str to str or None
        Words to begin with above an empty log, by column, besides those of the log.
    in_turn : dict of str to sequence of str or None
        Words that new rows begin with one after the other, by column, besides those of the log.
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
        first=None,
        in_turn=None,
    ):
        self.columns, self.options = dict(columns), dict(options or {})
        self._on_change, self._save, self._log = on_change, save, log
        self.message = MessageLine(system=system)
        self._past, self._future, self._quiet = [], [], False
        self._sight, self._looks, self._needed = ColumnsInSight(self.columns, log, in_turn), Looks(), set()
        by_session = log in SESSION_LOGS
        self.said = SaidOnce(self._sight, self.columns, self.options, rows, first or {}, by_session=by_session)
        if drafts:
            self.said.keep(drafts, self.message.guarded)
        self._widths = {name: (widths or {}).get(name) or self._width(name) for name in self.columns}
        self._grid = W.GridBox(layout=W.Layout(grid_gap="1px 4px", align_items="center", overflow="auto hidden"))
        self._grid.add_class(LOG_CLASS)
        self._heads = {name: html(_heading(text)) for name, text in self.columns.items()}
        self._corner = html(_heading("Row"), _dom_classes=(SIGN,))
        self._which = choice("Row", [1], 1)
        self._which.layout.width, self._which.style = "9em", {"description_width": "3em"}
        calls = {"Remove this row": lambda: self.remove_row(self._which.value), "Undo": self.undo, "Redo": self.redo}
        if by_session:
            calls["Start a new session"] = self.start_session
        calls[_MORE] = self.more_columns
        self.buttons = {words: self._button(words, call) for words, call in calls.items()}
        exchange = [GridExchange(self, log, drafts).widget] if log else []
        row = side_by_side([self._which, *self.buttons.values()])
        self.remarks = html()
        self.widget = stacked(
            [self.said.widget, self._grid, self.remarks, row, *exchange, self.message.widget, LogKeys()]
        )
        self._set_up(rows)

    def _set_up(self, rows):
        """Show the rows as saved, then listen to what is said above them."""
        self.said.choose()
        self._needed.update(self._sight.needed)
        self._rows = [self._new_row(raw) for raw in rows]
        self._rows += [self._new_row({}) for _ in range(_rows_for(len(rows)) - len(self._rows))]
        self._offer()
        self._now = self.rows()
        self._steps_possible()
        self.judge()
        for field in self.said.fields.values():
            field.observe(self.message.guarded(lambda change: self._said_anew()), "value")
        for control in self.said.read_by.values():
            control.observe(self.message.guarded(lambda change: self._read_by()), "value")

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
        self.message.remark(self.said.start())

    def more_columns(self):
        """Show every column, or again only those that differ from row to row."""
        self._sight.more = not self._sight.more
        self._arrange()

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
                row.take(raw)
        finally:
            self._quiet = False
        self._offer()
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
        if verdicts is not None:
            last = max((row for row in self._rows if row.begun), key=self._rows.index, default=None)
            for number, row in enumerate(self._rows, start=1):
                verdict = verdicts.get(number, "")
                if row is last and self._waits(row, verdict):
                    verdict = self._slip(row, f"{self._log} log, row {number}") or "begun"
                row.judge(verdict)
            self.remarks.value = _remarks(self._log, verdicts)
        begun = [row.raw for row in self._rows if row.begun]
        self._sight.look(begun, self.said.words, [said for said in (verdicts or {}).values() if said[:4] != "good"])
        self._arrange()
        return verdicts is not None

    def _waits(self, row, verdict):
        """Whether all that is wrong with a row is a cell that the hand comes to next; a caution is never held back."""
        empty = [name for name in self._needed if not row.text(name).strip()]
        return any(f", {self._sight.own[name].heading}: the cell is empty" in verdict for name in empty)

    def _slip(self, row, where):
        """What is wrong with a number of a row that waits, so that words in its place are answered at once."""
        for name, column in self._sight.own.items():
            if column.limits and row.text(name).strip() and not any(map(str.isdigit, row.text(name))):
                try:
                    self._sight.require_number(name, row.text(name), where)
                except BadInput as refusal:
                    return f"bad: {refusal}"
        return ""

    def _new_row(self, raw):
        how = {"looks": self._looks, "needed": self._needed}
        return GridRow(self.columns, self.options, raw, self._committed, **how)

    def _button(self, words, call):
        return button(words, self.message.guarded(lambda pressed: call()))

    def _committed(self, change):
        if not self._quiet:
            self._tidy_day(change["owner"])
            self._learn(change["owner"])
            self._changed()

    def _learn(self, cell):
        """What is typed into a row, and said nowhere above yet, counts for the rows to come."""
        for name in self.said.fields:
            if any(row.cells.get(name) is cell for row in self._rows):
                self.said.learn(name, cell.value)

    def _said_anew(self):
        self.message.clear()
        self.said.tidy()
        self._offer()
        self.judge()
        self.said.require_readable(f"above the {self._log} log")

    def _read_by(self):
        self.said.choose()
        self._needed.clear()
        self._needed.update(self._sight.needed)
        for row in self._rows:
            for name in self.columns:
                row.mark(name)
        self.judge()

    def _offer(self):
        """Show in the rows that are not begun yet what they would begin with; rows of before are never touched."""
        said, turns, above = self.said.words, self._sight.turns, None
        self._quiet = True
        try:
            for row in self._rows:
                in_turn = {
                    name: next_in_turn(words, above.text(name) if above else None) for name, words in turns.items()
                }
                row.offer(said | in_turn)
                above = row
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
        self._offer()
        self._steps_possible()
        # First the disk, then the verdicts; a failure of the one must not stop the other, and stays to be read.
        saved = self._save is None or self.message.guarded(self._store)()
        if self.judge() and saved:
            self.message.remark(done)

    def _store(self):
        self._save(self.rows())
        return True

    def _steps_possible(self):
        self.buttons["Undo"].disabled, self.buttons["Redo"].disabled = not self.can_undo, not self.can_redo

    def _arrange(self):
        """Number the rows and put the columns in sight into the grid; widgets that stay are not built anew."""
        for number, row in enumerate(self._rows, start=1):
            row.place(number)
        shown = self._sight.shown
        self._grid.layout.grid_template_columns = f"6em {' '.join(self._widths[name] for name in shown)}"
        heads = [self._corner, *(self._heads[name] for name in shown)]
        self._grid.children = [*heads, *(widget for row in self._rows for widget in row.widgets(shown))]
        self.buttons[_MORE].description = _FEWER if self._sight.more else _MORE
        self.buttons[_MORE].layout.display = None if self._sight.has_more else "none"
        if len(self._which.options) != max(1, len(self._rows)):
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


def _remarks(log, verdicts):
    """What is assumed or asked about good rows, each thing once."""
    rows_of = {}
    for number, verdict in verdicts.items():
        where = f"{log} log, row {number}"
        if verdict.startswith(f"good: {where}"):
            said = verdict.removeprefix(f"good: {where}").replace(where, f"{log} log").lstrip(",: ")
            rows_of.setdefault(said, []).append(str(number))
    lines = (f"Row{'s' * (len(rows) > 1)} {', '.join(rows)}: {said}" for said, rows in rows_of.items())
    return "".join(f'<div style="line-height:1.3;max-width:80ch">{escape(line)}</div>' for line in lines)


def _heading(text):
    return f'<div style="line-height:1.3;font-weight:bold">{escape(text)}</div>'
