"""Causes fitted in one batch, against a general library that takes one set at a time."""

from itertools import combinations

import numpy as np
import pytest
from scipy.optimize import least_squares

from samples.run_samples import logged, machine_built
from statorbook.first_run.case import run_case
from statorbook.first_run.causes import causes_for
from statorbook.first_run.misfit import misfits
from statorbook.first_run.rows import read_run
from statorbook.first_run.solver import fit_causes, joint_deviation


@pytest.fixture(scope="module")
def case(tmp_path_factory):
    machine, grouping, _ = machine_built(tmp_path_factory.mktemp("data"), "spring_pipe")
    rows = logged(machine, grouping, np.random.default_rng(3), open_rpm=(300,), emf=0.92, henry=1.1)
    return run_case(machine, grouping, read_run(rows, machine.stator, machine.drive))


def least_total(case, causes):
    """Least of Σ misfit² + Σ ((value − rest) / sigma)² between the bounds, slopes by scipy's own differences."""
    low, high, rest, sigma = (np.array([getattr(c, name) for c in causes]) for name in ("low", "high", "rest", "sigma"))

    def off(values):
        return np.concatenate([misfits(case, joint_deviation(causes, values)), (values - rest) / sigma])

    found = least_squares(off, rest, bounds=(low, high), x_scale=sigma, diff_step=1e-3, xtol=1e-6, ftol=1e-6)
    return 2.0 * found.cost


@pytest.mark.outside(
    "least sum of squares of causes within their bounds, one and two at a time",
    source="scipy 1.17, optimize.least_squares, slopes by its own differences",
    number="sets of 1 cause, each fourth pair of 2",
    tolerance="0.04 of the 4 that tell two apart",
    seen="computed by package",
)
@pytest.mark.parametrize("size", [1, 2])
def test_a_batch_comes_as_low_as_one_set_at_a_time(case, size):
    causes = [cause for cause in causes_for(case) if cause.low < cause.high]
    sets = list(combinations(causes, size))[:: size**2]
    totals = fit_causes(case, sets).totals
    assert totals == pytest.approx([least_total(case, some) for some in sets], abs=0.04)


def test_a_set_that_cannot_come_near_the_best_is_left_early(case):
    sets = [(cause,) for cause in causes_for(case)]
    whole, early = fit_causes(case, sets).totals, fit_causes(case, sets, within=4.0).totals
    near = whole < whole.min() + 4.0
    assert early[near] == pytest.approx(whole[near], abs=0.04) and np.all(early[~near] >= whole.min() + 4.0)
