"""Buckets by Euler's equation, against worked examples in textbooks, and the sizes of a runner."""

from math import cos, pi, radians, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.drives.runner import (
    bucket_caution,
    bucket_count,
    euler_efficiency,
    euler_torque_nm,
    least_bucket_width_mm,
    pitch_diameter_for_speed_mm,
    require_bucket_width,
    tail_water_opening,
)
from statorbook.drives.water_jet import WaterJet
from statorbook.errors import BadInput
from strategies import numbers

wording = sentences_of("drives")

GRAVITY = 9.80665


def power(flow_l_s, jet_m_s, bucket_m_s, angle_deg, kept_share=1.0):
    """Power on the buckets of a runner of 1 m, from the torque."""
    return euler_torque_nm(flow_l_s, jet_m_s, bucket_m_s, 1000.0, angle_deg, kept_share) * bucket_m_s / 0.5


# --- textbook examples ------------------------------------------------------------------------------------------------


# D 0.8 m, 1000 rpm, ratio 0.46, 0.15 m³/s.
@pytest.mark.outside(
    "efficiency of buckets of 165°",
    source="Arasu, Turbomachines, example 9.3, p. 409",
    number="97.7 %, 621.9 kW",
    tolerance="0.2 %",
    seen="in a reproduction",
)
def test_published_bucket_of_165_degrees():
    bucket_m_s = pi * 0.8 * 1000 / 60
    jet_m_s = bucket_m_s / 0.46
    assert euler_efficiency(0.46, 165.0) == pytest.approx(0.977, rel=1e-3)
    assert power(150.0, jet_m_s, bucket_m_s, 165.0) == pytest.approx(0.977 * 621.9e3, rel=2e-3)


# Ratio 0.47, k 0.88, 170°.
@pytest.mark.outside(
    "efficiency of buckets with friction",
    source="Arasu, Turbomachines, example 9.5, p. 410",
    number="0.93",
    tolerance="0.3 %",
    seen="in a reproduction",
)
def test_published_bucket_with_friction():
    assert euler_efficiency(0.47, 170.0, 0.88) == pytest.approx(0.93, rel=3e-3)


# 375 rpm, D 1.5 m, 200 m, Cv 0.98, 165°.
@pytest.mark.outside(
    "efficiency of a runner with 15 % lost on the bucket",
    source="Dixon, Fluid Mechanics and Thermodynamics of Turbomachinery, example 9.2, p. 302",
    number="0.909",
    tolerance="0.3 %",
    seen="in a reproduction",
)
def test_published_runner_efficiency_and_jets():
    jet_m_s, bucket_m_s = 0.98 * sqrt(2 * GRAVITY * 200), pi * 1.5 * 375 / 60
    assert euler_efficiency(bucket_m_s / jet_m_s, 165.0, 0.85) == pytest.approx(0.909, rel=3e-3)


# 220 m, 145 L/s, U 14 m/s, 160°; the jet speed is the ideal one.
@pytest.mark.outside(
    "work of each kilogram, and power of the jet",
    source="Gorla and Khan, Turbomachinery: Design and Theory, example 3.1",
    number="1403.9 J/kg, 203.6 kW",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_work_of_a_kilogram():
    jet_m_s = sqrt(2 * 9.81 * 220)
    assert power(1.0, jet_m_s, 14.0, 160.0) == pytest.approx(1403.9, rel=1e-3)
    assert power(145.0, jet_m_s, 14.0, 160.0) == pytest.approx(203.6e3, rel=1e-3)


# 90 − 30 m, Cv 0.98, U 12 m/s, 165°.
@pytest.mark.outside(
    "work of each kilogram by energy and by Euler",
    source="Gorla and Khan, Turbomachinery: Design and Theory, example 3.7",
    number="510.1 J/kg, 0.902",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_energy_and_euler_forms():
    jet_m_s = 0.98 * sqrt(2 * 9.81 * 60)
    assert power(1.0, jet_m_s, 12.0, 165.0) == pytest.approx(510.1, rel=1e-3)
    assert euler_efficiency(12.0 / jet_m_s, 165.0) == pytest.approx(0.902, rel=1e-3)


# 300 m, D 2.5 m, 300 rpm, jet 0.20 m, k 0.95, 165°, mechanical 0.95; Cv 0.98 assumed, as in his other examples.
@pytest.mark.outside(
    "efficiency and power of a large runner",
    source="Subramanya, 1000 Solved Problems in Fluid Mechanics, example 16.11, p. 409",
    number="0.919, 6057 kW",
    tolerance="0.3 %",
    seen="in a reproduction",
)
def test_published_large_runner():
    jet_m_s, bucket_m_s = 0.98 * sqrt(2 * GRAVITY * 300), pi * 2.5 * 300 / 60
    assert 0.98**2 * euler_efficiency(bucket_m_s / jet_m_s, 165.0, 0.95) == pytest.approx(0.919, rel=3e-3)
    flow_l_s = 1000 * pi / 4 * 0.2**2 * jet_m_s
    torque = euler_torque_nm(flow_l_s, jet_m_s, bucket_m_s, 2500.0, 165.0, 0.95)
    assert 0.95 * torque * 2 * pi * 300 / 60 == pytest.approx(6057e3, rel=3e-3)


# 45 m, 0.8 m³/s, U 14 m/s, Cv 0.985, 165°; mechanical 0.95 as above.
@pytest.mark.outside(
    "efficiency from the water to the shaft",
    source="Subramanya, 1000 Solved Problems in Fluid Mechanics, example 16.12, p. 409",
    number="0.904, 318.7 kW",
    tolerance="0.3 %",
    seen="in a reproduction",
)
def test_published_overall_efficiency():
    jet_m_s = 0.985 * sqrt(2 * GRAVITY * 45)
    assert 0.95 * 0.985**2 * euler_efficiency(14.0 / jet_m_s, 165.0) == pytest.approx(0.904, rel=3e-3)
    assert 0.95 * power(800.0, jet_m_s, 14.0, 165.0) == pytest.approx(318.7e3, rel=3e-3)


# --- laws -------------------------------------------------------------------------------------------------------------


# Energy: what the jet brings, less what friction along the bucket takes, less what the water carries away; triangle of
# speeds by the cosine rule.
@pytest.mark.outside(
    "energy taken, by balance and by torque",
    source="cosine rule of the speed triangle",
    number="1 to 1",
    tolerance="1e-9",
    seen="derived",
)
@given(st.floats(0.05, 0.95), st.floats(100.0, 180.0), st.floats(0.3, 1.0), numbers(2.0, 100.0))
def test_energy_and_euler_agree(ratio, angle_deg, kept_share, jet_m_s):
    bucket_m_s = ratio * jet_m_s
    along = jet_m_s - bucket_m_s
    away = bucket_m_s**2 + (kept_share * along) ** 2 + 2 * bucket_m_s * kept_share * along * cos(radians(angle_deg))
    energy = (jet_m_s**2 - along**2 * (1 - kept_share**2) - away) / 2
    assert power(1.0, jet_m_s, bucket_m_s, angle_deg, kept_share) == pytest.approx(energy, rel=1e-9)
    assert euler_efficiency(ratio, angle_deg, kept_share) == pytest.approx(energy / (jet_m_s**2 / 2), rel=1e-9)
    assert euler_efficiency(ratio, angle_deg, kept_share) <= 1.0 + 1e-12


@pytest.mark.outside(
    "best and unloaded speed of an ideal wheel",
    source="Euler's turbine equation",
    number="0.5 and 1 of the jet's speed",
    tolerance="0.1 %",
    seen="derived",
)
@given(st.floats(90.0, 180.0), st.floats(0.1, 1.0))
def test_an_ideal_wheel_runs_away_at_twice_its_best_speed(angle_deg, kept_share):
    ratios = np.linspace(0.0, 1.0, 1001)
    best = ratios[euler_efficiency(ratios, angle_deg, kept_share).argmax()]
    assert best == pytest.approx(0.5)
    assert euler_torque_nm(5.0, 20.0, 2 * best * 20.0, 300.0, angle_deg, kept_share) == pytest.approx(0.0, abs=1e-9)


# The jet drive with a runaway of twice its best speed is the same straight line.
def test_the_jet_drive_is_eulers_runner():
    jet = WaterJet(
        head_m=30.0,
        nozzle_mm=20.0,
        pitch_diameter_mm=250.0,
        velocity_coefficient=1.0,
        speed_ratio=0.5,
        runaway_ratio=2.0,
        efficiency=euler_efficiency(0.5, 150.0, 0.9),
    )
    speeds = np.linspace(0.0, jet.runaway_speed_rpm, 21)
    buckets = pi * 0.25 * speeds / 60
    torque = euler_torque_nm(jet.total_flow_l_s, jet.jet_m_s, buckets, 250.0, 150.0, 0.9)
    assert jet.torque_nm(speeds) == pytest.approx(torque, rel=1e-9, abs=1e-9)
    assert torque[3] == pytest.approx(euler_torque_nm(jet.total_flow_l_s, jet.jet_m_s, buckets[3], 250.0, 150.0, 0.9))


# --- sizes ------------------------------------------------------------------------------------------------------------


# 91.5 m, Cv 0.98, ratio 0.46, 720 rpm.
@pytest.mark.outside(
    "runner for a wanted speed",
    source="Arasu, Turbomachines, example 9.1",
    number="0.507 m",
    tolerance="0.2 %",
    seen="in a reproduction",
)
def test_published_runner_for_a_speed():
    jet = WaterJet(head_m=91.5, nozzle_mm=35.0, pitch_diameter_mm=300.0, velocity_coefficient=0.98)
    assert pitch_diameter_for_speed_mm(jet, 720.0) == pytest.approx(507.0, rel=3e-3)


@given(st.floats(5.01, 59.9), numbers(2.0, 300.0))
def test_the_runner_for_the_own_best_speed_is_the_own_runner(ratio, head_m):
    jet = WaterJet(head_m=head_m, nozzle_mm=10.0, pitch_diameter_mm=10.0 * ratio)
    assert pitch_diameter_for_speed_mm(jet, jet.best_speed_rpm) == pytest.approx(10.0 * ratio, rel=1e-9)


# By hand: U = 0.46 × 0.97 √(2 g 30) = 10.823 m/s; D = 60 × 10.823 / (π n): 4134 mm at 50 rpm;
# 1200 mm at 172 rpm, 100 mm at 2067 rpm.
def test_a_speed_that_no_runner_of_this_jet_has_is_refused():
    jet = WaterJet(head_m=30.0, nozzle_mm=20.0, pitch_diameter_mm=250.0)
    sentence = wording("wanted speed: 50 rpm was")
    with pytest.raises(BadInput, match=exactly(sentence)):
        pitch_diameter_for_speed_mm(jet, 50.0)


@pytest.mark.outside(
    "width and number of buckets",
    source="handbooks of hydraulics",
    number="3 jets wide, 15 + D/(2 d)",
    tolerance="none",
    seen="from memory",
)
def test_rules_for_buckets():
    assert least_bucket_width_mm(12.0) == 36.0
    assert least_bucket_width_mm(np.array([10.0, 20.0])).tolist() == [30.0, 60.0]
    assert bucket_count(200.0, 20.0) == 20
    assert isinstance(bucket_count(250.0, 20.0), int)


def test_a_jet_wider_than_the_bucket_is_refused():
    sentence = wording("bucket width: a jet of")
    with pytest.raises(BadInput, match=exactly(sentence)):
        require_bucket_width(20.0, 18.0)
    assert require_bucket_width(20.0, 20.0) is None


def test_a_narrow_bucket_is_said():
    assert bucket_caution(20.0, 56.1) == ""
    assert bucket_caution(20.0, 40.0) == wording("The bucket is 40 mm")
    assert "1.57 in wide" in in_us(bucket_caution, 20.0, 40.0)


# By hand: 5 L/s through 200 mm is q = 0.025 m²/s; 1.5 (q²/g)^(1/3) = 0.0599 m; twice that by 200 mm is 240 cm².
@pytest.mark.outside(
    "depth of water over a sill",
    source="critical flow, texts on hydraulics",
    number="1.5 (q²/g)^(1/3)",
    tolerance="0.1 %",
    seen="from memory",
)
def test_the_way_out_of_the_water_by_hand():
    found = tail_water_opening(5.0, 200.0)
    assert found.depth_mm == pytest.approx(59.9, rel=1e-3)
    assert found.opening_height_mm == pytest.approx(119.8, rel=1e-3)
    assert found.opening_cm2 == pytest.approx(239.7, rel=1e-3)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: euler_efficiency(0.46, 60.0), wording("turning angle of the bucket")),
        (lambda: euler_torque_nm(5.0, 20.0, 9.0, 200.0, 165.0, 1.2), wording("speed kept in the bucket")),
        (lambda: tail_water_opening(5.0, 0.0), wording("width of the opening: 0.0")),
    ],
)
def test_nonsense_is_refused(call, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        call()
