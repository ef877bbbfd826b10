"""Parallel paths that differ: added up from the survey of the coils, and the current driven round in them."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fits.test_coil_survey import BIG, CHAIN, log, surveyed
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.rewiring.path_balance import circulating_amps, survey_path_differences
from statorbook.rewiring.plan import cut_and_join
from statorbook.winding.grouping import Grouping
from statorbook.winding.wiring import found_wiring

wording = sentences_of("rewiring")

PLAN = cut_and_join(found_wiring(BIG, CHAIN), Grouping(series=4, parallel=3), "neighbours", 220.0)


def test_paths_add_up_their_coils():
    teeth = [tooth for tooth, _ in PLAN.wired.paths["A"][1]]
    paths = survey_path_differences(surveyed(log(faults={teeth[0]: (0.8, 0.7)})), PLAN.wired)
    # Volts 4, 3.8, 4, mean 11.8 / 3; ohms 4, 3.7, 4, mean 11.7 / 3.
    assert [path.emf_sum for path in paths["A"]] == pytest.approx([4, 3.8, 4])
    assert [path.emf_off_percent for path in paths["A"]] == pytest.approx([1.695, -3.390, 1.695], abs=0.001)
    assert [path.ohm_off_percent for path in paths["A"]] == pytest.approx([2.564, -5.128, 2.564], abs=0.001)
    assert paths["A"][1].sentence == wording("Path A2: volts −3.4 %")
    assert [path.emf_off_percent for path in (*paths["B"], *paths["C"])] == pytest.approx([0.0] * 6)


def test_unread_coils_count_as_typical_and_that_is_said():
    teeth = [tooth for tooth, _ in PLAN.wired.paths["B"][2]]
    rows = [row for row in log() if int(row["tooth"]) not in teeth[:2]]
    path = survey_path_differences(surveyed(rows), PLAN.wired)["B"][2]
    assert path.emf_sum == pytest.approx(4.0) and path.unread == dict.fromkeys(
        ("volts", "ohms"), tuple(sorted(teeth[:2]))
    )
    assert path.sentence == wording("Path B3: volts +0.0 %")


def test_an_open_coil_opens_its_path():
    tooth = PLAN.wired.paths["C"][0][2][0]
    paths = survey_path_differences(surveyed(log(faults={tooth: (0.0, inf)})), PLAN.wired)["C"]
    assert paths[0].ohm_sum == inf == paths[0].ohm_off_percent and paths[1].ohm_off_percent == pytest.approx(0.0)
    # Volts 3, 4, 4 against 11 / 3.
    assert paths[0].sentence == f"Path C1: volts −18.2 % and open at tooth {tooth} against the mean of its phase."


def test_two_paths_by_hand():
    # 1 V drives through 0.3 + 0.3 Ω and 0.4 + 0.4 Ω of reactance: 1 / |0.6 + 0.8j| = 1 A in both.
    assert circulating_amps([10.0, 9.0], 0.3, 0.4) == pytest.approx([1.0, 1.0])
    assert circulating_amps([10.0, 10.0, 10.0], [0.3, 0.5, 0.9], 0.4) == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)


def test_an_open_path_carries_nothing_and_a_single_one_neither():
    assert circulating_amps([10.0, 9.0, 5.0], [0.3, 0.3, inf], 0.4) == pytest.approx([1.0, 1.0, 0.0])
    assert circulating_amps([10.0, 9.0], inf, 0.4) == pytest.approx([0.0, 0.0])
    assert circulating_amps(10.0, 0.3, 0.4) == pytest.approx([0.0], abs=1e-12)


path_lists = st.integers(2, 6).flatmap(
    lambda n: st.tuples(*(st.lists(st.floats(a, b), min_size=n, max_size=n) for a, b in ((0, 50), (0.05, 5), (0, 20))))
)


@given(path_lists)
def test_paths_against_a_linear_solve(lists):
    volts, ohms, reactance = map(np.array, lists)
    # Unknowns: the currents and the terminal volts; E_k − Z_k I_k = U, Σ I = 0 (Kirchhoff).
    size = len(volts)
    matrix = np.zeros((size + 1, size + 1), complex)
    matrix[:size, :size], matrix[:size, size], matrix[size, :size] = np.diag(ohms + 1j * reactance), 1.0, 1.0
    amps = np.linalg.solve(matrix, np.append(volts, 0.0))[:size]
    assert circulating_amps(volts, ohms, reactance) == pytest.approx(np.abs(amps), rel=1e-9, abs=1e-9)
    many = circulating_amps(np.array([volts, 2.0 * volts]), ohms, reactance)
    assert many == pytest.approx(np.array([1.0, 2.0])[:, None] * np.abs(amps), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    "values, said",
    [
        (([10, 9], [0.3, 0.3, 0.3], 0.4), wording("numbers of paths that do")),
        (([10, 9], [0.0, 0.3], 0.0), wording("a path without resistance and")),
        (([10, 9], [-0.1, 0.3], 0.4), wording("a path without resistance and")),
        (([10, inf], 0.3, 0.4), wording("a number that is not")),
    ],
)
def test_paths_that_make_no_sense_are_refused(values, said):
    sentence = f"parallel paths: {said}; give the volts, ohms and reactance of each path again."
    with pytest.raises(BadInput, match=exactly(sentence)):
        circulating_amps(*values)


def test_a_path_needs_ohms_or_reactance_and_not_both():
    # By hand, two paths 3 V apart: 3 V over both impedances drives 1.5 A round with 1 Ω or 1 Ω of reactance in each.
    for ohms, reactance in ((1.0, 0.0), (0.0, 1.0)):
        assert circulating_amps([3.0, 0.0], ohms, reactance) == pytest.approx([1.5, 1.5])
    # A path without either beside one with ohms is none of the two.
    with pytest.raises(BadInput, match="without resistance and reactance"):
        circulating_amps([3.0, 0.0], [1.0, 0.0], 0.0)
    with pytest.raises(BadInput, match="with ohms below 0"):
        circulating_amps([3.0, 0.0], [1.0, -0.1], 1.0)
