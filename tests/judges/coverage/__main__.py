"""How often the truth lies within each ± that a reader sees: `python -m judges.coverage` in `tests`."""

import argparse
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from judges.coverage.table import rows_of, words_of
from judges.coverage.trial import tried_of


def main():
    parser = argparse.ArgumentParser(prog="judges.coverage", description=__doc__)
    parser.add_argument("--machines", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    chosen = parser.parse_args()
    print(words_of(rows_of(tried_of(chosen.machines, seed=chosen.seed, processes=chosen.processes))))


if __name__ == "__main__":
    main()
