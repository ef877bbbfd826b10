"""A rider on pedals: what legs keep up, the straight line of their torque, and the flywheel."""

from dataclasses import replace
from math import inf, nan, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.drives import shaft_watts
from statorbook.drives.pedals import Pedals, sustained_watts
from statorbook.errors import BadInput
from strategies import numbers

wording = sentences_of("drives")


def pedals(**changes):
    return Pedals(**{"rider_watts": 100.0, "gear_ratio": 6.0, **changes})


def riders():
    return st.builds(
        Pedals,
        rider_watts=numbers(10.0, 1500.0),
        gear_ratio=numbers(0.2, 100.0),
        cadence_rpm=st.floats(20.0, 150.0),
        chain_efficiency=st.floats(0.3, 1.0),
    )


# --- what legs keep up ------------------------------------------------------------------------------------------------


@pytest.mark.outside(
    "what legs keep up for 8 h and for minutes",
    source="Malewicki, chart of 1983, as reported on a personal page on cycling",
    number="75 W, below 300 W",
    tolerance="none",
    seen="in a reproduction",
)
def test_published_watts_of_eight_hours_and_of_ten_minutes():
    assert sustained_watts(8.0) == pytest.approx(75.0, rel=1e-12)
    assert sustained_watts(10.0 / 60.0) < 300.0


@pytest.mark.outside(
    "what legs keep up for an hour",
    source="Human power, copy of an encyclopaedia article",
    number="50 to 150 W",
    tolerance="none",
    seen="read",
)
@pytest.mark.outside(
    "what legs keep up steadily",
    source="Princeton University, MAE laboratories, pages on human power, page human_3",
    number="100 W",
    tolerance="none",
    seen="read",
)
def test_published_watts_of_one_hour():
    assert 50.0 <= sustained_watts(1.0) <= 150.0
    assert sustained_watts(1) == pytest.approx(100.0, rel=1e-12)


# By hand: √8 h lies half way from 1 h to 8 h over the logarithm, so half way from 100 W to 75 W.
def test_between_the_published_times_it_is_straight_over_the_logarithm():
    assert sustained_watts(sqrt(8.0)) == pytest.approx(87.5, rel=1e-9)


@given(st.floats(0.034, 8.0), st.floats(0.034, 8.0))
def test_longer_never_gives_more(one, other):
    assert (sustained_watts(one) - sustained_watts(other)) * (one - other) <= 0.0


def test_watts_of_many_times_are_those_of_each():
    hours = np.array([[0.033, 0.5], [3.0, 8.0]])
    assert sustained_watts(hours).tolist() == [[sustained_watts(h) for h in row] for row in hours]
    assert isinstance(sustained_watts(2), float)


@pytest.mark.parametrize(("hours", "said"), [(0.01, "0.01"), (8.5, "8.5"), (0, "0"), (-1.0, "-1"), ([1.0, 24.0], "24")])
def test_a_time_without_known_watts_is_refused(hours, said):
    sentence = (
        f"hours at a stretch: {said} h was given; 0.033 h (2 min) to 8 h is allowed, since nothing is known of what "
        "legs keep up outside that; let riders take turns, or type the watts instead."
    )
    with pytest.raises(BadInput, match=exactly(sentence)):
        sustained_watts(hours)


@pytest.mark.parametrize(
    ("hours", "said"),
    [("all day", "'all day' is not a number"), (None, "None is not a number"), (nan, "nan h was given")],
)
def test_a_time_that_is_no_number_is_refused(hours, said):
    sentence = f"hours at a stretch: {said}; a number in h is allowed; type the hours that one rider keeps going."
    with pytest.raises(BadInput, match=exactly(sentence)):
        sustained_watts(hours)


# --- the straight line of torque --------------------------------------------------------------------------------------


# By hand: 100 W at 70 rpm are 13.642 N·m at the crank; over a gear of 6 and with 0.95 of it left 2.1599 N·m at 420 rpm.
def test_torque_and_speeds_by_hand():
    drive = pedals()
    assert drive.best_speed_rpm == pytest.approx(420.0)
    assert drive.torque_nm(420.0) == pytest.approx(2.1599, rel=1e-4)
    assert drive.torque_nm(0.0) == pytest.approx(2 * 2.1599, rel=1e-4)
    assert drive.torque_nm(630.0) == pytest.approx(2.1599 / 2, rel=1e-4)
    assert drive.free_speed_rpm == drive.runaway_speed_rpm == pytest.approx(840.0)
    assert drive.source_steps == (("rider", 100.0), ("chain", pytest.approx(-5.0)))


@given(riders())
def test_most_power_is_at_the_best_cadence_and_never_more_than_the_rider_gives(drive):
    speeds = np.linspace(0.0, 1.2 * drive.free_speed_rpm, 2401)
    watts = shaft_watts(drive, speeds)
    kept = drive.rider_watts * drive.chain_efficiency
    assert shaft_watts(drive, drive.cadence_rpm * drive.gear_ratio) == pytest.approx(kept, rel=1e-9)
    assert speeds[watts.argmax()] == pytest.approx(drive.best_speed_rpm, rel=1e-3)
    assert watts.max() <= sum(step for _, step in drive.source_steps) * (1 + 1e-12) <= drive.source_watts * (1 + 1e-9)


@given(riders())
def test_torque_falls_to_nothing_at_the_free_speed_and_stays_there(drive):
    assert drive.torque_nm(0.0) == pytest.approx(2 * drive.torque_nm(drive.best_speed_rpm), rel=1e-9)
    assert drive.torque_nm(drive.free_speed_rpm) == pytest.approx(0.0, abs=1e-9 * drive.torque_nm(0.0))
    assert drive.torque_nm(1.5 * drive.free_speed_rpm) == 0.0
    assert np.diff(drive.torque_nm(np.linspace(0.0, drive.free_speed_rpm, 101))).max() < 0.0


@given(riders(), numbers(0.1, 3.0))
def test_numbers_and_arrays_give_the_same(drive, share):
    speeds = np.array([[0.0, share], [1.0, 2.0]]) * drive.best_speed_rpm
    assert drive.torque_nm(speeds).tolist() == [[drive.torque_nm(n) for n in row] for row in speeds]
    assert isinstance(drive.torque_nm(100), float)


def test_a_quantity_turns_the_field_that_it_names():
    drive = pedals()
    assert [(q.field, q.value) for q in drive.quantities] == [
        ("rider_watts", 100.0), ("gear_ratio", 6.0), ("cadence_rpm", 70.0)
    ]  # fmt: skip
    assert replace(drive, gear_ratio=9.0).best_speed_rpm == pytest.approx(1.5 * drive.best_speed_rpm)


# --- the flywheel -----------------------------------------------------------------------------------------------------

WHEEL = {"flywheel_kg": 10.0, "flywheel_diameter_mm": 400.0}


# By hand: a disc of 10 kg and 0.2 m radius has ½ × 10 × 0.04 = 0.2 kg·m²; 600 rpm are 20π rad/s, so ½ J Ω² = 394.78 J;
# 0.5 N·m takes 0.2 × 10π / 0.5 = 12.566 s to bring it to half its speed.
def test_energy_and_coasting_by_hand():
    drive = pedals(**WHEEL)
    assert drive.flywheel_kg_m2 == pytest.approx(0.2, rel=1e-12)
    assert drive.flywheel_joules(600.0) == pytest.approx(394.784, rel=1e-5)
    assert drive.coast_seconds(600.0, 0.5) == pytest.approx(4 * pi, rel=1e-12)
    assert drive.flywheel_joules(np.array([0.0, 300.0, 600.0])) == pytest.approx([0.0, 98.696, 394.784], rel=1e-5)


# Kinetic energy goes as the square of the wheel's own speed.
def test_a_faster_wheel_holds_more():
    assert pedals(**WHEEL, flywheel_ratio=3.0).flywheel_joules(200.0) == pytest.approx(394.784, rel=1e-5)


# Judge: the equation of motion in small steps of the crank angle, push 1 − cos 2θ times its mean, steady load.
@pytest.mark.outside(
    "swing of a flywheel's speed within a push",
    source="equation of motion in small steps of the crank angle",
    number="1 − cos 2θ times the mean push",
    tolerance="0.5 %",
    seen="derived",
)
@pytest.mark.parametrize(("gear_ratio", "flywheel_kg"), [(6.0, 10.0), (9.0, 10.0), (6.0, 40.0)])
def test_swing_within_a_push_as_the_equation_of_motion_gives_it(gear_ratio, flywheel_kg):
    drive = pedals(**{**WHEEL, "gear_ratio": gear_ratio, "flywheel_kg": flywheel_kg})
    inertia, mean = 0.5 * flywheel_kg * 0.2**2, gear_ratio * 70 * pi / 30
    angle = np.linspace(0.0, 2 * pi, 20_001)
    crank_nm = 0.95 * 100.0 / (70 * pi / 30)
    energy = 0.5 * inertia * mean**2 + np.cumsum(-np.cos(2 * angle)) * crank_nm * (angle[1] - angle[0])
    speed = np.sqrt(2 * energy / inertia)
    assert drive.swing_share == pytest.approx((speed.max() - speed.min()) / mean, rel=5e-3)


def test_without_a_flywheel_nothing_is_stored():
    drive = pedals()
    assert (drive.flywheel_joules(600.0), drive.coast_seconds(600.0, 0.5), drive.swing_share) == (0.0, 0.0, inf)


@pytest.mark.parametrize("changes", [{"flywheel_kg": 5.0}, {"flywheel_diameter_mm": 300.0}])
def test_half_a_flywheel_is_refused(changes):
    sentence = wording("flywheel: only one of its")
    with pytest.raises(BadInput, match=exactly(sentence)):
        pedals(**changes)


def test_coasting_against_nothing_is_refused():
    sentence = wording("torque against the flywheel: 0")
    with pytest.raises(BadInput, match=exactly(sentence)):
        pedals(**WHEEL).coast_seconds(600.0, 0)


# --- words ------------------------------------------------------------------------------------------------------------

# Numbers by hand: see above; 420 rpm are 14π rad/s, so the wheel holds 193.4 J, and the swing is 95 / (7π/3) = 12.96 J
# over twice that, 3.3498 %; 10 kg are 22.0 lb.
SPEEDS = wording("The rider gives 100 W")


def test_it_says_what_it_does():
    assert pedals().describe() == in_us(pedals().describe) == SPEEDS
    wheel = wording("taken to be a solid")
    assert pedals(**WHEEL).describe() == f"{SPEEDS} The flywheel of 10 kg, {wheel}"
    assert in_us(pedals(**WHEEL).describe) == f"{SPEEDS} The flywheel of 22 lb, {wheel}"


def test_limits_are_said():
    assert pedals().limits == wording("The rider is assumed healthy")


# --- refusals ---------------------------------------------------------------------------------------------------------

GEAR = wording("a number above 0 and at most 100 is allowed; divide the turns of the generator by those of the crank")
WATTS = wording("a number above 0 and at most 1500")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"gear_ratio": 0}, f"gear ratio: 0 was given; {GEAR}"),
        ({"gear_ratio": -2.5}, f"gear ratio: -2.5 was given; {GEAR}"),
        ({"gear_ratio": inf}, f"gear ratio: inf was given; {GEAR}"),
        ({"gear_ratio": "52:12"}, f"gear ratio: '52:12' is not a number; {GEAR}"),
        ({"rider_watts": -100}, f"rider's watts: -100 W was given; {WATTS}"),
        ({"rider_watts": 0.0}, f"rider's watts: 0.0 W was given; {WATTS}"),
        ({"rider_watts": nan}, f"rider's watts: nan W was given; {WATTS}"),
        ({"rider_watts": 1501}, f"rider's watts: 1501 W was given; {WATTS}"),
        ({"cadence_rpm": 19.0}, wording("cadence: 19.0 rpm was given")),
        ({"chain_efficiency": 1.01}, wording("chain efficiency: 1.01 was given")),
        ({"crank_mm": 17}, wording("crank length: 17 mm was")),
        ({"flywheel_kg": -1}, wording("flywheel mass: -1 kg was")),
        ({"flywheel_diameter_mm": 3001}, wording("flywheel diameter: 3001 mm was")),
        ({"flywheel_ratio": 0}, wording("flywheel ratio: 0 was given")),
    ],
)
def test_nonsense_is_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        pedals(**changes)
