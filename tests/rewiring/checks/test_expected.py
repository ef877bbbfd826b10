"""What the meter should say at every step: by hand, by an independent solution, and with noisy healthy machines."""

from dataclasses import replace
from math import hypot, inf, isinf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judges import coil_nodes
from rewiring.test_circuit import PLANS, name_of, planned, wires_after
from samples.job_samples import sample
from sentences import exactly, sentences_of
from statorbook.bench.logs import blank_row
from statorbook.cautions import Exposure, Instruction
from statorbook.errors import BadInput
from statorbook.quantities.facts import Fact
from statorbook.rewiring import joining_limit as limits
from statorbook.rewiring.checks import bands as check_bands
from statorbook.rewiring.checks import expected as module
from statorbook.rewiring.checks.bands import MeterCheck, insulation_row, numbers_in_words, ohm_band, volt_band
from statorbook.rewiring.checks.expected import bench_checks
from statorbook.rewiring.checks.rows import read_checks
from statorbook.rewiring.checks.verdicts import compare_readings, doubts, stops, verdict_words
from statorbook.rewiring.circuit import CoilCircuit, coil_values
from statorbook.rewiring.joining_limit import circulating_amps_of, parallel_limit
from statorbook.rewiring.plan import cut_and_join
from statorbook.rewiring.probes import probe_named
from statorbook.rewiring.work_steps import steps, ties_after
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import found_from_words, found_wiring
from strategies import stators

wording = sentences_of("rewiring")

COIL = sample("coil")  # 0.02 ± 0.001 V/rpm, 0.5 ± 0.01 Ω, 3 mH
COPPER = sample("stator")
LOOK = Instruction("Look.", harmless="looking")


def checks_of(plan, made, copper_c=20.0, hand_rpm=60.0, coil=COIL, **options):
    return bench_checks(plan, made, coil, COPPER, copper_c, hand_rpm, **options)


def made_plan(stator, before, after, layout="neighbours"):
    plan = cut_and_join(found_wiring(stator, before), after, layout)
    return plan, steps(plan)


def of(checks, name, kind, last=True):
    return [each for each in checks if (each.name, each.kind) == (name, kind)][-1 if last else 0]


# By hand, 36/48 all alike, 12 in series star to 4 in series, 3 paths, star; a coil is 0.5 Ω at 20 °C. Found leads
# 2 × 12 R, a path 4 R, finished leads 2 × 4/3 R, a leg 4/3 R; × (235 + θ)/255 for copper.
# A path makes 4 × 0.02 × 60 V, ferrite at 20 °C, a pair of leads √3 of it; × (1 − 0.002 (θ − 20)) for ferrite.
@pytest.mark.outside(
    "copper's ohms at 5 and 40 °C, meter checks",
    source="IEC 60034-1, resistance method",
    number="240/255, 275/255",
    tolerance="1e-6",
    seen="from memory",
)
@pytest.mark.parametrize("copper_c", [5.0, 20.0, 40.0])
def test_ohms_and_volts_by_hand(copper_c):
    checks = checks_of(*planned(36, 48, "star", (4, 3, "star"), "neighbours"), copper_c)
    ohm, volt = 0.5 * (235.0 + copper_c) / 255.0, 0.02 * 60.0 * (1.0 - 0.002 * (copper_c - 20.0))
    for name, kind, last, expected in (
        ("A-B", "ohms", False, 24.0 * ohm),
        ("B2", "ohms", True, 4.0 * ohm),
        ("B-C", "ohms", True, 8.0 / 3.0 * ohm),
        ("C-star", "ohms", True, 4.0 / 3.0 * ohm),
        ("C3", "volts", True, 4.0 * volt),
        ("C-A", "volts", True, 4.0 * sqrt(3.0) * volt),
    ):
        found = of(checks, name, kind, last)
        assert found.expected == pytest.approx(expected) and found.low < expected < found.high


def test_the_checks_follow_the_work():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    checks = checks_of(plan, made)
    assert [each.step for each in checks] == sorted(each.step for each in checks)
    assert [(each.name, each.step) for each in checks[:3]] == [("A-B", 0), ("B-C", 0), ("C-A", 0)]
    parted = next(step.number for step in made if step.check == "parted")
    # Six cuts by hand: each chain of twelve falls in three; no way round any of them.
    opened = [each for each in checks if each.kind == "ohms" and isinf(each.expected)]
    assert len(opened) == 6 and {(each.step, each.expects) for each in opened} == {(parted, "OL (open)")}
    # 100 kΩ is above any winding and below wet fingers on the probes (common practice, no source).
    assert all(each.lies_in_band(100_000.0) and not each.lies_in_band(99_000.0) for each in opened)
    # Star point first; then, before each lead is made, its two gaps.
    star = next(step.number for step in made if step.kind == "bus")
    gaps = [each for each in checks if each.kind == "volts" and each.low is None]
    assert [each.step for each in gaps] == [star, star, star + 1, star + 1, star + 2, star + 2]
    assert [each.name for each in gaps[:2]] == ["1S-13S", "1S-25S"] and gaps[0].expects == "at most 0.24 V"
    assert all(each.step < star for each in checks if each.kind == "volts" and each.name[1:].isdigit())
    assert [each.kind for each in checks[-6:]] == ["megohm", "look", "volts", "volts", "volts", "look"]
    assert checks[-6].expects == "at least 1 MΩ" and checks[-1].expects == "no reading"
    # How volts are taken is said once, before the first ones; before the last ones only how fast.
    assert [wording("rpm = 60 × Hz") in each.words.text for each in checks].count(True) == 1
    first = next(place for place, each in enumerate(checks) if each.kind == "volts")
    assert wording("rpm = 60 × Hz") in checks[first - 1].words.text


@pytest.mark.parametrize("case", PLANS, ids=lambda case: f"{case[0]}-{case[1]}")
def test_every_check_agrees_with_an_independent_solution(case):
    plan, made = planned(*case)
    slots, poles = case[:2]
    seen, solved = set(), {}
    # One of each kind at each step: the others of a step differ by their phase only.
    for check in checks_of(plan, made):
        if check.kind in ("ohms", "volts") and (check.step, check.kind, check.expects) not in seen:
            seen.add((check.step, check.kind, check.expects))
            wires = wires_after(plan, made, check.step)
            one, other = map(name_of, probe_named(plan.wired, check.name).places)
            tied = other in coil_nodes.reach(slots, wires, one)
            assert tied == (not isinf(check.expected))
            if check.kind == "ohms" and tied:
                assert check.expected == pytest.approx(coil_nodes.ohms(slots, poles, wires, one, other, 0.5))
            if check.kind == "volts":
                if check.step not in solved:
                    solved[check.step] = coil_nodes.solve(slots, poles, wires, ohm=0.5, emf=1.2, reactance=0.45)[0]
                volts = solved[check.step]
                assert check.expected == pytest.approx(abs(volts[one] - volts[other]), abs=1e-9)
    assert len(seen) >= 6


# By hand, 12/14 to a delta of two paths: lead A ties the far ends of C and the starts of A, lead B closes the paths of
# A, lead C those of B and C and the round of the delta, which is left open until then.
def test_a_delta_is_closed_last_and_its_third_harmonic_is_allowed_for():
    plan, made = planned(12, 14, "star", (2, 2, "delta"), "neighbours")
    checks = checks_of(plan, made)
    gaps = [each for each in checks if each.kind == "volts" and each.low is None]
    corner = [each for each in gaps if "loop of the delta" in each.words.text]
    assert len(gaps) == 4 and len(corner) == 1
    path_volts = of(checks, "A1", "volts").expected
    assert corner[0].high == pytest.approx(0.3 * path_volts)
    assert {each.high for each in gaps if each is not corner[0]} == {0.05 * path_volts}
    # A delta of two paths made one of four coils in a row keeps its leads: the last jumper, within a phase, closes it.
    before, after = (
        Grouping(series=2, parallel=2, connection="delta"),
        Grouping(series=4, parallel=1, connection="delta"),
    )
    kept = checks_of(*made_plan(Stator(slots=12, poles=14), before, after))
    (corner,) = [each for each in kept if each.kind == "volts" and each.low is None]
    assert corner.high == pytest.approx(0.3 * of(kept, "A1", "volts").expected)
    # 36/48 coils span 240°, three times that is 720°: no third harmonic, so no allowance.
    plain = checks_of(*planned(36, 48, "star", (12, 1, "delta"), "neighbours"))
    (corner,) = [each for each in plain if each.kind == "volts" and each.low is None]  # one path a phase: no other gap
    assert corner.high == pytest.approx(0.05 * of(plain, "A1", "volts").expected)


# A path alone has the ohms of its 4 coils in a row, 0.5 Ω each; with others beside it there are fewer.
def test_ohms_are_told_by_what_lies_between_the_probes():
    checks = [
        each
        for after in ((4, 3, "star"), (4, 3, "delta"), (12, 1, "star"))
        for each in checks_of(*planned(36, 48, "star", after, "neighbours"))
        if each.kind == "ohms"
    ]
    paths = [each for each in checks if each.group == "Paths, ohms"]
    finished = [each for each in checks if each.group.startswith("Finished winding, ohms")]
    assert paths and finished
    for each in paths:
        coils = 12 if "12 coils" in each.words.text else 4
        alone = each.expected == pytest.approx(0.5 * coils)
        assert alone == ("coils in series" in each.words.text) != ("other coils beside it" in each.words.text)
    for each in finished:
        between = each.name in ("A-B", "B-C", "C-A")
        assert ("between leads" in each.group) == between == ("lead pairs alike" in each.words.text), each.name
        assert ("legs alike" in each.words.text) != between, each.name


@pytest.mark.parametrize(
    "numbers, said", [((4, 5, 15), "4 to 15"), ((None, 7), "7"), ((7,), "7"), ((None, None), ""), ((), "")]
)
def test_the_numbers_of_checks_in_words(numbers, said):
    assert numbers_in_words(numbers) == said


# The 18 teeth of test_plan by hand: both ends of a path are shared, so its last jumper closes a loop.
def test_a_jumper_that_closes_a_loop_has_its_gap_read_first():
    grouping = Grouping(series=2, parallel=3)
    traced = wording("A: 1 13 / 4")
    plan = cut_and_join(found_from_words(Stator(slots=18, poles=24), grouping, traced), grouping, "spread")
    made = steps(plan)
    joins = [step for step in made if step.kind == "join"]
    checks = checks_of(plan, made)
    assert len(joins) == 2
    for step in joins:
        one, other = sorted(step.ends)
        gap = of(checks, f"{one.label}-{other.label}", "volts")
        assert gap.step == step.number - 1 and gap.expected == pytest.approx(0.0, abs=1e-9)
    assert any("look that each wire is parted" in each.words.text for each in checks)


def test_nothing_to_do_has_only_the_last_checks():
    grouping = Grouping(series=3, parallel=1)
    plan, made = made_plan(Stator(slots=9, poles=12), grouping, grouping)
    checks = checks_of(plan, made)
    # A hand turns it once a second unless something else is said.
    assert checks == bench_checks(plan, made, COIL, COPPER, 20.0)
    assert {each.step for each in checks} == {1} and of(checks, "A-B", "ohms").expected == pytest.approx(3.0)


def test_few_ohms_few_hertz_and_few_volts_are_told():
    checks = checks_of(*planned(9, 12, "star", (1, 3, "star"), "neighbours"))
    (low,) = [each for each in checks if "send 1 A through" in each.words.text]
    first = next(each for each in checks if each.kind == "ohms" and not isinf(each.expected) and each.expected < 1.0)
    assert checks.index(low) == checks.index(first) - 1
    # 6 pole pairs at 20 rpm: 2 Hz, 0.4 V.
    slow = checks_of(*planned(9, 12, "star", (1, 3, "star"), "neighbours"), hand_rpm=20.0)
    words = next(each.words.text for each in slow if each.words.text.startswith("Volts:"))
    assert "2 Hz at 20 rpm" in words and "Below 40 Hz" in words and "less than 1 V" in words


# The rotor is taken out or tied in the first step. 36/48 cut to paths of 4 coils of 0.02 V/rpm: two paths that hang
# together make 0.16 V/rpm, so 25 V AC, the limit where dry, at 156 rpm; in star the
# finished leads make 0.139 V/rpm, 180 rpm.
@pytest.mark.outside(
    "volts that may be touched where dry",
    source="IEC 60364-4-41, 414.4.5",
    number="25 V AC",
    tolerance="to the last 10 rpm",
    seen="in a reproduction",
)
def test_the_rotor_is_put_back_and_held_slow_before_volts_are_read_among_cut_ends():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    assert wording("take the rotor out or") in made[0].words.text
    checks = checks_of(plan, made)
    first = next(place for place, each in enumerate(checks) if each.kind == "volts")
    back, how = checks[first - 2 : first]
    for words in ("sleeve each one", "tie it down clear of the rotor", "Put the rotor back", "Fit the guard"):
        assert words in back.words.text
    assert {Exposure.MAGNETS, Exposure.TURNING, Exposure.VOLTS} <= set(back.words.exposures)
    assert wording("at 60 rpm, at most 150") in how.words.text
    assert wording("at 60 rpm, at most 180") in checks[-5].words.text
    assert all(Exposure.VOLTS in each.words.exposures for each in checks if each.kind == "volts")
    assert not any("higher speed helps" in each.words.text for each in checks)
    # Coils of 0.2 V/rpm pass 25 V at 15.6 rpm: the speed of the table is then too fast.
    fast = checks_of(plan, made, coil=COIL.model_copy(update={"emf_v_per_rpm": 0.2}))
    assert any(
        "at most 15 rpm, " in each.words.text and wording("not at the 60 rpm") in each.words.text for each in fast
    )


# 4 Ω by hand: coil ± 2 %, meter class 1 %, reading 1.96 %, in quadrature 2.97 %, and the probes' digit 0.0566 Ω.
# 0.4 Ω: supply's amps 2 % and meter's volts 1 % instead of the class, no digit: 3.58 %.
# 10 V: coil ± 5 %, class 1 %, reading 1.96 %, speed 5 % or 0.5 %.
def test_bands_by_hand():
    low, high = ohm_band(4.0, COIL.resistance)
    assert high - 4.0 == pytest.approx(hypot(4.0 * hypot(0.02, 0.01, 0.0196), 1.96 * 0.1 / sqrt(12.0)))
    assert 4.0 - low == pytest.approx(high - 4.0) and high - 4.0 == pytest.approx(0.1316, abs=1e-3)
    assert ohm_band(0.4, COIL.resistance)[1] == pytest.approx(0.4 * (1.0 + hypot(0.02, 0.02, 0.01, 0.0196)))
    assert volt_band(10.0, COIL.emf)[1] == pytest.approx(10.0 + 10.0 * hypot(0.05, 0.01, 0.0196, 0.05))
    closer = volt_band(10.0, COIL.emf, speed_from_hz=True)[1]
    assert closer == pytest.approx(10.0 + 10.0 * hypot(0.05, 0.01, 0.0196, 0.005))


@pytest.mark.parametrize(
    "check, says",
    [
        (MeterCheck(name="A1", kind="ohms", step=1, words=LOOK, expected=4.0, low=3.93, high=4.07, unit="Ω"),
         "3.9 to 4.1 Ω"),
        (MeterCheck(name="A1", kind="ohms", step=1, words=LOOK, expected=0.4, low=0.3861, high=0.4139, unit="Ω"),
         "0.386 to 0.414 Ω"),
        (MeterCheck(name="A1", kind="volts", step=1, words=LOOK, expected=20.0, low=18.51, high=21.49, unit="V"),
         "18.5 to 21.5 V"),
        (MeterCheck(name="A-iron", kind="megohm", step=1, words=LOOK, low=0.5, unit="MΩ"), "at least 0.5 MΩ"),
    ],
)  # fmt: skip
def test_what_it_should_say(check, says):
    assert check.expects == says


def test_a_typed_number_stands_for_all_that_round_to_it():
    check = MeterCheck(name="A1", kind="ohms", step=1, words=LOOK, expected=4.0, low=3.93, high=4.07, unit="Ω")
    assert check.lies_in_band(3.9, 0.1) and not check.lies_in_band(3.9, 0.01) and not check.lies_in_band(3.8, 0.1)
    assert not check.lies_in_band(inf)


@pytest.mark.outside(
    "test volts and least megohms of insulation",
    source="IEC 60364-6, table 6.1",
    number="250 V 0.5 MΩ; 500 V 1 MΩ; 1000 V 1 MΩ",
    tolerance="exact",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    "volts, row",
    [
        (12.0, (250.0, 0.5)),
        (50.0, (250.0, 0.5)),
        (51.0, (500.0, 1.0)),
        (None, (500.0, 1.0)),
        (600.0, (1000.0, 1.0)),
        (1200.0, (1000.0, 1.0)),  # above the table's end its strictest row
    ],
)
def test_insulation(volts, row):
    assert insulation_row(volts) == row


def test_facts_have_range_and_source():
    own = [fact for part in (module, check_bands, limits) for fact in vars(part).values() if isinstance(fact, Fact)]
    assert len(own) >= 8 and all(fact.low <= fact.value <= fact.high and fact.source for fact in own)


# One path of three is x low, 24 pole pairs at 600 rpm are 240 Hz: its EMF is short by x × 4 × 12 V; by Millman that
# drives x E / (Z + Z/2) through the path's own Z = 4 |0.5 + j 2π 240 × 3 mH| = 18.206 Ω.
def test_the_limit_by_hand():
    wired = found_wiring(Stator(slots=36, poles=48), Grouping(series=4, parallel=3))
    coil = CoilConstants(emf_v_per_rpm=0.02, ohm=0.5, henry=0.003)
    impedance = 4.0 * hypot(0.5, 2.0 * pi * 240.0 * 0.003)
    per_share = 48.0 / (1.5 * impedance)
    coils = coil_values(wired.stator, coil, 600.0)
    low = {tooth: 0.9 for tooth, _ in wired.paths["A"][0]}
    assert circulating_amps_of(wired, coils, emf_shares=low) == pytest.approx(0.1 * per_share)
    # Star at 3 A DC: π/(3√2) × 3 A in a lead, a third of it in a path, a tenth of that may go round.
    found = parallel_limit(wired, coil, speed_rpm=600.0, dc_amps=3.0)
    assert found.share == pytest.approx(0.1 * pi / (3.0 * sqrt(2.0)) / per_share)
    assert found.reason == wording("The limit is 4.2 %")
    more = parallel_limit(wired, coil, speed_rpm=600.0, dc_amps=30.0)
    assert more.share == 0.05 and more.reason.startswith(wording("The limit is 5 %"))
    assert parallel_limit(wired, coil, speed_rpm=0.0, dc_amps=0.0).share == 0.05


# Ohms alone that differ share the EMF: nothing circulates while all EMFs are alike.
def test_ohms_alone_drive_nothing_round():
    wired = found_wiring(Stator(slots=36, poles=48), Grouping(series=4, parallel=3))
    coils = coil_values(wired.stator, CoilConstants(emf_v_per_rpm=0.02, ohm=0.5, henry=0.003), 600.0)
    assert circulating_amps_of(wired, coils, ohm_shares={1: 1.5}) == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=25)
@given(stators(), st.data())
def test_healthy_machines_lie_in_their_bands(stator, data):
    grouping = data.draw(st.sampled_from(stator.groupings()))
    plan, made = made_plan(stator, Grouping(series=stator.coils_per_phase, parallel=1), grouping)
    ohm, emf = 10.0 ** data.draw(st.floats(-1.5, 1.0)), 10.0 ** data.draw(st.floats(-2.5, -0.5))
    part = sample("coil", ohm=ohm, ohm_plus_minus=0.02 * ohm, emf_v_per_rpm=emf, emf_plus_minus_v_per_rpm=0.02 * emf)
    asked = [each for each in checks_of(plan, made, coil=part) if each.low is not None and each.expected is not None]
    dice = np.random.default_rng(data.draw(st.integers(0, 10_000)))
    good = total = 0
    for check in (each for each in asked if not isinf(each.expected)):
        # 95 % of each kind of error: coil constant 2 %, meter class 1 %, counted speed 5 %; the digit that is shown.
        errors = [0.02, 0.01] + ([0.05] if check.kind == "volts" else [])
        read = check.expected * np.prod([1.0 + each / 1.96 * dice.standard_normal(200) for each in errors], axis=0)
        step = 0.1 if check.expected >= 1.0 else 0.001
        total += 200
        good += sum(check.lies_in_band(value, step) for value in np.round(read / step) * step)
    assert good >= 0.95 * total


def readings(plan, rows):
    names = ("between", "ohms", "volts", "speed_rpm")
    return read_checks([blank_row("checks") | dict(zip(names, row, strict=False)) for row in rows], plan.wired)


def forbidden(plan, made, rows, told=stops):
    return told(compare_readings(checks_of(plan, made), readings(plan, rows), 60.0), 0.05)


def with_reversed(plan, made, tooth, rows_of):
    """Rows that a meter shows when one coil's ends were taken the wrong way round."""
    coils = coil_values(plan.found.stator, COIL.to_coil(COPPER), 60.0)
    coils[tooth] = replace(coils[tooth], emf_v=-coils[tooth].emf_v)
    rows = []
    for check in checks_of(plan, made):
        if check.kind == "volts" and rows_of(check):
            circuit = CoilCircuit(coils=coils, ties=ties_after(plan, made, check.step))
            volts = circuit.volts_rms(*probe_named(plan.wired, check.name).places)
            rows.append((check.name, "", f"{volts:.3f}", f"{plan.found.stator.pole_pairs} Hz"))
    return rows


# A reversed coil takes twice its own EMF off its path: the other paths stand that far above it, whatever the speed.
@settings(max_examples=40)
@given(stators(), st.data())
def test_a_path_with_a_reversed_coil_is_never_joined(stator, data):
    legal = [each for each in stator.groupings() if each.parallel > 1]
    if not legal:
        return
    grouping = data.draw(st.sampled_from(legal))
    plan, made = made_plan(stator, Grouping(series=stator.coils_per_phase, parallel=1), grouping)
    name = data.draw(st.sampled_from([f"{phase}{k + 1}" for phase in "ABC" for k in range(grouping.parallel)]))
    path = plan.wired.paths[name[0]][int(name[1:]) - 1]
    tooth = data.draw(st.sampled_from([tooth for tooth, _ in path]))
    gaps = with_reversed(plan, made, tooth, lambda check: check.low is None)
    assert any(said.startswith("Do not join") for said in forbidden(plan, made, gaps))
    healthy = [
        (each.name, "", "0.000", "60") for each in checks_of(plan, made) if each.kind == "volts" and not each.low
    ]
    assert forbidden(plan, made, healthy) == ()
    if grouping.series > 2:
        volts = with_reversed(plan, made, tooth, lambda check: check.name[1:].isdigit())
        assert any(f"path {name} in parallel" in said for said in forbidden(plan, made, volts))


def test_stop_words():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    rows = [("A1", "", "4.8", "60"), ("A2", "", "2.4"), ("A3", "", "4.9"), ("1S-13S", "", "9.6")]
    assert forbidden(plan, made, rows) == (
        (wording("Do not join 1S and")),
        (wording("Do not join path A2 in parallel: its volts are 50")),
    )
    assert forbidden(plan, made, [("10F-13S", "0.3")]) == ((wording("Do not go on (10F-13S")),)
    (wet,) = forbidden(plan, made, [("A-iron", "0.2 MΩ")])
    assert {Exposure.HEAT, Exposure.TESTER} < set(wet.exposures)
    assert wet.text == wording("Do not put the bank")
    assert forbidden(plan, made, [("A-iron", "OL"), ("10F-13S", "OL"), ("A1", "2.0")]) == ()


# Two speeds counted with ± 5 % each differ by up to √2 × 5 = 7 %: off by more than 5 % is a doubt, by more than 12 % a
# stop; with the meter's Hz everything above 5 % is one. 24 Hz are 60 rpm.
@pytest.mark.parametrize(
    "volts, speed, stopped, doubted",
    [
        ("4.60", "60", 0, 0),
        ("4.40", "60", 0, 1),
        ("4.00", "60", 1, 0),
        ("4.40", "24 Hz", 1, 0),
        ("4.60", "24 Hz", 0, 0),
    ],
)
def test_counted_speeds_leave_a_doubt(volts, speed, stopped, doubted):
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    rows = [("A1", "", "4.80", speed), ("A2", "", volts)]
    assert len(forbidden(plan, made, rows)) == stopped
    doubt = forbidden(plan, made, rows, doubts)
    assert len(doubt) == doubted
    if doubted:
        assert doubt[0] == wording("Do not join path A2 in parallel: its volts are 8")


# Mean of 8.2, 8.2 and 7.4 is 7.93: the last is 6.7 % below it, the others 3.4 %, of which the last digit takes 0.6.
def test_the_three_pairs_are_compared():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    leads = [("A-star", "0.66"), ("A-B", "", "8.2", "24 Hz"), ("B-C", "", "8.2"), ("C-A", "", "7.4")]
    sentence = (
        "Do not connect the rectifier: the volts for each rpm of C-A are 7 % off the mean of the three pairs, at most "
        "3 % is allowed"
    )
    assert forbidden(plan, made, leads) == (f"{sentence}.",) and forbidden(plan, made, leads, doubts) == ()
    leads[1] = ("A-B", "", "8.2", "60")
    assert forbidden(plan, made, leads) == () and forbidden(plan, made, leads, doubts) == (
        f"{sentence}, but speeds counted by hand can differ as much: read again with the meter's Hz as the speed.",
    )
    ohms = [("A-star", "0.66"), ("A-B", "1.33"), ("B-C", "1.33"), ("C-A", "1.60")]
    assert any(wording("the ohms of C-A are") in said for said in forbidden(plan, made, ohms))


# A healthy machine is not stopped: readings with 1 % noise (one sigma), speeds of ± 0.5 % by Hz or ± 5 % counted.
@pytest.mark.parametrize("speed, sigma", [("24 Hz", 0.0025), ("60", 0.0255)])
def test_a_healthy_machine_is_let_on(speed, sigma):
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    checks = [each for each in checks_of(plan, made) if each.kind == "volts"]
    dice, stopped = np.random.default_rng(5), 0
    for _ in range(40):
        noise = (1.0 + 0.01 * dice.standard_normal(len(checks))) * (1.0 + sigma * dice.standard_normal(len(checks)))
        rows = [(each.name, "", f"{abs(each.expected * k):.3f}", speed) for each, k in zip(checks, noise, strict=True)]
        stopped += bool(forbidden(plan, made, rows))
    assert stopped <= 2


# By hand: 12 Ω as found, 1.33 Ω finished. A reading of a lead pair belongs to the nearer one, never to one before what
# was already read.
def test_lead_pairs_are_told_apart_by_the_order_of_the_work():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    checks = checks_of(plan, made)
    rows = [("A-B", "12.0"), ("A1", "2.0"), ("A-B", "12.0"), ("B-C", "1.3")]
    found = compare_readings(checks, readings(plan, rows), 60.0)
    assert [(each.check.name, each.check.step, each.good) for each in found] == [
        ("A-B", 0, True), ("A1", 9, True), ("A-B", 14, False), ("B-C", 14, True)
    ]  # fmt: skip
    assert compare_readings(checks, readings(plan, [("B-C", "1.3")]), 60.0)[0].check.step == 14


# 120 rpm: twice the volts of 60 rpm; with the meter's Hz the band is that of volt_band without the 5 % of counting.
def test_volts_go_with_the_speed_and_the_meters_frequency_is_closer():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    sharp = sample("coil", emf_plus_minus_v_per_rpm=0.0002)
    by_hand, by_hz = (checks_of(plan, made, coil=sharp, speed_from_hz=each) for each in (False, True))
    rows = [("A1", "", "9.65", "120"), ("A2", "", "10.0", "120"), ("A3", "", "10.0", "48 Hz")]
    found = compare_readings(by_hand, readings(plan, rows), 60.0, checks_by_hz=by_hz)
    assert [each.good for each in found] == [True, True, False]
    words = [verdict_words(each.reading, found) for each in found]
    assert words[0] == "good" and found[0].words.startswith(wording("A1 after step 9: 9.65"))
    assert words[2] == wording("odd: A3 after step 9")


def test_a_place_that_no_check_asks_for_is_kept():
    plan, made = planned(36, 48, "star", (4, 3, "star"), "neighbours")
    (row,) = readings(plan, [("tooth 7", "0.5")])
    assert verdict_words(row, compare_readings(checks_of(plan, made), (row,), 60.0)) == wording("No check of this plan")


def test_what_cannot_be_used_is_refused():
    plan, made = planned(9, 12, "star", (1, 3, "star"), "neighbours")
    again = "measure or type the"
    with pytest.raises(
        BadInput,
        match=exactly(
            "winding temperature: 80 °C was given; a number from -20 to 60 °C is allowed; "
            f"{again} winding temperature again."
        ),
    ):
        checks_of(plan, made, 80)
    with pytest.raises(
        BadInput,
        match=exactly(f"hand speed: 0 rpm was given; a number from 5 to 600 rpm is allowed; {again} hand speed again."),
    ):
        checks_of(plan, made, hand_rpm=0)
    with pytest.raises(BadInput, match=exactly(wording("check: 'amps' was given; allowed"))):
        MeterCheck(name="A1", kind="amps", step=1, words=LOOK)
