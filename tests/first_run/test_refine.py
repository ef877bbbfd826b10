"""Constants refined by a run, against the update of a mean and its covariance, the bench's errors written out."""

from datetime import date
from math import sqrt

import numpy as np
import pytest

from samples.run_samples import logged, machine_built
from statorbook.first_run.case import run_case
from statorbook.first_run.flows import Deviation
from statorbook.first_run.misfit import meter_pulls, misfit_table
from statorbook.first_run.refine import least_misfit, refined
from statorbook.first_run.rows import read_run

FIELDS = ("emf_share", "ohm_share", "henry_share")
ONE = np.array([1.0, 1.0, 1.0, 0.0, 0.0])  # factors on EMF, ohms and henries; sigmas of ammeter and voltmeter
LEAST = 0.002  # no bench knows a constant better: common practice, no source


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    machine, grouping, coil = machine_built(tmp_path_factory.mktemp("data"), "spring_pipe")
    rows = logged(machine, grouping, np.random.default_rng(5), open_rpm=(300, 400), emf=0.98, henry=1.04)
    return machine, grouping, coil, read_run(rows, machine.stator, machine.drive)


# ± of 3, 4 and 6 %; a third of the henries' comes from the EMF, a quarter from the ohms, which move them the other way
# round.
SHARES = {"emf": 0.03, "ohm": 0.04, "henry": 0.06, "by_emf": 0.02, "by_ohm": -0.015}
# The same with an EMF that is known better than any voltmeter reads it, and with henries that hang on nothing else.
CLOSE = SHARES | {"emf": 0.001, "by_emf": 0.0, "by_ohm": 0.0}
EXACT = dict.fromkeys(SHARES, 0.0)


def with_shares(coil, shares):
    changes = {
        "emf_plus_minus_v_per_rpm": shares["emf"] * coil.emf_v_per_rpm,
        "ohm_plus_minus": shares["ohm"] * coil.ohm,
        "henry_plus_minus": shares["henry"] * coil.henry,
        "henry_by_emf": shares["by_emf"] * coil.henry,
        "henry_by_ohm": shares["by_ohm"] * coil.henry,
    }
    return coil.model_copy(update=changes)


def covariance(case, shares):
    """Of `ONE`, from what each cause does to each value: the bench's own errors and both meters, one sigma each."""
    amps = 0.02 / 1.96 if case.charging else 0.0
    volts = 0.01 / 1.96 if case.open_leads else 0.0
    emf, ohm, henry = (max(shares[name] / 1.96, LEAST) for name in ("emf", "ohm", "henry"))
    own_henry = sqrt(shares["henry"] ** 2 - shares["by_emf"] ** 2 - shares["by_ohm"] ** 2) / 1.96
    # A voltmeter that shows too much made the EMF too large by that; what is left of its ± is the bench's own.
    in_emf = volts if volts < emf else 0.0
    of_emf = np.array([sqrt(emf**2 - in_emf**2), 0.0, 0.0, 0.0, -in_emf])
    of_ohm = np.array([0.0, ohm, 0.0, 0.0, 0.0])
    follows_emf = shares["by_emf"] / shares["emf"] if shares["emf"] else 0.0
    follows_ohm = shares["by_ohm"] / shares["ohm"] if shares["ohm"] else 0.0
    # Henries come from volts over amps: an ammeter that shows too much made them too small, as too small an EMF does.
    in_henry = follows_emf * amps
    left = sqrt(max(own_henry, LEAST) ** 2 - in_henry**2)
    of_henry = follows_emf * of_emf + follows_ohm * of_ohm + np.array([0.0, 0.0, left, in_henry, 0.0])
    effects = np.array([of_emf, of_ohm, of_henry, [0, 0, 0, 1, 0], [0, 0, 0, 0, 1]])
    return effects @ effects.T


def updated(case, shares, *, speeds):
    """Mean, covariance and least sum of squares after the run, by Gauss and Newton with slopes by differences."""
    known, pulls = np.linalg.inv(covariance(case, shares)), meter_pulls(case)
    if speeds:
        pulls = np.hstack([pulls, np.zeros((2, len(case.driven)))])

    def off(values):
        moved = Deviation(**dict(zip(FIELDS, values[:3])))
        return misfit_table(case, [moved], speeds=speeds, own=True)[0] - pulls.T @ values[3:]

    at, step = ONE.copy(), 1e-4
    for _ in range(8):
        slopes = np.array([(off(at + step * one) - off(at - step * one)) / (2 * step) for one in np.eye(5)]).T
        inverse = np.linalg.inv(slopes.T @ slopes + known)
        at = at - inverse @ (slopes.T @ off(at) + known @ (at - ONE))
    return at, inverse, off(at) @ off(at) + (at - ONE) @ known @ (at - ONE)


@pytest.mark.outside(
    "constants and their ± after a run, meters of bench and run the same",
    source="JCGM 100:2008 (GUM), 5.2 and F.1.2, correlated input quantities; least squares with a known covariance",
    number="EMF, ohms, henries, 3 benches and 3 runs",
    tolerance="0.1 %, ± 1 %",
    seen="from memory",
)
@pytest.mark.parametrize("shares", [SHARES, CLOSE, EXACT], ids=["usual", "close", "exact"])
@pytest.mark.parametrize("rows", ["all", "charging", "open_leads"])
def test_bench_and_run_are_weighed_by_their_errors(built, shares, rows):
    machine, grouping, bench, readings = built
    case = run_case(machine, grouping, [row for row in readings if rows == "all" or getattr(row, rows)])
    coil = with_shares(bench, shares)
    made = refined(case, coil, date(2026, 7, 1))
    at, inverse, _ = updated(case, shares, speeds=False)
    best = np.array([coil.emf_v_per_rpm, coil.ohm, coil.henry])
    assert np.array([made.emf_v_per_rpm, made.ohm, made.henry]) / best == pytest.approx(at[:3], rel=1e-3)
    band = np.array([made.emf_plus_minus_v_per_rpm, made.ohm_plus_minus, made.henry_plus_minus]) / best
    assert band == pytest.approx(1.96 * np.sqrt(np.diag(inverse)[:3]), rel=0.01)
    _, _, least = updated(case, shares, speeds=True)
    assert least_misfit(case, coil) == pytest.approx(least, rel=1e-3, abs=1e-3)
    assert made.how.startswith(f"bench constants and {len(case.readings)} rows of") and made.date == "2026-07-01"
