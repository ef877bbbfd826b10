"""Dump loads: sized by hand, one of them dead, judged, and the volts of their guard."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.charging_samples import LEAD_BANK, plan
from samples.plant_samples import plant
from sentences import sentences_of
from statorbook.bank.battery import Bank
from statorbook.charging.dump_loads import dump_needs, judged_dumps, usual_dumps, usual_guard
from statorbook.charging.plan import DumpElement
from statorbook.charging.set_points import usual_points
from statorbook.drives.pedals import Pedals

wording = sentences_of("charging_dump")


class _Most:
    """A plant's most amps, given."""

    def __init__(self, dc_amps):
        self.dc_amps = dc_amps


def source_of(dc_amps, **changes):
    """A plant whose source gives so many amps at the most, and the set-points of its bank."""
    made = plant(**changes)
    made.__dict__["most"] = _Most(dc_amps)  # in place of the cached property
    return made, replace(usual_points(made.bank), absorption_volts=56.8, most_volts=58.4)


def loads(*ohms, watts=1e6):
    return tuple(
        DumpElement(output=f"dump_{n}", ohm=ohm, cold_ohm=ohm, standing_watts=watts) for n, ohm in enumerate(ohms, 1)
    )


# By hand: 20 A at 56.8 V. 150 % (NEC 690.72(B), from memory) are 30 A: 1.893 Ω all together. One alone with a tenth to
# spare takes 22 A: 2.582 Ω, the next of E24 below it 2.4 Ω, which at 58.4 V takes 1421 W, so 1500 W.
def test_sized_by_hand():
    made, points = source_of(20.0)
    needs = dump_needs(made, points)
    assert (needs.amps, needs.ohm) == (pytest.approx(30.0), pytest.approx(1.8933, rel=1e-3))
    assert needs.alone_ohm == pytest.approx(2.5818, rel=1e-3)
    dumps = usual_dumps(made, points)
    assert [(dump.output, dump.ohm, dump.standing_watts) for dump in dumps] == [
        ("dump_1", 2.4, 1500.0),
        ("dump_2", 2.4, 1500.0),
    ]
    # Nichrome 1.00 to 1.07 times its cold ohms: common practice, no source.
    assert 1.0 <= dumps[0].ohm / dumps[0].cold_ohm <= 1.07


# 500 W at the highest volts of the bank.
@pytest.mark.outside(
    "watts of the dump load for a source of 500 W",
    source="NEC 690.72(B) to 2014, for wind 694.75",
    number="750 W",
    tolerance="none",
    seen="from memory",
)
def test_half_as_much_again_as_the_source():
    bank = Bank(chemistry="LiFePO4", cells=16)
    made, points = source_of(500.0 / bank.highest_volts, bank=bank)
    assert dump_needs(made, points).watts == pytest.approx(750.0)


# 45 A are 58.4 V over the ohms.
@pytest.mark.outside(
    "wires and fuse of a dump load of 45 A",
    source="NEC 690.72(B) to 2014",
    number="67.5 A",
    tolerance="none",
    seen="from memory",
)
def test_wires_carry_half_as_much_again():
    made, points = source_of(20.0)
    assert judged_dumps(made, points, loads(58.4 / 45.0)).wire_amps == (pytest.approx(67.5),)


def test_a_rider_gets_one_and_is_told_that_nothing_is_left_when_it_dies():
    made, points = source_of(20.0, drive=Pedals(rider_watts=100.0, gear_ratio=6.0))
    dumps = usual_dumps(made, points)
    judged = judged_dumps(made, points, dumps)
    # By hand: 1.893 Ω, the next of E24 below it 1.8 Ω.
    assert [dump.ohm for dump in dumps] == [1.8]
    assert (judged.faults, judged.left_amps, judged.one_may_die) == ((), 0.0, False)


def test_what_does_not_do_is_named():
    made, points = source_of(20.0)
    # By hand: 56.8 / 4 = 14.2 A each, 28.4 A of 30 A; with one dead 14.2 A of 20 A.
    judged = judged_dumps(made, points, loads(4.0, 4.0))
    assert judged.faults == (wording("too weak"),)
    assert judged.share == pytest.approx(1.42) and not judged.one_may_die
    # By hand: 58.4² / 2 = 1705 W, said rounded up to two figures, in an element for 1000 W.
    (fault,) = judged_dumps(made, points, loads(1.8) + loads(1.0, 2.0, watts=1000.0)[1:]).faults
    assert "second dump load" in fault and "1800 W" in fault and "1000 W" in fault
    assert judged_dumps(made, points, ()).faults


@given(st.floats(1.0, 300.0), st.sampled_from(["LiFePO4", "flooded lead-acid", "gel"]), st.sampled_from([12, 24, 48]))
@settings(max_examples=30, deadline=None)
def test_the_usual_ones_always_do_with_any_one_dead(amps, chemistry, volts):
    bank = Bank(chemistry=chemistry, cells=volts // (3 if chemistry == "LiFePO4" else 2))
    made = plant(bank=bank)
    made.__dict__["most"] = _Most(amps)
    points = usual_points(bank)
    judged = judged_dumps(made, points, usual_dumps(made, points))
    assert judged.faults == () and judged.one_may_die


@pytest.mark.parametrize("bank", [Bank(chemistry="LiFePO4", cells=16), LEAD_BANK])
def test_the_guard_acts_between_alarm_and_limit_also_in_the_warmest_bank(bank):
    points = replace(usual_points(bank), compensation_v_per_k=-0.005 * bank.cells, most_charging_c=45.0)
    guard = usual_guard(points)
    warm = points.most_volts - 0.1 * bank.cells
    assert guard.high_on_volts <= round(warm, 2)
    assert guard.high_off_volts < guard.high_on_volts
    assert points.least_volts < guard.low_off_volts < points.cut_off_volts < guard.low_on_volts
    assert usual_guard(replace(points, compensation_v_per_k=0.0)).high_on_volts > points.alarm_high_volts


@pytest.mark.outside(
    "charging volts of 12 lead cells at 8 °C",
    source="Dunlop, Batteries and Charge Control in Stand-Alone Photovoltaic Systems, 1997: −5 mV/K",
    number="29.8 V in place of 28.8 V",
    tolerance="the relay above it, below the most",
    seen="from memory",
)
def test_the_guard_of_a_cold_bank_lets_it_be_charged_and_holds_it_while_it_warms():
    points = usual_points(LEAD_BANK)
    assert points.absorption_volts == pytest.approx(28.8)
    cold = usual_guard(points, cell_c=8.0)
    assert cold.high_on_volts > points.alarm_high_volts + 0.06 * 17.0 > 29.8
    assert cold.high_on_volts <= round(points.most_volts + 0.06 * 7.0, 2)
    assert usual_guard(points).high_on_volts < usual_guard(points, cell_c=25.0).high_on_volts < cold.high_on_volts


def test_a_plan_has_its_guard_and_loads():
    made = plan()
    assert judged_dumps(made.plant, made.points, made.dumps).faults == ()
    assert made.points.alarm_high_volts < made.guard.high_on_volts < made.points.most_volts
