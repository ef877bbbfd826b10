"""Chances and misfits of faults beside scipy's normal density; faults that show alike; faults named together."""

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from samples.fault_samples import FLOORS, coils_at, winding
from sentences import sentences_of
from statorbook.rewiring.faults.evidence import FaultEvidence, prior, weigh
from statorbook.rewiring.faults.finder import Measured
from statorbook.rewiring.faults.single_faults import single_faults
from statorbook.rewiring.faults.table import FaultTable, fault_table, places_to_measure
from statorbook.rewiring.faults.words import named_together

wording = sentences_of("rewiring")

CHAINS = winding(36, 48, 4, 3, "star")
READ = [("A-star", "ohms", 1.37), ("B-star", "ohms", 1.29), ("A-star", "volts", 11.1), ("B-star", "volts", 12.2)]
SHARE, COMMON = 0.01, 0.05


def evidence_of(table):
    measured = [Measured(name=name, kind=kind, value=value, speed_rpm=60.0) for name, kind, value in READ]
    return FaultEvidence(
        table=table,
        measured=tuple(measured),
        probes=tuple(name for name, _, _ in READ),
        speed_rpm=60.0,
        hand_rpm=60.0,
        sigma_share=SHARE,
        floors={"ohms": FLOORS["floor_ohm"], "volts": FLOORS["floor_volts_rms"]},
        scale_share=COMMON,
    )


# Readings with errors of their own and one factor common to each kind are normal together: covariance σ² on the
# diagonal, and τ² E Eᵀ within a kind. The factor that fits best is that of least squares, its own ± as one more row.
@pytest.mark.outside(
    "chances of faults from readings with a common factor",
    source="scipy.stats.multivariate_normal, covariance σ² and τ² E Eᵀ; numpy.linalg.lstsq",
    number="misfit, odds and best factor of 90 faults",
    tolerance="1e-6",
    seen="computed by package",
)
def test_chance_misfit_and_scale_are_those_of_normal_errors():
    table = fault_table(CHAINS, coils_at(CHAINS)(60.0))
    evidence = evidence_of(table)
    weighed, values = weigh(evidence), np.array([value for _, _, value in READ])
    floors = np.array([evidence.floors[kind] for _, kind, _ in READ])
    sigma = np.hypot(SHARE * values, floors)
    alike = np.array([kind for _, kind, _ in READ])
    same_kind = alike[:, None] == alike
    odds = []
    for row in np.flatnonzero(np.isfinite(evidence.expected).all(axis=1) & ~table.is_short):
        expected = evidence.expected[row]
        covariance = np.diag(sigma**2) + COMMON**2 * np.outer(expected, expected) * same_kind
        density = multivariate_normal(expected, covariance)
        rest = values - expected
        assert weighed.misfit[row] == pytest.approx(rest @ np.linalg.solve(covariance, rest), rel=1e-6)
        if weighed.chance[row] > 1e-200:
            odds.append(np.log(weighed.chance[row] / prior(table)[row]) - density.logpdf(values))
        for kind in ("ohms", "volts"):
            of = alike == kind
            rows = np.append(expected[of] / sigma[of], 1.0 / COMMON)[:, None]
            factor = np.linalg.lstsq(rows, np.append(rest[of] / sigma[of], 0.0), rcond=None)[0][0]
            assert weighed.sigmas[row, of] == pytest.approx((1.0 + factor) * expected[of] / sigma[of], rel=1e-6)
    assert len(odds) > 80 and np.ptp(odds) < 1e-6


# One row a fault: 1 Ω and a voltage from a billionth of the healthy one up; then volts that float; then no way at all.
def test_floating_volts_and_no_way_are_like_no_number():
    sizes = np.append(0.0, np.geomspace(1e-9, 1.0, 3000))
    volts = np.concatenate([[1.0], sizes, [np.nan], np.ones(3000), [1.0]])[:, None]
    ohms = np.concatenate([np.ones(3003), np.geomspace(1e-9, 1.0, 3000), [np.inf]])[:, None]
    probe = places_to_measure(CHAINS)["A-B"]
    table = FaultTable(faults=(None,) * len(volts), probes={"A-B": probe}, ohms=ohms, line_volts_rms=volts)
    for odd in (3002, len(volts) - 1):
        assert np.flatnonzero(table.alike == odd).tolist() == [odd]
    # No meter tells volts that differ by less than a millionth, every one tells a tenth from the whole.
    assert table.alike[3001] == 0 and table.alike[1] == 1 and table.alike[2400] != 0


def members(wired, kind, *places):
    return tuple(each for each in single_faults(wired) if each.kind == kind and (not places or each.where in places))


# Up to three are listed; more are told by what they have in common.
def test_few_faults_are_listed_and_many_told_by_phase():
    pairs = [each.where for each in members(CHAINS, "paths exchanged") if each.where[0] + each.where[-2] == "AB"]
    three, four = (named_together(members(CHAINS, "paths exchanged", *pairs[:count]), CHAINS) for count in (3, 4))
    assert all(pair in three for pair in pairs[:3]) and not any(pair in four for pair in pairs)
    assert four == wording("a path of A and")
    leads = [f"the leads {pair} are exchanged" for pair in ("A and B", "B and C", "C and A")]
    assert named_together(members(CHAINS, "leads exchanged"), CHAINS) == " or ".join(leads)
    small, large = winding(9, 12, 1, 3, "star"), winding(12, 14, 2, 2, "star")
    phase = {tooth for path in small.paths["A"] for tooth, _ in path}
    assert named_together(members(small, "coil reversed", *map(str, phase)), small).startswith("one of the coils 1, 4")
    phase = {str(tooth) for path in large.paths["A"] for tooth, _ in path}
    assert named_together(members(large, "coil reversed", *phase), large).startswith("one of the 4 coils of")
