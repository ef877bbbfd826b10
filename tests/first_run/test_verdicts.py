"""Verdicts on causes as ranked by hand: what is sure, what is a rival, how it is said; and what rows and ± must be."""

from datetime import date

import numpy as np
import pytest

from samples.run_samples import logged, machine_built
from statorbook.bench.logs import blank_row
from statorbook.cautions import STILL, Instruction, text_of
from statorbook.first_run import ranking
from statorbook.first_run.case import run_case
from statorbook.first_run.causes import OHMS, WARMTH, Cause
from statorbook.first_run.flows import Deviation
from statorbook.first_run.misfit import misfit_table, misfits
from statorbook.first_run.ranking import Ranked, Verdict, verdict_on
from statorbook.first_run.refine import least_misfit, refined
from statorbook.first_run.rows import read_run
from statorbook.first_run.words import verdict_words


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    return machine_built(tmp_path_factory.mktemp("data"), "spring_pipe")


@pytest.fixture(scope="module")
def case(built):
    machine, grouping, _coil = built
    rows = logged(machine, grouping, np.random.default_rng(1), open_rpm=(300,))
    return run_case(machine, grouping, read_run(rows, machine.stator, machine.drive))


def found(*names, total=1.0, move=1.0, luck=10.0):
    """One cause or two, each so many sigma off, that leave so much."""
    causes = tuple(
        Cause(
            name=name,
            field="emf_share",
            rest=1.0,
            low=0.4,
            high=1.8,
            sigma=0.1,
            tell=Instruction(f"look at {name}", STILL),
        )
        for name in names
    )
    values = tuple(1.0 - 0.1 * move for _ in names)
    return Ranked(causes=causes, values=values, misfit=total, total=total, luck=luck)


ONE, OTHER = found("magnets"), found("drag", total=1.5)
PAIR = found("magnets", "drag")


@pytest.mark.parametrize(
    ("same", "rivals", "sure"),
    [
        ((ONE,), (), True),
        ((ONE, OTHER), (), False),
        ((ONE,), (PAIR,), False),
        ((PAIR,), (), False),
        ((found("magnets", luck=0.5),), (), False),
        ((), (), False),
    ],
)
def test_one_cause_is_sure_when_it_explains_all_and_nothing_else_does(same, rivals, sure):
    assert Verdict(ranked=same, same=same, rivals=rivals).sure is sure


# Beside the best, which leaves 1 of a luck of 10: a pair within 4 (two sigma) that names another cause is a rival; one
# further off is none, nor one whose second cause hardly moves, nor one of causes that are named already.
def test_a_pair_that_fits_as_well_and_names_another_cause_is_a_rival(monkeypatch):
    near, far = found("magnets", "ohms", total=4.9), found("magnets", "cable", total=5.1)
    idle, known = found("magnets", "henries", total=2.0, move=0.6), found("magnets", "drag", total=2.0)
    monkeypatch.setattr(ranking, "as_promised", lambda case, coil_part: False)
    monkeypatch.setattr(ranking, "rank_causes", lambda case, coil_part: (ONE, OTHER))
    monkeypatch.setattr(ranking, "rank_pairs", lambda case, coil_part: (idle, known, near, far))
    told = verdict_on(None)
    assert (told.same, told.rivals) == ((ONE, OTHER), (near,))
    assert not told.sure and not told.takes_two


def test_a_sure_cause_is_to_be_proved_and_an_unsure_one_settled():
    sure, tied = (
        Verdict(ranked=(ONE,), same=(ONE,), rivals=()),
        Verdict(ranked=(ONE, OTHER), same=(ONE, OTHER), rivals=()),
    )
    assert "To prove it: look at magnets." in text_of(verdict_words(sure))
    assert "To settle it: look at magnets." in text_of(verdict_words(tied))
    warm, joint = found(WARMTH), found(OHMS, total=1.5)
    both = text_of(verdict_words(Verdict(ranked=(warm, joint), same=(warm, joint), rivals=())))
    assert "temperature was not read" in both and "To settle it" not in both
    first, last = (
        ((warm, joint, OTHER), "temperature was not read"),
        ((ONE, warm, joint), "To settle it: look at magnets"),
    )
    for same, words in (first, last):
        assert words in text_of(verdict_words(Verdict(ranked=same, same=same, rivals=())))


def test_no_amps_are_open_leads_and_amps_with_volts_are_enough(built):
    machine, _grouping, _coil = built
    cells = [
        {"speed_rpm": "300", "line_volts": "30", "dc_amps": "0"},
        {"speed_rpm": "900", "dc_amps": "10", "dc_volts": "52"},
        {"speed_rpm": "900"},
    ]
    still, charging, nothing = read_run([blank_row("run") | row for row in cells], machine.stator, machine.drive)
    assert still.open_leads and not still.charging and charging.charging
    assert ["nothing to compare yet" in " ".join(row.warnings) for row in (still, charging, nothing)] == [
        False,
        False,
        True,
    ]


# Readings only add to what the bench knew: no ± grows.
def test_refined_constants_are_known_no_worse_than_at_the_bench(case, built):
    coil, made = built[2], refined(case, built[2], date(2026, 7, 1))
    for name in ("emf_plus_minus_v_per_rpm", "ohm_plus_minus", "henry_plus_minus"):
        assert 0.0 < getattr(made, name) <= getattr(coil, name) * (1.0 + 1e-6)
    assert least_misfit(case) == pytest.approx(np.sum(misfits(case) ** 2))
    # Nothing moved is one of the fits tried; each meter's own error counts once there, not once a row.
    assert 0.0 < least_misfit(case, coil) <= np.sum(misfit_table(case, [Deviation()], own=True) ** 2)
