"""What is said of a change-over, and what its contacts have to carry: an invented pair of three settings, by hand."""

from dataclasses import replace
from math import nan, pi, sqrt

import numpy as np
import pytest

from samples.machine_samples import COIL, STATOR
from samples.year_samples import machine, windy
from sentences import sentences_of
from statorbook.drives.known_speed import KnownSpeed
from statorbook.operation.hazards import Hazard
from statorbook.operation.largest_amps import MostAmps, most_amps
from statorbook.operation.operating_point import operating_points
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding
from statorbook.year.energy import GroupingYear, grouping_years
from statorbook.year.source import MONTH_HOURS
from statorbook.year.switch_contacts import CATALOGUE_HZ, Contacts, switch_contacts
from statorbook.year.switch_pairs import Pair
from statorbook.year.switch_words import building_words, is_worth_it, switch_words, verdict_words
from statorbook.year.switching import Switching, switchings

wording = sentences_of("year_switching")

STAR, DELTA = (Grouping(series=4, parallel=3, connection=connection) for connection in ("star", "delta"))
OTHER = Grouping(series=6, parallel=2)


def year(grouping, speed_rpm, watts, amps_per_mm2, hours=(4000.0, 3000.0, 1000.0), stator=STATOR):
    watts, none = np.array(watts), np.zeros(3)
    return GroupingYear(
        winding=Winding(stator=stator, coil=COIL, grouping=grouping),
        hours=np.outer(MONTH_HOURS / 8760.0, hours),
        speed_rpm=np.array(speed_rpm),
        dc_amps=watts / 50.0,
        bank_watts=watts,
        phase_amps_rms=watts / 60.0,
        open_dc_volts_peak=none,
        amps_per_mm2=np.array(amps_per_mm2),
        circulating_watts=none,
        full_dc_amps=none,
    )


# By hand. Going up at 400 rpm and back at 250: the first setting rests in star, the last in delta, the one between in
# either, which counts as the worse, 120 W: 4 × 50 + 3 × 120 + 1 × 600 = 1160 kWh. Star alone 200 + 450 + 200 = 850,
# delta alone 0 + 360 + 600 = 960, always the better 200 + 450 + 600 = 1250. Hot is only delta at the last setting.
LOW = year(STAR, [100.0, 300.0, 500.0], [50.0, 150.0, 200.0], [2.0, 9.0, 11.0])
HIGH = year(DELTA, [120.0, 400.0, 700.0], [0.0, 120.0, 600.0], [1.0, 3.0, 12.0])
FOUND = Switching(
    pair=Pair(low=STAR, high=DELTA),
    low=LOW,
    high=HIGH,
    best_fixed=HIGH,
    up_rpm=400.0,
    down_rpm=250.0,
    waits=False,
    rests=np.array([-1, 0, 1]),
)
BETTER_ALONE = year(OTHER, [90.0, 250.0, 400.0], [150.0, 150.0, 150.0], [1.0, 1.0, 1.0])  # 8000 h of 150 W: 1200 kWh


def hazard(dc_volts, line_volts):
    return Hazard(level=3, word="deadly", limit="120 V", advice="", line_volts_rms=line_volts, dc_volts_peak=dc_volts)


CONTACTS = Contacts(
    up_breaks_amps_rms=11.0,
    up_makes_amps_rms=12.0,
    down_breaks_amps_rms=13.0,
    down_makes_amps_rms=16.0,
    low_carries_amps_rms=20.0,
    high_carries_amps_rms=18.0,
    open_line_volts_rms=90.0,
    electrical_hz=60.0,
    gains_rpm_per_s=320.0,
    low_most=MostAmps(dc_amps=30.0, lead_amps_rms=25.0, coil_amps_rms=14.0, speed_rpm=800.0),
    high_cut_in_rpm=210.0,
    runaway=hazard(140.0, 100.0),
    unguarded=hazard(210.0, 150.0),
    guard_words="furling",
    fixed_runaway_dc_volts_peak=80.0,
    accepted_dc_volts=140.0,
    shorted_coil_amps_rms=33.0,
)


def test_kilowatt_hours_and_hours_of_a_pair_by_hand():
    assert (FOUND.kwh, FOUND.gain_kwh, FOUND.perfect_kwh) == pytest.approx((1160.0, 200.0, 1250.0))
    assert FOUND.gain_share == pytest.approx(200.0 / 960.0)
    assert (FOUND.either_h, FOUND.high_h, FOUND.hot_h) == pytest.approx((3000.0, 1000.0, 1000.0))
    assert replace(FOUND, rests=np.array([-1, 0, 0])).hot_h == pytest.approx(1000.0)
    assert replace(FOUND, rests=np.array([-1, -1, -1]), high=LOW).hot_h == pytest.approx(1000.0)
    nothing = year(OTHER, [0.0] * 3, [0.0] * 3, [0.0] * 3)
    assert replace(FOUND, best_fixed=nothing).gain_share == 0.0


@pytest.mark.parametrize(
    ("low_watts", "high_watts", "kwh", "up_rpm", "down_rpm", "waits"),
    [
        # Low alone 850, high alone 960. Up at 200: low, high, high, 200 + 360 + 600 = 1160, back at 0.95 × 200; up at
        # 400 without waiting the second may rest in either, 1160 again. With waiting, back at 0.95 × 700: 1250.
        ([50.0, 150.0, 200.0], [0.0, 120.0, 600.0], 1250.0, 400.0, 665.0, True),
        # Waiting would give 3 kWh more than 1247: too little for its trouble.
        ([50.0, 150.0, 200.0], [0.0, 149.0, 600.0], 1247.0, 200.0, 190.0, False),
        # Half a watt for 4000 h is a gain, too; nothing is none, and the better one alone is left.
        ([0.5, 0.0, 0.0], [0.0, 120.0, 600.0], 962.0, 200.0, 190.0, False),
        ([0.0, 0.0, 0.0], [0.0, 120.0, 600.0], 960.0, nan, nan, False),
        ([50.0, 150.0, 200.0], [0.0, 0.0, 0.0], 850.0, nan, nan, False),
    ],
)
def test_set_speeds_by_hand(low_watts, high_watts, kwh, up_rpm, down_rpm, waits):
    star, delta = (Grouping(series=1, parallel=1, connection=connection) for connection in ("star", "delta"))
    three = Stator(slots=3, poles=2)  # a coil a phase: nothing but this pair
    low = year(star, [100.0, 300.0, 500.0], low_watts, [1.0] * 3, stator=three)
    high = year(delta, [120.0, 400.0, 700.0], high_watts, [1.0] * 3, stator=three)
    (found,) = switchings(machine(stator=three), None, (low, high))
    assert (found.kwh, found.waits) == (pytest.approx(kwh), waits)
    assert [found.up_rpm, found.down_rpm] == pytest.approx([up_rpm, down_rpm], nan_ok=True)
    assert found.is_stable is (up_rpm > 0.0) and found.best_fixed is max(low, high, key=lambda each: each.kwh)


def test_hours_of_a_year_that_turns_stands_and_charges_by_hand():
    made = year(STAR, [0.0, 0.5, 500.0], [0.0, 0.0, 200.0], [0.0, 10.0, 10.1])
    assert (made.still_h, made.idle_h, made.charging_h, made.hot_h) == pytest.approx((4000.0, 3000.0, 1000.0, 1000.0))
    assert made.wire_known and not year(STAR, [1.0] * 3, [1.0] * 3, [nan] * 3).wire_known
    full = replace(made, full_dc_amps=np.array([0.0, 0.0, 0.1]), open_dc_volts_peak=np.array([0.0, 60.0, 120.0]))
    assert full.fills and not made.fills
    assert (full.gone_h(59.9), full.gone_h(60.0), full.gone_h(120.0)) == pytest.approx((4000.0, 1000.0, 0.0))
    # A converter draws 5 W in the 760 h without the source; 30 W may circulate in a delta, but no more than comes.
    drawing = replace(made, idle_watts=5.0, circulating_watts=np.array([10.0, 10.0, 30.0]))
    assert drawing.kwh == pytest.approx(200.0 - 3.8) and drawing.net_kwh == pytest.approx(170.0 - 3.8)


def test_what_a_pair_is_worth_in_words():
    assert verdict_words(FOUND) == wording("worth it")
    assert verdict_words(FOUND, 210.0).startswith(wording("within its ±"))
    assert "200 ± 190 kWh (21%" in verdict_words(FOUND, 190.0)
    alone = replace(FOUND, best_fixed=BETTER_ALONE)
    assert verdict_words(alone).startswith(wording("less than alone"))
    assert wording("it waits") in verdict_words(replace(FOUND, waits=True))
    assert verdict_words(replace(FOUND, up_rpm=nan, down_rpm=nan)) == wording("no two set speeds")
    assert verdict_words(replace(alone, up_rpm=nan, down_rpm=nan)) == wording("not even a perfect one")


# A gain by 5 % is one, and so is a perfect change-over that would gain more than that; the ± has to be exceeded.
def test_the_limits_of_what_is_worth_a_contactor():
    for kwh, worth in ((1104.0, True), (1105.5, False)):
        fixed = year(OTHER, [90.0] * 3, [kwh / 8.0] * 3, [1.0] * 3)
        assert is_worth_it(replace(FOUND, best_fixed=fixed)) is worth
    assert not is_worth_it(replace(FOUND, up_rpm=nan))
    assert is_worth_it(FOUND, 199.0) and not is_worth_it(FOUND, FOUND.gain_kwh)
    for kwh, worth in ((1190.0, True), (1191.0, False)):  # 1250 / 1.05 = 1190.48
        fixed = year(OTHER, [90.0] * 3, [kwh / 8.0] * 3, [1.0] * 3)
        assert replace(FOUND, best_fixed=fixed).could_be_worth_it is worth


# NEC 210.20(A), a quarter on top: 1.25 × 20 A carried, 1.25 × 16 A moved; without its guard it makes 150 V.
def test_what_to_ask_for_in_words():
    contacts, stuck, rest = building_words(FOUND, CONTACTS).text.split("\n")[:3]
    assert contacts == wording("contacts")
    assert stuck == wording("it sticks")
    assert rest.startswith(wording("interlock"))
    assert building_words(replace(FOUND, up_rpm=nan), CONTACTS) == wording("no contactor is sized")
    alike = replace(CONTACTS, unguarded=CONTACTS.runaway, runaway=CONTACTS.unguarded)
    assert wording("contacts without a guard") in building_words(FOUND, alike).text
    assert wording("more than a catalogue") in building_words(FOUND, replace(CONTACTS, electrical_hz=61.0)).text
    assert (CATALOGUE_HZ.low, CATALOGUE_HZ.high) == (50, 60)  # mains, IEC 60196 (from memory)
    weak = replace(FOUND, best_fixed=BETTER_ALONE)
    assert building_words(weak, CONTACTS).text.startswith(wording("built all the same"))
    unknown = building_words(FOUND, replace(CONTACTS, gains_rpm_per_s=nan), corner_measured=True).text
    assert wording("gain of speed not known") in unknown


@pytest.mark.parametrize("moved", ["up_breaks", "up_makes", "down_breaks", "down_makes"])
def test_the_largest_of_all_amps_at_the_change_is_asked_for(moved):
    assert replace(CONTACTS, **{f"{moved}_amps_rms": 40.0}).switched_amps_rms == 50.0
    assert replace(CONTACTS, high_carries_amps_rms=24.0).thermal_amps_rms == 30.0


@pytest.mark.parametrize(("hours", "told"), [(1.0, True), (0.9, False)])
def test_coils_that_are_hot_for_an_hour_are_told_and_for_less_not(hours, told):
    found = replace(FOUND, low=replace(LOW, hours=np.array([[4000.0, 3000.0, hours]])))
    assert found.hot_h == hours and ("for 1 h a year." in verdict_words(found)) is told


def test_the_danger_of_a_pair_in_words():
    (first, second) = switch_words(FOUND, replace(CONTACTS, accepted_dc_volts=120.0), 210.0).splitlines()
    assert first.startswith(wording("danger")) and first.endswith(wording("above what is accepted"))
    assert second.startswith(wording("within its ±"))
    assert CONTACTS.is_accepted and "you accept" not in switch_words(FOUND, CONTACTS)
    # Hardly less, 1 % at most, is not worth a word.
    for fixed, told in ((138.0, True), (138.7, False)):
        assert ("makes" in switch_words(FOUND, replace(CONTACTS, fixed_runaway_dc_volts_peak=fixed))) is told


def coil_amps_by_hand(grouping, lead_amps):
    """A path of a star carries its share of a lead's amps, one of a delta 1/√3 of that."""
    return lead_amps / grouping.parallel / (sqrt(3.0) if grouping.connection == "delta" else 1.0)


def test_contacts_of_a_rotor_by_hand():
    now, source = machine(), windy([4.0, 6.0, 9.0], [3000.0, 2000.0, 900.0])
    fixed = max(grouping_years(now, source), key=lambda each: each.kwh)
    low, high = (Winding(stator=STATOR, coil=COIL, grouping=grouping) for grouping in (STAR, DELTA))
    drive = max((now.drive, *source.drives), key=lambda each: each.unguarded_runaway_speed_rpm)
    found = replace(FOUND, best_fixed=fixed)
    at = switch_contacts(now, source, found)
    # 24 pole pairs at 400 rpm: 160 Hz. A shorted path: E / |R + jωL|, coils cold, all in star terms.
    assert at.electrical_hz == pytest.approx(24 * 400.0 / 60.0)
    cold = now.setting.cold
    star = low.star_equivalent(cold.copper_c, cold.magnet_c)
    ohm = abs(complex(star.ohm, 2.0 * pi * 160.0 * star.henry))
    lead = 400.0 * star.emf_v_per_rpm / ohm
    assert at.shorted_coil_amps_rms == pytest.approx(coil_amps_by_hand(STAR, lead))
    most_low, most_high = most_amps([(drive, each, now.bank, cold) for each in (low, high)])
    # A contact of the star point carries a lead's amps, a corner of the delta 1/√3 of them.
    assert at.low_carries_amps_rms == pytest.approx(most_low.lead_amps_rms)
    assert at.high_carries_amps_rms == pytest.approx(most_high.lead_amps_rms / sqrt(3.0))
    assert at.low_most == most_low
    assert at.accepted_dc_volts == now.setting.limit_dc_volts and at.guard_words == drive.guard_words
    gone = fixed.winding.line_volts_rms(drive.runaway_speed_rpm, now.setting.cold_c)
    assert at.fixed_runaway_dc_volts_peak == pytest.approx(sqrt(2.0) * gone)
    # Without stable speeds it is looked at where the low-speed grouping is fastest, 500 rpm: 200 Hz.
    assert switch_contacts(now, source, replace(found, up_rpm=nan, down_rpm=nan)).electrical_hz == pytest.approx(200.0)
    assert np.isnan(switch_contacts(now, source, replace(found, up_rpm=nan), inertia_kgm2=1.0).gains_rpm_per_s)


def test_the_faster_gain_of_both_changes_is_told():
    now, source = machine(), windy([4.0, 6.0, 9.0], [3000.0, 2000.0, 900.0])
    gains = switch_contacts(now, source, FOUND, inertia_kgm2=2.0).gains_rpm_per_s
    # Star passes 400 rpm in the third wind, delta 250 rpm in the second; speed gained is torque over inertia.
    torque = max(source.drives[2].torque_nm(400.0), source.drives[1].torque_nm(250.0))
    assert gains == pytest.approx(torque / 2.0 * 30.0 / pi)


def test_what_contacts_break_and_close_on_is_what_each_grouping_carries_at_the_set_speeds():
    now, source = machine(), windy([4.0, 6.0, 9.0], [3000.0, 2000.0, 900.0])
    at = switch_contacts(now, source, FOUND)
    windings = [Winding(stator=STATOR, coil=COIL, grouping=grouping) for grouping in (STAR, DELTA)]
    around = now.bank.states[1], now.setting.conditions
    up, down = (
        operating_points(KnownSpeed(working_rpm=rpm), windings, *around).phase_amps_rms[:, 0] for rpm in (400.0, 250.0)
    )
    # Star's contacts carry a lead's amps, a corner of the delta 1/√3 of them.
    assert at.up_breaks_amps_rms == pytest.approx(up[0], rel=1e-3, abs=1e-6)
    assert at.up_makes_amps_rms == pytest.approx(up[1] / sqrt(3.0), rel=1e-3, abs=1e-6)
    assert at.down_breaks_amps_rms == pytest.approx(down[1] / sqrt(3.0), rel=1e-3, abs=1e-6)
    assert at.down_makes_amps_rms == pytest.approx(down[0], rel=1e-3, abs=1e-6)
    assert at.open_line_volts_rms == pytest.approx(windings[0].line_volts_rms(400.0, now.setting.cold_c))
    # Delta charges from the speed that is told, and not below it.
    for share, charges in ((0.99, False), (1.01, True)):
        held = KnownSpeed(working_rpm=share * at.high_cut_in_rpm)
        assert (operating_points(held, windings[1:], *around).bank_watts[0, 0] > 0.0) is np.bool_(charges)


def test_names_of_pairs():
    assert Pair(low=STAR, high=DELTA).label.split(", ") == ["star and delta", "4 in series", "3 paths"]
    one, two = (Grouping(series=12 // paths, parallel=paths) for paths in (1, 2))
    assert Pair(low=one, high=two).label == "1 and 2 paths, star"
    assert Pair(low=one, high=replace(one, connection="delta")).label.endswith("12 in series, 1 path")
