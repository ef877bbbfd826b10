"""What is assumed, at the ends of what is plausible: by how much, of which fields, and never beyond what is allowed."""

from dataclasses import replace

import pytest

from samples.machine_samples import JET, SETTING, machine
from statorbook.choice import assumed_ranges
from statorbook.choice.alternatives import BELT_STEP
from statorbook.choice.assumed_ranges import CONVERTER_RANGES, DRIVE_RANGES, variations
from statorbook.drives.engine import Engine
from statorbook.drives.pedals import Pedals
from statorbook.drives.wind_rotor import WindRotor
from statorbook.job.parts.converter import ConverterPart
from statorbook.job.parts.drive.part import DrivePart
from statorbook.operation.converter import Converter
from statorbook.operation.speed_sweep import Conditions

# Low, assumed, high; all common practice, no source.
STEPS = {
    "COPPER_STEP_K": (10.0, 25.0, 40.0),
    "MAGNET_STEP_K": (10.0, 20.0, 30.0),
    "COLD_STEP_K": (5.0, 10.0, 20.0),
    "INNER_OHM_FACTOR": (1.5, 2.0, 3.0),
    "CABLE_FACTOR": (1.5, 2.0, 3.0),
    "DRAG_SHARE": (0.3, 0.5, 0.7),
    "SOURCE_SHARE": (0.02, 0.05, 0.10),
}
OF_DRIVES = {
    "efficiency": (0.60, 0.70, 0.80),
    "speed_ratio": (0.44, 0.46, 0.48),
    "runaway_ratio": (1.75, 1.8, 2.0),
    "chain_efficiency": (0.85, 0.95, 0.98),
    "cadence_rpm": (60.0, 70.0, 80.0),
    "droop": (0.03, 0.05, 0.08),
    "belt_efficiency": (0.88, 0.93, 0.97),
    "overspeed_ratio": (1.1, 1.2, 1.4),
}
OF_CONVERTERS = {"converter_efficiency": (0.90, 0.95, 0.98), "converter_idle_watts": (0.5, 2.0, 10.0)}
WIND = WindRotor(rotor_diameter_m=2.5, wind_m_s=6.0)
DRIVES = (
    JET,
    Pedals(rider_watts=100.0, gear_ratio=6.0),
    Engine(rated_watts=2e3, engine_rpm=3600.0, pulley_ratio=1.0),
    WIND,
)


def ends_of(made, name):
    """Both ends of what varies under a name."""
    (found,) = [each for each in variations(made) if each.name == name]
    return found


def at_work(**conditions):
    return replace(SETTING, conditions=Conditions(**conditions))


@pytest.mark.outside(
    "how far what is assumed of bank, cable, drag, drives and converters may be off",
    source="common practice, no source",
    number="18 ranges, as a runner's efficiency of 0.60 to 0.80",
    tolerance="exact",
    seen="from memory",
)
def test_the_ranges_are_those_of_common_practice():
    found = {name: getattr(assumed_ranges, name) for name in STEPS}
    found |= {name: DRIVE_RANGES[name][1] for name in OF_DRIVES}
    found |= {name: CONVERTER_RANGES[name][2] for name in OF_CONVERTERS}
    wanted = {**STEPS, **OF_DRIVES, **OF_CONVERTERS}
    assert {name: (fact.low, fact.value, fact.high) for name, fact in found.items()} == wanted
    assert (BELT_STEP.low, BELT_STEP.value, BELT_STEP.high) == (3.0, 5.0, 8.0)
    assert set(DRIVE_RANGES) - set(OF_DRIVES) == {
        "power_coefficient",
        "tip_speed_ratio",
        "shear_exponent",
        "storm_m_s",
    }  # tests/drives holds these


def test_what_is_assumed_is_what_the_form_assumes():
    form = DrivePart.model_fields
    for name, (_, fact) in DRIVE_RANGES.items():
        assert name not in form or form[name].default == fact.value, name
    for name, (of_converter, _, fact) in CONVERTER_RANGES.items():
        assert ConverterPart.model_fields[name].default == getattr(Converter, of_converter) == fact.value


@pytest.mark.parametrize("drive", DRIVES, ids=lambda drive: type(drive).__name__)
def test_fields_of_a_drive_go_to_the_ends_of_their_range_one_at_a_time(drive):
    made = machine(drive=drive, assumed_fields=frozenset(DRIVE_RANGES))
    names = [name for name in DRIVE_RANGES if hasattr(drive, name)]
    assert [each.name for each in variations(made) if each.name in DRIVE_RANGES] == names and names
    for name in names:
        _, fact = DRIVE_RANGES[name]
        each = ends_of(made, name)
        assert each.ends_at == (fact.low, fact.high) and each.value == getattr(drive, name)
        for now, value in ((each.low, fact.low), (each.high, fact.high)):
            assert now == replace(made, drive=replace(drive, **{name: value}))


def test_only_what_is_assumed_is_varied():
    always = ["copper_c", "magnet_c", "cold_c", "inner_ohm"]
    assert [each.name for each in variations(machine())] == [*always, "speed_ratio", "source"]
    assert [each.name for each in variations(machine(drive=WIND))] == [*always, "source"]
    known = machine(drive=WIND, assumed_fields=frozenset({*CONVERTER_RANGES, "cadence_rpm"}))
    assert [each.name for each in variations(known)] == [*always, "source"]  # no converter, no rider


def test_a_value_outside_its_range_is_an_end_itself():
    high = ends_of(machine(drive=replace(JET, efficiency=0.85), assumed_fields=frozenset({"efficiency"})), "efficiency")
    low = ends_of(machine(drive=replace(JET, efficiency=0.5), assumed_fields=frozenset({"efficiency"})), "efficiency")
    assert (high.ends_at, low.ends_at) == ((0.60, 0.85), (0.50, 0.80))


# 25 K of the winding, 20 K of the magnets, 10 K each where they were measured; no further than -40 to 200 and 100 °C.
@pytest.mark.parametrize(
    "copper_c, magnet_c, measured, ends",
    [
        (80.0, 50.0, (), ((55.0, 105.0), (30.0, 70.0))),
        (80.0, 50.0, ("copper_c",), ((70.0, 90.0), (30.0, 70.0))),
        (80.0, 50.0, ("magnet_c",), ((55.0, 105.0), (40.0, 60.0))),
        (190.0, 95.0, (), ((165.0, 200.0), (75.0, 100.0))),
        (-30.0, -35.0, (), ((-40.0, -5.0), (-40.0, -15.0))),
    ],
)
def test_temperatures_are_stepped_as_far_as_is_allowed(copper_c, magnet_c, measured, ends):
    made = machine(setting=at_work(copper_c=copper_c, magnet_c=magnet_c), measured=frozenset(measured))
    assert (ends_of(made, "copper_c").ends_at, ends_of(made, "magnet_c").ends_at) == ends
    for name, (low, high) in zip(("copper_c", "magnet_c"), ends, strict=True):
        each = ends_of(made, name)
        assert getattr(each.low.setting.conditions, name) == low
        assert getattr(each.high.setting.conditions, name) == high
        assert f"at {high:.0f} °C at work" in each.high_words


@pytest.mark.parametrize("cold_c, ends", [(0.0, (-10.0, 10.0)), (-35.0, (-40.0, -25.0)), (95.0, (85.0, 100.0))])
def test_the_coldest_magnets_are_stepped_by_ten_kelvin(cold_c, ends):
    each = ends_of(machine(setting=replace(SETTING, cold_c=cold_c)), "cold_c")
    assert each.ends_at == (each.low.setting.cold_c, each.high.setting.cold_c) == ends


def test_ohms_are_halved_and_doubled_drag_and_source_turned_by_their_share():
    conditions = {"cable_ohm": 0.02, "ac_cable_ohm": 0.03, "drag_nm": 0.4}
    made = machine(setting=at_work(**conditions), assumed_fields=frozenset(conditions))
    ohm = made.bank.internal_ohm
    ends = {"cable_ohm": (0.01, 0.04), "ac_cable_ohm": (0.015, 0.06), "drag_nm": (0.2, 0.6)}
    for name, wanted in ends.items():
        each = ends_of(made, name)
        found = tuple(getattr(now.setting.conditions, name) for _, now in each.ends)
        assert each.ends_at == pytest.approx(wanted) and found == each.ends_at
    inner, source = ends_of(made, "inner_ohm"), ends_of(made, "source")
    assert inner.ends_at == pytest.approx((ohm / 2.0, 2.0 * ohm))
    assert (inner.low.bank.internal_ohm, inner.high.bank.internal_ohm) == inner.ends_at
    assert source.ends_at == pytest.approx((0.95 * 28.0, 1.05 * 28.0))
    assert (source.low.drive.head_m, source.high.drive.head_m) == pytest.approx(source.ends_at)


def test_a_converter_goes_to_the_ends_of_its_ranges():
    converter = Converter(low_volts=55.0, high_volts=400.0, survives_dc_volts=450.0)
    made = machine(setting=at_work(converter=converter), assumed_fields=frozenset(CONVERTER_RANGES))
    for name, (low, _, high) in OF_CONVERTERS.items():
        of_converter, each = CONVERTER_RANGES[name][0], ends_of(made, name)
        found = tuple(getattr(now.setting.conditions.converter, of_converter) for _, now in each.ends)
        assert found == each.ends_at == (low, high)
