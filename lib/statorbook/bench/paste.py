"""Rows from a spreadsheet or another hand's CSV, as cells of a log: nothing is dropped, what is odd is said."""

import csv
import io
import re
from dataclasses import dataclass

from statorbook.bench.csv_text import same_unit
from statorbook.bench.log import log_title
from statorbook.bench.logs import blank_row, log_named
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, days_meant, tidy_day

MOST_ROWS = 500
_NOTE = "note"
_OLD_LETTERS = "cp1252"
_HEADING_AND_UNIT = re.compile(r"(?P<words>.+?)(?P<mark>\s*[(\[/,]\s*|\s+in\s+|\s+)(?P<unit>[^\s(\[,]+?)\s*[)\]]?\s*")
_ASSUMED = "it is read as text of Western Windows (assumed): check °, Ω and letters with accents."


@dataclass(frozen=True, kw_only=True)
class PastedRows:
    """What was found in a text."""

    rows: tuple  # of dict, cells by column as typed
    notes: tuple  # sentences about what was taken how


def pasted_rows(log, text):
    """Read rows that were copied from a spreadsheet, a CSV file or a letter.

    Parameters
    ----------
    log : str
        The log that they belong to, one of `ALL_LOGS`.
    text : str
        Lines of cells, parted by tabs, semicolons or commas; with or without a row of headings and one of units.

    Returns
    -------
    PastedRows
        Every row that holds anything; cells that no column belongs to stand in the note.

    Raises
    ------
    BadInput
        When no reading is there, there is too much, or the units are not those of the log.
    """
    log, table = log_named(log), [row for row in _table(text) if any(cell_text(cell) for cell in row)]
    if not table:
        raise BadInput(
            "nothing was pasted",
            "rows of cells are allowed",
            "copy them in the spreadsheet, then paste",
            where=log_title(log.name),
        )
    names, body, notes = _split(log, table)
    if not body:
        raise BadInput(
            "there are headings and no row of readings",
            "rows of cells are allowed",
            "copy the rows below the headings too",
            where=log_title(log.name),
        )
    if len(body) > MOST_ROWS:
        raise BadInput(
            f"{len(body)} rows were pasted",
            f"at most {MOST_ROWS} at a time are allowed",
            "paste them in pieces",
            where=log_title(log.name),
        )
    rows = tuple(_row(log, names, cells) for cells in body)
    return PastedRows(rows=rows, notes=(*notes, *_moved_words(log, names, body)))


def _moved_words(log, names, body):
    """Which cells stand in the note, and what a heading that fits several columns may mean."""
    moved = [name for name in names if name not in log.names]
    if not moved and not any(any(map(cell_text, cells[len(names) :])) for cells in body):
        return
    headed = ", ".join(f"“{name[:40]}”" for name in moved if name)
    yield f"Cells that belong to no column of this log are kept in the note of their row{headed and ': '}{headed}."
    for name in moved:
        meant = [column.heading for column in log.columns if same_unit(name, column.unit)]
        if len(meant) > 1:
            yield f"“{name}” may be {' or '.join(meant)}: write one of these above it and paste again."


def _split(log, table):
    """The column of each cell, the rows of readings, and what is to be said about that."""
    names = _names(log, table[0])
    if not names:
        names = _usual_order(log, table)
        order = ", ".join(log.column(name).heading for name in names)
        said = f"No row of headings was found, so the cells are taken in this order (assumed): {order}."
        return names, table, [said]
    body = table[1:]
    if body and _is_units(body[0]):
        _require_units(log, names, body[0])
        body = body[1:]
    return names, body, []


def _usual_order(log, table):
    """The columns of the log; without those added later when something else stands in their place."""
    if not log.by_session:
        return list(log.names)
    no_day = [column for column in log.columns if column.name != "taken_on"]
    older = [column for column in log.columns if not column.added_later]
    fits = (
        order for order in (log.columns, no_day) if all(_can_be(column, table, at) for at, column in enumerate(order))
    )
    return [column.name for column in next(fits, older)]


def _can_be(column, table, at):
    typed = [text for text in (cell_text(row[at]) for row in table if len(row) > at) if text]
    if column.name == "taken_on":
        return all(days_meant(text) for text in typed)
    return not (column.added_later and column.words) or all(text.lower() in column.words for text in typed)


def decoded(data, where):
    """The text of a file from any hand.

    Parameters
    ----------
    data : bytes
        The file; UTF-8 with or without a mark, UTF-16 as spreadsheets write it, or the old Windows letters.
    where : str
        Its name, for the sentence.

    Returns
    -------
    tuple of str and str
        The text, and a sentence about what was assumed of its letters; empty when nothing was.

    Raises
    ------
    BadInput
        When it is no text.
    """
    utf_16 = data[:2] in (b"\xff\xfe", b"\xfe\xff")
    for coding in ("utf-16",) if utf_16 else ("utf-8-sig", _OLD_LETTERS):
        try:
            text = data.decode(coding)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            assumed = f"{where[:60]} is not in UTF-8, so {_ASSUMED}" if coding == _OLD_LETTERS else ""
            return text, assumed
    raise BadInput(
        "this is no text", "a CSV file is allowed", "save the table as CSV UTF-8 in the spreadsheet", where=where[:60]
    )


def _table(text):
    text = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    first = next((line for line in text.split("\n") if line.strip()), "")
    # A decimal comma would part a cell, so commas part cells only where nothing else does.
    mark = next((sign for sign in "\t;," if sign in first), ",")
    return csv.reader(io.StringIO(text, newline=""), delimiter=mark)


def _names(log, cells):
    """The column of each cell of a row of headings, an unknown heading as it stands; None when it is no such row."""
    found = [None] * len(cells)
    for known in (_own_headings(log), _usual_headings(log)):
        for place, cell in enumerate(cells):
            name = known.get(_plain(cell)) or _with_unit(log, known, cell)
            if found[place] is None and name not in found:
                found[place] = name
    if sum(map(bool, found)) < max(1, sum(bool(cell_text(cell)) for cell in cells) / 2):
        return None
    return [name or _no_column(log, cell_text(cell)) for name, cell in zip(found, cells, strict=True)]


def _own_headings(log):
    return {
        _plain(heading): column.name
        for column in log.columns
        for heading in (column.name, column.heading, column.label)
    }


def _usual_headings(log):
    return {_plain(heading): column.name for column in log.columns for heading in column.usual}


def _with_unit(log, known, cell):
    """The column of a heading that ends in a unit, such as "Speed (rpm)"; None when the unit is not the column's."""
    found = _HEADING_AND_UNIT.fullmatch(cell_text(cell))
    name = known.get(_plain(found["words"])) if found else None
    if not name:
        return None
    column = log.column(name)
    fits = same_unit(found["unit"], column.unit) if column.limits else found["mark"].strip() in ("(", "[")
    return name if fits else None


def _no_column(log, heading):
    """A heading whose cells go to the note, under a name that no column has."""
    return f"{heading}, again" if heading in log.names else heading


def _plain(heading):
    return "".join(sign for sign in str(heading).casefold() if sign.isalnum())


def _is_units(cells):
    said = [cell_text(cell) for cell in cells if cell_text(cell)]
    return bool(said) and all(
        len(word) <= 10 and not any(sign.isdigit() for sign in word.replace("1/min", "")) for word in said
    )


def _require_units(log, names, cells):
    columns = {column.name: column for column in log.columns if column.unit != "text"}
    for name, cell in zip(names, cells, strict=False):
        typed, column = cell_text(cell), columns.get(name)
        if column and typed and not same_unit(typed, column.unit):
            raise BadInput(
                f"{typed[:20]!r} stands as the unit of {column.heading}",
                f"{column.unit} is allowed",
                f"turn that column into {column.unit} first",
                where=log_title(log.name),
            )


def _row(log, names, cells):
    row, beyond = blank_row(log.name), []
    for place, cell in enumerate(cells):
        name = names[place] if place < len(names) else ""
        if name in row and name != _NOTE:
            row[name] = tidy_day(cell.strip()) if name == "taken_on" else cell.strip()
        elif name == _NOTE:
            row[_NOTE] = cell.strip()
        elif cell_text(cell):
            beyond.append(f"{name}: {cell.strip()}" if name else cell.strip())
    if beyond:
        row[_NOTE] = "; ".join(filter(None, (row.get(_NOTE, ""), *beyond)))
    return row
