"""A sample of mutants tried on the tests of their package, then on those of the packages that import it."""

import ast
import json
import os
import random
import re
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from house.sources import imports_of, tree_of
from judges.mutation.learning import Learned
from judges.mutation.session import Quick, is_compiled, run_fresh, run_quick

KILLED = ("killed", "timed out")
# Tests that hold a whole folder by rows of a table and so name no class of it.
TELL_OF = {"job/parts/": "job/parts/test_field_ends.py"}


@dataclass(frozen=True)
class Project:
    """Where a library and its tests stand, and the packages whose tests count, from the ground up."""

    root: Path
    library: Path
    tests: Path
    packages: tuple

    def files_of(self, target):
        """The files of a package, or of a module such as `drives.pipe`."""
        place = self.library.joinpath(*target.split("."))
        module = place.with_suffix(".py")
        found = [module] if module.is_file() else sorted(place.rglob("*.py"))
        return [path for path in found if path.name != "__init__.py"]

    def drawn(self, number, seed):
        """So many modules, drawn by their length; not those that numba compiles, whose every mutant takes long."""
        paths = [path for each in self.packages for path in self.files_of(each)]
        texts = {path: path.read_text(encoding="utf-8") for path in paths}
        lengths = {path: len(text) for path, text in texts.items() if not is_compiled(text)}
        found, chance = [], random.Random(seed)
        for _each in range(number):
            (path,) = chance.choices([*lengths], [*lengths.values()])
            found.append(".".join(path.relative_to(self.library).with_suffix("").parts))
            del lengths[path]
        return found

    def importers(self, package):
        """The packages that import a package, directly or by a longer way."""
        known = {package}
        for other in [each for each in self.packages if each != package]:
            names = {name for path in self.files_of(other) for name, *_rest in imports_of(tree_of(path))}
            if any(name.split(".")[:2] == [self.library.name, each] for name in names for each in known):
                known.add(other)
        return [each for each in self.packages if each in known - {package}]

    def tests_of(self, packages):
        """Folders and files with the tests of some packages, and of every fact's range."""
        places = [place for each in packages for place in (self.tests / each, self.tests / f"test_{each}.py")]
        places.append(self.tests / "house" / "test_facts.py")
        return [place for place in places if place.exists()]

    def near_tests(self, target):
        """The test files of a module's own package that name something of it; all of them where none does."""
        paths = self.files_of(target)
        names = {name for path in paths for name in names_of(path) if not name.startswith("_")}
        places = self.tests_of([target.split(".")[0]])
        files = [file for place in places for file in (sorted(place.rglob("test_*.py")) if place.is_dir() else [place])]
        always = {self.tests / TELL_OF[folder] for path in paths for folder in TELL_OF if self._is_in(path, folder)}
        near = [file for file in files if any(_mentions(file, name) for name in names)]
        return [file for file in files if file in always or file in near] if near else files

    def _is_in(self, path, folder):
        return path.relative_to(self.library).as_posix().startswith(folder)


@dataclass
class Score:
    """What became of the mutants of one target; `listed` are survivors that are known to change nothing."""

    target: str
    places: int
    outcomes: dict = field(default_factory=dict)
    listed: tuple = ()

    @property
    def survivors(self):
        """Mutants that no test noticed and that nobody has explained."""
        return [each for each, outcome in self.outcomes.items() if outcome not in KILLED and each not in self.listed]

    @property
    def wrongly_listed(self):
        """Mutants that are said to change nothing, and a test noticed them."""
        return [each for each in self.listed if self.outcomes[each] in KILLED]

    @property
    def killed(self):
        return sum(outcome in KILLED for outcome in self.outcomes.values())

    @property
    def share(self):
        """Killed of those that change something, in percent."""
        return 100.0 * self.killed / max(self.killed + len(self.survivors), 1)

    def row(self):
        """One line of the table."""
        equivalent = len(self.listed) - len(self.wrongly_listed)
        numbers = (self.places, len(self.outcomes), self.killed, equivalent, len(self.survivors))
        return f"{self.target:<22}" + "".join(f"{number:>11}" for number in numbers) + f"{self.share:>9.1f} %"


HEADINGS = f"{'':<22}" + "".join(
    f"{word:>11}" for word in ("in all", "tried", "killed", "equivalent", "survived", "score")
)


class Trial:
    """Tries mutants of one package, one after another; a line on the screen for each."""

    def __init__(self, project, target, mutants, *, budget_seconds=60.0, own=False, near=False, quiet=False):
        self._project, self._mutants = project, mutants
        package = target.split(".")[0]
        self._own = project.near_tests(target) if near else project.tests_of([package])
        self._others = [] if own or near else project.tests_of(project.importers(package))
        self._budget, self._quiet = budget_seconds, quiet
        self._learned = Learned(project)
        self._outcomes = {}
        self._screen = os.fdopen(os.dup(2), "w", buffering=1)

    def run(self):
        """What became of each mutant."""
        with tempfile.TemporaryDirectory(prefix="statorbook-mutation-") as folder:
            self._folder = Path(folder)
            self._quick(self._own, self._mutants)
            self._learned.load(self._own)
            for mutant in self._still("not swapped", "survived early"):
                self._fresh(mutant, self._learned.within(self._budget, self._telling_first(mutant)))
            if self._others and (left := self._still("survived", "not swapped")):
                again = self._quick(self._others, left)
                self._learned = Learned(self._project)
                self._learned.load(self._others)
                for mutant in [each for each in left if again[each] in ("not swapped", "survived early")]:
                    self._fresh(mutant, self._learned.within(self._budget / 2.0, self._telling(mutant)))
        return self._outcomes

    def _still(self, *outcomes):
        return [mutant for mutant in self._mutants if self._outcomes.get(mutant, "survived") in outcomes]

    def _say(self, words):
        if not self._quiet:
            self._screen.write(f"{words}\n")

    def _quick(self, places, mutants):
        """Outcomes of this pass alone; a mutant that it cannot try keeps what is known of it."""
        results, log = self._folder / "results.jsonl", self._folder / "pytest.txt"
        results.write_text("", encoding="utf-8")

        def tell(mutant, outcome):
            with results.open("a", encoding="utf-8") as file:
                file.write(json.dumps([mutants.index(mutant), outcome]) + "\n")
            self._say(f"{mutant.file}:{mutant.line} {outcome}")

        if places:
            plugin = Quick(self._project, self._learned, mutants, tell=tell, say=self._say, budget_seconds=self._budget)
            run_quick([str(place) for place in places], plugin, log)
            found = dict(map(json.loads, results.read_text(encoding="utf-8").splitlines()))
            if len(found) != len(mutants):
                raise SystemExit(f"The tests stopped early:\n{log.read_text(encoding='utf-8')[-3000:]}")
            again = {mutants[at]: outcome for at, outcome in found.items()}
        else:
            again = dict.fromkeys(mutants, "survived")
        for mutant, outcome in again.items():
            if outcome in KILLED or mutant not in self._outcomes:
                self._outcomes[mutant] = outcome
        return again

    def _telling(self, mutant):
        """Tests that have to do with a line that runs when the module is loaded: by its name, or by its users."""
        name = _top_name(self._project.library / mutant.file, mutant.line)
        files = {mutant.file}
        if name:
            files |= {
                path.relative_to(self._project.library).as_posix()
                for path in self._project.library.rglob("*.py")
                if path.name != "__init__.py" and _mentions(path, name)
            }
        always = {self._project.tests / test for folder, test in TELL_OF.items() if mutant.file.startswith(folder)}
        return self._learned.about(files, lambda file: file in always or bool(name) and _mentions(file, name))

    def _telling_first(self, mutant):
        telling = set(self._telling(mutant))
        return [*sorted(telling, key=self._learned.seconds), *self._learned.others_than(telling)]

    def _fresh(self, mutant, tests):
        path = self._project.library / mutant.file
        outcome = run_fresh(tests, self._learned, path, mutant.source, self._folder / "fresh.txt")
        self._say(f"{mutant.file}:{mutant.line} {outcome} in a new process")
        self._outcomes[mutant] = outcome


def _mentions(path, name):
    return re.search(rf"\b{re.escape(name)}\b", path.read_text(encoding="utf-8")) is not None


def _top_name(path, line):
    """What the statement at a line of a file defines: a constant, a function or a class."""
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if node.lineno <= line <= node.end_lineno:
            return _defined_by(node)
    return ""


def names_of(path):
    """What the statements of a file define."""
    return [name for name in map(_defined_by, ast.parse(path.read_text(encoding="utf-8")).body) if name]


def _defined_by(node):
    targets = getattr(node, "targets", [getattr(node, "target", None)])
    names = [target.id for target in targets if isinstance(target, ast.Name)]
    return getattr(node, "name", names[0] if names else "")
