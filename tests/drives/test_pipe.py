"""Head lost in a pipe and the blow of a sudden stop, against worked examples in textbooks."""

from math import nan, pi, sqrt

import numpy as np
import pytest
from fluids import fittings
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.drives.pipe import MeasuredLoss, Pipe
from statorbook.drives.pipe_parts import MATERIALS, STRAINER_K, WATER_VISCOSITY_CST, fittings_loss
from statorbook.errors import BadInput
from strategies import numbers

wording = sentences_of("drives")

GRAVITY = 9.80665


def pipe(**changes):
    return Pipe(**{"length_m": 100.0, "bore_mm": 50.0, "material": "PVC", **changes})


def flow_at(reynolds, bore_mm=50.0, viscosity_cst=1.307):
    """Flow in L/s of a Reynolds number, by its definition."""
    return reynolds * viscosity_cst * 1e-6 * pi * bore_mm / 4.0


# --- textbook examples ------------------------------------------------------------------------------------------------


@pytest.mark.outside(
    "friction factor by Colebrook's equation",
    source="fluids 1.3.1, friction.Colebrook(Re, eD)",
    number="0.030883, 0.017990, 0.018514, 0.022175, 0.019943",
    tolerance="1e-6",
    seen="computed by package",
)
@pytest.mark.outside(
    "friction factor by an explicit form",
    source="fluids 1.3.1, friction.Swamee_Jain_1976(Re, eD)",
    number="0.030972, 0.017863, 0.018452, 0.022342, 0.020029",
    tolerance="1 %",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("reynolds", "relative", "colebrook", "swamee_jain"),
    [
        (1e4, 0.0, 0.030883, 0.030972),
        (1e5, 0.0, 0.017990, 0.017863),
        (1e5, 1e-4, 0.018514, 0.018452),
        (1e5, 1e-3, 0.022175, 0.022342),
        (1e6, 1e-3, 0.019943, 0.020029),
    ],
)
def test_published_friction_factors(reynolds, relative, colebrook, swamee_jain):
    found = pipe(roughness_mm=50.0 * relative).darcy_factor(flow_at(reynolds))
    assert found == pytest.approx(colebrook, abs=1e-6)
    assert found == pytest.approx(swamee_jain, rel=0.01)


# 60 m of 50 mm, ε 0.002 mm, 0.006 m³/s, ρ 999, μ 1.138e-3; the book's rounded f of 0.0172 makes 9.85 m, 579 W.
@pytest.mark.outside(
    "head lost in a smooth tube",
    source="Çengel and Cimbala, Fluid Mechanics, example 8-3, p. 360",
    number="9.82 m, 577 W",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_published_loss_of_a_smooth_tube():
    line = pipe(length_m=60.0, roughness_mm=0.002, viscosity_cst=1.138e-3 / 999 * 1e6, entrance_loss=0.0)
    assert line.loss_m(6.0) == pytest.approx(9.82, rel=5e-3)
    assert 999 * GRAVITY * line.loss_m(6.0) * 0.006 == pytest.approx(577.0, rel=5e-3)


# 89 m of 50 mm, ε 0.26 mm, 10 °C, ΣK 2.36 and 4 m higher; recomputed 31.82 m with f 0.03152.
@pytest.mark.outside(
    "head that drives 6 L/s through cast iron and fittings",
    source="Çengel and Cimbala, Fluid Mechanics, example 8-8, p. 377",
    number="31.8 m, f 0.0315",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_published_loss_with_fittings_at_ten_degrees():
    line = pipe(length_m=89.0, roughness_mm=0.26, entrance_loss=0.0, extra_loss=2.36)
    assert line.loss_m(6.0) + 4.0 == pytest.approx(31.82, rel=5e-3)
    assert line.darcy_factor(6.0) == pytest.approx(0.03152, rel=5e-3)


# 100 m of 75 mm, 0.0084 m³/s, f 0.017, K 0.5 and 1: inputs as in the example, whose reproduction adds 1.6 m; reworked.
@pytest.mark.outside(
    "head lost with a given friction factor",
    source="Fox and McDonald, Introduction to Fluid Mechanics, example 8.5, p. 352",
    number="4.46 m",
    tolerance="0.5 %",
    seen="derived",
)
def test_published_loss_with_a_given_friction_factor():
    assert pipe(bore_mm=75.0, friction_factor=0.017, extra_loss=1.0).loss_m(8.4) == pytest.approx(4.46, rel=5e-3)


# 50 mm, 2 L/s.
@pytest.mark.outside(
    "head lost in 100 m of plastic pipe",
    source="Hazen and Williams, C 150, texts on hydraulics",
    number="2.168 m",
    tolerance="5 %",
    seen="from memory",
)
@pytest.mark.outside(
    "the same by Darcy's equation",
    source="fluids 1.3.1, friction.friction_factor, ε 0.0015 mm, 1.004 cSt",
    number="2.214 m",
    tolerance="0.1 %",
    seen="computed by package",
)
def test_published_loss_of_a_plastic_pipe():
    hazen_williams = 10.67 * 100 * 0.002**1.852 / (150**1.852 * 0.05**4.8704)
    found = pipe(viscosity_cst=1.004, entrance_loss=0.0).loss_m(2.0)
    assert found == pytest.approx(2.214, rel=1e-3)
    assert found == pytest.approx(hazen_williams, rel=0.05)


@pytest.mark.outside(
    "loss at a sharp intake",
    source="White, Fluid Mechanics",
    number="0.5 velocity heads",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.outside(
    "loss at a sharp intake",
    source="fluids 1.3.1, fittings.entrance_sharp(method='Crane')",
    number="0.5",
    tolerance="none",
    seen="computed by package",
)
def test_the_intake_takes_half_a_velocity_head():
    assert pipe().fittings_loss == fittings.entrance_sharp(method="Crane") == 0.5
    assert pipe().loss_m(2.0) - pipe(entrance_loss=0.0).loss_m(2.0) == pytest.approx(
        0.5 * (0.002 / (pi / 4 * 0.05**2)) ** 2 / (2 * GRAVITY), rel=1e-9
    )


@pytest.mark.outside(
    "losses of elbow and open valves",
    source="Crane, Technical Paper 410",
    number="elbow 30, ball 3, gate 8, globe 340 times 0.019",
    tolerance="1 %",
    seen="from memory",
)
@pytest.mark.parametrize(("valve", "times"), [("none", 0), ("ball", 3), ("gate", 8), ("globe", 340)])
def test_fittings_are_those_of_the_handbook(valve, times):
    assert fittings_loss(50.0, bends=0, valve=valve, strainer=False) == pytest.approx(times * 0.019, rel=0.01)
    assert fittings_loss(50.0, bends=2, valve=valve, strainer=False) == pytest.approx((60 + times) * 0.019, rel=0.01)
    assert pipe(valve=valve, strainer=True).fittings_loss == pytest.approx(
        0.5 + STRAINER_K.value + times * 0.019, rel=0.01
    )


@pytest.mark.outside(
    "loss of laminar flow",
    source="Hagen and Poiseuille, exact solution",
    number="f = 64 / Re",
    tolerance="1e-9",
    seen="derived",
)
def test_creeping_flow_is_poiseuilles():
    exact = 128 * 1.307e-6 * 100 * 1e-5 / (pi * GRAVITY * 0.05**4)
    assert pipe(entrance_loss=0.0).loss_m(0.01) == pytest.approx(exact, rel=1e-9)


# --- the blow of a sudden stop ----------------------------------------------------------------------------------------


# Joukowsky by hand: rigid wall √(2.1e9 / 1000) = 1449 m/s, so 14.49 bar for each m/s. Steel, E 207 GPa, wall a tenth of
# the bore: 1449 / √(1 + 2.1/207 × 10) = 1380.9 m/s; 2 m/s make 27.62 bar; 2 × 690.45 m / a = 1.000 s.
@pytest.mark.outside(
    "speed of a pressure wave behind a rigid wall",
    source="Joukowsky 1898, Korteweg 1878",
    number="1449 m/s, 14.49 bar for each m/s",
    tolerance="0.01 %",
    seen="from memory",
)
def test_sudden_stop_by_hand():
    line = pipe(length_m=690.45, material="steel", wall_mm=5.0)
    assert line.wave_m_s == pytest.approx(1380.9, rel=1e-4)
    assert line.surge_bar(2.0) == pytest.approx(27.62, rel=1e-3)
    assert line.wave_seconds == pytest.approx(1.0, rel=1e-4)


@pytest.mark.parametrize("material", MATERIALS)
def test_no_wall_makes_the_wave_faster_than_a_rigid_one(material):
    assert 100.0 < pipe(material=material).wave_m_s < sqrt(2.1e9 / 1000)


def test_a_thinner_wall_softens_the_blow_and_arrays_agree():
    assert pipe(wall_mm=1.0).surge_bar(2.0) < pipe(wall_mm=5.0).surge_bar(2.0)
    assert pipe().surge_bar(np.array([0.0, 1.0, 2.0])) == pytest.approx([pipe().surge_bar(v) for v in (0.0, 1.0, 2.0)])


# By hand with the wave above: 0.5 × 1380.9 m × 2 / a = 1.0 s, ten times that 10 s; 1000 × 1380.9 × 1.0186 m/s = 14 bar,
# 14.066 bar = 204 psi.
def test_the_caution_says_how_slowly():
    line = pipe(length_m=690.45, material="steel", wall_mm=5.0)
    words = wording("Shut the valve slowly, over")
    assert line.closing_caution(2.0) == words.format("14 bar", "")
    assert in_us(line.closing_caution, 2.0) == words.format("204 psi", "")
    assert pipe().closing_caution(2.0).endswith(wording("the thickness of the"))


# --- two gauges -------------------------------------------------------------------------------------------------------


# By hand: 30 m shut, 24 m at 2 L/s; 6 m lost, at 3 L/s 6 × 2.25 = 13.5 m.
def test_two_gauges_make_a_pipe():
    line = MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)
    assert line.loss_m(2.0) == 6.0
    assert line.loss_m(3.0) == pytest.approx(13.5)
    assert line.loss_m(np.array([0.0, 2.0, 3.0])) == pytest.approx([0.0, 6.0, 13.5])


@given(numbers(0.1, 10.0))
def test_two_gauges_agree_with_a_fully_rough_pipe(flow_l_s):
    line = pipe(friction_factor=0.03)
    measured = MeasuredLoss(static_m=1000.0, running_m=1000.0 - line.loss_m(2.0), flow_l_s=2.0)
    assert measured.loss_m(flow_l_s) == pytest.approx(line.loss_m(flow_l_s), rel=1e-9)


# --- laws -------------------------------------------------------------------------------------------------------------


@given(numbers(0.01, 20.0), st.sampled_from(list(MATERIALS)), numbers(15.0, 300.0))
def test_loss_grows_with_flow_length_and_roughness_and_falls_with_bore(flow_l_s, material, bore_mm):
    line = pipe(material=material, bore_mm=bore_mm, bends=2)
    assert line.loss_m(1.1 * flow_l_s) > line.loss_m(flow_l_s) > 0.0
    assert pipe(material=material, bore_mm=bore_mm, bends=2, length_m=101.0).loss_m(flow_l_s) > line.loss_m(flow_l_s)
    assert pipe(material=material, bore_mm=1.2 * bore_mm, bends=2).loss_m(flow_l_s) < line.loss_m(flow_l_s)
    assert pipe(material="rusty steel", bore_mm=bore_mm, bends=2).loss_m(flow_l_s) >= line.loss_m(flow_l_s) * (1 - 1e-9)


@given(st.lists(st.floats(0.0, 50.0), min_size=1, max_size=8), st.sampled_from(list(MATERIALS)))
def test_numbers_and_arrays_give_the_same(flows, material):
    line = pipe(material=material, bends=1, valve="gate")
    assert line.loss_m(np.array(flows)) == pytest.approx([line.loss_m(flow) for flow in flows], rel=1e-12, abs=0.0)
    assert isinstance(line.loss_m(flows[0]), float) and isinstance(line.darcy_factor(1), float)


def test_no_flow_no_loss():
    assert pipe().loss_m(0.0) == 0.0


def test_facts_lie_within_their_own_range():
    facts = [fact for made_of in MATERIALS.values() for fact in vars(made_of).values()]
    for fact in [*facts, STRAINER_K, WATER_VISCOSITY_CST]:
        assert fact.low <= fact.value <= fact.high and fact.source and fact.unit


# --- refusals ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"length_m": 0}, wording("pipe length: 0 m was")),
        ({"bore_mm": 2.0}, wording("pipe bore: 2.0 mm was")),
        ({"material": "bamboo"}, wording("pipe material: 'bamboo' was given")),
        ({"valve": "butterfly"}, wording("valve in the pipe: 'butterfly'")),
        ({"bends": -1}, wording("bends of 90°: -1 was")),
        ({"roughness_mm": 6.0}, wording("pipe roughness: 6.0 mm was")),
        ({"friction_factor": 0.0}, wording("friction factor: 0.0 was given")),
        ({"wall_mm": nan}, wording("pipe wall: nan mm was")),
    ],
)
def test_nonsense_is_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        pipe(**changes)


@pytest.mark.parametrize(("flow", "said"), [(-1.0, "-1"), (nan, "nan"), (np.array([1.0, -2.0]), "-2")])
@pytest.mark.parametrize("line", [pipe(), MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)])
def test_a_flow_uphill_is_refused(line, flow, said):
    with pytest.raises(BadInput, match=exactly(f"flow: {said} L/s was given; 0 or more is allowed; measure again.")):
        line.loss_m(flow)


@pytest.mark.parametrize("running_m", [30.0, 32.5])
def test_a_running_gauge_at_or_above_the_static_one_is_refused(running_m):
    sentence = (
        f"net head: {running_m:.4g} m running and 30 m with the valve shut were given; "
        "a running gauge below the static one is allowed; "
        "read the gauge again both times, it must stand in the pipe just before the nozzle."
    )
    with pytest.raises(BadInput, match=exactly(sentence)):
        MeasuredLoss(static_m=30.0, running_m=running_m, flow_l_s=2.0)
