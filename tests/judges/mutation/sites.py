"""Every mutant of a file: one small change each, in words, in code, and where."""

import ast
import random
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code

from judges.mutation.operators import telling


@dataclass(frozen=True)
class Mutant:
    """One change in one file.

    `file` is counted from the library's folder; `within` is the function or class in which the line stands.
    """

    file: str
    line: int
    within: str
    old: str
    new: str
    source: str

    def __str__(self):
        return f"{self.file}:{self.line} in {self.within or 'the module'}\n    - {self.old}\n    + {self.new}"


@cache
def _readers_of_ends(library):
    """Texts of a library's modules in which an end of some range, `.low` or `.high`, is read."""
    texts = [path.read_text(encoding="utf-8") for path in library.rglob("*.py") if path.name != "__init__.py"]
    return [text for text in texts if re.search(r"\.(low|high)\b", text)]


def _unread_ends(statement, library):
    """The ends of a statement's facts, if no module that reads ends names these facts; tests still hold their order."""
    name, equals, value = statement.get_code(include_prefix=False).partition(" = ")
    if not (equals and name.isidentifier() and re.search(r"\bFact\(", value)):
        return []
    if any(re.search(rf"\b{name}\b", text) for text in _readers_of_ends(library)):
        return []
    return [
        node
        for node in ast_nodes(statement)
        if node.type == "argument" and node.children[0].get_code().strip() in ("low", "high")
    ]


def _spared(statement, library):
    """Stretches of a statement that do nothing at work: annotations, decorators' options, what only tools read."""
    found = _unread_ends(statement, library)
    for node in ast_nodes(statement):
        if node.type == "decorator":
            found.append(node)
        elif node.type == "annassign":
            found.append(node.children[1])
        elif node.type == "tfpdef":
            found.append(node.children[2])
        elif node.type == "funcdef" and node.annotation is not None:
            found.append(node.annotation)
        elif node.type == "argument" and node.children[0].get_code().strip() == "strict":
            found.append(node)  # of `zip`: heeded only where a caller is wrong
        elif node.type == "if_stmt" and node.children[1].get_code().strip() == "TYPE_CHECKING":
            found.append(node)
    return [(node.start_pos, node.end_pos) for node in found]


@dataclass(frozen=True)
class _Place:
    """Where a file can be changed: the operator's `occurrence`-th place in the file's `statement`-th statement."""

    start: tuple
    operator: object
    statement: int
    occurrence: int


@cache
def _tree(source):
    """The tree of a whole file, which nothing changes."""
    return get_ast(source)


@cache
def _places_in(source, library, number):
    """All places of one statement of a file, in their order."""
    statement, found = _tree(source).children[number], []
    spared, nodes = _spared(statement, library), list(ast_nodes(statement))
    for operator in telling():
        positions = [place for node in nodes for place in operator.mutation_positions(node)]
        for occurrence, (start, end) in enumerate(positions):
            if not any(first <= start and end <= last for first, last in spared):
                found.append(_Place(start, operator, number, occurrence))
    return sorted(found, key=lambda place: place.start)


def _places(source, library, lines=None):
    """All places of a file in their order, or those of the lines with some numbers."""
    found = []
    for number, statement in enumerate(_tree(source).children):
        rows = range(statement.start_pos[0], statement.end_pos[0] + 1)
        if lines is None or not lines.isdisjoint(rows):
            found += _places_in(source, library, number)
    return [place for place in found if lines is None or place.start[0] in lines]


@cache
def _statements(source):
    """The text of a file in pieces, each with what stands before it: one is parsed sooner than the whole."""
    return [statement.get_code() for statement in _tree(source).children]


def _changed_at(place, source):
    """The whole text with the change, or None where there is none."""
    texts = list(_statements(source))
    changed = mutate_code(texts[place.statement], place.operator, place.occurrence)
    if changed is None:
        return None
    texts[place.statement] = changed
    return "".join(texts)


@cache
def _scopes(source):
    found = []

    def walk(node, names):
        for child in ast.iter_child_nodes(node):
            inner = names
            if isinstance(child, (ast.FunctionDef, ast.ClassDef)):
                inner = (*names, child.name)
                first = min([child.lineno, *(each.lineno for each in child.decorator_list)])
                found.append((first, child.end_lineno, ".".join(inner)))
            walk(child, inner)

    walk(ast.parse(source), ())
    return found


def _changed_line(source, changed):
    for number, (old, new) in enumerate(zip(source.splitlines(), changed.splitlines()), 1):
        if old != new:
            return number, old.strip(), new.strip()
    return None


@cache
def count_in(path, library):
    """How many places of a file can be changed."""
    return len(_places(Path(path).read_text(encoding="utf-8"), library))


def mutants_of(path, root, *, wanted=None, line=None):
    """The mutants of a file; if given, only of the places with the numbers `wanted`, or of lines that read so."""
    source = Path(path).read_text(encoding="utf-8")
    lines = None
    if line is not None:
        lines = {number for number, text in enumerate(source.splitlines(), 1) if text.strip() == line.strip()}
    places, scopes, found = _places(source, root, lines), _scopes(source), []
    if wanted is not None:
        places = [places[at] for at in sorted(wanted)]
    for place in places:
        changed = _changed_at(place, source)
        if changed is None or (seen := _changed_line(source, changed)) is None or not _compiles(changed):
            continue
        number, old, new = seen
        within = max((scope for scope in scopes if scope[0] <= number <= scope[1]), default=(0, 0, ""))[2]
        found.append(Mutant(Path(path).relative_to(root).as_posix(), number, within, old, new, changed))
    return found


def _compiles(source):
    try:
        compile(source, "mutant", "exec", dont_inherit=True)
    except (SyntaxError, ValueError):
        return False
    return True


def sample(paths, root, *, most, seed):
    """At most so many mutants of some files, drawn evenly from all their places."""
    places = [(path, at) for path in paths for at in range(count_in(path, root))]
    drawn = places if most is None or most >= len(places) else random.Random(seed).sample(places, most)
    by_file = {path: [at for other, at in drawn if other == path] for path in paths}
    return [mutant for path, wanted in by_file.items() for mutant in mutants_of(path, root, wanted=wanted)]
