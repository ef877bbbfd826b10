"""What a log is: columns with their units, and how a cell becomes a number or a word, or one sentence why not."""

from dataclasses import dataclass, field
from functools import cached_property

from statorbook.errors import BadInput
from statorbook.quantities import cell_text, typed_number, typed_word


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column of a log, alike in every log that has it but for its limits."""

    name: str  # in the file
    label: str  # above it on the page, the unit left out
    unit: str  # what its cells hold where that is no number, such as "date" or "word"
    limits: tuple = ()  # lowest and highest number, beyond them it is a slip of the pen; empty where it holds none
    words: dict = field(default_factory=dict)  # from each spelling allowed to the word meant
    usual: tuple = ()  # what other hands write above it; what could mean several columns of a log is left to the note
    may_be_missing: bool = False  # a file without it is a log all the same
    added_later: bool = False  # older files lack it without a word; an empty cell means what such a log meant
    once: bool = False  # usually the same in every row, so that a page says it once above the log
    at_first: str = ""  # the word that a page begins with, and that an empty cell means where it means any
    in_turn: tuple = ()  # words with which new rows begin one after the other
    instead_of: str = ""  # the column in whose place it can be read
    rare: bool = False  # seldom read, so that a page shows it only when asked or when something stands in it

    @property
    def heading(self):
        """What a reader sees above it and in sentences about a row."""
        return f"{self.label} [{self.unit}]" if self.limits else self.label


@dataclass(frozen=True, kw_only=True)
class Log:
    """A table typed at the bench, which the job keeps in a file of its name."""

    name: str
    columns: tuple  # in the order of the file
    needed: bool = False  # for the coil's constants; a job may do without the others
    by_session: bool = False  # its readings fall into sessions by their day
    dated: bool = False  # its rows may carry a day; a log whose rows must have one asks for it itself

    @cached_property
    def names(self):
        """The names of its columns, in the order of the file."""
        return tuple(column.name for column in self.columns)

    def column(self, name):
        """The column of a name."""
        return next(column for column in self.columns if column.name == name)

    def cell(self, where, *names):
        """The name of a cell in sentences, such as "spin log, row 3, Volts [V]"."""
        return f"{where}, {' or '.join(self.column(name).heading for name in names)}"

    def number(self, row, name, where, hint=""):
        """The `TypedNumber` of a cell, or `BadInput`; the hint is put before the next step."""
        column = self.column(name)
        low, high = column.limits
        where = self.cell(where, name)

        def read(hint):
            limits = {"at_least": low, "at_most": high, "name": column.label}
            return typed_number(row.get(name), column.unit, **limits, where=where, hint=hint)

        return self._read(read, row, name, hint)

    def word(self, row, name, where, *, words=None, hint="", otherwise=None):
        """The word of a cell, or `BadInput`; an empty cell means the other one where there is one."""
        if otherwise is not None and not cell_text(row.get(name)):
            return otherwise
        words, where = words or self.column(name).words, self.cell(where, name)
        return self._read(lambda hint: typed_word(row.get(name), words, where=where, hint=hint), row, name, hint)

    def _read(self, read, row, name, hint):
        """Read a cell; what may have changed places with it is looked for only when it cannot be read."""
        try:
            return read(hint)
        except BadInput:
            return read(hint or self._exchanged(row, name))

    def _exchanged(self, row, name):
        """Guess which two cells changed places, from a word that belongs to another column of the row."""
        for column in self.columns:
            if not column.words or column.name == name or column.name not in row:
                continue
            try:
                typed_word(row.get(name), column.words, where="")
            except BadInput:
                continue
            return f"it is a word for {column.heading}, so see whether the cells were swapped, then "
        return ""


def log_title(name):
    """A log's name in sentences, such as "spin log"."""
    return f"{name.replace('_', ' ')} log"


def spelt(*words):
    """Words that are meant as they are spelt."""
    return {word: word for word in words}
