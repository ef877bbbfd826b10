"""Verdicts on causes as ranked by hand: what is sure, what is a rival, how it is said; and what rows and ± must be."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from samples.run_samples import logged, machine_built
from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.cautions import STILL, Instruction, text_of
from statorbook.first_run import ranking
from statorbook.first_run.case import run_case
from statorbook.first_run.causes import OHMS, WARMTH, Cause
from statorbook.first_run.flows import Deviation
from statorbook.first_run.misfit import misfit_table, misfits
from statorbook.first_run.ranking import Ranked, Verdict, alike, left_by_luck, rank_causes, rank_pairs, verdict_on
from statorbook.first_run.refine import least_misfit, refined
from statorbook.first_run.rows import read_run
from statorbook.first_run.words import verdict_words

wording = sentences_of("first_run")


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


# One cause that leaves 20 of a luck of 10, or 1: two are named when no single one will do and they are better by more
# than 4, two sigma.
@pytest.mark.parametrize(
    ("single", "pair", "two"),
    [
        (found("magnets", total=20.0), found("magnets", "drag", total=15.9), True),
        (found("magnets", total=20.0), found("magnets", "drag", total=16.1), False),
        (found("magnets", total=9.0), found("magnets", "drag", total=0.5), False),
        (found("magnets", total=20.0), None, False),
    ],
)
def test_two_causes_are_named_when_one_leaves_too_much_and_two_far_less(monkeypatch, single, pair, two):
    monkeypatch.setattr(ranking, "as_promised", lambda case, coil_part: False)
    monkeypatch.setattr(ranking, "rank_causes", lambda case, coil_part: (single,))
    monkeypatch.setattr(ranking, "rank_pairs", lambda case, coil_part: (pair,) if pair else ())
    told = verdict_on(None)
    assert told.takes_two is two and told.same == ((pair,) if two else (single,)) and told.ranked == (single,)
    monkeypatch.setattr(ranking, "as_promised", lambda case, coil_part: True)
    assert verdict_on(None) is None


# Beside the best, which leaves 1: within 4 in all, or within 4 of what is left while the move is not beyond four sigma,
# squared 16.
@pytest.mark.parametrize(
    ("misfit", "total", "same"),
    [(4.0, 4.9, True), (1.0, 5.1, True), (5.1, 5.1, False), (4.9, 20.8, True), (4.0, 20.1, False)],
)
def test_what_these_readings_do_not_tell_apart(misfit, total, same):
    other = replace(OTHER, misfit=misfit, total=total)
    assert alike((ONE, other)) == ((ONE, other) if same else (ONE,))


def test_a_pair_says_both_and_is_as_far_as_the_one_that_moved_least():
    causes, luck = found("magnets", "drag").causes, 10.0
    pair = Ranked(causes=causes, values=(0.8, 1.05), misfit=9.9, total=12.0, luck=luck)
    assert pair.words == wording("magnets: 20 % less together with")
    assert pair.least_move == pytest.approx(0.5) and pair.price == pytest.approx(2.1)  # sigma 0.1
    assert pair.tell.text == wording("look at magnets; and") and pair.explains
    assert replace(pair, misfit=10.0).explains and not replace(pair, misfit=10.1).explains


@pytest.mark.outside(
    "upper 5 % points of chi-square",
    source="NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4",
    number="3.841, 5.991, 7.815 and 18.307 for 1, 2, 3 and 10 degrees of freedom",
    tolerance="as printed",
    seen="from memory",
)
def test_what_luck_alone_leaves_once_in_twenty(case):
    for freedom, most in ((0, 3.841), (1, 3.841), (2, 5.991), (3, 7.815), (10, 18.307)):
        assert left_by_luck(freedom) == pytest.approx(most, abs=5e-4)
    one, two = rank_causes(case)[0], rank_pairs(case)[0]
    readings = len(misfits(case))
    assert (one.luck, two.luck) == (left_by_luck(readings - 1), left_by_luck(readings - 2))


def test_no_cause_is_paired_with_itself_nor_warm_copper_with_a_bad_joint(case):
    case = run_case(case.machine, case.grouping, 3 * case.readings)  # so many rows feel every cause
    named = [set(pair.names) for pair in rank_pairs(case)]
    singles = {one.names[0] for one in rank_causes(case)}
    assert {WARMTH, OHMS} <= singles and {WARMTH, OHMS} not in named
    assert len(named) == len(singles) * (len(singles) - 1) // 2 - 1 and all(len(names) == 2 for names in named)


def test_what_is_left_unexplained_is_said_with_its_numbers():
    lost = found("magnets", total=30.4)
    said = verdict_words(Verdict(ranked=(lost,), same=(lost,), rivals=()))
    assert said.text == wording("No cause explains it, alone") and said.exposures == STILL
    tied = Verdict(ranked=(ONE, OTHER), same=(ONE, OTHER), rivals=(PAIR, found("ohms", "drag"), found("ohms", "cable")))
    assert verdict_words(tied).text == wording("These readings cannot tell apart: magnets")
    alone = Verdict(ranked=(ONE,), same=(ONE,), rivals=())
    assert verdict_words(alone).text == wording("It is best explained by")
    assert verdict_words(None) == wording("The rows used differ from the promise by no")


@pytest.mark.parametrize(
    ("same", "others"),
    [
        ((found("magnets", "drag"),), ""),
        ((found("magnets", "drag"), PAIR), wording("1 other pair fits")),
        ((found("magnets", "drag"), PAIR, PAIR), wording("2 other pairs fit")),
    ],
)
def test_two_causes_are_a_hint_and_no_finding(same, others):
    single = found("ohms", total=24.0)
    said = verdict_words(Verdict(ranked=(single,), same=same, rivals=())).text
    hint = wording("Take this as a hint: look")
    assert said == " ".join(filter(None, (wording("No single cause explains it: ohms"), others, hint)))
    doubtful = tuple(replace(each, misfit=12.3) for each in same)
    said = verdict_words(Verdict(ranked=(single,), same=doubtful, rivals=())).text
    assert said.count(wording("Even so 12 is left")) == 1


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
