"""The list of outside checks: read from the markers of the tests, written into tests/published/README.md."""

import ast
import re
from collections import Counter
from dataclasses import astuple, dataclass, fields
from itertools import groupby

from house.sources import PACKAGES, ROOT, project_files, tree_of

PAGE = ROOT / "tests" / "published" / "README.md"
START, END = "<!-- outside checks: written by .ci/list-outside-checks -->\n", "<!-- outside checks: end -->\n"
SEEN = ("read", "in a reproduction", "computed by package", "derived", "from memory")
NO_SOURCE = "common practice, no source"
# Words that name nothing which anybody could open.
_NAMELESS = ("trade page", "public note", "third-party", "hand-over", "published-checks", "our own", "the library")
_HEAD = "| what | number | allowed | source | seen | test |\n|---|---|---|---|---|---|"


@dataclass(frozen=True, kw_only=True)
class OutsideCheck:
    """One check of the library against something outside the project."""

    what: str
    number: str
    tolerance: str
    source: str
    seen: str
    test: str

    @property
    def floor(self):
        """The folder of the test: a package of the library, or what else stands beside them."""
        parts = self.test.split("::")[0].split("/")
        return parts[1] if len(parts) > 2 else "tests"

    @property
    def has_source(self):
        """Whether anybody stands behind the number."""
        return self.source != NO_SOURCE


def outside_checks():
    """The checks that the markers of all test files tell, in the order of the packages."""
    order = {package: place for place, package in enumerate(PACKAGES)}
    files = [name for name in project_files() if name.startswith("tests/") and name.endswith(".py")]
    found = [check for name in files for check in checks_in(name, tree_of(ROOT / name))]
    return sorted(found, key=lambda check: (order.get(check.floor, len(order)), check.floor))


def checks_in(name, tree):
    """The checks of one file; a marker that stands in no test counts for the file."""
    owners = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            owners.update((id(marker), node.name) for place in node.decorator_list for marker in markers_in(place))
    for marker in markers_in(tree):
        test = f"{name}::{owners[id(marker)]}" if id(marker) in owners else name
        yield OutsideCheck(test=test, **arguments_of(marker))


def markers_in(tree):
    """Every `pytest.mark.outside(…)`."""
    calls = (node for node in ast.walk(tree) if isinstance(node, ast.Call))
    return [call for call in calls if ast.unparse(call.func) == "pytest.mark.outside"]


def arguments_of(marker):
    """What a marker says; only plain strings can be listed without running the test."""
    said = {"what": marker.args[0]} if marker.args else {}
    said |= {word.arg: word.value for word in marker.keywords}
    return {name: " ".join(ast.literal_eval(value).split()) for name, value in said.items()}


def complaints_about_check(check):
    """What is wrong with one check."""
    empty = [field.name for field in fields(check) if not getattr(check, field.name)]
    found = [f"{', '.join(empty)} is empty"] if empty else []
    if check.seen not in SEEN:
        found.append(f"seen is “{check.seen}”, allowed are {', '.join(SEEN)}")
    found += [f"“{words}” names nothing that can be opened" for words in _NAMELESS if words in check.source.lower()]
    if not any(letter.isdigit() for letter in check.number):
        found.append("no number")
    if check.seen != "from memory" and not check.has_source:
        found.append("what has no source was not seen")
    return found


def listed(checks):
    """The part of the page that tells the checks: counts first, then one table a floor."""
    counted = [check for check in checks if check.has_source]
    floors = {floor: list(group) for floor, group in groupby(checks, key=lambda check: check.floor)}
    rows = [_row(floor, Counter(check.seen for check in group if check.has_source)) for floor, group in floors.items()]
    total = _row("together", Counter(check.seen for check in counted))
    counts = [f"| tests of | {' | '.join(SEEN)} | together |", f"|---|{'---|' * (len(SEEN) + 1)}", *rows, total]
    tables = [f"\n### {floor}\n\n{_HEAD}\n" + "\n".join(map(_line, group)) for floor, group in floors.items()]
    return "\n".join([*counts, *tables]) + "\n"


def _row(name, count):
    return f"| {name} | {' | '.join(str(count[seen]) for seen in SEEN)} | {count.total()} |"


def _line(check):
    file, _, test = check.test.removeprefix("tests/").partition("::")
    where = f"`{file}`" + (f" {test.removeprefix('test_').replace('_', ' ')}" if test else "")
    cells = (check.what, check.number, check.tolerance, check.source, check.seen)
    told = " | ".join(re.sub(r"([|*])", r"\\\1", cell) for cell in cells)
    return f"| {told} | {where} |"


def with_list(page, text):
    """The page with what stands between its two marks written anew."""
    before, _, rest = page.partition(START)
    return f"{before}{START}{text}{END}{rest.partition(END)[2]}"


def twice(checks):
    """Checks that stand twice, word for word."""
    count = Counter(astuple(check) for check in checks)
    return [check for check, times in count.items() if times > 1]
