"""The day that a grid writes into the rows typed from now on."""

from datetime import date

from statorbook.quantities import cell_text, holds_anything

TAKEN_ON = "taken_on"


class SessionDay:
    """The session that the reader is in; none until one is started, or when the log's last row is of today.

    Parameters
    ----------
    rows : sequence of dict of str to str
        The log as saved.
    today : callable
        Gives the day on the clock.
    """

    def __init__(self, rows, today=date.today):
        self._today = today
        last = cell_text(rows[-1].get(TAKEN_ON)) if rows else ""
        # A page that is opened again in the middle of a session goes on with it.
        self.day = last if last == today().isoformat() else ""

    def start(self):
        """Begin a session today.

        Returns
        -------
        str
            A sentence about what follows.
        """
        self.day = self._today().isoformat()
        return f"Rows typed from now on are dated {self.day}; rows above keep what they say."

    def new_rows(self, before, rows):
        """The rows that have just been begun and say no day yet.

        Parameters
        ----------
        before : list of dict of str to str
            The log before the last change.
        rows : sequence
            Rows of the grid as they stand now, each with its cells as `raw`.

        Returns
        -------
        list
            Those of the rows; none outside a session.
        """
        if not self.day:
            return []
        held = [holds_anything([raw]) for raw in before]
        held += [False] * (len(rows) - len(held))
        begun = (row for row, was in zip(rows, held, strict=True) if not was and holds_anything([row.raw]))
        return [row for row in begun if not cell_text(row.raw.get(TAKEN_ON))]
