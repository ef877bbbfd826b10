"""Star or delta as typed in the rows of a log, and whether they agree with the machine as found."""

from collections import Counter
from contextlib import suppress

from statorbook.bench.columns import HEADINGS
from statorbook.bench.row_numbers import connection_of
from statorbook.errors import BadInput


def most_common_connection(filled):
    """What most rows say.

    Parameters
    ----------
    filled : sequence of tuple
        Row number and raw cells of each row.

    Returns
    -------
    str
        "star" or "delta"; star when no row says either.
    """
    said = Counter()
    for _, row in filled:
        with suppress(BadInput):
            said[connection_of(row, "")] += 1
    return said.most_common(1)[0][0] if said else "star"


def require_connection(row, where, connection):
    """Refuse a row of another wiring than the machine as found.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    connection : str
        "star" or "delta", as found.

    Raises
    ------
    BadInput
        When the row says something else.
    """
    if (typed := connection_of(row, where)) != connection:
        raise BadInput(
            f'"{typed}" was given',
            f"the machine as found is in {connection}, and one fit takes one wiring",
            f"correct it, or log {typed} rows as another job",
            where=f"{where}, {HEADINGS['connection']}",
        )
