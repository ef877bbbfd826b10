"""Every single fault as a circuit: counted and worked by hand, then by an independent circuit at every place."""

from collections import Counter
from math import inf, isnan, pi, sqrt

import numpy as np
import pytest

from samples.fault_samples import LARGE, RPM, SMALL, bench, coils_at, label, winding
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.rewiring.faults.single_faults import REMEDIES, single_faults
from statorbook.rewiring.faults.table import fault_table, place_named, places_to_measure, require_place
from statorbook.rewiring.probes import ALONE

wording = sentences_of("rewiring")


def coils_of(wired):
    return coils_at(wired)(RPM)


def fault_of(wired, kind, where, *, apart=False):
    return next(each for each in single_faults(wired, apart=apart) if (each.kind, each.where) == (kind, where))


# Counted by hand for 12 coils: 6 things can be wrong with each coil, so 72; "no fault" 1; leads exchanged 3; lead open
# 3; star leg or delta corner 3; phase reversed 3; every path to one of two other phases. With 2 paths also: left out 6,
# reversed 6, exchanged 3 pairs of phases × 2 × 2 = 12. In delta the far ends of 3 phases on one of 2 wrong leads: 6.
@pytest.mark.parametrize(
    "series, parallel, connection, count",
    [(4, 1, "star", 91), (4, 1, "delta", 97), (2, 2, "star", 121), (2, 2, "delta", 127)],
)
def test_every_kind_at_every_place_once(series, parallel, connection, count):
    faults = single_faults(winding(12, 14, series, parallel, connection))
    assert len(faults) == count
    assert faults[0].kind == "no fault"
    assert max(Counter((each.kind, each.where) for each in faults).values()) == 1
    assert {each.kind for each in faults} <= set(REMEDIES)
    assert [each.kind for each in faults if each.harmless] == ["no fault", *["leads exchanged"] * 3]


def test_while_paths_are_apart_only_coils_can_be_wrong():
    faults = single_faults(winding(12, 14, 2, 2, "star"), apart=True)
    assert len(faults) == 73
    assert not any(each.moves for each in faults)


# By hand, 36 slots and 48 poles, all coils of a phase in phase: n coils of 3 V and 1 Ω in series make 3n V and n Ω.
@pytest.mark.parametrize(
    "kind, where, volts, ohms",
    [
        ("no fault", "", 36.0, 12.0),
        ("coil reversed", "1", 30.0, 12.0),  # 11 − 1 = 10 coils' volts
        ("half of the turns shorted", "1", 34.5, 11.5),
        ("lead open", "A", None, inf),
        ("coil open", "1", None, inf),
    ],
)
def test_one_chain_by_hand(kind, where, volts, ohms):
    wired = winding(36, 48, 12, 1, "star")
    made = fault_of(wired, kind, where).finished(wired, coils_of(wired))
    shown = made.volts_rms("lead A", "star point")
    assert isnan(shown) if volts is None else shown == pytest.approx(volts)
    assert made.ohms("lead A", "star point") == pytest.approx(ohms)


# By hand (Millman), three equal paths of four coils in phase, bus volts = mean of the paths' volts.
@pytest.mark.parametrize(
    "kind, where, volts, ohms",
    [
        ("coil reversed", "1", (6 + 12 + 12) / 3, 4 / 3),
        ("coil open", "1", 12.0, 2.0),
        ("path left out", "A1", 12.0, 2.0),
        ("path reversed", "A1", (12 + 12 - 12) / 3, 4 / 3),
        ("phase reversed", "A", 12.0, 4 / 3),
        # A has a fourth path of B, 120° off: |3 + (−1/2 ± j√3/2)| / 4 = √7 / 4.
        ("path in the wrong phase", "B1 in A", 12 * sqrt(7) / 4, 1.0),
        # One of three is 120° off: |2 + (−1/2 ± j√3/2)| / 3 = √3 / 3.
        ("paths exchanged", "A1 with B2", 12 * sqrt(3) / 3, 4 / 3),
        ("leads exchanged", "A-B", 12.0, 4 / 3),
    ],
)
def test_parallel_paths_by_hand(kind, where, volts, ohms):
    wired = winding(36, 48, 4, 3, "star")
    made = fault_of(wired, kind, where).finished(wired, coils_of(wired))
    assert made.volts_rms("lead A", "star point") == pytest.approx(volts)
    assert made.ohms("lead A", "star point") == pytest.approx(ohms)


# By hand: a phase of 36 V, 12 Ω. Reversed in star, 36 V at 60° instead of 120°; in delta the ring then drives
# |1 + a + a² − 2| × 36 = 72 V round 3 equal impedances, 24 V in each, so that each line is |36∠ − 24∠| along the ring.
def test_a_reversed_phase_by_hand():
    star = winding(36, 48, 12, 1, "star")
    made = fault_of(star, "phase reversed", "A").finished(star, coils_of(star))
    assert made.volts_rms("lead A", "lead B") == pytest.approx(36.0)
    assert made.volts_rms("lead B", "lead C") == pytest.approx(36.0 * sqrt(3.0))
    delta = winding(36, 48, 12, 1, "delta")
    made = fault_of(delta, "phase reversed", "A").finished(delta, coils_of(delta))
    # The reversed phase: −36 + 24 = 12 V; the two others: |36∠120° + 24| = 12 √7 V.
    shown = sorted(made.volts_rms(f"lead {one}", f"lead {other}") for one, other in ("AB", "BC", "CA"))
    assert shown == pytest.approx([12.0, 12.0 * sqrt(7.0), 12.0 * sqrt(7.0)])
    impedance = abs(complex(1.0, 2.0 * pi * 24 * 0.006))
    assert made.amps_rms(1) == pytest.approx(72.0 / 36.0 / impedance)


def test_an_open_delta_keeps_its_volts_and_trebles_its_ohms():
    wired = winding(36, 48, 12, 1, "delta")
    made = fault_of(wired, "corner open", "A").finished(wired, coils_of(wired))
    # By hand: between A and B the two other phases in series, 24 Ω instead of 8 Ω, and 36 V as before.
    assert made.ohms("lead A", "lead B") == pytest.approx(24.0)
    assert made.ohms("lead B", "lead C") == pytest.approx(12.0)
    assert made.volts_rms("lead A", "lead B") == pytest.approx(36.0)


def test_a_path_alone_shows_its_coils_but_not_how_it_is_joined():
    wired = winding(36, 48, 4, 3, "star")
    first, last = places_to_measure(wired)["A1"].places
    for kind, where, volts in (("coil reversed", "1", 6.0), ("path reversed", "A1", 12.0), ("no fault", "", 12.0)):
        made = fault_of(wired, kind, where).paths_alone(wired, coils_of(wired))
        assert made.volts_rms(first, last) == pytest.approx(volts)


def compared_with_judge(wired, forgotten):
    """Ohms and volts of table and judge at every place for every fault that the judge makes differently."""
    table = fault_table(wired, coils_of(wired))
    now = [name for name, probe in table.probes.items() if probe.when != ALONE]
    columns = [table.columns[name] for name in now]
    for row, fault in enumerate(table.faults):
        if forgotten == "start" and fault.kind not in ("path left out", "corner open"):
            continue
        judge = bench(wired, (fault.kind, fault.where), forgotten=forgotten)
        read = np.array([judge.read(*map(label, table.probes[name].places)) for name in now])
        for values, said in ((table.ohms, read[:, 0]), (table.line_volts_rms, read[:, 1])):
            # A full short is a tenth of a milliohm for one and a hundredth for the other.
            np.testing.assert_allclose(values[row, columns], said, rtol=1e-3, atol=2e-3, err_msg=fault.words)


@pytest.mark.parametrize("series, parallel, connection", SMALL)
@pytest.mark.parametrize("forgotten", ["far", "start"])
def test_an_independent_circuit_agrees_at_every_place(series, parallel, connection, forgotten):
    compared_with_judge(winding(12, 14, series, parallel, connection), forgotten)


@pytest.mark.slow
@pytest.mark.parametrize("series, parallel, connection", LARGE)
def test_an_independent_circuit_agrees_on_a_large_stator(series, parallel, connection):
    for forgotten in ("far", "start"):
        compared_with_judge(winding(36, 48, series, parallel, connection), forgotten)


def test_the_judge_agrees_while_paths_are_apart():
    wired = winding(12, 14, 2, 2, "star")
    table = fault_table(wired, coils_of(wired), apart=True)
    assert "A-B" not in table.probes
    for row, fault in enumerate(table.faults):
        judge = bench(wired, (fault.kind, fault.where), apart=True)
        read = np.array([judge.read(*map(label, probe.places)) for probe in table.probes.values()])
        np.testing.assert_allclose(table.ohms[row], read[:, 0], rtol=1e-3, atol=2e-3, err_msg=fault.words)
        np.testing.assert_allclose(table.line_volts_rms[row], read[:, 1], rtol=1e-3, atol=2e-3, err_msg=fault.words)


def test_the_judge_can_disagree():
    wired = winding(12, 14, 2, 2, "star")
    made = fault_of(wired, "coil reversed", "1").finished(wired, coils_of(wired))
    other = bench(wired, ("coil reversed", "2")).read("1S", "1F")[1]
    assert abs(made.volts_rms(*places_to_measure(wired)["tooth 1"].places) - other) > 0.5


def test_twins_that_no_meter_can_tell_apart():
    one_coil = winding(36, 48, 1, 12, "star")
    table = fault_table(one_coil, coils_of(one_coil))
    rows = [row for row, each in enumerate(table.faults) if each.kind == "coil reversed" and each.path[0] == "A"]
    # Twelve coils side by side on two buses show the same volts and ohms, whichever of them is turned round.
    assert len(rows) == 12 and len(set(table.alike[rows])) == 1
    chains = winding(36, 48, 4, 3, "star")
    table = fault_table(chains, coils_of(chains))
    rows = [row for row, each in enumerate(table.faults) if each.kind == "coil reversed"]
    assert len(set(table.alike[rows])) == 36
    assert {table.faults[row].kind for row in np.flatnonzero(table.alike == 0)} == {"no fault", "leads exchanged"}


def test_a_place_is_found_however_it_is_typed():
    wired = winding(36, 48, 4, 3, "star")
    assert place_named(wired, "1s 4f").name == "1S-4F"
    assert place_named(wired, "4F-1S").name == "1S-4F"
    assert place_named(wired, "b a").name == "A-B"
    assert place_named(wired, "7").name == "tooth 7"


def test_a_lead_is_refused_while_paths_are_apart():
    wired = winding(36, 48, 4, 3, "star")
    assert require_place(wired, "A2", apart=True).name == "A2"
    assert require_place(wired, "A-B").name == "A-B"
    sentence = wording("between: A-B was given; while")
    with pytest.raises(BadInput, match=exactly(sentence)):
        require_place(wired, "A-B", apart=True)
