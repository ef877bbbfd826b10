"""A log row by row: raw cells of text in, a reading with its verdict for every row out."""

from collections import Counter
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import date
from math import nan

from statorbook.bench.log import log_title
from statorbook.bench.sessions import day_in, day_questions
from statorbook.errors import BadInput
from statorbook.quantities import cell_text


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One row of a log with its verdict; the row itself is kept as typed.

    Parameters
    ----------
    log : str
        Its name, such as "spin".
    row : int
        Row number as the reader sees it, 1 below the units row [-].
    raw : dict
        The cells as typed.
    refusal : str
        One sentence when the row cannot be used, else empty.
    warnings : tuple of str
        Sentences about a row that is used all the same.
    taken_on : date or None
        Day of the reading; None when not said.
    left_out : str
        One sentence when the reader left its session out, else empty.
    own_share : float
        Likely error of the row by itself, one sigma over the reading [-].
    shared : dict of str to float
        By its cause, an error that all rows of that cause share, 95 % over the reading [-].
    complaint : BadInput or None
        What the refusal says, to be raised where no row may be left out.
    """

    log: str
    row: int
    raw: dict = field(hash=False)
    refusal: str = ""
    warnings: tuple = ()
    taken_on: date | None = None
    left_out: str = ""
    own_share: float = nan
    shared: dict = field(default_factory=dict, hash=False)  # told apart by ==, as the cells as typed
    complaint: BadInput | None = field(default=None, repr=False, compare=False)

    @property
    def usable(self):
        """True when the row goes into the fit."""
        return not self.refusal and not self.left_out

    @property
    def where(self):
        """The row's name in sentences, such as "spin log, row 3"."""
        return f"{log_title(self.log)}, row {self.row}"


def read_rows(log, kind, rows, numbers_of, connection=None):
    """Read any log, row by row.

    Parameters
    ----------
    log : Log
        One of `ALL_LOGS`.
    kind : type
        The kind of `Reading` that a row becomes.
    rows : list of dict
        Raw cells as typed.
    numbers_of : callable
        From a row and its name in sentences to fields of that kind and warnings.
    connection : str or None
        "star" or "delta", for a log with that column; what most rows say when None.

    Returns
    -------
    tuple of Reading
        One for every row that holds anything, bad rows included.

    Raises
    ------
    BadInput
        When the log is empty or its columns are not its own.
    """
    if not (rows := filled(rows)):
        raise BadInput(
            "no reading is in it", "at least one filled row is needed", "log one first", where=log_title(log.name)
        )
    for _, row in rows:
        _require_columns(log, row)
    if "connection" in log.names:
        connection = connection or most_common(connections(log, rows))
    return tuple(_verdict(log, kind, number, row, numbers_of, connection) for number, row in rows)


def require_usable(readings):
    """Refuse a log of which any row is refused, where each counts.

    Parameters
    ----------
    readings : sequence of Reading
        What `read_rows` gave.

    Returns
    -------
    tuple of Reading
        The same.

    Raises
    ------
    BadInput
        What is wrong with the first bad row.
    """
    for complaint in (reading.complaint for reading in readings if reading.refusal):
        raise BadInput(complaint.given, complaint.allowed, complaint.next_step, where=complaint.where)
    return tuple(readings)


def filled(rows):
    """The rows that hold anything, each with its number."""
    return [(number, row) for number, row in enumerate(rows, 1) if any(cell_text(cell) for cell in row.values())]


def connections(log, rows):
    """Star or delta, as often as numbered rows of a log say so."""
    found = []
    for _, row in rows:
        with suppress(BadInput):
            found.append(log.word(row, "connection", ""))
    return found


def most_common(connections):
    """What most rows say; star when none says either."""
    return Counter(connections).most_common(1)[0][0] if connections else "star"


def _verdict(log, kind, number, row, numbers_of, connection):
    where, same = f"{log_title(log.name)}, row {number}", dict(log=log.name, row=number, raw=dict(row))
    try:
        if None in row:
            raise BadInput(
                "the row has more cells than the log has columns",
                "one cell per column is allowed",
                "write decimals with a point, a bare comma splits the cell",
                where=where,
            )
        if log.dated or log.by_session:
            same["taken_on"] = day_in(row, where)
        if connection:
            _require_connection(log, row, where, connection)
        found, warnings = numbers_of(row, where)
        return kind(**same, warnings=(*warnings, *day_questions(same.get("taken_on"), where)), **found)
    except BadInput as complaint:
        return kind(**same, refusal=str(complaint), complaint=complaint)


def _require_columns(log, row):
    own = [name for name in row if name in log.names]
    in_order = [name for name in log.names if name in own]
    allowed = f"the columns are {', '.join(log.names)}"
    if missing := [column.name for column in log.columns if column.name not in own and not column.may_be_missing]:
        raise BadInput(f"the column {missing[0]} is missing", allowed, "put the column back", where=log_title(log.name))
    if own != in_order:
        strayed, place = next(pair for pair in zip(own, in_order) if pair[0] != pair[1])
        raise BadInput(
            f"the column {strayed} stands where {place} belongs",
            f"{allowed}, in this order",
            "put the columns back in order and check that each holds its own readings",
            where=log_title(log.name),
        )


def _require_connection(log, row, where, connection):
    if (typed := log.word(row, "connection", where)) != connection:
        raise BadInput(
            f'"{typed}" was given',
            f"the machine as found is in {connection}, and one fit takes one wiring",
            f"correct it, or log {typed} rows as another job",
            where=log.cell(where, "connection"),
        )
