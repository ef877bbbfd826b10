"""Which small changes of the library no test notices: `python -m judges.mutation drives.pipe --most 60` in `tests/`."""

import argparse
import os
import sys
from math import ceil

from house.sources import LIBRARY, PACKAGES, READER, ROOT
from judges.mutation import equivalents
from judges.mutation.sites import count_in, sample
from judges.mutation.trial import HEADINGS, Project, Score, Trial

BELOW_THE_READER = tuple(each for each in PACKAGES if each not in READER)
STATORBOOK = Project(ROOT, LIBRARY, ROOT / "tests", BELOW_THE_READER)


def preload():
    """What the tests load from outside, once for all processes that are started."""
    import hypothesis.strategies  # noqa: F401
    import ipywidgets  # noqa: F401
    import matplotlib.figure  # noqa: F401
    import numpy  # noqa: F401
    import pandas  # noqa: F401
    import pytest  # noqa: F401
    import scipy.optimize  # noqa: F401


def count_of(files, project=STATORBOOK):
    """How many places of some files can be changed."""
    return sum(count_in(path, project.library) for path in files)


def scored(target, *, most, seed, project=STATORBOOK, listed=(), **options):
    """A sample of a package's or a module's mutants, tried."""
    files = project.files_of(target)
    if not files:
        raise SystemExit(f"There is no package or module {target} in the library.")
    mutants = sample(files, project.library, most=most, seed=seed)
    outcomes = Trial(project, target, mutants, **options).run()
    known = tuple(mutant for mutant in mutants if any(entry.covers(mutant) for entry in listed))
    return Score(target, count_of(files, project), outcomes, known)


def main(arguments):
    parser = argparse.ArgumentParser(prog="judges.mutation", description=__doc__)
    parser.add_argument(
        "target", nargs="*", help="packages, or modules such as drives.pipe (none: all below the reader)"
    )
    parser.add_argument("--most", type=int, default=60, help="at most so many mutants of each target (0: all)")
    parser.add_argument("--percent", type=float, help="instead: so much of all mutants of each target")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--budget", type=float, default=60.0, help="processor seconds of tests that a mutant may take")
    parser.add_argument("--own", action="store_true", help="only the package's own tests, not those of its importers")
    parser.add_argument(
        "--near-first", action="store_true", help="the package's tests that name the module; all only for more percent"
    )
    parser.add_argument("--count", action="store_true", help="only count the mutants")
    parser.add_argument("--drawn", type=int, metavar="MODULES", help="instead of targets: so many modules, by the seed")
    parser.add_argument("--at-least", type=float, default=0.0, metavar="PERCENT", help="fail below this score over all")
    chosen = parser.parse_args(arguments)
    targets = STATORBOOK.drawn(chosen.drawn, chosen.seed) if chosen.drawn else chosen.target or BELOW_THE_READER
    if chosen.count:
        for target in targets:
            print(f"{target:<22}{count_of(STATORBOOK.files_of(target)):>11}")
        return
    os.chdir(ROOT)
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    preload()
    share = tried(targets, chosen, near=chosen.near_first)
    if chosen.near_first and share < chosen.at_least:
        share = tried(targets, chosen)
    if share < chosen.at_least:
        raise SystemExit(f"Only {share:.0f} % of the changes were noticed; {chosen.at_least:.0f} % are wanted.")


def wanted_of(target, chosen):
    """How many mutants of a target are tried; None for all."""
    if chosen.percent:
        return ceil(chosen.percent / 100.0 * count_of(STATORBOOK.files_of(target)))
    return chosen.most or None


def tried(targets, chosen, *, near=False):
    """Try and print targets one by one; the share over all that was noticed [%]."""
    listed, scores = equivalents.read(), []
    for target in targets:
        options = dict(budget_seconds=chosen.budget, own=chosen.own, near=near)
        score = scored(target, most=wanted_of(target, chosen), seed=chosen.seed, listed=listed, **options)
        scores.append(score)
        for mutant in score.survivors:
            print(f"{score.outcomes[mutant]}: {mutant}")
        for mutant in score.wrongly_listed:
            print(f"listed as equivalent, but {score.outcomes[mutant]}: {mutant}")
        print(HEADINGS, score.row(), sep="\n", flush=True)
    if scores[1:]:
        print(HEADINGS, *[score.row() for score in scores], sep="\n")
    killed, survived = sum(score.killed for score in scores), sum(len(score.survivors) for score in scores)
    return 100.0 * killed / max(killed + survived, 1)


if __name__ == "__main__":
    main(sys.argv[1:])
