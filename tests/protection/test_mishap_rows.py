"""What happens if …, whole rows: what each says word for word, with numbers that come here by another way."""

from dataclasses import replace
from math import inf, pi

import pytest

from samples.machine_samples import JET
from samples.plant_samples import plant
from sentences import sentences_of
from statorbook.bank import short_circuit
from statorbook.bank.battery import Bank
from statorbook.cable import cable_ohm
from statorbook.cautions import text_of
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import operating_point
from statorbook.protection import bank_mishaps, bridge_mishaps, machine_mishaps
from statorbook.protection.brake_heat import brake_heat
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.faulted_plant import faulted_plants
from statorbook.protection.fuse import fuse_needs
from statorbook.protection.guard_needs import guard_needs
from statorbook.protection.heat_at_work import heat_of, held_warming
from statorbook.protection.mishap import soon
from statorbook.protection.site import Site
from statorbook.protection.winding_heat import WindingHeat
from statorbook.winding.grouping import Grouping

wording = sentences_of("protection_mishaps")

PLANT = plant()
STILL = plant(drive=KnownSpeed(working_rpm=5.0))
LEAD = plant(bank=Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=200.0))


def two(value, unit):
    """Two figures, all those before the point kept as zeros."""
    return f"{float(f'{value:.2g}'):g} {unit}"


def volts(value):
    return f"{value:.0f} V" if value >= 10.0 else f"{value:.1f} V"


def line_peak(made, rpm):
    """√6 × phase EMF rms of cold magnets, any power-electronics text."""
    return 6.0**0.5 * made.winding.star_equivalent(20.0, made.machine.setting.cold_c).emf_v_per_rpm * rpm


# 16 cells of at most 3.65 V: 58 V on the bank, with no ohms of cable; 3.55 V: 57 V while it charges (common practice,
# no source). 24 cells of lead 2.87 V at the most in the cold.
def test_the_bank_comes_off():
    fastest = max(PLANT.settled(state).speed_rpm for state in range(3))
    needs, amps = guard_needs(PLANT), PLANT.most.dc_amps
    found = bank_mishaps.fuse_opens(PLANT)
    assert found.sentence == wording("fuse opens").format(
        bank="58 V",
        leap=volts(line_peak(PLANT, fastest)),
        top=volts(line_peak(PLANT, JET.runaway_speed_rpm)),
        rpm=f"{JET.runaway_speed_rpm:.0f} rpm",
        amps=two(found.amps, "A"),
        on=volts(1.03 * guard_needs(PLANT).everyday_dc_volts),
        ohm=two(needs.ohm, "Ω"),
        watts=two(needs.watts, "W"),
    )
    assert 0.9 * amps < found.amps <= amps
    still = bank_mishaps.fuse_opens(STILL)
    assert still.sentence == wording("fuse opens at rest").format(top=volts(line_peak(STILL, 9.0)))
    assert (still.seconds, still.amps) == (inf, 0.0)
    stands = bank_mishaps.fuse_opens(plant(device_max_volts=400.0))
    assert stands.soon_words == wording("device stands it") and stands.hurt == still.hurt
    assert bank_mishaps.fuse_opens(plant(device_max_volts=58.5)).guard == wording("none fits")


# Half of 200 Ah at the amps that flow: hours. Gas: 24 cells × 0.42 L × 5 an Ah (IEC 62485-2, from memory).
def test_everything_goes_into_the_bank():
    most = PLANT.most.dc_amps
    stuck = bank_mishaps.control_sticks(PLANT)
    assert stuck.sentence == wording("control sticks").format(amps=two(most, "A"), hours=two(100.0 / most, "h"))
    amps = LEAD.settled(2).dc_amps
    assert bank_mishaps.dump_burns_out(LEAD).sentence == wording("dump burns out").format(
        watts=two(24 * 2.87 * amps, "W"),
        air=two(0.0504 * 24 * amps, "m³/h"),
        amps=two(amps, "A"),
        spare=two(1.5 * 24 * 2.87 * LEAD.most.dc_amps, "W"),
    )
    working = PLANT.working.dc_amps
    assert bank_mishaps.inverter_trips(PLANT).sentence == wording("inverter trips").format(
        amps=two(working, "A"), hours=two(100.0 / working, "h")
    )
    resting = bank_mishaps.inverter_trips(STILL)
    assert (resting.seconds, resting.soon_words) == (inf, "it does not charge")


def test_the_bank_is_full_in_the_cold():
    at = operating_point(PLANT.drive, PLANT.winding, PLANT.bank.states[2], PLANT.cold)
    found = bank_mishaps.cold_and_full(PLANT)
    assert found.sentence == wording("lithium in the cold").format(amps=two(at.dc_amps, "A"))
    assert bank_mishaps.cold_and_full(LEAD).then == wording("lead in the cold")
    edge = plant(device_max_volts=PLANT.bank.highest_volts)
    assert bank_mishaps.cold_and_full(edge).hurt.startswith("not the inverter")


# Ohm's law with the cable's two wires; a fuse of 16 A lets 2 × 1000 A²s through (IEC 60269-1, from memory).
def test_the_cable_is_reversed():
    run = PLANT.run
    amps = short_circuit(PLANT.bank, outside_ohm=float(cable_ohm(run.length_m, run.area_mm2)))
    assert fuse_needs(PLANT).size_amps == 16.0
    assert bank_mishaps.cable_reversed(PLANT).sentence == wording("cable reversed").format(
        most=two(amps.most_amps, "A"), least=two(amps.least_amps, "A"), time=soon(2000.0 / amps.least_amps**2)
    )
    held = Converter(low_volts=60.0, high_volts=150.0, survives_dc_volts=400.0)
    short = bank_mishaps.cable_reversed(plant(run=CableRun(rectifier_at=AT_BANK), converter=held))
    assert short.amps == pytest.approx(short_circuit(PLANT.bank).most_amps)
    assert short.then.endswith(wording("converter reversed")) and short.hurt == wording("converter gone")


@pytest.mark.parametrize("made", [PLANT, STILL, plant(site=Site(hottest_c=0.0))])
def test_the_leads_are_joined(made):
    brake = brake_heat(made)
    ends = brake.ends.warm_s
    said = (
        "the winding stays below 100 °C"
        if ends == inf
        else f"{soon(ends)}, until the winding is too hot"
        if ends
        else "at once, for the winding is at its limit at work already"
    )
    assert machine_mishaps.leads_joined(made).sentence == wording("leads joined").format(
        swing=two(brake.worst.first_swing_amps, "A"),
        amps=two(brake.worst.lead_amps_rms, "A"),
        bears=brake.bears,
        soon=said,
        stop=brake.stop_words,
    )


# Newton's second law: from rest it takes no less time than with its most torque all the way.
@pytest.mark.parametrize(
    ("drive", "said"),
    [
        (JET, ("nozzle is blocked", "runner", "valve shut and the rotor tied")),
        (
            WindRotor(rotor_diameter_m=2.4, wind_m_s=8.0),
            ("wind drops and comes back", "rotor", "furled and the rotor tied"),
        ),
        (
            Pedals(rider_watts=120.0, gear_ratio=8.0),
            ("rider stops", "flywheel", "nobody on the pedals and the wheel tied"),
        ),
        (
            Engine(rated_watts=3000.0, engine_rpm=3000.0, pulley_ratio=0.4),
            ("engine stalls", "rotor", "engine off and cold, ignition out"),
        ),
        (KnownSpeed(working_rpm=600.0), ("source stops and comes back", "rotor", "source shut off and the rotor tied")),
    ],
)
def test_the_source_goes_and_comes_back(drive, said):
    made = plant(drive=drive)
    found = machine_mishaps.source_returns(made)
    within = f"within {soon(found.seconds)}" if found.seconds else "at once"
    assert found.sentence == wording("source returns").format(
        ends=said[0], turns=said[1], shut=said[2], within=within, soon=soon(found.seconds)
    )
    assert (found.seconds == 0.0) == isinstance(drive, KnownSpeed)
    if isinstance(drive, Pedals):
        return
    rad_s = made.working.speed_rpm * pi / 30.0
    if found.seconds:
        assert found.seconds >= 0.99 * 0.05 * rad_s / max(drive.torque_nm(rpm) for rpm in range(0, 3000, 5))


def test_the_rotor_runs_unloaded():
    found, rpm = machine_mishaps.runs_unloaded(PLANT), JET.runaway_speed_rpm
    ratio = (rpm / PLANT.working.speed_rpm) ** 2  # forces on what turns go with the square of the speed
    stop = brake_heat(PLANT).stop_words
    assert found.sentence == wording("runs unloaded").format(
        turns="runner",
        rpm=f"{rpm:.0f} rpm",
        forces=f", {float(f'{ratio:.2g}'):g} times the forces of work",
        line=volts(line_peak(PLANT, rpm) / 2.0**0.5),
        dc=volts(line_peak(PLANT, rpm)),
        soon=soon(found.seconds),
        stop=f"a stop that acts by itself: {stop}",
    )
    pedals = machine_mishaps.runs_unloaded(plant(drive=Pedals(rider_watts=120.0, gear_ratio=8.0)))
    assert text_of(pedals.guard).startswith("the rider, who stops pedalling;")


# 500 Ω of a wet body, 10 mA of letting go: IEC 60479-1 (from memory).
def test_water_gets_into_the_box():
    dc = line_peak(PLANT, JET.runaway_speed_rpm)
    assert machine_mishaps.water_inside(PLANT).sentence == wording("water inside").format(
        amps=f"{float(f'{1000.0 * dc / 500.0:.1g}'):.0f} mA", lets=wording("no letting go"), dc=volts(dc)
    )
    weak = plant(drive=KnownSpeed(working_rpm=5.0), bank=Bank(chemistry="LiFePO4", cells=1))
    assert weak.bank.highest_volts < 5.0
    assert wording("letting go") in machine_mishaps.water_inside(weak).then


def rows_of_the_bridge(made):
    """What the faulted bridges say of amps and speed, with what the sound one has."""
    opened, shorted, lead, phase = faulted_plants(made)
    working = made.working
    return opened, shorted, lead, phase, two(working.dc_amps, "A"), two(working.phase_amps_rms, "A")


def test_a_diode_or_a_lead_fails():
    opened, _shorted, lead, phase, amps, _rms = rows_of_the_bridge(PLANT)
    assert bridge_mishaps.diode_open(PLANT).sentence == wording("diode open").format(
        less=two(opened.working.dc_amps, "A"),
        amps=amps,
        reverse=volts(opened.working.reverse_volts_peak),
        worst=volts(max(opened.working.reverse_volts_peak, opened.worst.reverse_volts_peak)),
    )
    assert bridge_mishaps.lead_off(PLANT).sentence == wording("lead off").format(
        less=two(lead.working.dc_amps, "A"),
        amps=amps,
        rpm=two(lead.working.speed_rpm, "rpm"),
        worst=volts(max(lead.working.loose_volts_peak, lead.worst.loose_volts_peak)),
        lead=two(max(lead.working.lead_amps_rms, lead.worst.lead_amps_rms), "A"),
    )
    # Kirchhoff: three paths of a phase share its amps.
    assert bridge_mishaps.phase_off(PLANT).sentence == wording("star point loose").format(
        less=two(phase.working.dc_amps, "A"),
        amps=amps,
        worst=volts(max(phase.working.loose_volts_peak, phase.worst.loose_volts_peak)),
        coil=two(max(phase.working.phase_amps_rms, phase.worst.phase_amps_rms) / 3.0, "A"),
    )
    delta = plant(grouping=Grouping(series=4, parallel=3, connection="delta"))
    loose = bridge_mishaps.phase_off(delta)
    assert loose.then in wording("corner loose").format(
        less=two(faulted_plants(delta)[3].working.dc_amps, "A"), amps=two(delta.working.dc_amps, "A")
    )
    assert "nothing, as before" in bridge_mishaps.lead_off(STILL).then


def test_a_shorted_diode_heats_each_coil_by_its_share_of_the_lead():
    cool = replace(PLANT, site=Site(hottest_c=0.0), heat=WindingHeat(k_per_w=0.3))
    _opened, shorted, _lead, _phase, amps, rms = rows_of_the_bridge(cool)
    heat, coil_amps = heat_of(cool), max(shorted.working.phase_amps_rms, shorted.worst.phase_amps_rms) / 3.0
    assert heat.at_work.settles_c < heat.limit_c
    seconds = held_warming(cool, coil_amps).seconds(heat.at_work.settles_c, heat.limit_c)
    found = bridge_mishaps.diode_shorted(cool)
    assert found.seconds == pytest.approx(seconds) and 0.0 < seconds < inf
    assert found.sentence == wording("diode shorted").format(
        lead=two(shorted.working.lead_amps_rms, "A"),
        before=rms,
        less=two(shorted.working.dc_amps, "A"),
        amps=amps,
        rpm=two(shorted.working.speed_rpm, "rpm"),
        worst=two(max(shorted.working.lead_amps_rms, shorted.worst.lead_amps_rms), "A"),
        soon=soon(seconds),
    )
    assert bridge_mishaps.diode_shorted(STILL).seconds == inf
