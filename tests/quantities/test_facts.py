"""Facts against the standards and handbooks that they come from, and the ranges that are usual where there are none."""

import pytest

from statorbook.quantities import facts

# Low, value, high.
OF_STANDARDS = {
    "WET_AC_VOLTS": (12.0, 12.0, 12.0),
    "WET_DC_VOLTS": (30.0, 30.0, 30.0),
    "DRY_AC_VOLTS": (25.0, 25.0, 25.0),
    "DRY_DC_VOLTS": (60.0, 60.0, 60.0),
    "ELV_AC_VOLTS": (50.0, 50.0, 50.0),
    "ELV_DC_VOLTS": (120.0, 120.0, 120.0),
    "LV_AC_VOLTS": (1000.0, 1000.0, 1000.0),
    "LV_DC_VOLTS": (1500.0, 1500.0, 1500.0),
}
OF_HANDBOOKS = {
    "COPPER_OHM_MM2_PER_M": (0.0171, 0.0172414, 0.0174),  # from the purest to drawn wire
    "WATER_KG_PER_M3": (995.0, 1000.0, 1001.0),  # 30 °C to near freezing
    "GRAVITY_M_PER_S2": (9.78, 9.80665, 9.84),  # equator to pole
    "DIODE_DROP_V": (0.8, 0.9, 1.1),
    "WEATHER_HOURS": (9.0, 20.0, 50.0),
}
OF_PRACTICE = {
    "ZERO_SEQUENCE_SHARE": (0.05, 0.3, 1.0),
    "FURLING_OVERSHOOT": (1.1, 1.25, 1.5),
    "BRAKE_OVERSHOOT": (1.05, 1.2, 1.5),
    "TIP_M_S": (80.0, 100.0, 100.0),
    "METER_DIODE_DROP_V": (0.3, 0.45, 0.6),
    "CHEAP_METER_HZ": (200.0, 400.0, 1000.0),
    "INVERTER_EFFICIENCY": (0.8, 0.9, 0.96),
    "INVERTER_IDLE_WATTS": (3.0, 10.0, 60.0),
}
OF_METALS = {"copper": (230.0, 235.0, 240.0), "aluminium": (220.0, 225.0, 232.0)}
OF_MAGNETS = {"ferrite": (-0.0025, -0.0020, -0.0015), "neodymium": (-0.0013, -0.0011, -0.0008)}


def numbers(fact):
    return fact.low, fact.value, fact.high


def test_every_fact_is_held_here():
    single = {name for name, thing in vars(facts).items() if isinstance(thing, facts.Fact)}
    assert single == {*OF_STANDARDS, *OF_HANDBOOKS, *OF_PRACTICE}
    assert (set(facts.CONDUCTORS), set(facts.MAGNETS)) == (set(OF_METALS), set(OF_MAGNETS))


@pytest.mark.outside(
    "volts that hands may meet, AC and DC",
    source="IEC 60364-4-41, 414.4.5; IEC glossary, extra-low and low voltage",
    number="12/30, 25/60, 50/120, 1000/1500 V",
    tolerance="exact",
    seen="in a reproduction",
)
def test_limits_of_volts_have_no_range():
    assert {name: numbers(getattr(facts, name)) for name in OF_STANDARDS} == OF_STANDARDS


@pytest.mark.outside(
    "copper, water, gravity, diodes, hours of weather, with their ranges",
    source="IEC 60028; handbooks of physics; CGPM 1901; texts on power electronics and on wind power",
    number="1/58 Ω·mm²/m, 1000 kg/m³, 9.80665 m/s², 0.8 to 1.1 V, 9 to 50 h",
    tolerance="1e-5",
    seen="from memory",
)
@pytest.mark.parametrize("name", OF_HANDBOOKS)
def test_facts_of_handbooks(name):
    assert numbers(getattr(facts, name)) == pytest.approx(OF_HANDBOOKS[name], rel=1e-5)


@pytest.mark.outside(
    "zero-sequence share, overshoots, tips, meters, inverters, with their ranges",
    source="common practice, no source",
    number="8 ranges, as an inverter's efficiency of 0.8 to 0.96",
    tolerance="exact",
    seen="from memory",
)
def test_ranges_of_common_practice():
    assert {name: numbers(getattr(facts, name)) for name in OF_PRACTICE} == OF_PRACTICE


@pytest.mark.outside(
    "warmth of copper, aluminium and magnets: constants and ranges",
    source="IEC 60034-1, resistance method; remanence by common practice, no source",
    number="235, 225 K; -0.20, -0.11 % a K",
    tolerance="exact",
    seen="from memory",
)
def test_what_warmth_does_to_metals_and_magnets():
    assert {name: numbers(fact) for name, fact in facts.CONDUCTORS.items()} == OF_METALS
    assert {name: numbers(fact) for name, fact in facts.MAGNETS.items()} == OF_MAGNETS
