"""A year through a converter beside the bank straight on the bridge."""

from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import BANK, COIL, SETTING, STATOR
from statorbook.choice.machine import Machine
from statorbook.drives.wind_rotor import WindRotor
from statorbook.operation.converter import Converter
from statorbook.operation.operating_point import operating_points
from statorbook.operation.survival import DESTROYED
from statorbook.year.between import between_years, describe_between
from statorbook.year.source import MONTH_HOURS, SourceYear

WINDS = np.linspace(3.0, 11.0, 9)
ROTOR = WindRotor(rotor_diameter_m=3.0, wind_m_s=6.0, furls_from_m_s=9.0)
WINDOW = Converter(low_volts=55.0, high_volts=150.0, survives_dc_volts=200.0, idle_watts=4.0)
MACHINE = Machine(
    stator=STATOR, found=None, coil=COIL, corners=(), ends=(), drive=ROTOR, bank=BANK, setting=SETTING, assumed=()
)
HOURS = np.outer(MONTH_HOURS, np.full(9, 0.1))  # a tenth of the year each, calm for the last one
SOURCE = SourceYear(
    drives=tuple(replace(ROTOR, wind_m_s=float(wind)) for wind in WINDS),
    hours=HOURS,
    setting=WINDS,
    setting_name="wind",
    setting_unit="m/s",
    words="",
)
YEARS = between_years(MACHINE, SOURCE, WINDOW)


def test_kilowatt_hours_are_those_of_the_settled_points_less_what_it_draws_in_calm():
    around = replace(SETTING.conditions, converter=WINDOW)
    windings = [year.through.winding for year in YEARS]
    watts = np.array(
        [operating_points(drive, windings, BANK.states[1], around).bank_watts[:, 0] for drive in SOURCE.drives]
    )
    kwh = (876.0 * watts.sum(axis=0) - 876.0 * 4.0) / 1000.0
    assert [year.through.kwh for year in YEARS] == pytest.approx(kwh, rel=0.004, abs=1.0)


def test_a_grouping_that_never_charges_only_draws():
    dead = [year for year in YEARS if not np.any(year.through.phase_amps_rms > 0.0)]
    assert dead and all(year.through.kwh == pytest.approx(-8760.0 * 4.0 / 1000.0) for year in dead)
    assert all(year.gain_kwh < 0.0 and year.limited_h == year.edge_h == 0.0 for year in dead)


def test_an_ideal_converter_without_edges_never_loses():
    ideal = Converter(low_volts=1.0, high_volts=1500.0, survives_dc_volts=2000.0, efficiency=1.0, idle_watts=0.0)
    for year in between_years(MACHINE, SOURCE, ideal):
        assert year.gain_kwh > -0.003 * year.straight.kwh - 0.1


def test_hours_at_a_limit_are_those_in_which_the_free_converter_gives_more():
    most = 150.0
    limited = between_years(MACHINE, SOURCE, replace(WINDOW, most_output_watts=most))
    for free, held in zip(YEARS, limited, strict=True):
        above = free.through.bank_watts > 1.003 * most
        assert held.limited_h >= 876.0 * above.sum() - 1e-6
        assert held.through.bank_watts.max() <= most * 1.002
        assert held.through.kwh <= free.through.kwh + 0.5


def test_dangers_are_said_before_the_kilowatt_hours():
    burnt = [year for year in YEARS if year.survival.outcome == DESTROYED]
    said = describe_between(YEARS)
    assert 0 < len(burnt) < len(YEARS) and said.startswith(f"{len(burnt)} of {len(YEARS)} groupings would destroy")
    best = max((year for year in YEARS if not year.destroyed), key=lambda year: year.through.kwh)
    assert said.index("destroy") < said.index("kWh") and f"{best.through.kwh:.0f} kWh a year" in said
    weak = between_years(MACHINE, SOURCE, Converter(low_volts=55.0, high_volts=60.0, survives_dc_volts=61.0))
    assert any(year.destroyed for year in weak)


def test_hours_at_an_edge_of_the_window_are_those_in_which_better_volts_lie_outside():
    # Judge: the same converter with a window that is wide open seeks volts beyond those of the narrow one.
    free = replace(WINDOW, low_volts=1.0, high_volts=1900.0, survives_dc_volts=2000.0)
    years = (between_years(MACHINE, SOURCE, each) for each in (replace(WINDOW, high_volts=80.0), free))
    seen = set()
    for year, wide in zip(*years, strict=True):
        works = year.through.phase_amps_rms > 0.0
        volts, sought = year.through.held_dc_volts, wide.through.held_dc_volts
        outside = {"low": works & (sought < 0.98 * 55.0), "high": works & (sought > 1.02 * 80.0)}
        inside = works & (sought > 1.03 * 55.0) & (sought < 0.97 * 80.0)
        seen |= {name for name, where in outside.items() if where.any()} | ({"inside"} if inside.any() else set())
        least = year.through.hours_where(outside["low"] | outside["high"])
        assert least <= year.edge_h <= year.through.hours_where(works & ~inside), volts
    assert seen == {"low", "high", "inside"}


def test_where_every_grouping_would_destroy_it_nothing_is_recommended():
    burnt = [replace(year, survival=replace(year.survival, survives_dc_volts=1.0)) for year in YEARS]
    said = describe_between(burnt)
    assert said.startswith("Every grouping would destroy") and "nothing here is to be built" in said


BY_HAND = replace(WINDOW, efficiency=0.9, idle_watts=10.0)
HOURS_BY_HAND = np.outer(MONTH_HOURS / 8760.0, [4000.0, 3000.0, 1000.0])


def by_hand(converter=BY_HAND, bank_volts=52.0, **changes):
    """A year in three settings of 4000, 3000 and 1000 h, 90 V held and 100 W given in each, some of it changed."""
    flat = {"bank_watts": [100.0] * 3, "dc_amps": [2.0] * 3, "phase_amps_rms": [1.0] * 3, "held_dc_volts": [90.0] * 3}
    columns = {name: np.array(value) for name, value in (flat | changes).items()}
    through = replace(YEARS[0].through, hours=HOURS_BY_HAND, **columns)
    return replace(YEARS[0], through=through, converter=converter, bank_volts=bank_volts)


# What is within a thousandth of a limit is held by it: 299.7 of 300 W, 5.994 of 6 A. What comes in is what is given and
# 10 W, over 0.9: 395 W given are 450 W, at 90 V 5 A.
@pytest.mark.parametrize(
    "limit, changes, hours",
    [
        ({"most_output_watts": 300.0}, {"bank_watts": [299.8, 299.6, 100.0]}, 4000.0),
        ({"most_output_amps": 6.0}, {"dc_amps": [5.993, 5.995, 2.0]}, 3000.0),
        ({"most_input_amps": 5.0}, {"bank_watts": [394.0, 100.0, 395.0]}, 1000.0),
        (
            {"most_output_watts": 300.0, "most_output_amps": 6.0},
            {"bank_watts": [300.0] * 3, "dc_amps": [6.0] * 3},
            8000.0,
        ),
        ({}, {"bank_watts": [900.0] * 3}, 0.0),
    ],
)
def test_hours_at_a_limit_by_hand(limit, changes, hours):
    assert by_hand(replace(BY_HAND, **limit), **changes).limited_h == pytest.approx(hours)


# The window is 55 to 150 V, above the bank alone; a thousandth beside its ends is at them, where any current flows.
@pytest.mark.parametrize(
    "bank_volts, volts, amps, hours",
    [
        (52.0, [55.05, 55.06, 90.0], [1.0] * 3, 4000.0),
        (52.0, [149.9, 149.8, 150.1], [1.0] * 3, 5000.0),
        (60.0, [60.05, 60.07, 90.0], [1.0] * 3, 4000.0),
        (52.0, [55.0, 55.0, 150.0], [0.0, 0.5, 0.0], 3000.0),
    ],
)
def test_hours_at_an_edge_by_hand(bank_volts, volts, amps, hours):
    made = by_hand(bank_volts=bank_volts, held_dc_volts=volts, phase_amps_rms=amps)
    assert made.edge_h == pytest.approx(hours)
    assert by_hand(held_dc_volts=[200.0, 200.1, 90.0]).over_h == pytest.approx(3000.0)


def test_which_would_destroy_it_is_named_by_the_fewer():
    burnt, kept = ([year for year in YEARS if year.destroyed is which] for which in (True, False))
    for few, many, lead in (
        (burnt[:1], kept[:2], ": "),
        (burnt[:1], kept[:1], ": "),
        (burnt[:2], kept[:1], ", all but "),
    ):
        said = describe_between([*few, *many])
        assert said.startswith(f"{len(few)} of {len(few) + len(many)} groupings would destroy the converter")
        named = few if lead == ": " else many
        assert f"when the rotor runs away{lead}{named[0].grouping.label}. " in said
    assert describe_between(kept).startswith("No grouping makes more")
    held = replace(kept[0], converter=replace(WINDOW, most_output_watts=1e-3))
    assert f"a limit holds it for {held.limited_h:.0f} h" in describe_between([held]) and held.limited_h > 0.0
    less = abs(kept[0].gain_kwh)
    sign = "more" if kept[0].gain_kwh >= 0.0 else "less"
    assert f"{less:.0f} kWh {sign} than the same grouping" in describe_between(kept[:1])


def test_the_worst_of_page_and_year_is_what_the_converter_must_survive():
    # A rotor furls from 9 m/s on, so that a year of more wind runs away faster than one of less.
    windings = [YEARS[0].through.winding]
    for page, year in ((3.0, 8.0), (8.0, 3.0)):
        now = replace(MACHINE, drive=replace(ROTOR, wind_m_s=page))
        source = replace(SOURCE, drives=(replace(ROTOR, wind_m_s=year),), hours=HOURS[:, :1], setting=np.array([year]))
        (found,) = between_years(now, source, WINDOW, windings)
        worst = max((now.drive, source.drives[0]), key=lambda drive: drive.runaway_speed_rpm)
        volts = np.sqrt(2.0) * windings[0].line_volts_rms(worst.runaway_speed_rpm, SETTING.cold_c)
        assert found.survival.dc_volts_peak == pytest.approx(volts)
        assert found.survival.survives_dc_volts == 200.0 and found.bank_volts == BANK.states[1].volts


def test_the_best_without_a_converter_is_told_last_and_a_gain_of_nothing_as_more():
    kept = [year for year in YEARS if not year.destroyed]
    straight = max((year.straight for year in kept), key=lambda year: year.kwh)
    said = describe_between(kept)
    assert said.endswith(f" is {straight.grouping.label} with {straight.kwh:.0f} kWh.")
    alike = replace(kept[0], straight=kept[0].through)
    assert "0 kWh more than the same" in describe_between([alike]) and "limit holds" not in describe_between([alike])
    burnt = [year for year in YEARS if year.destroyed]
    assert "runs away. With this" in describe_between(burnt)
