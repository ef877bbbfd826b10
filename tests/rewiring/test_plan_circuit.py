"""Every plan proven electrically, from its netlist alone: phasors walked round, a circuit simulator coil by coil."""

from math import pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judges import ngspice_bridge, ngspice_plan
from judges.phasor_plan import complaints, phasors
from sentences import sentences_of
from statorbook.bridge.rectifier import bridge
from statorbook.rewiring.plan import LAYOUTS, cut_and_join
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding
from statorbook.winding.wiring import found_wiring
from strategies import stators

wording = sentences_of("rewiring")

MACHINES = [(36, 48), (42, 56), (24, 28), (12, 14), (12, 10), (27, 36), (18, 20), (9, 12)]
RATIOS = (0.4, 0.5, 0.6, 0.7)  # (V + 2 Vd) over the peak of the line EMF, so that it charges


def plans_of(slots, poles):
    """Every legal grouping in every layout, from all in series and star as usually found."""
    stator = Stator(slots=slots, poles=poles)
    found = found_wiring(stator, Grouping(series=stator.coils_per_phase, parallel=1))
    return [cut_and_join(found, grouping, layout) for grouping in stator.groupings() for layout in LAYOUTS]


def faults_of(plan, netlist=None):
    stator = plan.found.stator
    nodes = plan.netlist if netlist is None else netlist
    return complaints(nodes, stator.slots, stator.poles, plan.grouping, stator.distribution_factor)


def with_turned_coil(netlist, tooth):
    """The same netlist with start and finish of one coil exchanged."""
    other = {f"{tooth}S": "F", f"{tooth}F": "S"}
    return {
        name: tuple(type(end)(tooth=end.tooth, side=other.get(end.label, end.side)) for end in ends)
        for name, ends in netlist.items()
    }


def with_turned_phase(plan):
    """The netlist with the starts and the far ends of phase A exchanged."""
    far = "star point" if plan.grouping.connection == "star" else "lead B"
    own = {coil.number for coil in plan.found.stator.coils if coil.phase == "A"}
    theirs = {name: [end for end in plan.netlist[name] if end.tooth in own] for name in ("lead A", far)}
    swapped = {"lead A": theirs[far], far: theirs["lead A"]}
    return {
        name: (*(end for end in ends if end not in theirs.get(name, ())), *swapped.get(name, ()))
        for name, ends in plan.netlist.items()
    }


@pytest.mark.parametrize("slots, poles", MACHINES)
def test_every_grouping_in_both_layouts_is_sound(slots, poles):
    for plan in plans_of(slots, poles):
        assert (plan.grouping.label, plan.layout, faults_of(plan)) == (plan.grouping.label, plan.layout, [])


@settings(max_examples=150)
@given(stators(), st.data())
def test_from_any_grouping_to_any_other_and_on_to_a_third(stator, data):
    first, second, third = (data.draw(st.sampled_from(stator.groupings())) for _ in range(3))
    plan = cut_and_join(found_wiring(stator, first), second, data.draw(st.sampled_from(LAYOUTS)))
    onward = cut_and_join(plan.wired, third, data.draw(st.sampled_from(LAYOUTS)))
    for each in (plan, onward):
        assert faults_of(each) == []
        assert sorted(end.label for ends in each.netlist.values() for end in ends) == sorted(
            f"{tooth}{side}" for tooth in range(1, stator.slots + 1) for side in "SF"
        )


# The two phasors that the judge starts from, by hand: at 12/14 the next tooth is 7 × 30° on, at 9/8 it is 160°.
def test_the_judge_turns_by_pole_pairs_times_the_slot_angle():
    assert phasors(12, 14)[2] == pytest.approx(complex(-sqrt(3.0) / 2.0, -0.5), abs=1e-12)
    assert phasors(9, 8)[2].real == pytest.approx(-0.9396926, abs=1e-7)


@pytest.mark.parametrize("connection", ["star", "delta"])
def test_the_judge_refuses_what_is_wrong(connection):
    stator = Stator(slots=24, poles=28)
    grouping = Grouping(series=4, parallel=2, connection=connection)
    plan = cut_and_join(found_wiring(stator, Grouping(series=8, parallel=1)), grouping)
    assert faults_of(plan) == []
    assert faults_of(plan, with_turned_coil(plan.netlist, 1)) == [
        wording("phase 0: volts of the"),
        wording("phase 0: volts are not"),
    ]
    # Two leads that exchange their names are no fault; a phase whose two sides are exchanged is.
    named = {**plan.netlist, "lead B": plan.netlist["lead C"], "lead C": plan.netlist["lead B"]}
    assert faults_of(plan, named) == []
    assert faults_of(plan, with_turned_phase(plan)) == [wording("the three phases are not")]
    short = {name: ends for name, ends in plan.netlist.items() if name != "lead A"}
    assert faults_of(plan, short)[0].startswith("cannot be walked")
    twice = {**plan.netlist, "again": plan.netlist["lead A"]}
    assert faults_of(plan, twice)[0].startswith("cannot be walked")


def in_circuit(plan, number):
    """(machine for the simulator, DC amps that the library says)."""
    stator, coil = plan.found.stator, ngspice_plan.coil_of(plan.found.stator)
    star = Winding(
        stator=stator,
        coil=CoilConstants(emf_v_per_rpm=coil["emf_peak_v"] / sqrt(2.0), ohm=coil["ohm"], henry=coil["henry"]),
        grouping=plan.grouping,
    ).star_equivalent()
    emf, reactance = sqrt(2.0) * star.emf_v_per_rpm, 2.0 * pi * coil["hz"] * star.henry
    drop = 0.02 * emf
    volts = RATIOS[number % len(RATIOS)] * sqrt(3.0) * emf - 2.0 * drop
    said = bridge(
        emf, star.ohm, reactance, volts, diode_drop_v=drop, diode_slope_ohm=ngspice_plan.SLOPE_OHM, method="exact"
    )
    bank = {"volts": volts, "diode_drop_v": drop, "usual_amps": said.dc_amps / 2.0}
    return {"netlist": plan.netlist, "coil": coil, "bank": bank}, said.dc_amps


def simulated(plans, folder, size=4):
    """(found by the simulator, said by the library) of all plans, several to a run."""
    pairs = [in_circuit(plan, number) for number, plan in enumerate(plans)]
    machines = [machine for machine, _ in pairs]
    batches = [machines[k : k + size] for k in range(0, len(machines), size)]
    found = [amps for batch in ngspice_plan.dc_amps(batches, folder) for amps in batch]
    return found, [said for _, said in pairs]


NEEDS_SIMULATOR = pytest.mark.skipif(
    ngspice_bridge.missing(),
    reason="the circuit simulator ngspice is not installed; the same netlists are checked by phasors",
)


@pytest.mark.outside(
    "DC amps of every plan, its coils joined one by one",
    source="ngspice 39, netlists by judges.ngspice_plan",
    number="every grouping of 8 machines",
    tolerance="0.3 %",
    seen="computed by package",
)
@pytest.mark.slow
@NEEDS_SIMULATOR
def test_every_grouping_charges_as_said_in_a_circuit_simulator(tmp_path):
    plans = [plan for pair in MACHINES for plan in plans_of(*pair)]
    # With one path, or one coil to a path, both layouts can be one and the same circuit.
    different = {(str(sorted(plan.netlist.items())), plan.grouping, plan.found.stator): plan for plan in plans}
    found, said = simulated(list(different.values()), tmp_path)
    assert min(said) > 0.1
    assert found == pytest.approx(said, rel=3e-3)


@pytest.mark.slow
@NEEDS_SIMULATOR
def test_the_simulator_sees_a_coil_turned_round(tmp_path):
    plan = plans_of(12, 14)[2]
    machine, said = in_circuit(plan, 0)
    machine["netlist"] = with_turned_coil(plan.netlist, 1)
    (found,) = ngspice_plan.dc_amps([[machine]], tmp_path)[0]
    assert abs(found - said) > 0.1 * said
