"""A jet at the end of a pipe and the nozzle that suits it, against worked examples in textbooks."""

from dataclasses import replace
from math import inf, radians, sqrt
from time import perf_counter

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.drives import shaft_watts
from statorbook.drives.nozzle_choice import best_nozzle_mm, nozzle_for_power_mm, nozzle_sweep, usable_nozzles_mm
from statorbook.drives.pipe import MeasuredLoss, Pipe
from statorbook.drives.pipe_parts import MATERIALS
from statorbook.drives.piped_jet import PipedJet, nozzle_flow_l_s, open_flow_l_s
from statorbook.drives.water_jet import WaterJet
from statorbook.errors import BadInput
from strategies import numbers

wording = sentences_of("drives")

FOOT_M, HORSEPOWER_WATTS, CUBIC_FOOT_LITRES, GALLON_LITRES = 0.3048, 745.700, 28.31685, 3.785412
GRAVITY = 9.80665
SMALL = Pipe(length_m=120.0, bore_mm=60.0, material="polyethylene", bends=3, valve="ball", strainer=True)
ROUGH = Pipe(length_m=120.0, bore_mm=60.0, material="PVC", friction_factor=0.02)


def piped(**changes):
    outlet = {} if "flow_l_s" in changes else {"nozzle_mm": 16.0}
    return PipedJet(**{"gross_head_m": 28.0, "pipe": SMALL, "pitch_diameter_mm": 220.0, **outlet, **changes})


# --- textbook examples ------------------------------------------------------------------------------------------------


# 200 ft, 1000 ft of 8 in pipe, f 0.02, no minor losses, buckets of 150° at half jet speed, radius 1.5 ft.
@pytest.mark.outside(
    "nozzle of most power at the end of a pipe",
    source="Munson, Young, Okiishi, Fundamentals of Fluid Mechanics, example 12.6, p. 719",
    number="0.2395 ft, 59.0 hp, 295 rpm",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_published_best_nozzle():
    pipe = Pipe(length_m=1000 * FOOT_M, bore_mm=8 * 25.4, material="steel", friction_factor=0.02, entrance_loss=0.0)
    drive = PipedJet(
        gross_head_m=200 * FOOT_M,
        pipe=pipe,
        nozzle_mm=100.0,
        pitch_diameter_mm=3000 * FOOT_M,
        efficiency=(1 - np.cos(radians(150.0))) / 2,
        velocity_coefficient=1.0,
        speed_ratio=0.5,
        runaway_ratio=2.0,
    )
    assert best_nozzle_mm(drive) == pytest.approx(239.5 * FOOT_M, rel=5e-3)
    best = replace(drive, nozzle_mm=best_nozzle_mm(drive))
    assert best.best_shaft_watts == pytest.approx(59.0 * HORSEPOWER_WATTS, rel=5e-3)
    assert best.best_speed_rpm == pytest.approx(295.0, rel=3e-3)


# Daugherty and Franzini, Ex. 15.1: 200 ft, V = √(2 g 200 / (1.04 + 640 D⁴)), D in feet: nozzle loss 0.04 V²/2g and a
# pipe such as 1000 ft of 6 in with f 0.02. Jet in inches, V in ft/s, flow in ft³/s, power of the jet in hp.
JET_SIZES = [
    (1, 109.7, 0.598, 12.68),
    (1.5, 103.8, 1.273, 24.15),
    (2, 91.6, 1.999, 29.58),
    (2.5, 75.7, 2.582, 26.09),
    (3, 60.3, 2.961, 18.98),
    (4, 38.0, 3.312, 8.41),
    (6, 17.7, 3.478, 1.92),
]


def jet_size(inches):
    pipe = Pipe(length_m=1000 * FOOT_M, bore_mm=6 * 25.4, material="steel", friction_factor=0.02, entrance_loss=0.0)
    return PipedJet(
        gross_head_m=200 * FOOT_M,
        pipe=pipe,
        nozzle_mm=inches * 25.4,
        pitch_diameter_mm=30 * 25.4,
        velocity_coefficient=1 / sqrt(1.04),
    )


@pytest.mark.outside(
    "jets of one inch to six at the end of a pipe",
    source="Daugherty and Franzini, Fluid Mechanics, example 15.1, p. 486",
    number="109.7 to 17.7 ft/s, 0.598 to 3.478 ft³/s, 12.68 to 1.92 hp",
    tolerance="0.3 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("inches", "feet_per_second", "cubic_feet_per_second", "horsepower"), JET_SIZES)
def test_published_jet_sizes(inches, feet_per_second, cubic_feet_per_second, horsepower):
    drive = jet_size(inches)
    assert drive.jet_m_s == pytest.approx(feet_per_second * FOOT_M, rel=3e-3)
    assert drive.total_flow_l_s == pytest.approx(cubic_feet_per_second * CUBIC_FOOT_LITRES, rel=3e-3)
    assert sum(watts for _, watts in drive.source_steps) == pytest.approx(horsepower * HORSEPOWER_WATTS, rel=3e-3)


@pytest.mark.outside(
    "best jet, where a third of the head is lost",
    source="Daugherty and Franzini, Fluid Mechanics, example 15.1, p. 486",
    number="2.03 in",
    tolerance="0.3 %",
    seen="in a reproduction",
)
def test_published_best_jet_size():
    best = best_nozzle_mm(jet_size(1))
    assert best == pytest.approx(2.03 * 25.4, rel=3e-3)
    assert jet_size(best / 25.4).pipe_loss_m == pytest.approx(200 * FOOT_M / 3, rel=1e-3)


# The same example as a row, all nozzles at once.
def test_published_jet_sizes_in_one_sweep():
    inches, _, flows, horsepower = map(np.array, zip(*JET_SIZES, strict=True))
    drive = jet_size(1)
    found = nozzle_sweep(drive, inches * 25.4)
    assert found.flow_l_s == pytest.approx(flows * CUBIC_FOOT_LITRES, rel=3e-3)
    in_jet = horsepower * HORSEPOWER_WATTS * 1.04
    assert found.shaft_watts == pytest.approx(drive.efficiency * in_jet, rel=3e-3)


# 80 ft standpipe, 600 ft of 4 in, f 0.031; the water also runs down the 80 ft, an open gate counts as 8 bores (memory).
@pytest.mark.outside(
    "flow of an open pipe without a nozzle",
    source="Fox and McDonald, Introduction to Fluid Mechanics, example 8.7, p. 355",
    number="350 gpm",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_published_open_pipe():
    pipe = Pipe(
        length_m=680 * FOOT_M,
        bore_mm=101.6,
        material="steel",
        friction_factor=0.031,
        entrance_loss=0.0,
        extra_loss=8 * 0.031,
    )
    drive = PipedJet(
        gross_head_m=80 * FOOT_M, pipe=pipe, nozzle_mm=101.6, pitch_diameter_mm=600.0, velocity_coefficient=1.0
    )
    assert drive.total_flow_l_s * 60 / GALLON_LITRES == pytest.approx(350.0, rel=5e-3)
    assert open_flow_l_s(pipe, 80 * FOOT_M) > drive.total_flow_l_s


# D 0.9 m, ratio 0.47, Cv 0.98.
@pytest.mark.outside(
    "speed behind a pipe that takes 48 m of 600 m",
    source="Arasu, Turbomachines, example 9.5, p. 410",
    number="1017 rpm, nozzle 42.3 mm",
    tolerance="0.3 %",
    seen="in a reproduction",
)
def test_published_speed_at_net_head():
    free = WaterJet(head_m=552.0, nozzle_mm=42.3, pitch_diameter_mm=900.0, velocity_coefficient=0.98)
    pipe = MeasuredLoss(static_m=600.0, running_m=552.0, flow_l_s=free.total_flow_l_s)
    wheel = {"pitch_diameter_mm": 900.0, "velocity_coefficient": 0.98, "speed_ratio": 0.47}
    drive = PipedJet(gross_head_m=600.0, pipe=pipe, nozzle_mm=42.3, **wheel)
    assert drive.net_head_m == pytest.approx(552.0, rel=1e-9)
    assert drive.best_speed_rpm == pytest.approx(1017.0, rel=3e-3)
    by_flow = PipedJet(gross_head_m=600.0, pipe=pipe, flow_l_s=free.total_flow_l_s, **wheel)
    assert by_flow.jet_mm == pytest.approx(42.3, rel=1e-9)


# --- laws -------------------------------------------------------------------------------------------------------------


def drives():
    return st.builds(
        piped,
        gross_head_m=numbers(2.0, 200.0),
        pipe=st.builds(
            Pipe,
            length_m=numbers(5.0, 2000.0),
            bore_mm=numbers(40.0, 200.0),
            material=st.sampled_from(list(MATERIALS)),
            bends=st.integers(0, 10),
            strainer=st.booleans(),
        ),
        nozzle_mm=st.floats(6.0, 38.0),
        jets=st.integers(1, 4),
    )


@given(drives(), st.floats(0.0, 1.2))
def test_heads_flows_and_watts_balance(drive, share):
    assert drive.net_head_m + drive.pipe.loss_m(drive.total_flow_l_s) == pytest.approx(drive.gross_head_m, rel=1e-6)
    free = WaterJet(head_m=drive.net_head_m, nozzle_mm=drive.nozzle_mm, jets=drive.jets, pitch_diameter_mm=220.0)
    assert drive.total_flow_l_s == pytest.approx(free.total_flow_l_s, rel=1e-9)
    steps = dict(drive.source_steps)
    assert list(steps) == ["water at rest in the pipe", "pipe", "nozzle"]
    assert steps["water at rest in the pipe"] == pytest.approx(
        1000 * GRAVITY * drive.total_flow_l_s / 1000 * drive.gross_head_m, rel=1e-9
    )
    assert drive.source_watts == steps["water at rest in the pipe"] and steps["pipe"] < 0 > steps["nozzle"]
    # Energy in is never less than energy out, at any speed.
    speed = share * drive.runaway_speed_rpm
    assert shaft_watts(drive, speed) <= sum(steps.values()) * (1 + 1e-9)


@given(drives())
def test_the_torque_is_that_of_its_jet_and_ends_at_the_free_speed(drive):
    speeds = np.linspace(0.0, drive.runaway_speed_rpm, 7)
    assert drive.torque_nm(speeds) == pytest.approx([drive.torque_nm(n) for n in speeds], rel=1e-12)
    assert drive.torque_nm(drive.free_speed_rpm) == pytest.approx(0.0, abs=1e-9 * drive.torque_nm(0.0))
    assert shaft_watts(drive, drive.best_speed_rpm) == pytest.approx(drive.best_shaft_watts, rel=1e-9)
    assert drive.runaway_speed_rpm == drive.free_speed_rpm == 1.8 * drive.best_speed_rpm
    assert isinstance(drive.torque_nm(100), float)


@given(drives())
def test_the_measured_flow_gives_the_nozzle_back(drive):
    # The head left is a small difference where the pipe takes nearly everything.
    assume(drive.net_head_m > 0.01 * drive.gross_head_m)
    by_flow = replace(drive, nozzle_mm=None, flow_l_s=drive.total_flow_l_s)
    assert by_flow.jet_mm == pytest.approx(drive.nozzle_mm, rel=1e-6)
    assert by_flow.best_shaft_watts == pytest.approx(drive.best_shaft_watts, rel=1e-6)


@given(drives())
def test_a_row_of_nozzles_is_each_nozzle_alone(drive):
    bores = np.linspace(*usable_nozzles_mm(drive), 5)
    found = nozzle_sweep(drive, bores)
    alone = [replace(drive, nozzle_mm=float(bore)) for bore in bores]
    assert found.flow_l_s == pytest.approx([jet.total_flow_l_s for jet in alone], rel=1e-6)
    assert found.net_head_m == pytest.approx([jet.net_head_m for jet in alone], rel=1e-5, abs=1e-9)
    assert found.shaft_watts == pytest.approx([jet.best_shaft_watts for jet in alone], rel=1e-5)
    assert found.net_head_m + found.pipe_share * drive.gross_head_m == pytest.approx(drive.gross_head_m)


@pytest.mark.outside(
    "head lost at the nozzle of most power",
    source="differentiation of Q (H − c Q²)",
    number="1/3",
    tolerance="0.1 %",
    seen="derived",
)
@given(numbers(5.0, 200.0), numbers(0.01, 0.08), numbers(50.0, 1000.0), st.floats(0.9, 1.0), st.integers(1, 4))
def test_a_third_of_the_head_is_lost_at_the_best_nozzle(gross_head_m, factor, length_m, coefficient, jets):
    pipe = replace(ROUGH, friction_factor=factor, length_m=length_m)
    drive = piped(
        gross_head_m=gross_head_m, pipe=pipe, velocity_coefficient=coefficient, jets=jets, pitch_diameter_mm=260.0
    )
    best = replace(drive, nozzle_mm=best_nozzle_mm(drive))
    # A short pipe has its best beyond what the runner can use.
    assume(best.nozzle_mm < 0.999 * usable_nozzles_mm(drive)[1])
    assert best.pipe_loss_m == pytest.approx(gross_head_m / 3, rel=1e-4)
    for other in (0.97, 1.03):
        assert replace(drive, nozzle_mm=other * best.nozzle_mm).best_shaft_watts < best.best_shaft_watts


def test_a_short_pipe_has_its_best_at_the_widest_nozzle():
    drive = piped(pipe=replace(SMALL, length_m=1.0, bore_mm=300.0))
    assert best_nozzle_mm(drive) == pytest.approx(220.0 / 5, rel=1e-5)
    assert replace(drive, nozzle_mm=best_nozzle_mm(drive)).best_shaft_watts > drive.best_shaft_watts


@given(st.floats(0.1, 0.999))
def test_the_nozzle_for_a_wish_gives_it_and_is_the_smaller_one(share):
    drive = piped()
    best = best_nozzle_mm(drive)
    wish = share * replace(drive, nozzle_mm=best).best_shaft_watts
    bore = nozzle_for_power_mm(drive, wish)
    assert bore <= best
    assert replace(drive, nozzle_mm=bore).best_shaft_watts == pytest.approx(wish, rel=1e-6)


class Lossless:
    """A pipe that takes nothing."""

    def loss_m(self, flow_l_s):
        return 0.0 * flow_l_s


def test_a_pipe_that_takes_nothing_is_a_jet():
    drive, jet = piped(pipe=Lossless()), WaterJet(head_m=28.0, nozzle_mm=16.0, pitch_diameter_mm=220.0)
    assert drive.total_flow_l_s == pytest.approx(jet.total_flow_l_s, rel=1e-12)
    assert open_flow_l_s(Lossless(), 28.0) == inf
    assert best_nozzle_mm(drive) == pytest.approx(44.0, rel=1e-5)


# By hand: c = 6 m at 2 L/s, so 24 m are gone at 4 L/s. A free flow of 4 L/s: 24 (1 − Q²/16) = 1.5 Q², Q = √8.
def test_flow_by_hand():
    pipe = MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)
    assert open_flow_l_s(pipe, 24.0) == pytest.approx(4.0, rel=1e-9)
    assert nozzle_flow_l_s(pipe, 24.0, 4.0) == pytest.approx(sqrt(8.0), rel=1e-9)
    assert nozzle_flow_l_s(pipe, 24.0, np.array([4.0, 4.0])) == pytest.approx(np.full(2, sqrt(8.0)), rel=1e-9)


# --- words ------------------------------------------------------------------------------------------------------------


# By hand: 30 m, of which 6 m are lost at 2 L/s: V = 0.97 √(2 g 24) = 21.05 m/s, 470.72 W at the nozzle, 70 % are
# 329.5 W; best 60 × 0.46 V / (π 0.22) = 840.4 rpm, × 1.8 = 1512.7 rpm. 6 m = 19.7 ft, 30 m = 98.4 ft.
def test_it_says_what_it_does():
    pipe = MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)
    drive = piped(gross_head_m=30.0, pipe=pipe, flow_l_s=2.0)
    assert drive.describe() == wording("The pipe takes 6 m")
    assert in_us(drive.describe).startswith(wording("The pipe takes 19.7 ft"))
    assert drive.limits.endswith(wording("The pipe is assumed full"))
    assert drive.loss_name == "runner"


def test_drop_and_nozzle_can_be_turned():
    drive = piped()
    assert [(quantity.field, quantity.value, quantity.unit) for quantity in drive.quantities] == [
        ("gross_head_m", 28.0, "m"),
        ("nozzle_mm", 16.0, "mm"),
    ]
    for quantity in drive.quantities:
        assert quantity.low <= quantity.value <= quantity.high
        more = replace(drive, **{quantity.field: quantity.value + quantity.step})
        assert more.source_watts > drive.source_watts


# --- refusals ---------------------------------------------------------------------------------------------------------

HEAD = wording("survey the drop, or read")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"gross_head_m": -28.0},
            f"static head: -28.0 m was given; a number above 0 and at most 1000 m is allowed; {HEAD}",
        ),
        ({"pitch_diameter_mm": 400.0, "nozzle_mm": 70.0}, wording("nozzle bore: a jet of")),
        ({"flow_l_s": 0.0}, wording("flow: 0.0 L/s was given")),
        ({"jets": 0}, wording("jets: 0 was given; a")),
        ({"nozzle_mm": None}, wording("nozzle or flow: both or")),
        ({"nozzle_mm": 16.0, "flow_l_s": 3.0}, wording("nozzle or flow: both or")),
        ({"pitch_diameter_mm": 60.0}, wording("runner and jet: a 60")),
    ],
)
def test_nonsense_is_refused(changes, sentence):
    changes = {"pitch_diameter_mm": 350.0, **changes} if changes.get("nozzle_mm") == 70.0 else changes
    with pytest.raises(BadInput, match=exactly(sentence)):
        piped(**changes)


# By hand: 6 m at 2 L/s, so that 24 m push 4 L/s through the open end.
@pytest.mark.parametrize("flow_l_s", [4.0, 7.5])
def test_a_flow_that_the_head_cannot_push_is_refused(flow_l_s):
    pipe = MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)
    sentence = (
        f"flow: {flow_l_s:.4g} L/s was given; a drop of 24 m pushes less than 4 L/s through this pipe, "
        "even without a nozzle; time a bucket again, or measure the drop and the pipe's bore again."
    )
    with pytest.raises(BadInput, match=exactly(sentence)):
        piped(gross_head_m=24.0, pipe=pipe, flow_l_s=flow_l_s)


# By hand: c = 1.5 m per (L/s)²; most at c Q² = 8 m, Q = 2.309 L/s, 16 m left, 362.4 W, 70 % are 253.6 W; jet
# V = 0.97 √(2 g 16) = 17.18 m/s, so 13.1 mm.
def test_a_wish_above_the_most_is_refused_and_the_most_is_named():
    pipe = MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)
    drive = piped(gross_head_m=24.0, pipe=pipe, nozzle_mm=10.0)
    sentence = wording("wished shaft power: 400 W")
    with pytest.raises(BadInput, match=exactly(sentence)):
        nozzle_for_power_mm(drive, 400.0)
    assert nozzle_for_power_mm(drive, 253.6) == pytest.approx(13.1, rel=0.02)


# By hand: the narrowest nozzle is 220 / 60 = 3.67 mm; it passes 0.2222 L/s of 21.05 m/s, 36.6 W at the shaft, without
# loss; 1.5 × 0.2222² = 0.074 m of 24 m lost take 0.46 % of it, 36.4 W.
def test_a_wish_below_the_least_is_refused():
    pipe = MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)
    sentence = wording("wished shaft power: 1 W")
    with pytest.raises(BadInput, match=exactly(sentence)):
        nozzle_for_power_mm(piped(gross_head_m=24.0, pipe=pipe, nozzle_mm=10.0), 1.0)


@pytest.mark.parametrize("wish", [0.0, -5.0])
def test_a_wish_for_nothing_is_refused(wish):
    sentence = (
        f"wished shaft power: {wish} W was given; a number above 0 W is allowed; "
        "measure or type the wished shaft power again."
    )
    with pytest.raises(BadInput, match=exactly(sentence)):
        nozzle_for_power_mm(piped(), wish)


# --- speed ------------------------------------------------------------------------------------------------------------


# A slider stays smooth: 3 ms for a drive, 50 ms for 60 nozzles; the best of several runs, as the computer does other
# things too.
def test_it_is_fast_enough_for_a_slider():
    drive = piped()
    bores = np.linspace(5.0, 40.0, 60)
    nozzle_sweep(drive, bores)

    def shortest(call):
        found = []
        for _ in range(7):
            start = perf_counter()
            call()
            found.append(perf_counter() - start)
        return min(found)

    assert shortest(lambda: piped(nozzle_mm=17.0)) < 3e-3
    assert shortest(lambda: nozzle_sweep(drive, bores)) < 50e-3
