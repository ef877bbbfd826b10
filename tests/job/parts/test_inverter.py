"""The inverter of a job: what is typed, what is taken for it, and what cannot be."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.charging_samples import LEAD_BANK, points
from sentences import sentences_of
from statorbook.charging.house import house_day
from statorbook.charging.inverter import trips_words
from statorbook.charging.plan import HouseLoad
from statorbook.errors import BadInput
from statorbook.job.parts.inverter import InverterPart
from statorbook.job.parts.need import NeedPart

wording = sentences_of("charging_house")
POINTS = points(LEAD_BANK)


def day(watts=600.0, surge=1500.0):
    return house_day([HouseLoad(name="pump", watts=watts, surge_watts=surge, from_hour=6, to_hour=7, minutes=5.0)])


@settings(max_examples=25)
@given(watts=st.floats(1.0, 20_000.0), start=st.floats(1.0, 6.0), heater_watts=st.floats(0.0, 3000.0))
def test_what_is_worked_out_stands_the_house_and_its_volts_rise(watts, start, heater_watts):
    found = day(watts, start * watts)
    made = InverterPart().to_inverter(POINTS, found, heater_watts=heater_watts)
    assert trips_words(made, found, heater_watts) == "The inverter stands that."
    assert POINTS.least_volts < made.trips_below_volts < POINTS.cut_off_volts
    assert made.trips_below_volts < made.back_above_volts < made.trips_above_volts


def test_losses_come_from_the_label_then_from_the_need():
    need = NeedPart(need_kwh_a_day=1.0, inverter_efficiency=0.85, inverter_idle_watts=7.0)
    made = InverterPart().to_inverter(POINTS, day(), need)
    assert (made.efficiency, made.idle_watts) == (0.85, 7.0)
    typed = InverterPart(efficiency=0.93, idle_watts=4.0).to_inverter(POINTS, day(), need)
    assert (typed.efficiency, typed.idle_watts) == (0.93, 4.0)


def test_one_of_two_watts_is_enough():
    made = InverterPart(rated_watts=1000.0).to_inverter(POINTS, day())
    assert (made.rated_watts, made.surge_watts) == (1000.0, 2000.0)
    made = InverterPart(surge_watts=3000.0).to_inverter(POINTS, day())
    assert (made.rated_watts, made.surge_watts) == (1500.0, 3000.0)


def test_a_house_on_the_bank_itself_loses_nothing_and_nothing_feeds_nothing():
    made = InverterPart(house_on="the bank itself, DC").to_inverter(POINTS, day(), NeedPart(need_kwh_a_day=1.0))
    assert (made.efficiency, made.idle_watts) == (1.0, 0.0)
    assert InverterPart(house_on="nothing").to_inverter(POINTS, day()) is None


def test_what_nobody_typed_is_named():
    part = InverterPart(rated_watts=1500.0, surge_watts=3000.0, trips_below_volts=21.0)
    said = " ".join(part.assumed_words(part.to_inverter(POINTS, day())))
    assert "comes back above" in said and "trips above" in said and "1500" not in said and "trips below" not in said


@pytest.mark.parametrize(
    "typed, field",
    [
        ({"trips_below_volts": 27.0}, "trips_below_volts"),
        ({"back_above_volts": 20.0}, "back_above_volts"),
        ({"trips_above_volts": 20.0}, "trips_above_volts"),
        ({"trips_below_volts": 24.0, "back_above_volts": 24.0}, "trips_below_volts"),
    ],
)
def test_volts_that_cross_are_refused_with_both_named(typed, field):
    with pytest.raises(BadInput, match="“.*” at .* V cross") as refusal:
        InverterPart(**typed).to_inverter(POINTS, day())
    assert refusal.value.field == field and refusal.value.given.count("“") == 2


def test_seconds_below_hours_are_refused():
    with pytest.raises(BadInput, match=wording("seconds below hours")):
        InverterPart(rated_watts=2000.0, surge_watts=1000.0)


def test_the_month_looked_at():
    assert [InverterPart(source_month=name).month_at for name in ("its weakest month", "January", "December")] == [
        -1,
        0,
        11,
    ]
    assert InverterPart().month_at is None
