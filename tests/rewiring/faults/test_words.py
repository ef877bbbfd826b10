"""Faults in words: which are named together and how, what hides behind healthy readings, what is to be done."""

import pytest

from samples.fault_samples import coils_at, winding
from sentences import sentences_of
from statorbook.rewiring.faults.evidence import prior
from statorbook.rewiring.faults.finder import Candidate, Measured, find_faults
from statorbook.rewiring.faults.single_faults import REMEDIES, single_faults
from statorbook.rewiring.faults.table import fault_table
from statorbook.rewiring.faults.words import (
    hidden_words,
    named_together,
    remedies,
    sentence_of,
    told_apart_only_by_parting,
)

wording = sentences_of("rewiring")

CHAINS = winding(36, 48, 4, 3, "star")  # teeth 1, 4, 7, 10 are path A1, 2, 5, 8, 11 are C1
DELTA = winding(12, 14, 2, 2, "delta")


def faults_of(wired, kind, *places):
    return [each for each in single_faults(wired) if each.kind == kind and (not places or each.where in places)]


# One of each kind, in star and in delta: lead A, path A1, phase A. In delta the far ends of A belong on lead B.
@pytest.mark.parametrize(
    ("wired", "kind", "where", "words"),
    [
        (CHAINS, "coil reversed", "7", "coil 7 in path A1 is reversed"),
        (CHAINS, "coil open", "7", "coil 7 in path A1 is open"),
        (CHAINS, "quarter of the turns shorted", "7", wording("a quarter of coil 7")),
        (CHAINS, "all turns shorted", "7", wording("all of coil 7")),
        (CHAINS, "leads exchanged", "C-A", "the leads C and A are exchanged"),
        (CHAINS, "lead open", "A", wording("the cable of lead A")),
        (CHAINS, "star leg missing", "A", wording("phase A and the star point")),
        (CHAINS, "path left out", "A1", wording("path A1 is left out")),
        (CHAINS, "path reversed", "A1", wording("path A1 reversed")),
        (CHAINS, "path in the wrong phase", "A1 in B", "path A1 is joined to phase B"),
        (CHAINS, "paths exchanged", "A1 with B2", "the paths A1 and B2 are exchanged"),
        (DELTA, "corner open", "A", wording("the delta is open at phase A")),
        (DELTA, "phase reversed", "A", wording("phase A reversed")),
        (DELTA, "far ends on the wrong corner", "A on A", wording("far ends of A on A")),
        (DELTA, "far ends on the wrong corner", "A on C", wording("far ends of A on C")),
    ],
)
def test_one_fault_in_words(wired, kind, where, words):
    (fault,) = faults_of(wired, kind, where)
    assert fault.words == named_together([fault], wired) == words
    assert fault.remedy is REMEDIES[kind]


@pytest.mark.parametrize(
    ("kind", "places", "words"),
    [
        ("lead open", ("A", "B"), wording("two leads")),
        ("star leg missing", ("A", "C"), wording("two legs")),
        ("path left out", ("A1", "B3", "A2"), wording("three paths left out")),
        ("path reversed", ("A1", "A3"), wording("two paths reversed")),
        ("phase reversed", ("B", "C"), wording("two phases reversed")),
        ("path in the wrong phase", ("A1 in B", "A1 in C"), wording("in the wrong phase")),
        ("coil reversed", ("1", "4"), wording("two coils of one path")),
        ("coil open", ("1", "2"), wording("two coils of two paths")),
        ("coil open", ("1", "4", "7", "10"), wording("a whole path's coils")),
    ],
)
def test_several_of_a_kind_in_words(kind, places, words):
    assert named_together(faults_of(CHAINS, kind, *places), CHAINS) == words


def test_whole_phases_and_long_lists_in_words():
    reversed_coils = {
        name: [f for f in faults_of(CHAINS, "coil reversed") if f.path[0] in name] for name in ("A", "AB")
    }
    assert named_together(reversed_coils["A"], CHAINS) == wording("coils of one phase")
    assert named_together(reversed_coils["AB"], CHAINS) == wording("coils of two phases")
    assert named_together(faults_of(CHAINS, "coil reversed"), CHAINS) == wording("coils of all phases")
    # Of a list no more than twelve are named, of paths four.
    single = winding(36, 48, 1, 12, "star")
    assert named_together(faults_of(single, "path left out"), single) == wording("36 paths")
    eleven = [fault for fault in faults_of(single, "coil open") if fault.path[0] == "A"][:11]
    assert named_together(eleven, single) == wording("eleven coils")


def test_shares_of_dead_turns_are_one_clause_and_kinds_are_parted_by_or():
    some = [faults_of(CHAINS, kind, "7")[0] for kind in ("quarter of the turns shorted", "half of the turns shorted")]
    assert named_together(some, CHAINS) == wording("some turns of coil 7")
    half = faults_of(CHAINS, "half of the turns shorted", "1", "4")
    assert named_together(half, CHAINS) == wording("half of one of two coils")
    mixed = [*faults_of(CHAINS, "coil open", "7"), *faults_of(CHAINS, "lead open", "A")]
    assert named_together(mixed, CHAINS) == wording("a coil or a lead")
    healthy = [*faults_of(CHAINS, "no fault"), *faults_of(CHAINS, "leads exchanged")]
    assert named_together(healthy, CHAINS) == "nothing is wrong"


def test_what_harms_is_mended_and_nothing_else():
    (nothing,), swapped = faults_of(CHAINS, "no fault"), faults_of(CHAINS, "leads exchanged")[:1]
    coil = faults_of(CHAINS, "coil open", "1", "4")
    assert remedies([nothing, *coil]).text == f"{REMEDIES['coil open'].text}."
    assert str(remedies([nothing, *swapped])) != "" and "order of the phases" in str(remedies([nothing, *swapped]))


def test_twins_are_parted_where_no_meter_tells_them_apart():
    (nothing,), swapped = faults_of(CHAINS, "no fault"), faults_of(CHAINS, "leads exchanged")[:1]
    coils, paths = faults_of(CHAINS, "coil open", "1", "4"), faults_of(CHAINS, "path left out", "A1", "A2")
    assert told_apart_only_by_parting(coils[:1]) == "" == told_apart_only_by_parting([nothing, *swapped])
    assert told_apart_only_by_parting([nothing, *coils]).text.startswith(wording("No meter can tell, part"))
    assert told_apart_only_by_parting(paths).text == wording("No meter can tell, trace")


def candidate(*faults, chance, words="something else"):
    return Candidate(faults=faults, words=words, chance=chance, misfit=0.0)


def test_what_healthy_readings_may_hide():
    (nothing,), coils = faults_of(CHAINS, "no fault"), faults_of(CHAINS, "coil open", "1", "4")
    other = candidate(*coils, chance=0.01)
    assert hidden_words([candidate(nothing, chance=0.98), other], CHAINS) == "something else"
    assert hidden_words([candidate(nothing, chance=0.99), other], CHAINS) == ""
    assert hidden_words([candidate(nothing, chance=0.98)], CHAINS) == ""
    assert hidden_words([candidate(*coils, chance=0.98), other], CHAINS) == ""
    assert hidden_words([candidate(nothing, coils[0], chance=0.99), other], CHAINS) == coils[0].words


def test_how_sure_it_is_and_when_to_keep_measuring():
    table, (coil,) = fault_table(CHAINS, coils_at(CHAINS)(60.0)), faults_of(CHAINS, "coil open", "7")
    (nothing,), twins = faults_of(CHAINS, "no fault"), faults_of(CHAINS, "coil open", "7", "10")
    keep, sure = wording("Keep measuring before"), wording("Most likely, coil 7 open")
    for chance, said in ((0.5, "50 %"), (0.99, "99 %"), (0.995, "over 99 %")):
        words = sentence_of([candidate(coil, chance=chance, words=coil.words)], table, CHAINS, more=False)
        assert words.text.startswith(sure.replace("99 %", said, 1))
    for chance, more, waits in ((0.98, True, True), (0.98, False, False), (0.99, True, False)):
        words = sentence_of([candidate(coil, chance=chance, words=coil.words)], table, CHAINS, more=more)
        assert str(words).endswith(keep) is waits, (chance, more)
    # Two coils that another reading would part: measure first.
    assert str(sentence_of([candidate(*twins, chance=1.0, words="x")], table, CHAINS, more=True)).endswith(keep)
    apart = fault_table(CHAINS, coils_at(CHAINS)(60.0), apart=True)
    other = candidate(coil, chance=0.05)
    said = [sentence_of([candidate(nothing, chance=0.95), other], each, CHAINS, more=False) for each in (table, apart)]
    assert said == [wording("healthy as far"), wording("sound paths as far")]
    assert not sentence_of([candidate(nothing, chance=1.0)], table, CHAINS, more=False).endswith("go.")


# Seven tenths for a machine that can run; all slips alike, but a path is a slip once in however many pairs it stands:
# 6 paths in 12 pairs make six slips.
@pytest.mark.parametrize("wired", [DELTA, CHAINS, winding(12, 14, 4, 1, "star")])
def test_chances_before_the_first_reading(wired):
    table = fault_table(wired, coils_at(wired)(60.0))
    chance = dict(zip(table.faults, prior(table), strict=True))
    harmless = [value for fault, value in chance.items() if fault.harmless]
    assert sum(harmless) == pytest.approx(0.7) and harmless == pytest.approx([0.175] * 4)
    pairs = [value for fault, value in chance.items() if fault.kind == "paths exchanged"]
    slips = [value for fault, value in chance.items() if not fault.harmless and fault.kind != "paths exchanged"]
    assert slips == pytest.approx([slips[0]] * len(slips)) and sum(slips) + sum(pairs) == pytest.approx(0.3)
    assert sum(pairs) == pytest.approx(len(wired.named_paths) * slips[0] if pairs else 0.0)


# A tenth of a decade apart, the nearest of them: 10^1.8 = 63.1, 10^1.7 = 50.1; the edge between is 10^1.75 = 56.2.
@pytest.mark.parametrize(("speed_rpm", "table_rpm"), [(60.0, 63.096), (56.3, 63.096), (56.2, 50.119), (1.0, 1.0)])
def test_one_table_serves_speeds_that_are_near_each_other(speed_rpm, table_rpm):
    asked, coils = [], coils_at(DELTA)
    reading = Measured(name="A-B", kind="volts", value=12.0, speed_rpm=speed_rpm)
    find_faults(DELTA, lambda rpm: (asked.append(rpm), coils(rpm))[1], [reading])
    assert asked == pytest.approx([table_rpm], rel=1e-4)
