"""A small engine with a governor: its droop, its pulleys and what it burns."""

from dataclasses import replace
from math import inf, nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.drives import shaft_watts
from statorbook.drives.engine import Engine, belt_caution, belt_m_s, fuel_words, ratio_of_pulleys
from statorbook.errors import BadInput
from strategies import numbers

wording = sentences_of("drives")


def engine(**changes):
    return Engine(**{"rated_watts": 1500.0, "engine_rpm": 3000.0, "pulley_ratio": 0.3, **changes})


def engines():
    return st.builds(
        Engine,
        rated_watts=numbers(50.0, 50_000.0),
        engine_rpm=numbers(300.0, 20_000.0),
        pulley_ratio=numbers(0.05, 50.0),
        droop=st.floats(0.001, 0.3),
        belt_efficiency=st.floats(0.3, 1.0),
        overspeed_ratio=st.floats(1.0, 3.0),
    )


# --- governor and pulleys ---------------------------------------------------------------------------------------------


# By hand: 1500 W at 3000 rpm are 4.7746 N·m; over 0.3 and with 0.93 of it left 14.801 N·m at 900 rpm. A droop of 5 %
# gives 945 rpm unloaded, half the torque half way at 922.5 rpm, and 1.2 × 945 = 1134 rpm with the governor stuck.
def test_droop_by_hand():
    drive = engine()
    assert (drive.best_speed_rpm, drive.free_speed_rpm, drive.runaway_speed_rpm) == pytest.approx(
        (900.0, 945.0, 1134.0)
    )
    assert drive.torque_nm(900.0) == pytest.approx(14.801, rel=1e-4)
    assert drive.torque_nm(922.5) == pytest.approx(14.801 / 2, rel=1e-4)
    assert drive.torque_nm(933.75) == pytest.approx(14.801 / 4, rel=1e-4)
    assert drive.torque_nm(450.0) == drive.torque_nm(0.0) == drive.torque_nm(900.0)
    assert drive.torque_nm(1000.0) == 0.0
    assert drive.source_steps == (("engine at full load", 1500.0), ("belt", pytest.approx(-105.0)))


# By hand: an 80 mm pulley on the engine and 240 mm on the generator turn it once for three turns: 3000 rpm to 1000 rpm.
def test_pulleys_by_hand():
    assert ratio_of_pulleys(80, 240) == pytest.approx(1 / 3, rel=1e-12)
    assert engine(pulley_ratio=ratio_of_pulleys(80.0, 240.0)).best_speed_rpm == pytest.approx(1000.0, rel=1e-12)


@given(numbers(10.0, 2000.0), numbers(10.0, 2000.0), numbers(100.0, 5000.0))
def test_the_belt_is_equally_fast_on_both_pulleys(engine_mm, generator_mm, engine_rpm):
    generator_rpm = engine_rpm * ratio_of_pulleys(engine_mm, generator_mm)
    assert belt_m_s(engine_mm, engine_rpm) == pytest.approx(belt_m_s(generator_mm, generator_rpm), rel=1e-12)


# By hand: π × 0.1 m × 50 turns a second = 15.708 m/s; 0.25 m give 39.27 m/s. The limit of 30 m/s is from memory.
def test_a_belt_that_is_too_fast_is_told():
    assert belt_m_s(100.0, 3000.0) == pytest.approx(15.708, rel=1e-4)
    assert belt_caution(100.0, 3000.0) == "" == belt_caution(190.0, 3000.0)
    words = wording("that cast pulleys and V-belts")
    assert belt_caution(250.0, 3000.0) == f"The belt would run at 39.3 m/s, above the 30 m/s {words}"
    assert in_us(belt_caution, 250.0, 3000.0) == f"The belt would run at 129 ft/s, above the 98.4 ft/s {words}"
    assert belt_caution(192.0, 3000.0) != ""  # 30.16 m/s


# --- laws -------------------------------------------------------------------------------------------------------------


@given(engines())
def test_most_power_is_at_the_governed_speed_and_never_more_than_the_engine_gives(drive):
    speeds = np.append(np.linspace(0.0, 1.2 * drive.free_speed_rpm, 2401), drive.best_speed_rpm)
    watts = shaft_watts(drive, speeds)
    kept = drive.rated_watts * drive.belt_efficiency
    assert shaft_watts(drive, drive.engine_rpm * drive.pulley_ratio) == pytest.approx(kept, rel=1e-9)
    assert watts.max() == pytest.approx(kept, rel=1e-9)
    assert watts.max() <= sum(step for _, step in drive.source_steps) * (1 + 1e-12) <= drive.source_watts * (1 + 1e-9)


@given(engines())
def test_torque_is_flat_then_falls_to_nothing_at_the_free_speed(drive):
    best, free = drive.best_speed_rpm, drive.free_speed_rpm
    assert drive.torque_nm(0.0) == drive.torque_nm(best) > 0.0
    assert drive.torque_nm(free) == 0.0 == drive.torque_nm(1.1 * free)
    assert drive.torque_nm((best + free) / 2) == pytest.approx(drive.torque_nm(best) / 2, rel=1e-6)
    assert best < free <= drive.runaway_speed_rpm


@given(engines(), st.floats(0.0, 1.3))
def test_numbers_and_arrays_give_the_same(drive, share):
    speeds = np.array([[0.0, share], [1.0, 1.01]]) * drive.best_speed_rpm
    assert drive.torque_nm(speeds).tolist() == [[drive.torque_nm(n) for n in row] for row in speeds]
    assert isinstance(drive.torque_nm(100), float)


def test_a_quantity_turns_the_field_that_it_names():
    drive = engine()
    assert [(q.field, q.value) for q in drive.quantities] == [
        ("engine_rpm", 3000.0), ("pulley_ratio", 0.3), ("rated_watts", 1500.0)
    ]  # fmt: skip
    assert replace(drive, engine_rpm=2000.0).best_speed_rpm == pytest.approx(600.0)


# --- words ------------------------------------------------------------------------------------------------------------


# By hand: 0.45 to 0.675 kg in an hour of 1500 W, 0.99 to 1.49 lb.
@pytest.mark.outside(
    "petrol of a small engine",
    source="texts on heat engines",
    number="300 to 450 g/kWh",
    tolerance="as rounded in the sentence",
    seen="from memory",
)
def test_it_says_what_it_burns():
    assert fuel_words(1500.0) == wording("For 1500 W it burns")
    assert wording("0.99 lb to 1.5 lb") in in_us(fuel_words, 1500.0)
    with pytest.raises(BadInput, match=exactly(wording("power of the engine: -1"))):
        fuel_words(-1)


def test_it_says_what_it_does():
    assert engine().describe() == (wording("At full load the engine") + fuel_words(1500.0))


def test_limits_are_said():
    assert engine().limits == wording("The torque is taken as")


# --- refusals ---------------------------------------------------------------------------------------------------------

DROOP = wording("a number above 0 and at most 0.3")
OVERSPEED = wording("a number from 1 to 3")
RATIO = wording("a number above 0 and at most 50")
POWER = wording("a number above 0 and at most 50000")
SPEED = wording("a number above 0 and at most 20000")
PULLEY = wording("a number above 0 and at most 2000")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"droop": 0}, f"droop: 0 was given; {DROOP}"),
        ({"droop": 0.6}, f"droop: 0.6 was given; {DROOP}"),
        ({"droop": "5 %"}, f"droop: '5 %' is not a number; {DROOP}"),
        ({"overspeed_ratio": 0.99}, f"overspeed ratio: 0.99 was given; {OVERSPEED}"),
        ({"pulley_ratio": 0}, f"pulley ratio: 0 was given; {RATIO}"),
        ({"pulley_ratio": nan}, f"pulley ratio: nan was given; {RATIO}"),
        ({"rated_watts": -1500}, f"rated power: -1500 W was given; {POWER}"),
        ({"rated_watts": inf}, f"rated power: inf W was given; {POWER}"),
        ({"engine_rpm": 0.0}, f"governed speed: 0.0 rpm was given; {SPEED}"),
        ({"belt_efficiency": 1.1}, wording("belt efficiency: 1.1 was given")),
    ],
)
def test_nonsense_is_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        engine(**changes)


@pytest.mark.parametrize(
    ("pulleys", "sentence"),
    [
        ((0, 240), f"engine pulley: 0 mm was given; {PULLEY}"),
        ((80, -1.0), f"generator pulley: -1.0 mm was given; {PULLEY}"),
        ((80, None), f"generator pulley: None is not a number; {PULLEY}"),
    ],
)
def test_pulleys_that_cannot_be_are_refused(pulleys, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        ratio_of_pulleys(*pulleys)
