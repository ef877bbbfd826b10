"""The day that a grid writes into the rows typed from now on."""

from datetime import date

from statorbook.quantities import cell_text, holds_anything

TAKEN_ON = "taken_on"


class SessionDay:
    """The session that the reader is in; none until one is started, or when the log's last row is of today."""

    def __init__(self, rows, today=date.today):
        self._today = today
        last = cell_text(rows[-1].get(TAKEN_ON)) if rows else ""
        # A page that is opened again in the middle of a session goes on with it.
        self.day = last if last == today().isoformat() else ""

    def start(self):
        """Begin a session today, and say what follows."""
        self.day = self._today().isoformat()
        return f"Rows typed from now on are dated {self.day}; rows above keep what they say."

    def new_rows(self, before, rows):
        """Of the grid's rows those that have just been begun and say no day yet; none outside a session."""
        if not self.day:
            return []
        held = [holds_anything([raw]) for raw in before]
        held += [False] * (len(rows) - len(held))
        begun = (row for row, was in zip(rows, held, strict=True) if not was and holds_anything([row.raw]))
        return [row for row in begun if not cell_text(row.raw.get(TAKEN_ON))]
