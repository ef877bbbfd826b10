"""Changes that are known to change nothing: `tests/judges/equivalent_mutants.toml`, each with its reason."""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from judges.mutation.sites import mutants_of

LIST = Path(__file__).parent.parent / "equivalent_mutants.toml"


@dataclass(frozen=True, kw_only=True)
class Equivalent:
    """One entry: the line as it stands, as it would stand, and why nobody could tell; `within` where lines repeat."""

    file: str
    old: str
    new: str
    why: str
    within: str = ""

    def covers(self, mutant):
        """Whether this is the mutant; spaces do not count."""
        here = self.within in ("", mutant.within) and self.file == mutant.file
        return here and _words(self.old) == _words(mutant.old) and _words(self.new) == _words(mutant.new)


def _words(line):
    return "".join(line.split())


def read(path=LIST):
    """All entries, whatever package they stand under."""
    listed = tomllib.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
    return [Equivalent(**entry) for entries in listed.values() for entry in entries]


def complaints(entries, library):
    """What is wrong with the list itself: no reason, a file, a line or a mutant that is no longer there."""
    found = []
    for entry in entries:
        path = library / entry.file
        if len(entry.why.split()) < 5:
            found.append(f"{entry.file}: no reason why {entry.new!r} is the same")
        if not path.is_file():
            found.append(f"{entry.file} is not there")
        elif not any(entry.covers(mutant) for mutant in mutants_of(path, library, line=entry.old)):
            found.append(f"{entry.file}: no mutant turns {entry.old!r} into {entry.new!r}")
    return found
