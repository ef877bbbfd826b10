"""What happens if …: every row against a second way to its number, and the safe side when anything gets worse."""

from dataclasses import replace
from math import inf, isinf, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.machine_samples import JET
from samples.plant_samples import plant
from statorbook.bank.battery import Bank
from statorbook.bridge.faulted import faulted_bridge
from statorbook.bridge.faults import BridgeFault
from statorbook.cautions import Exposure, Instruction
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import operating_point
from statorbook.protection import bank_mishaps, bridge_mishaps, machine_mishaps
from statorbook.protection.faulted_plant import LEAD_OFF, ONE_SHORTED, faulted_plants
from statorbook.protection.fuse import Fuse
from statorbook.protection.mishap import amps_said, soon, whole_volts
from statorbook.protection.over_voltage_load import OverVoltageLoad
from statorbook.protection.site import DRY, WET, Site
from statorbook.protection.what_if import MISHAPS, what_if
from statorbook.quantities.unit_systems import reader_units
from statorbook.winding.grouping import Grouping

LEAD = Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=200.0)


def row(mishap, **changes):
    """One row for the invented plant with some things changed."""
    return mishap(plant(**changes))


def test_all_fourteen_rows_say_volts_amps_time_who_is_hurt_and_the_guard():
    found = what_if(plant())
    assert len(found) == len(MISHAPS) == 14
    for one in found:
        assert one.volts > 0.0 and one.amps >= 0.0 and one.seconds >= 0.0, one.name
        assert all((one.then, one.hurt, str(one.guard), one.soon_words)), one.name
        assert "nan" not in one.sentence and "inf " not in one.sentence


# The bank gone: √6 × phase EMF rms of cold magnets × speed, both speeds taken from the drive itself.
def test_the_open_fuse_brings_the_volts_of_the_runaway():
    made = plant()
    star = made.winding.star_equivalent(20.0, made.machine.setting.cold_c)
    line_peak = 6.0**0.5 * star.emf_v_per_rpm * JET.runaway_speed_rpm
    assert row(bank_mishaps.fuse_opens).volts == pytest.approx(line_peak, rel=1e-6)
    assert row(machine_mishaps.runs_unloaded).volts == pytest.approx(line_peak, rel=1e-6)


def test_a_guard_that_the_reader_has_is_told_by_what_it_does():
    holds = OverVoltageLoad(set_dc_volts=62.0, ohm=3.0, watts=2000.0, acts_within_s=0.001, capacitor_uf=2000.0)
    assert "keeps it below 120 V" in row(bank_mishaps.fuse_opens, guard=holds).guard
    late = replace(holds, capacitor_uf=0.0, acts_within_s=1.0)
    assert "does not keep it below" in row(bank_mishaps.fuse_opens, guard=late).guard


# Sealed cells vent as well once they are overcharged.
@pytest.mark.outside(
    "air for a lead bank that is overcharged, each cell",
    source="IEC 62485-2: 24 × 0.42 L × 5",
    number="0.0504 m³ for each Ah",
    tolerance="the two figures said",
    seen="in a reproduction",
)
@pytest.mark.parametrize("chemistry", ["flooded lead-acid", "AGM", "gel"])
def test_a_lead_bank_that_is_overcharged_makes_explosive_gas(chemistry):
    lead = replace(LEAD, chemistry=chemistry)
    stuck, amps = row(bank_mishaps.control_sticks, bank=lead), plant(bank=lead).most.dc_amps
    assert f"{float(f'{0.0504 * 24 * amps:.2g}'):g} m³/h of fresh air" in stuck.then
    assert "flame" in stuck.hurt
    assert stuck.seconds == pytest.approx(3600.0 * 100.0 / amps)


def test_a_lithium_bank_parts_itself_when_it_is_full_or_frozen():
    for mishap in (bank_mishaps.control_sticks, bank_mishaps.cold_and_full):
        found = row(mishap).then
        assert "hydrogen" not in found and "the bank fuse opens" in found


@pytest.mark.parametrize(("stands", "said"), [(None, "not known"), (50.0, "50 V only"), (100.0, "not the inverter")])
def test_the_cold_bank_is_held_against_what_the_inverter_stands(stands, said):
    assert said in row(bank_mishaps.cold_and_full, device_max_volts=stands).hurt


# NEC 690.72(B): 150 % of the most watts (from memory).
def test_the_second_dump_load_stands_half_as_much_again():
    made = plant()
    watts = 1.5 * made.most.dc_amps * made.bank.highest_volts
    assert f"{float(f'{watts:.2g}'):.0f} W" in row(bank_mishaps.dump_burns_out).guard


def test_a_sound_bridge_settles_where_the_plant_does():
    made = plant()
    found = faulted_plants(made, (BridgeFault(),))[0]
    point = operating_point(made.drive, made.winding, made.bank.states[1], made.conditions)
    assert found.working.speed_rpm == pytest.approx(point.speed_rpm, rel=1e-3)
    assert found.working.dc_amps == pytest.approx(point.dc_amps, rel=2e-3)
    assert found.worst.dc_amps == pytest.approx(made.most.dc_amps, rel=2e-3)


# A converter gives its efficiency of what it takes, less what it takes for itself: with no fault, the plant's own amps.
def test_behind_a_converter_the_banks_amps_are_told():
    made = plant(converter=Converter(low_volts=60.0, high_volts=150.0, survives_dc_volts=400.0))
    found = faulted_plants(made, (BridgeFault(), LEAD_OFF))
    assert found[0].working.dc_amps == pytest.approx(made.working.dc_amps, rel=0.02)
    assert found[1].working.dc_amps < found[0].working.dc_amps
    assert "converter" in row(bank_mishaps.cable_reversed, converter=made.conditions.converter).hurt


# Newton's law at a steady speed: what the drive gives is what the faulted machine takes and the drag.
@pytest.mark.parametrize("connection", ["star", "delta"])
def test_a_faulted_plant_settles_where_the_torques_agree(connection):
    made = plant(grouping=Grouping(series=4, parallel=3, connection=connection), ac_cable_ohm=0.05)
    for found in faulted_plants(made):
        given_watts = made.drive.torque_nm(found.working.speed_rpm) * found.working.speed_rpm * pi / 30.0
        taken = (
            found.working.emf_watts
            + made.conditions.drag_at_nm(found.working.speed_rpm) * found.working.speed_rpm * pi / 30.0
        )
        assert given_watts == pytest.approx(taken, rel=5e-3)
        assert found.working.speed_rpm >= made.working.speed_rpm


def test_the_rows_of_the_bridge_are_those_of_the_faulted_bridge():
    made, shorted = plant(), faulted_plants(plant())[1]
    star = made.winding.star_equivalent(made.worst.copper_c, made.worst.magnet_c)
    bank, rpm = made.bank.states[0], made.most.speed_rpm
    alone = faulted_bridge(
        ONE_SHORTED,
        2.0**0.5 * star.emf_v_per_rpm * rpm,
        star.ohm,
        2.0 * pi * made.winding.stator.electrical_hz(rpm) * star.henry,
        bank.volts,
        diode_drop_v=made.worst.diode_drop_v,
        dc_resistance_ohm=bank.ohm,
    )
    assert shorted.worst.lead_amps_rms == pytest.approx(alone.lead_amps_rms.max())
    assert row(bridge_mishaps.diode_shorted).amps == pytest.approx(alone.lead_amps_rms.max())
    # Its amps are more than the sound machine's, while the bank's fuse sees fewer: no fuse opens.
    assert row(bridge_mishaps.diode_shorted).amps > made.most.lead_amps_rms
    assert shorted.worst.dc_amps < made.most.dc_amps


def test_an_open_diode_puts_more_than_the_bank_on_the_one_beside_it():
    opened = row(bridge_mishaps.diode_open)
    assert opened.volts > 2.0 * plant().bank.highest_volts
    assert opened.volts <= plant().open_volts(plant().runaway_rpm)[1] + plant().bank.highest_volts


def test_a_loose_star_point_and_a_loose_corner_are_told_apart():
    star = row(bridge_mishaps.phase_off)
    delta = row(bridge_mishaps.phase_off, grouping=Grouping(series=4, parallel=3, connection="delta"))
    assert "star point" in star.name and "all three part" in star.then
    assert "corner" in delta.name and "star" not in delta.then
    assert faulted_plants(plant())[2].working.dc_amps == pytest.approx(faulted_plants(plant())[3].working.dc_amps)


def test_a_reversed_cable_drives_the_banks_amps_until_the_fuse_opens():
    found = row(bank_mishaps.cable_reversed, fuse=Fuse(amps=25.0))
    # Ohm's law: no more than the bank's charging volts over its least inner ohms, before any cable.
    bank = plant().bank
    assert 0.0 < found.amps < bank.charging_volts / bank.internal_ohm_ends[0]
    assert "25 A opens" in found.until and found.seconds < 5.0
    assert Exposure.BANK in found.guard.exposures
    slower = row(bank_mishaps.cable_reversed, fuse=Fuse(amps=10_000.0))
    assert isinf(slower.seconds) and "until something burns" in slower.soon_words


@pytest.mark.parametrize(
    ("drive", "said"),
    [
        (JET, "nozzle"),
        (WindRotor(rotor_diameter_m=2.4, wind_m_s=8.0), "wind"),
        (Pedals(rider_watts=120.0, gear_ratio=8.0), "rider"),
        (KnownSpeed(working_rpm=600.0), "source"),
    ],
)
def test_each_drive_is_spoken_of_in_its_own_words(drive, said):
    found = row(machine_mishaps.source_returns, drive=drive)
    assert said in found.name and isinstance(found.guard, Instruction)
    assert Exposure.STANDING in found.guard.exposures
    assert (Exposure.WATER in found.guard.exposures) == (drive is JET)


@pytest.mark.slow
def test_a_plant_that_charges_nothing_still_has_its_table():
    still = dict(zip(MISHAPS, what_if(plant(drive=replace(JET, nozzle_mm=5.0, head_m=0.5))), strict=True))
    assert len(still) == 14 and still["charge control sticks open"].seconds == inf
    assert "none" in still["bank fuse opens at full flow"].amps_words
    assert "nothing, as before" in still["one lead off"].then


@pytest.mark.slow
@settings(max_examples=4)
@given(st.floats(20.0, 30.0), st.floats(0.0, 30.0))
def test_more_head_and_a_colder_day_never_make_a_row_milder(head_m, colder_k):
    mild, harsh = (
        plant(drive=replace(JET, head_m=head), cold_c=cold) for head, cold in ((20.0, 10.0), (head_m, 10.0 - colder_k))
    )
    for mishap in (bank_mishaps.fuse_opens, machine_mishaps.runs_unloaded):
        assert mishap(harsh).volts >= mishap(mild).volts * (1.0 - 1e-9)
    assert machine_mishaps.leads_joined(harsh).amps >= machine_mishaps.leads_joined(mild).amps * (1.0 - 1e-9)
    before, after = faulted_plants(mild), faulted_plants(harsh)
    for milder, harsher in zip(before, after, strict=True):
        assert harsher.worst.lead_amps_rms >= milder.worst.lead_amps_rms * (1.0 - 1e-6)
        assert harsher.worst.loose_volts_peak >= milder.worst.loose_volts_peak * (1.0 - 1e-6)
        assert harsher.worst.reverse_volts_peak >= milder.worst.reverse_volts_peak * (1.0 - 1e-6)


def test_a_hotter_day_leaves_a_winding_with_a_shorted_diode_no_more_time():
    mild, hot = (row(bridge_mishaps.diode_shorted, site=Site(hottest_c=air)).seconds for air in (10.0, 50.0))
    assert hot <= mild < inf


def test_a_wet_place_asks_for_a_tighter_box():
    dry, wet = (row(machine_mishaps.water_inside, site=Site(place=place)).guard for place in (DRY, WET))
    assert "IP40" in dry and "IP65" in wet  # IEC 60529 (from memory)


def test_the_rows_speak_the_units_of_the_reader():
    with reader_units("US"):
        assert "°F" in row(machine_mishaps.leads_joined).then
    assert "°C" in row(machine_mishaps.leads_joined).then


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (soon(0.0), "at once"),
        (soon(0.0234), "23 ms"),
        (soon(0.512), "0.51 s"),
        (soon(42.0), "42 s"),
        (soon(7300.0), "2 h"),
        (amps_said(0.0), "none"),
        (amps_said(0.544), "500 mA"),
        (amps_said(1234.0), "1200 A"),
        (whole_volts(7.25), "7.2 V"),
        (whole_volts(271.9), "272 V"),
    ],
)
def test_no_number_has_more_figures_than_it_is_worth(said, words):
    assert said == words


def test_an_engine_is_switched_off_before_hands_go_in():
    drive = Engine(rated_watts=3000.0, engine_rpm=3000.0, pulley_ratio=0.4)
    assert "ignition" in row(machine_mishaps.source_returns, drive=drive).guard.text
