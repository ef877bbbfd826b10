"""Facts of drives that a picture or a range shows: against the standards and handbooks that they come from."""

import pytest

from statorbook.drives import air, wind_rotor
from statorbook.drives.pipe_parts import MATERIALS
from statorbook.drives.water_jet import WaterJet


def numbers(fact):
    return fact.low, fact.value, fact.high


@pytest.mark.outside(
    "the standard atmosphere: pressure, warmth, lapse, gas constant",
    source="ISO 2533",
    number="101325 Pa, 288.15 K, 6.5 K/km, 287.053 J/(kg·K)",
    tolerance="exact",
    seen="from memory",
)
def test_the_standard_atmosphere():
    facts = (air.SEA_LEVEL_PRESSURE, air.SEA_LEVEL_KELVIN, air.LAPSE, air.AIR_GAS_CONSTANT)
    assert [fact.value for fact in facts] == [101_325.0, 288.15, 0.0065, 287.053]


@pytest.mark.outside(
    "three-blade rotors: power coefficient, tip speed ratio, pull at rest",
    source="Khan and Pillay, Design of a PM wind generator; Lysen, Introduction to Wind Energy",
    number="0.35 to 0.45, 5 to 7, 0.3 to 0.8",
    tolerance="exact",
    seen="from memory",
)
def test_small_rotors_with_three_blades():
    assert numbers(wind_rotor.POWER_COEFFICIENT) == (0.35, 0.35, 0.45)
    assert numbers(wind_rotor.TIP_SPEED_RATIO) == (5.0, 6.0, 7.0)
    assert numbers(wind_rotor.START_TORQUE) == (0.3, 0.5, 0.8)


@pytest.mark.outside(
    "stiffness of pipes",
    source="handbooks of materials",
    number="PVC 3, polyethylene 0.9 (short pull), concrete 30 GPa",
    tolerance="exact",
    seen="from memory",
)
def test_stiffness_of_pipes():
    found = {name: numbers(MATERIALS[name].stiffness_gpa) for name in ("PVC", "polyethylene", "concrete")}
    assert found == {"PVC": (2.4, 3.0, 3.5), "polyethylene": (0.6, 0.9, 1.4), "concrete": (20.0, 30.0, 40.0)}


def test_a_slider_goes_as_far_as_small_jets_and_heads_do():
    head, jet = WaterJet(head_m=28.0, nozzle_mm=14.0, pitch_diameter_mm=260.0).quantities
    assert ((head.low, head.high), (jet.low, jet.high)) == ((1.0, 60.0), (2.0, 30.0))
