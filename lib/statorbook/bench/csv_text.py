"""A log as text: CSV in from any hand, CSV out in one form, cells as typed."""

import csv
import io
import re
from dataclasses import dataclass

from statorbook.bench.logs import log_named
from statorbook.errors import BadInput

# Other spellings of the same unit, squeezed and lower case; the first Ω is the sign that old keyboards make.
_SAME_UNIT = {
    "\u2126": "ω",
    "ohm": "ω",
    "ohms": "ω",
    "1/min": "rpm",
    "r/min": "rpm",
    "c": "°c",
    "degc": "°c",
    "volt": "v",
    "volts": "v",
    "amp": "a",
    "amps": "a",
    "hertz": "hz",
    "sec": "s",
    "second": "s",
    "seconds": "s",
    "watt": "w",
    "watts": "w",
}
_EXTRA = None  # where csv.DictReader too keeps the cells that no column belongs to


@dataclass(frozen=True, kw_only=True)
class LogText:
    """A log as read from its file.

    Parameters
    ----------
    rows : list of dict
        Raw cells by column, as typed; cells beyond the last column stand under None as a list.
    units : dict of str to str
        What the units row said, by column; empty when there was none.
    notes : tuple of str
        Sentences about what was odd in the file and was kept all the same.
    """

    rows: list
    units: dict
    notes: tuple


def parse_log(log, data, where):
    """Turn a file's bytes into rows of text, with a note for everything odd that could be kept.

    Parameters
    ----------
    log : str
        One of `ALL_LOGS`.
    data : bytes
        The file; UTF-8 with or without a mark, any line ends, commas, semicolons or tabs.
    where : str
        The file's name for sentences.

    Returns
    -------
    LogText
        Rows, units and notes.

    Raises
    ------
    BadInput
        When the file is no such log or would have to be guessed at; names file and line.
    """
    log, lines = log_named(log), _split(_decoded(data, where), where)
    if not lines:
        raise BadInput(
            "the file is empty",
            f"the first row names the columns {', '.join(log.names)}",
            "put the previous version back, or delete the file to start an empty log",
            where=f"{where}, line 1",
        )
    header = _header(log, *lines[0], where)
    missing = [column.name for column in log.columns if column.name not in header and not column.added_later]
    notes = [f"{where} has no column {name}, so its cells are empty." for name in missing]
    units = _units(log, header, *lines[1], where) if len(lines) > 1 else None
    if units is None:
        notes.append(f"{where} has no units row, so the usual units are taken: {_usual_units(log)}.")
    rows, names = [], _names_of(log, header)
    for number, cells in lines[1 if units is None else 2 :]:
        rows.append(_row(names, header, cells))
        notes += _cell_count_note(header, cells, f"{where}, line {number}")
    if not data.endswith((b"\n", b"\r")):
        notes.append(f"{where} ends in the middle of a line, so check that its last row is whole.")
    return LogText(rows=rows, units=units or {}, notes=tuple(notes))


def format_log(log, rows, where, *, units=None):
    """Turn rows of text into the bytes of a log file.

    Parameters
    ----------
    log : str
        One of `ALL_LOGS`.
    rows : list of dict
        Raw cells by column, every column present but that of the day; `blank_row` helps.
    where : str
        The file's name for sentences.
    units : dict of str to str or None
        What the units row says for columns that are not the log's own.

    Returns
    -------
    bytes
        UTF-8, commas, header row, units row, one line a row.

    Raises
    ------
    BadInput
        When a row lacks a column or a cell is not text; names the row.
    """
    log = log_named(log)
    rows = [_with_added(log, row) for row in _listed(rows, where)]
    for number, row in enumerate(rows, 1):
        _require_text(log, row, f"{where}, row {number}")
    columns = list(dict.fromkeys(name for row in rows for name in row if name is not _EXTRA)) or list(log.names)
    said = (units or {}) | {column.name: column.unit for column in log.columns}
    table = [
        columns,
        [said.get(name, "") for name in columns],
        *([row.get(name, "") for name in columns] + list(row.get(_EXTRA, [])) for row in rows),
    ]
    return "".join(",".join(map(_quoted, cells)) + "\n" for cells in table).encode("utf-8")


def _decoded(data, where):
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise BadInput(
            "a letter is not in UTF-8",
            "a CSV file in UTF-8 is allowed",
            "open it in a spreadsheet and save it again as CSV UTF-8",
            where=f"{where}, line {line}",
        ) from None


def _split(text, where):
    """Rows of cells with the line each begins on; blank lines are skipped."""
    first = text.split("\n", 1)[0]
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(",;\t", key=first.count), strict=True)
    lines, begins = [], 1
    try:
        for cells in reader:
            if cells:
                lines.append((begins, cells))
            begins = reader.line_num + 1
    except csv.Error:
        raise BadInput(
            "a quotation mark is out of place or never closed",
            "cells in a pair of quotation marks are allowed",
            "correct that line in a text editor, or put the previous version back",
            where=f"{where}, line {begins}",
        ) from None
    return lines


def _header(log, number, cells, where):
    header = [cell.strip() for cell in cells]
    while header and not header[-1]:
        header.pop()
    lower = {name.lower(): name for name in log.names}
    header = [lower.get(name.lower(), name) for name in header]
    missing = [column.name for column in log.columns if column.name not in header and not column.may_be_missing]
    twice = [name for name in header if header.count(name) > 1]
    allowed = f"the first row names the columns {', '.join(log.names)}"
    if missing:
        raise BadInput(
            f"the column {missing[0]} is missing",
            allowed,
            "correct the first row in a text editor, or put the previous version back",
            where=f"{where}, line {number}",
        )
    if twice or "" in header:
        given = "a column has no name" if "" in header else f"the column {twice[0][:40]!r} stands there twice"
        raise BadInput(given, allowed, "give each column its own name", where=f"{where}, line {number}")
    return header


def _units(log, header, number, cells, where):
    """The units row, None when the second row holds readings; a unit that would change the numbers is refused."""
    said = dict(zip(header, (cell.strip() for cell in cells)))
    usual = {column.name: column.unit for column in log.columns if column.limits}
    measured = [name for name in header if name in usual]
    typed = "".join(said.get(name, "") for name in measured)
    if not typed or re.search("[0-9]", typed.replace("1/min", "")):
        return None
    for name in measured:
        if _squeezed(said.get(name, "")) != _squeezed(usual[name]):
            given = f"{said[name][:40]!r} stands" if said.get(name) else "nothing stands"
            raise BadInput(
                f"{given} as the unit of {name}",
                f"{usual[name]} is allowed",
                f"turn that column into {usual[name]} and write {usual[name]} there",
                where=f"{where}, line {number}",
            )
    return said


def same_unit(one, other):
    """Whether two spellings, such as "ohm" and "Ω", mean the same unit."""
    return _squeezed(one) == _squeezed(other)


def _squeezed(unit):
    unit = unit.replace(" ", "").lower()
    return _SAME_UNIT.get(unit, unit)


def _usual_units(log):
    return ", ".join(f"{column.name} in {column.unit}" for column in log.columns if column.limits)


def _names_of(log, header):
    """The columns of every row: all of the log in their order, unless some changed places in the file."""
    own = log.names
    in_order = [name for name in header if name in own] == [name for name in own if name in header]
    # Columns that changed places stay so: whoever reads the readings must see it.
    return tuple(dict.fromkeys([*own, *header] if in_order else [*header, *own]))


def _row(names, header, cells):
    found = dict(zip(header, cells))
    row = {name: found.get(name, "") for name in names}
    extra = cells[len(header) :]
    return row | {_EXTRA: extra} if any(extra) else row


def _cell_count_note(header, cells, where):
    if len(cells) < len(header):
        return [f"{where} has {len(cells)} of {len(header)} cells; the missing ones are left empty."]
    if any(cells[len(header) :]):
        return [
            f"{where} has {len(cells)} cells for {len(header)} columns; all are kept, "
            "but a decimal is written with a point."
        ]
    return []


def _listed(rows, where):
    if not isinstance(rows, (list, tuple)) or not all(isinstance(row, dict) for row in rows):
        raise BadInput(
            "something else than rows was given",
            "a list of rows is allowed, each with its cells by column",
            "take the rows that read_log gave and add yours",
            where=where,
        )
    return rows


def _with_added(log, row):
    """A row of older pages and hands, which knows no column added later, with an empty cell in the place of each."""
    known = [column.name for column in log.columns if not column.added_later or column.name in row]
    if not log.by_session or known == list(log.names) or list(row)[: len(known)] != known:
        return row
    return {name: row.get(name, "") for name in log.names} | row


def _require_text(log, row, where):
    for name in log.names:
        if name not in row:
            raise BadInput(
                f"the column {name} is missing",
                f"the columns are {', '.join(log.names)}",
                "give each of them a text, an empty one when there is nothing",
                where=where,
            )
    cells = [pair for pair in row.items() if pair[0] is not _EXTRA]
    beyond = row.get(_EXTRA, [])
    cells += [("beyond the last column", cell) for cell in (beyond if isinstance(beyond, list) else [None])]
    for name, cell in cells:
        # A lone surrogate is half a letter, which no file can hold.
        if not isinstance(name, str) or not isinstance(cell, str) or re.search("[\ud800-\udfff]", name + cell):
            raise BadInput(
                f"{str(cell)[:40]!r} is not text",
                "cells are text as typed",
                "put it in quotation marks",
                where=f"{where}, {str(name)[:40]!r}",
            )


def _quoted(cell):
    return '"' + cell.replace('"', '""') + '"' if re.search('[",;\t\r\n]|^\ufeff', cell) else cell
