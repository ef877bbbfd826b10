"""The choice by the kilowatt-hours of a year: what it ranks, what it rejects, and what it says of the one setting."""

from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import JET
from samples.wind_case import HOURS, ROTOR, rayleigh_year, wind_machine
from samples.year_samples import machine, windy, year_of
from sentences import sentences_of
from statorbook.choice.comparison import compare
from statorbook.choice.verdict import Worth
from statorbook.drives.known_speed import KnownSpeed
from statorbook.operation.operating_point import operating_points
from statorbook.year.energy import grouping_years
from statorbook.year.source import HOURS_A_YEAR
from statorbook.year.verdict import year_verdict

wording = sentences_of("year")


def verdict(now, source):
    found = compare(now.stator, now.coil, now.drive, now.bank, now.setting)
    return year_verdict(found, grouping_years(now, source))


@pytest.fixture(scope="module")
def windy_verdict():
    return verdict(wind_machine(), rayleigh_year())


def test_the_mean_wind_chooses_one_grouping_and_its_year_another_with_more_energy_and_fewer_volts(windy_verdict):
    now, source = wind_machine(), rayleigh_year()
    # An independent sum: the exact search at each wind by itself, watts times hours.
    windings = [row.winding for row in windy_verdict.at_once.rows]
    summed = dict.fromkeys((winding.grouping for winding in windings), 0.0)
    for drive, hours in zip(source.drives, HOURS, strict=True):
        points = operating_points(drive, windings, now.bank.states[1], now.setting.conditions)
        for winding, watts in zip(windings, points.bank_watts[:, 0], strict=True):
            summed[winding.grouping] += hours * watts / 1000.0
    at_once, by_year = windy_verdict.at_once.recommended, windy_verdict.by_year.recommended
    # What a tried wind job showed: 7 in series, 2 paths, delta at the mean wind, 2 in series, 7 paths, star by energy.
    assert at_once.grouping.label == "7 in series, 2 paths, delta"
    assert by_year.grouping.label == "2 in series, 7 paths, star"
    assert summed[by_year.grouping] == max(summed.values()) > 1.2 * summed[at_once.grouping]
    assert by_year.runaway.dc_volts_peak < 0.6 * at_once.runaway.dc_volts_peak
    for row in windy_verdict.by_year.rows:
        assert row.worth.given == pytest.approx(summed[row.grouping], rel=0.002)
    ranked = [summed[row.grouping] for row in windy_verdict.by_year.rows]
    assert ranked == sorted(ranked, reverse=True)
    more, gap = summed[by_year.grouping] - summed[at_once.grouping], at_once.runaway.dc_volts_peak
    gap -= by_year.runaway.dc_volts_peak
    assert windy_verdict.differs and windy_verdict.sentence == (
        "At one setting of the source (wind speed 5.5 m/s) the choice would be 7 in series, 2 paths, delta: over the "
        f"year it gives {summed[at_once.grouping]:.0f} kWh and {at_once.runaway.dc_volts_peak:.0f} V DC peak with the "
        f"bank gone. The year's choice, 2 in series, 7 paths, star, gives {summed[by_year.grouping]:.0f} kWh and "
        f"{by_year.runaway.dc_volts_peak:.0f} V DC peak with the bank gone: {more:.0f} kWh "
        f"({more / summed[at_once.grouping]:.0%}) more, and {gap:.0f} V less."
    )


def test_the_sentence_of_the_comparison_says_kwh_before_the_watts_of_the_setting(windy_verdict):
    found, row = windy_verdict.by_year, windy_verdict.by_year.chosen
    said = found.words_of(row)
    assert said.startswith(wording("Chosen, with the most kWh"))
    watts = f"{row.point.bank_watts:.0f} W ({row.point.dc_amps:.1f} A) into the half-full bank"
    assert f"it gives {row.worth.given:.0f} kWh a year, and at the one setting {watts}" in said
    assert row.reason == wording("it gives the most kWh")
    other = next(each for each in found.rows if each.verdict == "workable")
    assert other.reason.startswith(f"{other.worth.value / row.worth.value:.0%} of the most kWh a year")


@pytest.mark.parametrize("accepted", [60.0, 130.0, 1000.0])
@pytest.mark.parametrize("drive", [JET, KnownSpeed(working_rpm=800.0), replace(ROTOR, wind_m_s=8.0)])
def test_a_year_at_one_setting_judges_as_the_one_setting_does(drive, accepted):
    judged = verdict(machine(drive=drive, accepted_dc_volts=accepted), year_of([drive], [HOURS_A_YEAR]))
    assert not judged.differs and wording("the choice is the same") in judged.sentence
    assert [row.grouping for row in judged.by_year.rows if row.worth.given > 1.0] == [
        row.grouping for row in judged.at_once.rows if row.point.charges
    ]
    assert {row.grouping: row.verdict for row in judged.by_year.rows} == {
        row.grouping: row.verdict for row in judged.at_once.rows
    }
    for row in judged.by_year.rows:
        assert row.worth.given == pytest.approx(8.76 * row.point.bank_watts, rel=0.002, abs=0.5)


def test_what_does_not_charge_at_the_one_setting_but_earns_over_the_year_is_not_rejected():
    low = replace(ROTOR, wind_m_s=2.0)
    judged = verdict(replace(wind_machine(), drive=low), rayleigh_year())
    assert judged.at_once.recommended is None and judged.by_year.recommended.worth.given > 1000.0
    assert {row.reason for row in judged.at_once.rows} != {""}
    assert wording("no grouping suits; over the year") in judged.sentence


def test_a_wall_that_only_the_year_stays_within_is_said():
    low = replace(ROTOR, wind_m_s=3.5)
    free = verdict(replace(wind_machine(), drive=low), rayleigh_year())
    # Just below the least volts of all that charge at the setting; over the year something charges below them.
    least = min(row.runaway.dc_volts_peak for row in free.at_once.sound)
    judged = verdict(replace(wind_machine(accepted_dc_volts=least - 1.0), drive=low), rayleigh_year())
    assert judged.at_once.chosen is None and judged.by_year.chosen is not None
    assert judged.sentence.endswith(wording("At that setting nothing that"))
    assert wording("At that setting nothing that") not in free.sentence


def test_what_charges_at_the_one_setting_but_never_in_the_year_is_rejected():
    judged = verdict(wind_machine(), windy([1.0, 2.0], [4000.0, 4000.0], ROTOR))
    assert judged.at_once.recommended is not None and judged.by_year.recommended is None
    wanted = wording("it would charge only above")
    assert all(row.reason.startswith(wanted) and "never turns above" in row.reason for row in judged.by_year.rows)
    assert wording("but over the year no grouping suits") in judged.sentence


def test_a_bank_that_is_never_filled_over_the_year_is_a_fault_as_at_one_setting():
    slow = verdict(machine(drive=KnownSpeed(working_rpm=90.0)), year_of([KnownSpeed(working_rpm=90.0)], [100.0]))
    cut_in = max(row.cut_in_rpm for row in slow.by_year.rows)
    nearly = KnownSpeed(working_rpm=1.01 * cut_in)
    judged = verdict(machine(drive=nearly), year_of([nearly], [100.0]))
    assert judged.at_once.rows[-1].reason == wording("it stops charging at one")
    assert judged.by_year.find(judged.at_once.rows[-1].grouping).reason == wording("it stops charging before the")
    both = verdict(machine(drive=nearly), year_of([nearly, KnownSpeed(working_rpm=1.3 * cut_in)], [100.0, 100.0]))
    assert "stops" not in both.by_year.find(judged.at_once.rows[-1].grouping).reason


def test_coils_too_hot_at_the_one_setting_stay_rejected_and_hot_hours_are_told():
    thin = verdict(wind_machine(wire_diameter_mm=0.45), rayleigh_year())
    hot = {row.grouping for row in thin.at_once.rows if row.amps_per_mm2 > 10.0}
    assert all(thin.by_year.find(grouping).reason.startswith("its coils would carry") for grouping in hot)
    told = [row for row in thin.by_year.sound if thin.of(row.grouping).hot_h >= 1.0]
    assert told and all(f"for {thin.of(row.grouping).hot_h:.0f} h of the year" in row.reason for row in told)


def test_what_circulates_in_a_measured_delta_is_taken_off_hour_by_hour():
    now = wind_machine(open_corner_v_per_rpm=0.004)
    judged = verdict(now, rayleigh_year())
    for row in judged.by_year.rows:
        year = judged.of(row.grouping)
        if row.grouping.connection == "star":
            assert row.worth.value == pytest.approx(row.worth.given, rel=1e-12)
            continue
        # Kirchhoff round the delta: the corner's volts over the ohms of three phases heat them with V²/3R.
        at_work = now.setting.conditions
        volts = 0.004 * row.grouping.series * year.speed_rpm * (1.0 - 0.002 * (at_work.magnet_c - 20.0))
        lost = volts**2 / (3.0 * row.winding.phase_ohm(at_work.copper_c))
        net = sum(HOURS * (year.bank_watts - lost).clip(0.0)) / 1000.0
        assert row.worth.value == pytest.approx(net)
        assert row.worth.value < row.worth.given or row.worth.given == 0.0


def test_any_worth_ranks_and_the_wall_of_volts_stays(windy_verdict):
    found = windy_verdict.at_once
    wild = max(found.rows, key=lambda row: row.runaway.dc_volts_peak)
    values = {row.grouping: 9.0 if row is wild else 1.0 for row in found.rows}
    worths = {grouping: Worth(value=value, given=value, unit="jobs") for grouping, value in values.items()}
    assert found.by_worth(worths).chosen.grouping == wild.grouping
    setting = replace(found.setting, accepted_dc_volts=wild.runaway.dc_volts_peak - 1.0)
    walled = replace(found, setting=setting).by_worth(worths)
    assert walled.chosen.grouping != wild.grouping and walled.rows[0].verdict == "above the limit"
    assert walled.rows[0].reason.startswith(wording("of the most jobs"))


def test_hours_of_hot_coils_and_a_rotor_that_stands_are_told_of_whatever_year(windy_verdict):
    found, years = windy_verdict.at_once, windy_verdict.years
    best = windy_verdict.by_year.chosen.grouping
    for hours, told in ((0.9, False), (1.0, True)):
        some = np.zeros((12, len(HOURS)))
        some[0, -3] = hours
        hot = [replace(year, amps_per_mm2=np.full(len(HOURS), 11.0), hours=some) for year in years]
        assert ("for 1 h of the year" in year_verdict(found, hot).by_year.find(best).reason) is told
    none = np.zeros(len(HOURS))
    still = [replace(year, speed_rpm=none, bank_watts=none) for year in years]
    assert all("cannot turn it against its drag" in row.reason for row in year_verdict(found, still).by_year.rows)
    assert not year_verdict(found, years, months_known=False).months_known and windy_verdict.months_known
