"""The winding coil by coil: hand algebra, then an independent solution after every step of whole plans."""

from itertools import pairwise
from math import inf, isinf, isnan, sqrt

import pytest

from judges import coil_nodes
from statorbook.rewiring.circuit import CoilCircuit, CoilValues, coil_values, finished, paths_alone
from statorbook.rewiring.plan import cut_and_join
from statorbook.rewiring.probes import LEAD_PAIRS, probes_of
from statorbook.rewiring.work_steps import steps, ties_after
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import CoilEnd, found_wiring

COIL = CoilConstants(emf_v_per_rpm=0.02, ohm=0.5, henry=0.003)
PLANS = [
    (36, 48, "star", (4, 3, "star"), "neighbours"),
    (24, 22, "star", (4, 2, "delta"), "spread"),
    (12, 14, "delta", (2, 2, "star"), "neighbours"),
    (9, 12, "star", (1, 3, "delta"), "spread"),
]


def planned(slots, poles, connection, wanted, layout):
    stator = Stator(slots=slots, poles=poles)
    found = Grouping(series=stator.coils_per_phase, parallel=1, connection=connection)
    series, parallel, after = wanted
    plan = cut_and_join(
        found_wiring(stator, found), Grouping(series=series, parallel=parallel, connection=after), layout
    )
    return plan, steps(plan)


def wires_after(plan, made, number):
    """The wires as they come and go, one by one: nothing of `ties_after` is asked."""
    wires = [(one.label, other.label) for one, other in plan.found.links]
    wires += [(name, end.label) for name, ends in plan.found.nets.items() for end in ends]
    buses = iter(sorted(plan.bus_mm, key=lambda name: (name != "star point", name)))
    for step in made[:number]:
        labels = [end.label for end in step.ends]
        if step.kind == "cut" and len(labels) == 2:
            wires.remove(tuple(labels))
        elif step.kind == "cut":
            wires = [wire for wire in wires if not (wire[1] == labels[0] and not wire[0][0].isdigit())]
        elif step.kind == "join":
            wires.append(tuple(labels))
        elif step.kind == "bus":
            name = next(buses)
            wires += [(name, label) for label in labels]
    return list(dict.fromkeys(wires))


def name_of(place):
    return place.label if isinstance(place, CoilEnd) else place


# Two coils side by side, 6 V and 5 V, each 1 Ω + 1 Ω reactance in the first, 2 Ω in the second. Millman by hand, ohms
# only: the common volts are (6/1 + 5/2)/(1/1 + 1/2) = 5.667 V, so (6 − 5.667)/1 = 0.3333 A go round.
def test_two_unequal_paths_by_millman():
    one, other = ({side: CoilEnd(tooth=tooth, side=side) for side in "SF"} for tooth in (1, 2))
    coils = {1: CoilValues(emf_v=6.0, ohm=1.0), 2: CoilValues(emf_v=5.0, ohm=2.0)}
    ties = (frozenset([one["S"], other["S"], "lead A"]), frozenset([one["F"], other["F"], "star point"]))
    circuit = CoilCircuit(coils=coils, ties=ties)
    assert circuit.amps_rms(1) == pytest.approx(1.0 / 3.0) and circuit.amps_rms(2) == pytest.approx(1.0 / 3.0)
    assert circuit.volts_rms("lead A", "star point") == pytest.approx(17.0 / 3.0)
    assert circuit.ohms("lead A", "star point") == pytest.approx(2.0 / 3.0)
    # With 3 Ω and 4 Ω of impedance in all, 1 V of difference drives 1 / |3 + 4j| = 0.2 A.
    slow = {1: CoilValues(emf_v=6.0, ohm=1.0, reactance_ohm=4.0), 2: CoilValues(emf_v=5.0, ohm=2.0)}
    assert CoilCircuit(coils=slow, ties=ties).amps_rms(1) == pytest.approx(0.2)


def test_an_open_coil_conducts_nothing():
    end = {side: CoilEnd(tooth=1, side=side) for side in "SF"}
    circuit = CoilCircuit(coils={1: CoilValues(emf_v=6.0, ohm=inf), 2: CoilValues(emf_v=5.0, ohm=1.0)}, ties=())
    assert isinf(circuit.ohms(end["S"], end["F"])) and isnan(circuit.volts_rms(end["S"], end["F"]))
    assert circuit.amps_rms(1) == 0.0 and not circuit.connected(end["S"], end["F"])


# Ohms of s coils in series, a side by side: 2 s R / a between two leads of a star, two thirds of s R / a of a delta.
# Volts: 36 / 24 pole pairs has all coils of a phase alike, so s × 0.02 V/rpm × 60 rpm, √3 of it in star.
@pytest.mark.parametrize("series, parallel", [(12, 1), (6, 2), (4, 3), (1, 12)])
@pytest.mark.parametrize("connection, phases, root", [("star", 2.0, sqrt(3.0)), ("delta", 2.0 / 3.0, 1.0)])
def test_leads_by_hand(series, parallel, connection, phases, root):
    stator = Stator(slots=36, poles=48)
    wired = found_wiring(stator, Grouping(series=series, parallel=parallel, connection=connection))
    circuit = finished(wired, coil_values(stator, COIL, 60.0))
    for pair in LEAD_PAIRS:
        places = probes_of(wired)[pair].places
        assert circuit.ohms(*places) == pytest.approx(phases * series / parallel * 0.5)
        assert circuit.volts_rms(*places) == pytest.approx(root * series * 0.02 * 60.0)
    alone = paths_alone(wired, coil_values(stator, COIL, 60.0))
    assert alone.ohms(*probes_of(wired)["B1"].places) == pytest.approx(series * 0.5)
    assert not alone.connected(probes_of(wired)["A1"].places[0], probes_of(wired)["B1"].places[0])


# Ferrite loses 0.2 % for each K (common practice, no source). Reactance 2π × 24 pole pairs × 60 rpm / 60 × 3 mH.
@pytest.mark.outside(
    "copper's ohms at 5 and 40 °C over those at 20 °C",
    source="IEC 60034-1, resistance method",
    number="240/255, 275/255",
    tolerance="1e-6",
    seen="from memory",
)
@pytest.mark.parametrize("copper_c, factor", [(5.0, 240.0 / 255.0), (20.0, 1.0), (40.0, 275.0 / 255.0)])
def test_a_coil_at_its_temperature(copper_c, factor):
    coils = coil_values(Stator(slots=36, poles=48), COIL, 60.0, copper_c, 40.0)
    assert len(coils) == 36 and coils[7].ohm == pytest.approx(0.5 * factor)
    assert abs(coils[7].emf_v) == pytest.approx(1.2 * 0.96)
    assert coils[7].reactance_ohm == pytest.approx(2 * 3.14159265 * 24 * 0.003)


@pytest.mark.parametrize("case", PLANS, ids=lambda case: f"{case[0]}-{case[1]}")
def test_every_step_agrees_with_an_independent_solution(case):
    plan, made = planned(*case)
    slots, poles = case[:2]
    coils = coil_values(plan.found.stator, COIL, 60.0)
    by_name = probes_of(plan.wired)
    # As found, in the middle of the cuts, all of them made, and every bus.
    parted = next(step.number for step in made if step.check == "parted")
    numbers = sorted({0, parted // 2, parted, *range(len(made) - 4, len(made) + 1)})
    for number in numbers:
        circuit, wires = CoilCircuit(coils=coils, ties=ties_after(plan, made, number)), wires_after(plan, made, number)
        volts, amps = coil_nodes.solve(slots, poles, wires, ohm=0.5, emf=1.2, reactance=coils[1].reactance_ohm)
        # Healthy at every step: no current flows.
        assert abs(amps).max() < 1e-9 and max(circuit.amps_rms(tooth) for tooth in coils) < 1e-9
        for probe in (by_name["A1"], by_name["A-B"]):
            one, other = map(name_of, probe.places)
            assert circuit.connected(*probe.places) == (other in coil_nodes.reach(slots, wires, one))
            if circuit.connected(*probe.places):
                assert circuit.ohms(*probe.places) == pytest.approx(
                    coil_nodes.ohms(slots, poles, wires, one, other, 0.5)
                )
                assert circuit.volts_rms(*probe.places) == pytest.approx(abs(volts[one] - volts[other]), abs=1e-9)


@pytest.mark.parametrize("case", PLANS, ids=lambda case: f"{case[0]}-{case[1]}")
def test_ties_come_and_go_as_wires_do(case):
    plan, made = planned(*case)
    for number in range(len(made) + 1):
        said = [{name_of(place) for place in tie} for tie in ties_after(plan, made, number)]
        told = [wire for tie in said for wire in pairwise(sorted(tie))]
        wires = wires_after(plan, made, number)
        for name in coil_nodes.ends_of(range(1, case[0] + 1)):
            assert metal(told, name) == metal(wires, name)


def metal(wires, name):
    """All coil ends that are one piece of metal with this one, names of nets aside."""
    return {each for each in coil_nodes.metal(wires, name) if each[0].isdigit()}


@pytest.mark.parametrize("case", PLANS, ids=lambda case: f"{case[0]}-{case[1]}")
def test_the_last_ties_are_the_plans_netlist(case):
    plan, made = planned(*case)
    wires = [
        wire for tie in ties_after(plan, made, len(made)) for wire in pairwise(sorted(name_of(each) for each in tie))
    ]
    for ends in plan.netlist.values():
        assert metal(wires, ends[0].label) == {end.label for end in ends}


@pytest.mark.parametrize("case", PLANS, ids=lambda case: f"{case[0]}-{case[1]}")
def test_a_reversed_coil_drives_the_same_current_in_both_solutions(case):
    plan, made = planned(*case)
    slots, poles = case[:2]
    coils = coil_values(plan.found.stator, COIL, 60.0)
    tooth = plan.wired.paths["A"][0][0][0]
    turned = {**coils, tooth: CoilValues(emf_v=-coils[tooth].emf_v, ohm=0.5, reactance_ohm=coils[1].reactance_ohm)}
    circuit = finished(plan.wired, turned)
    _, amps = coil_nodes.solve(
        slots,
        poles,
        wires_after(plan, made, len(made)),
        ohm=0.5,
        emf=1.2,
        reactance=coils[1].reactance_ohm,
        reversed_teeth=[tooth],
    )
    assert max(abs(amps)) > 0.1
    for each in coils:
        assert circuit.amps_rms(each) == pytest.approx(abs(amps[each - 1]), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("case", PLANS, ids=lambda case: f"{case[0]}-{case[1]}")
def test_many_places_at_once_read_as_one_by_one(case):
    plan, _ = planned(*case)
    coils = coil_values(plan.wired.stator, COIL, 60.0)
    pairs = tuple(probe.places for probe in probes_of(plan.wired).values() if "lead" not in str(probe.places))
    broken = coils | {1: CoilValues(emf_v=coils[1].emf_v, ohm=inf)}
    for values in (coils, broken):
        circuit = paths_alone(plan.wired, values)
        ohms, volts = circuit.between(pairs)
        for pair, ohm, volt in zip(pairs, ohms, volts, strict=True):
            assert ohm == pytest.approx(circuit.ohms(*pair), rel=1e-12)
            assert volt == pytest.approx(circuit.volts_rms(*pair), rel=1e-12, nan_ok=True)
    assert isinf(ohms[-plan.wired.stator.slots]) and isnan(volts[-plan.wired.stator.slots])  # tooth 1
