"""What parts make for the physics, and what they say that they were worked out for."""

import pytest

from samples.job_samples import sample
from statorbook.bench import Meters
from statorbook.charging.volts_input import usual_divider
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.job.parts.control import ControlPart
from statorbook.job.parts.fuse import FusePart
from statorbook.job.parts.inductance import HenriesPart
from statorbook.job.parts.meters import MetersPart, meters_of
from statorbook.job.parts.results import facts_worked_out_for
from statorbook.job.parts.water import WaterPart
from statorbook.job.parts.year.part import YearPart
from statorbook.protection import Fuse, Switch


def test_fuse_and_switch_are_there_once_their_amps_are():
    both = FusePart(amps=63.0, dc_volts=80.0, breaking_amps=6000.0, let_through_a2s=9000.0, switch_amps=100.0)
    assert both.to_fuse() == Fuse(amps=63.0, dc_volts=80.0, breaking_amps=6000.0, let_through_a2s=9000.0)
    assert both.to_switch() == Switch(amps=100.0, dc_volts=None)
    alone = FusePart(switch_amps=40.0, switch_dc_volts=60.0)
    assert (alone.to_fuse(), alone.to_switch()) == (None, Switch(amps=40.0, dc_volts=60.0))
    assert (FusePart().to_fuse(), FusePart().to_switch(), FusePart(amps=63.0).to_switch()) == (None, None, None)
    assert [part.says_nothing for part in (both, alone, FusePart(amps=63.0), FusePart())] == [False, False, False, True]


def test_a_divider_is_worked_out_until_one_is_typed_and_a_check_counts_only_when_it_was_made():
    made = ControlPart().to_volts_input(60.0)
    assert (made.upper_ohm, made.lower_ohm) == usual_divider(60.0, 10.0, 100_000.0)
    assert (made.input_ohm, made.input_volts, made.full_counts) == (100_000.0, 10.0, 4095)
    assert made.tolerance_share == 0.01 and made.checked is None
    typed = ControlPart(upper_ohm=47e3, lower_ohm=8200.0, tolerance_percent=5.0, check_volts=53.1, check_shown=2900)
    made = typed.to_volts_input(60.0)
    assert (made.upper_ohm, made.lower_ohm, made.tolerance_share, made.checked) == (47e3, 8200.0, 0.05, (53.1, 2900))


@pytest.mark.parametrize(
    "fields, field",
    [
        (dict(upper_ohm=47e3), "lower_ohm"),
        (dict(check_volts=53.1), "check_shown"),
        (dict(check_volts=53.1, check_shown=4096), "check_shown"),
    ],
)
def test_half_a_divider_and_half_a_check_are_refused(fields, field):
    with pytest.raises(BadInput) as refused:
        ControlPart(**fields)
    assert refused.value.field == field
    assert ControlPart(check_volts=53.1, check_shown=4095).check_shown == 4095


def made_for(**facts):
    """Constants of a coil with what they were worked out for; 0 and nothing where an older job kept none."""
    return sample("coil", **(facts_worked_out_for(sample("stator")) | facts))


# 36 slots in three phases are 12 coils a phase: 12 in series in one path, 4 in three.
@pytest.mark.parametrize(
    "then, now, words",
    [
        ({}, {}, ("", "")),
        ({}, dict(poles=42), ("36 slots with 48 poles", "36 slots with 42 poles")),
        ({"for_slots": None}, dict(poles=42), ("", "")),
        ({"for_poles": None}, dict(poles=42), ("", "")),
        ({}, dict(found_parallel=3), ("12 in series, 1 path, star", "4 in series, 3 paths, star")),
        ({"for_parallel": None}, dict(found_parallel=3), ("", "")),
        ({"for_connection": ""}, dict(found_connection="delta"), ("", "")),
        ({}, dict(magnet="neodymium"), ("copper and ferrite", "copper and neodymium")),
        ({"for_magnet": ""}, dict(magnet="neodymium"), ("", "")),
        ({"for_conductor": ""}, dict(conductor="aluminium"), ("", "")),
        (
            {},
            dict(poles=42, conductor="aluminium"),
            ("36 slots with 48 poles, copper and ferrite", "36 slots with 42 poles, aluminium and ferrite"),
        ),
    ],
)
def test_constants_say_what_changed_since_they_were_worked_out(then, now, words):
    assert made_for(**then).changes(sample("stator", **now)) == words


def test_henries_that_hang_on_nothing_move_with_nothing():
    assert sample("coil").inductance.moved_by == {}
    moved = sample("coil", henry_by_emf=2e-5, henry_by_ohm=-1e-5).inductance.moved_by
    assert moved == {"emf": 2e-5, "ohm": -1e-5}
    assert sample("coil", henry_by_ohm=-1e-5).inductance.moved_by == {"ohm": -1e-5}


def test_of_water_and_room_only_what_is_there_is_made_and_assumed():
    assert (WaterPart().to_cylinder(), WaterPart().to_room(), WaterPart().assumed_in_use) == (None, None, ())
    tank = WaterPart(litres=80.0, heater_watts=500.0)
    assert (tank.to_cylinder().litres, tank.to_cylinder().heater_watts, tank.to_room()) == (80.0, 500.0, None)
    assert "inlet_c" in tank.assumed_in_use and "room_loss_w_per_k" not in tank.assumed_in_use
    room = WaterPart(air_heater_watts=700.0)
    assert room.to_room().heater_watts == 700.0 and room.to_cylinder() is None
    assert "room_loss_w_per_k" in room.assumed_in_use and "inlet_c" not in room.assumed_in_use
    for fields, field in ((dict(litres=80.0), "heater_watts"), (dict(inlet_c=40.0, thermostat_c=44.9), "thermostat_c")):
        with pytest.raises(BadInput) as refused:
            WaterPart(**fields)
        assert refused.value.field == field
    assert WaterPart(inlet_c=40.0, thermostat_c=45.0).thermostat_c == 45.0


def test_readings_on_resistors_are_whole_or_not_there():
    whole = {"res_rpm": 300.0, "res_ohm": 10.0, "res_line_amps": 1.2}
    names = {**whole, "res_line_volts": 21.0}
    (only,) = HenriesPart(**whole).on_resistors
    assert (only["line_amps"], only["speed_rpm"], only["resistor_ohm"]) == (1.2, 300.0, 10.0)
    amps, volts = HenriesPart(**names).on_resistors
    assert (amps["line_amps"], volts["line_volts"]) == (1.2, 21.0) and "line_volts" not in amps
    assert HenriesPart().on_resistors == []
    for missing in whole:
        with pytest.raises(BadInput) as refused:
            HenriesPart(**{name: value for name, value in whole.items() if name != missing})
        assert refused.value.field == missing


@pytest.mark.parametrize(
    "kind, fields, missing",
    [
        ("pedals", {}, ("pedal_hours_a_week",)),
        ("pedals", {"pedal_hours_a_week": 7.0}, ()),
        ("pedals", {"pedal_year_from": "log of riders"}, ()),
        ("engine", {}, ("engine_hours_a_year",)),
        ("known speed", {"speed_hours_a_year": 9.0}, ()),
        ("wind rotor", {}, ("mean_wind_m_s",)),
    ],
)
def test_a_year_lacks_what_its_drive_cannot_do_without(kind, fields, missing):
    assert YearPart(**fields).missing_for(kind) == missing


def test_volts_of_a_loaded_reading_are_held_against_the_bank_that_it_was_taken_on():
    bank = sample("bank").to_bank()
    read = {"load_rpm": 400.0, "load_dc_amps": 5.0}
    likely = HenriesPart(**read, load_dc_volts=bank.states[1].volts)
    other = HenriesPart(**read, load_dc_volts=500.0, load_bank="another bank")
    for silent in (HenriesPart(), likely, other):
        silent.require_load_volts(bank)
    with pytest.raises(BadInput, match="^Loaded"):
        HenriesPart(**read, load_dc_volts=500.0).require_load_volts(bank)


def test_meters_are_those_of_the_job_and_usual_ones_while_nothing_is_said(tmp_path):
    job = Job.create("mill", tmp_path)
    assert meters_of(job) == Meters()
    job.save_part("meters", MetersPart(volts_percent=0.3, star_point="reachable"))
    read = meters_of(job)
    assert (read.volts.percent, read.star_point) == (0.3, "reachable")
