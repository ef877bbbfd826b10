"""Which columns of a log stand on the page: those that differ from row to row, and any that must not be hidden."""

from statorbook.bench import ALL_LOGS, ohms_or_open
from statorbook.quantities import cell_text

_NOTE, BOTH = "note", "both"


class ColumnsInSight:
    """The columns of one grid; `more` shows all of them, and one that came up by itself stays."""

    def __init__(self, names, log, in_turn):
        self._names, self._log = tuple(names), ALL_LOGS.get(log)
        self.own = {column.name: column for column in self._log.columns if column.name in names} if log else {}
        self.once = tuple(name for name, column in self.own.items() if column.once)
        self.turns = {name: column.in_turn or (column.at_first,) for name, column in self.own.items()}
        self.turns = {name: words for name, words in self.turns.items() if words != ("",)} | dict(in_turn or {})
        self.turns = {name: words for name, words in self.turns.items() if name not in self.once}
        self.instead = {name: column.instead_of for name, column in self.own.items() if column.instead_of in self.own}
        self.more, self._up, self._away = False, set(), set(self.instead)

    def read_by(self, name, chosen):
        """Take the reader's choice between two columns: the name of one of them, or both."""
        pair = {name, self.instead[name]}
        self._away = (self._away - pair) | (pair - {chosen} if chosen != BOTH else set())

    @property
    def shown(self):
        """The columns in sight, in the order of the file."""
        return [name for name in self._names if self.more or name in self._up or name in self._usual]

    @property
    def needed(self):
        """The columns that the reader fills in row by row, one after the other."""
        return {name for name in self._usual if name in self.own and name not in self.turns and name != _NOTE}

    @property
    def has_more(self):
        """Whether any column is only shown when asked."""
        return any(name not in self._up and name not in self._usual for name in self._names)

    def look(self, rows, said, verdicts):
        """Bring up what must not be hidden: a bad cell, a reading, or rows that differ from what is said above."""
        for name in set(self._names) - set(self.shown):
            column = self.own[name]
            texts = {cell_text(row.get(name)) or column.at_first for row in rows}
            if name in self.once:
                hides = texts - {cell_text(said.get(name)) or column.at_first}
            else:
                hides = texts - {""}
            if hides or any(f", {column.heading}" in verdict for verdict in verdicts):
                self._up.add(name)

    def require_number(self, name, text, where):
        """Refuse what no row could use in a column of numbers; OL counts where ohms are read."""
        if name == "ohms":
            ohms_or_open({name: text}, where)
        else:
            self._log.number({name: text}, name, where)

    @property
    def _usual(self):
        away = {name for name, column in self.own.items() if column.once or column.rare} | self._away
        return [name for name in self._names if name not in away]


def next_in_turn(words, above):
    """The word after the one in the row above, None for no such row; a single word comes first and is repeated."""
    if not above and above is not None and "" in words:
        return ""  # the round is over
    if len(words) == 1:
        return cell_text(above or "") or words[0]
    return words[(words.index(above) + 1) % len(words)] if above in words else words[0]
