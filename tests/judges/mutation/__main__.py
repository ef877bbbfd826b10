"""Which small changes of the library no test notices: `python -m judges.mutation drives.pipe --most 60` in `tests/`."""

import argparse
import json
import os
import sys
import tempfile
from collections import Counter
from pathlib import Path

from house.sources import LIBRARY, PACKAGES, READER, ROOT, imports_of, tree_of
from judges.mutation.learning import Learned
from judges.mutation.session import Fresh, Quick, run_fresh, run_quick
from judges.mutation.sites import sample

KILLED = ("killed", "timed out")


def files_of(target):
    """The files of a package, or of a module such as `drives.pipe`."""
    place = LIBRARY.joinpath(*target.split("."))
    found = [place.with_suffix(".py")] if place.with_suffix(".py").is_file() else sorted(place.rglob("*.py"))
    if not found:
        raise SystemExit(f"There is no package or module {target} in the library.")
    return [path for path in found if path.name != "__init__.py"]


def importers(package):
    """The packages below the reader that import a package, directly or by a longer way."""
    known = {package}
    for other in [each for each in PACKAGES if each not in READER and each != package]:
        names = {name for path in files_of(other) for name, *_rest in imports_of(tree_of(path))}
        if any(name.startswith(tuple(f"statorbook.{each}" for each in known)) for name in names):
            known.add(other)
    return [each for each in PACKAGES if each in known - {package}]


def test_folders(packages):
    """Where the tests of some packages stand."""
    places = [ROOT / "tests" / each for each in packages] + [ROOT / "tests" / f"test_{each}.py" for each in packages]
    return [str(place) for place in places if place.exists()]


class Trial:
    """A package's mutants, tried one after another; `outcomes` says by mutant what became of it."""

    def __init__(self, package, mutants, *, budget_seconds=60.0, own=False):
        self._others = [] if own else importers(package)
        self.package, self.mutants = package, mutants
        self.outcomes = {}
        self._budget = budget_seconds
        self._folder = Path(tempfile.mkdtemp(prefix="statorbook-mutation-"))
        self._screen = os.fdopen(os.dup(2), "w", buffering=1)
        self._learned = Learned(ROOT, LIBRARY)

    def run(self):
        self._quick(test_folders([self.package]), self.mutants)
        for mutant in self._still("survived", "not swapped"):
            if self.outcomes[mutant] == "not swapped":
                self._fresh(mutant)
        self._quick(test_folders(self._others), self._still("survived"))
        return self

    def _still(self, *outcomes):
        return [mutant for mutant in self.mutants if self.outcomes[mutant] in outcomes]

    def _say(self, words):
        self._screen.write(f"{words}\n")

    def _quick(self, folders, mutants):
        if not folders or not mutants:
            return
        results, log = self._folder / "results.jsonl", self._folder / "pytest.txt"
        results.unlink(missing_ok=True)

        def tell(mutant, outcome):
            with results.open("a", encoding="utf-8") as file:
                file.write(json.dumps([mutants.index(mutant), outcome]) + "\n")
            self._say(f"{mutant.file}:{mutant.line} {outcome}")

        plugin = Quick(ROOT, LIBRARY, mutants, tell=tell, say=self._say, budget_seconds=self._budget)
        run_quick(folders, plugin, log)
        lines = results.read_text(encoding="utf-8").splitlines() if results.exists() else []
        if len(lines) != len(mutants):
            raise SystemExit(f"The tests stopped early:\n{log.read_text(encoding='utf-8')[-3000:]}")
        for index, outcome in map(json.loads, lines):
            if not (outcome == "not swapped" and mutants[index] in self.outcomes):
                self.outcomes[mutants[index]] = outcome

    def _fresh(self, mutant):
        self._learned.load([Path(each) for each in test_folders([self.package])])
        outcome = run_fresh(
            test_folders([self.package]),
            Fresh(self._learned, budget_seconds=self._budget),
            LIBRARY / mutant.file,
            mutant.source,
            self._folder / "fresh.txt",
        )
        self._say(f"{mutant.file}:{mutant.line} {outcome} in a new process")
        self.outcomes[mutant] = outcome


def preload():
    """What the tests load from outside, once for all new processes."""
    import hypothesis.strategies  # noqa: F401
    import ipywidgets  # noqa: F401
    import matplotlib.figure  # noqa: F401
    import numpy  # noqa: F401
    import pandas  # noqa: F401
    import pytest  # noqa: F401
    import scipy.optimize  # noqa: F401


def main(arguments):
    parser = argparse.ArgumentParser(prog="judges.mutation", description=__doc__)
    parser.add_argument("target", nargs="+", help="a package, or a module such as drives.pipe")
    parser.add_argument("--most", type=int, default=60, help="at most so many mutants of each target (0: all)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--budget", type=float, default=60.0, help="processor seconds of tests that a mutant may take")
    parser.add_argument("--own", action="store_true", help="only the package's own tests, not those of its importers")
    chosen = parser.parse_args(arguments)
    os.chdir(ROOT)
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    preload()
    for target in chosen.target:
        mutants = sample(files_of(target), LIBRARY, most=chosen.most or None, seed=chosen.seed)
        trial = Trial(target.split(".")[0], mutants, budget_seconds=chosen.budget, own=chosen.own).run()
        counts = Counter(trial.outcomes.values())
        for mutant, outcome in trial.outcomes.items():
            if outcome not in KILLED:
                print(f"{outcome}: {mutant}")
        killed = sum(counts[each] for each in KILLED)
        share = 100.0 * killed / max(len(mutants), 1)
        print(f"{target}: {killed} of {len(mutants)} killed ({share:.1f} %); {dict(counts)}")


if __name__ == "__main__":
    main(sys.argv[1:])
