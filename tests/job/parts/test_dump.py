"""Dump loads, cylinder and room as parts: older jobs open, nonsense is one sentence, and what the plan gets of them."""

import pytest

from samples.charging_samples import plan
from statorbook.assembly.charging import charging_from
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.parts.dump import DumpPart
from statorbook.job.parts.water import WaterPart

TWO = {"dump_1_ohm": 2.4, "dump_1_watts": 1500.0, "dump_2_ohm": 3.0, "dump_2_watts": 1200.0}


def test_a_job_without_them_opens_and_nothing_is_there():
    assert DumpPart().to_dumps() == () and DumpPart().assumed_in_use == ()
    assert (WaterPart().to_cylinder(), WaterPart().to_room(), WaterPart().assumed_in_use) == (None, None, ())


@pytest.mark.outside(
    "cold ohms of lamps under their ohms at work",
    source="common practice, no source",
    number="1/15, the worst of 10 to 15",
    tolerance="1e-6",
    seen="from memory",
)
def test_loads_as_typed():
    first, second = DumpPart(**TWO).to_dumps()
    assert (first.output, first.ohm, first.standing_watts) == ("dump_1", 2.4, 1500.0)
    assert (second.output, second.ohm) == ("dump_2", 3.0)
    lamps = DumpPart(**TWO, made_of="lamps").to_dumps()
    assert lamps[0].cold_ohm == pytest.approx(2.4 / 15.0)
    assert DumpPart(**TWO, made_of="element in water").to_dumps()[0].cold_ohm == 2.4


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"dump_1_ohm": 0.0, "dump_1_watts": 500.0}, "First dump load"),
        ({"dump_1_ohm": 2.4}, "First: stands for hours"),
        ({"dump_2_ohm": 2.4, "dump_2_watts": 500.0}, "First dump load"),
        ({**TWO, "made_of": "toast"}, "Made of"),
    ],
)
def test_loads_that_cannot_be_are_refused_in_one_sentence(fields, words):
    with pytest.raises(BadInput) as refusal:
        DumpPart(**fields)
    assert words in str(refusal.value) and "\n" not in str(refusal.value)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"litres": 120.0}, "Its heater"),
        ({"litres": 0.0, "heater_watts": 500.0}, "Cylinder"),
        ({"inlet_c": 38.0, "thermostat_c": 40.0}, "thermostat"),
        ({"air_heater_watts": 500.0, "room_loss_w_per_k": 0.0}, "Room loses"),
    ],
)
def test_water_that_cannot_be_is_refused_in_one_sentence(fields, words):
    with pytest.raises(BadInput) as refusal:
        WaterPart(**fields)
    assert words in str(refusal.value) and "\n" not in str(refusal.value)


@pytest.mark.outside(
    "what a hot cylinder of 120 L behind 50 mm of foam loses",
    source="SAP 10.2, tables 2 and 2a",
    number="1.822 kWh a day",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_water_and_room_as_typed():
    part = WaterPart(litres=120.0, heater_watts=800.0, insulation_mm=50.0)
    # Over 24 h and 45 K.
    assert part.to_cylinder().loss_w_per_k == pytest.approx(1822.0 / 24.0 / 45.0, rel=1e-3)
    assert part.to_room() is None and "room_loss_w_per_k" not in part.assumed_in_use
    assert "thermostat_c" in part.assumed_in_use
    room = WaterPart(air_heater_watts=600.0, room_loss_w_per_k=80.0).to_room()
    assert (room.heater_watts, room.loss_w_per_k) == (600.0, 80.0)


def test_the_plan_takes_what_is_typed_before_what_is_saved(tmp_path):
    job = example.write(tmp_path)
    job.save_part("dump", DumpPart(**TWO))
    job.save_part("water", WaterPart(litres=100.0, heater_watts=700.0))
    made = charging_from(job)
    assert [dump.ohm for dump in made.dumps] == [2.4, 3.0] and made.cylinder.litres == 100.0
    typed = charging_from(job, dump=DumpPart(dump_1_ohm=1.0, dump_1_watts=4000.0), water=WaterPart())
    assert [dump.ohm for dump in typed.dumps] == [1.0] and typed.cylinder is None
    assert len(charging_from(job, dump=DumpPart()).dumps) == len(plan().dumps)
