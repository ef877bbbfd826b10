"""The single faults of a plan: each in words, in their order, as events, and the outputs that move amps."""

import pytest

from samples.charging_samples import plan
from sentences import sentences_of
from statorbook.charging.control_faults import NOTHING, ControlFault, faults_of, output_words, outputs_at_work
from statorbook.charging.events import (
    DEAD,
    GUARD_DEAD,
    INPUT_ABSENT,
    INPUT_FROZEN,
    INPUT_HIGH,
    INPUT_LOW,
    NO_CONTROL_POWER,
    WELDED,
)

wording = sentences_of("charging_check")


# Volts and amps are many, a temperature or a speed is one.
@pytest.mark.parametrize(
    ("kind", "target", "said"),
    [
        (NOTHING, "", "nothing fails"),
        (INPUT_HIGH, "bank_volts", wording("volts too high")),
        (INPUT_LOW, "bank_amps", wording("amps too low")),
        (INPUT_HIGH, "cell_c", wording("temperature too high")),
        (INPUT_ABSENT, "speed_rpm", wording("speed absent")),
        (INPUT_FROZEN, "bank_volts", wording("volts frozen")),
        (INPUT_FROZEN, "water_c", wording("temperature frozen")),
        (INPUT_HIGH, "inverter_healthy", wording("on yes")),
        (INPUT_LOW, "control_power", wording("on no")),
        (INPUT_FROZEN, "control_power", wording("a word frozen")),
        (WELDED, "dump_2", wording("welded")),
        (DEAD, "inverter_enable", wording("dead")),
        (NO_CONTROL_POWER, "", "the controller has no power"),
        (GUARD_DEAD, "", "the volts relay is dead"),
    ],
)
def test_each_in_words(kind, target, said):
    fault = ControlFault(kind=kind, target=target)
    assert fault.words == said and fault.is_unseen == (kind == INPUT_FROZEN)
    if kind == NOTHING:
        assert fault.events(5.0) == ()
    else:
        (event,) = fault.events(5.0)
        assert (event.kind, event.target, event.from_s) == (kind, target, 5.0)


def test_an_inverter_is_switched_by_its_relay_and_all_else_by_its_own_name():
    assert output_words("inverter_enable") == "relay of the inverter"
    assert output_words("water_heater") == "water heater"


# A heater moves amps only behind an inverter, and a stop only where the source has one; alarms never do.
@pytest.mark.parametrize(
    ("changes", "outputs"),
    [
        ({}, ("dump_1", "dump_2", "water_heater", "air_heater", "inverter_enable")),
        ({"cylinder": None}, ("dump_1", "dump_2", "air_heater", "inverter_enable")),
        ({"room": None}, ("dump_1", "dump_2", "water_heater", "inverter_enable")),
        ({"inverter": None}, ("dump_1", "dump_2")),
        ({"inverter": None, "stops_source": True}, ("dump_1", "dump_2", "source_stop")),
        ({"inverter": None, "dumps": ()}, ()),
    ],
)
def test_what_moves_amps(changes, outputs):
    assert outputs_at_work(plan(**changes)) == outputs


def test_they_are_told_in_the_order_of_inputs_outputs_and_all():
    made = plan(cylinder=None, room=None)
    told = [(fault.kind, fault.target) for fault in faults_of(made)]
    numbers = (INPUT_HIGH, INPUT_LOW, INPUT_ABSENT, INPUT_FROZEN)
    assert told[0] == (NOTHING, "") and told[-2:] == [(NO_CONTROL_POWER, ""), (GUARD_DEAD, "")]
    # A yes or no without its wire says no, so that it has three faults only.
    wanted = [(kind, name) for name in ("bank_volts", "cell_c", "speed_rpm") for kind in numbers]
    yes_no = (INPUT_HIGH, INPUT_LOW, INPUT_FROZEN)
    wanted += [(kind, name) for name in ("control_power",) for kind in yes_no]
    wanted += [(kind, name) for name in ("dump_1", "dump_2", "inverter_enable") for kind in (WELDED, DEAD)]
    assert told[1:-2] == wanted
    assert [fault.kind for fault in faults_of(plan(guard=None))].count(GUARD_DEAD) == 0
