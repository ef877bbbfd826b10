"""Rise by resistance, class limits, and where the winding of a plant settles."""

from dataclasses import replace
from math import hypot, inf, isinf, isnan, log, pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.plant_samples import plant
from samples.year_samples import ROTOR
from statorbook.choice import around_delta
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_point
from statorbook.operation.speed_sweep import sweep
from statorbook.protection.heat_at_work import (
    AT_WORK,
    MOST,
    STRONGEST,
    degrees,
    duration_words,
    heat_of,
    overload,
    rise_k_per_w,
    two_figures,
)
from statorbook.protection.site import Site
from statorbook.protection.winding_heat import HOT_SPOT_C, RISE_K_PER_W, HeatRun, WindingHeat
from statorbook.winding.grouping import Grouping
from strategies import numbers

RUN = HeatRun(cold_ohm=0.50, cold_c=20.0, hot_ohm=0.62, air_c=25.0, dc_amps=8.0)


@pytest.mark.outside(
    "rise by resistance over the coolant, copper and aluminium",
    source="IEC 60034-1, resistance method, k 235 and 225",
    number="56.2 and 53.8 K for 0.50 to 0.62 Ω",
    tolerance="0.06 K",
    seen="from memory",
)
@pytest.mark.parametrize(("conductor", "rise_k"), [("copper", 56.2), ("aluminium", 53.8)])
def test_rise_by_the_resistance_method(conductor, rise_k):
    assert RUN.hot_c(conductor) - 25.0 == pytest.approx(rise_k, abs=0.06)


# Both count with a coefficient of their own: 1/0.00426 = 234.7 and 234.5 in place of 235.
@pytest.mark.parametrize(
    ("cold_ohm", "hot_ohm", "rise_k"),
    [
        pytest.param(
            3.42,
            4.22,
            59.59,
            marks=pytest.mark.outside(
                "rise of a winding by its ohms",
                source="Kulshreshtha, Basic Electrical Engineering, example 2.18",
                number="59.59 K",
                tolerance="0.2 %",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            80.0,
            100.0,
            63.63,
            marks=pytest.mark.outside(
                "rise of a field winding by its ohms",
                source="Physics Forums, thread 381286",
                number="63.63 K",
                tolerance="0.2 %",
                seen="read",
            ),
        ),
    ],
)
def test_rises_that_others_worked_out(cold_ohm, hot_ohm, rise_k):
    run = replace(RUN, cold_ohm=cold_ohm, hot_ohm=hot_ohm, air_c=20.0)
    assert run.hot_c("copper") - 20.0 == pytest.approx(rise_k, rel=2e-3)


@pytest.mark.outside(
    "hot spot of insulation classes A, E, B, F, H",
    source="IEC 60085",
    number="105, 120, 130, 155, 180 °C",
    tolerance="none",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "rise by resistance of the same classes over 40 °C",
    source="IEC 60034-1",
    number="60, 75, 80, 105, 125 K",
    tolerance="none",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    "letter, spot_c, rise_k", [("A", 105, 60), ("E", 120, 75), ("B", 130, 80), ("F", 155, 105), ("H", 180, 125)]
)
def test_limits_of_the_classes(letter, spot_c, rise_k):
    heat = WindingHeat(thermal_class=letter)
    assert (heat.hot_spot_c, heat.limit_c) == (spot_c, 40 + rise_k) and set(HOT_SPOT_C) == set("AEBFH")


def copper_watts(at):
    return -dict(at.working.chain_watts)["copper"]


# The winding of the plant settles where air + K × loss, with its copper that warm, is the temperature itself.
def test_it_settles_where_loss_and_air_agree_with_the_copper_that_warm():
    now = plant(heat=WindingHeat(k_per_w=0.5))
    found = heat_of(now)
    assert [state.name for state in found.states] == [AT_WORK, STRONGEST, MOST]
    warm = now.with_conditions(copper_c=found.at_work.settles_c)
    assert found.at_work.settles_c == pytest.approx(40.0 + 0.5 * copper_watts(warm), abs=0.2)
    # Cold copper would have promised less.
    assert found.at_work.settles_c > 40.0 + 0.5 * copper_watts(now.with_conditions(copper_c=40.0)) + 0.5
    assert found.at_work.coil_watts == pytest.approx(copper_watts(warm) / 36, rel=0.01)
    assert found.at_work.coil_amps_rms == pytest.approx(now.winding.coil_amps(warm.working.phase_amps_rms), rel=0.01)


def test_a_limit_is_still_allowed_on_its_edge_and_no_longer_above():
    settles = heat_of(plant()).at_work.settles_c
    for letter in "AEBFH":
        edge = WindingHeat(thermal_class=letter).limit_c
        k_per_w = (edge - 40.0) / copper_watts(plant(copper_c=edge))
        below, above = (
            heat_of(plant(heat=WindingHeat(k_per_w=f * k_per_w, thermal_class=letter))) for f in (0.99, 1.02)
        )
        assert isinf(below.at_work.warm_s) and below.at_work.settles_c <= edge < above.at_work.settles_c
        assert not above.stays_below
    assert settles == heat_of(plant(copper_c=150.0)).at_work.settles_c  # what page 04 reckons with changes nothing here


def test_a_winding_without_cooling_does_not_settle_and_without_wire_no_time_is_told():
    hot = heat_of(plant(heat=WindingHeat(k_per_w=50.0)))
    assert hot.at_work.settles_c == inf and not hot.stays_below
    mild = WindingHeat(k_per_w=0.4)
    assert isnan(heat_of(plant(heat=mild, wire_diameter_mm=None)).states[2].warm_s)
    # A typed time constant needs no wire: C = τ / K.
    heat = WindingHeat(k_per_w=0.4, time_constant_min=30.0)
    assert heat_of(plant(heat=heat, wire_diameter_mm=None)).states[2].warm_s > 0.0


# A measured run gives back its own rise: at its amps, with the copper as hot as its ohms told.
def test_a_measured_run_gives_its_own_rise_at_its_amps():
    now = plant(heat=WindingHeat(run=RUN), site=Site(hottest_c=RUN.air_c))
    hot = RUN.hot_c("copper")
    warm = now.with_conditions(copper_c=hot)
    run = replace(RUN, dc_amps=warm.working.dc_amps)
    k_per_w = rise_k_per_w(replace(now, heat=WindingHeat(run=run)))
    assert k_per_w == pytest.approx((hot - 25.0) / copper_watts(warm), rel=0.01)
    assert heat_of(replace(now, heat=WindingHeat(run=run))).at_work.settles_c == pytest.approx(hot, abs=0.7)
    with pytest.raises(BadInput, match="makes at most"):
        rise_k_per_w(plant(heat=WindingHeat(run=replace(RUN, dc_amps=500.0))))


# Amps that stay, in closed form: a = loss a kelvin, C = 1019 J/K as in the test of warming; from warm.
def test_hours_at_overload_by_hand():
    now = plant(heat=WindingHeat(k_per_w=0.3))
    found = heat_of(now)
    over = overload(now, found, 2.0)
    a = 36 * (2.0 * found.at_work.coil_amps_rms) ** 2 * 0.56 / 255.0
    slope = 1.0 / 0.3 - a
    ends = (a * 235.0 + 40.0 / 0.3) / slope
    wanted = 1019.0 / slope * log((ends - found.at_work.settles_c) / (ends - 100.0))
    assert over.warm_s == pytest.approx(wanted, rel=5e-3) and over.cold_s > over.warm_s
    assert overload(now, found, 1.0).warm_s == inf > overload(now, found, 3.0).warm_s > 0.0


@settings(max_examples=8, deadline=None)
@given(st.floats(-10.0, 60.0), numbers(0.2, 4.0))
def test_hotter_air_and_less_cooling_never_settle_cooler_nor_last_longer(hottest_c, k_per_w):
    now = heat_of(plant(site=Site(hottest_c=hottest_c), heat=WindingHeat(k_per_w=k_per_w)))
    hotter = heat_of(plant(site=Site(hottest_c=hottest_c + 5.0), heat=WindingHeat(k_per_w=1.1 * k_per_w)))
    for cool, warm in zip(now.states, hotter.states, strict=True):
        assert warm.settles_c >= cool.settles_c
        assert warm.cold_s <= cool.cold_s and warm.warm_s <= cool.warm_s <= cool.cold_s


def test_times_have_no_more_figures_than_they_are_worth():
    said = [duration_words(seconds) for seconds in (38.4, 467.0, 9000.0, inf, float("nan"))]
    assert said == ["38 s", "7.8 min", "2.5 h", "never", "an unknown time"]


# Four time constants, K × C with the copper's 1019 J/K as in the test of warming; then little more comes.
def test_the_winding_is_warm_after_four_time_constants():
    found = heat_of(plant(heat=WindingHeat(k_per_w=0.3)))
    assert found.warm_up_min == pytest.approx(4.0 * 0.3 * 1019.0 / 60.0, rel=2e-3)
    typed = heat_of(plant(heat=WindingHeat(k_per_w=0.3, time_constant_min=30.0)))
    assert typed.warm_up_min == pytest.approx(120.0)


# It has to keep to its class at work and with the source at its strongest; the most that can flow is a fault.
def test_a_winding_that_only_a_fault_makes_too_hot_stays_below():
    found = heat_of(plant(heat=WindingHeat(k_per_w=0.3)))
    at_work, strongest, most = found.states
    faulted = replace(found, states=(at_work, strongest, replace(most, settles_c=999.0)))
    assert found.stays_below and faulted.stays_below
    assert not replace(found, states=(at_work, replace(strongest, settles_c=100.5), most)).stays_below
    assert replace(found, states=(replace(at_work, settles_c=100.0), strongest, most)).stays_below


def test_each_state_is_that_of_its_source_and_its_bank():
    now = plant(heat=WindingHeat(k_per_w=0.3), drive=replace(ROTOR, wind_m_s=5.0))
    half, strongest, most = heat_of(now).states
    for state, drive, bank in ((half, now.drive, 1), (strongest, now.drive.strongest(), 0)):
        warm = replace(now.conditions, copper_c=min(state.settles_c, 100.0))
        at = operating_point(drive, now.winding, now.bank.states[bank], warm)
        assert state.coil_amps_rms == pytest.approx(now.winding.coil_amps(at.phase_amps_rms), rel=0.01)
    assert most.coil_amps_rms == pytest.approx(now.most.coil_amps_rms)
    # π/4 of 0.8 mm squared.
    assert most.amps_per_mm2 == pytest.approx(most.coil_amps_rms / (0.25 * pi * 0.64), rel=1e-6)
    # 36 coils of 0.56 Ω at 20 °C, copper by IEC 60034-1.
    warm_ohm = 0.56 * (235.0 + min(most.settles_c, 100.0)) / 255.0
    assert most.copper_watts == pytest.approx(36 * most.coil_amps_rms**2 * warm_ohm, rel=1e-3)


# What circulates in a delta adds to what flows through: amps of three times the frequency, so that squares add.
def test_what_circulates_in_a_delta_heats_it_as_well():
    around = {"grouping": Grouping(series=4, parallel=3, connection="delta"), "heat": WindingHeat(k_per_w=0.3)}
    now = plant(open_corner_v_per_rpm=0.05, **around)
    for state in heat_of(now).states[::2]:
        bare = next(each for each in heat_of(plant(**around)).states if each.name == state.name)
        rpm = now.most.speed_rpm if state.name == MOST else now.working.speed_rpm
        warm = replace(now.conditions, copper_c=min(state.settles_c, 100.0))
        round_it = around_delta(now.winding, replace(now.machine.setting, conditions=warm), rpm)
        assert round_it.coil_amps_rms > 0.05 * bare.coil_amps_rms
        assert state.coil_amps_rms == pytest.approx(hypot(bare.coil_amps_rms, round_it.coil_amps_rms), rel=0.02)
        # The loss without it, with the copper as warm as it is with it.
        ratio = (235.0 + min(state.settles_c, 100.0)) / (235.0 + min(bare.settles_c, 100.0))
        assert state.copper_watts == pytest.approx(bare.copper_watts * ratio + round_it.watts, rel=0.03)
    star = {**around, "grouping": Grouping(series=4, parallel=3)}
    assert heat_of(plant(open_corner_v_per_rpm=0.05, **star)).at_work == heat_of(plant(**star)).at_work


def test_a_run_of_all_that_the_machine_makes_is_taken_and_a_hair_more_is_not():
    now = plant()
    warm = now.with_conditions(copper_c=min(RUN.hot_c("copper"), 200.0))
    speeds = np.linspace(0.5, 1.0, 200) * now.runaway_rpm
    top = sweep([now.winding], speeds, now.bank.states[1], warm.conditions).dc_amps.max()
    rise_k_per_w(replace(now, heat=WindingHeat(run=replace(RUN, dc_amps=0.999 * top))))
    with pytest.raises(BadInput, match=f"makes at most {top:.0f} A in 4 in series, 3 paths, star"):
        rise_k_per_w(replace(now, heat=WindingHeat(run=replace(RUN, dc_amps=1.001 * top))))


# Seconds up to two minutes, minutes up to two hours.
@pytest.mark.parametrize(
    ("seconds", "said"), [(119.0, "120 s"), (120.0, "2 min"), (7199.0, "120 min"), (7200.0, "2 h"), (1e6, "280 h")]
)
def test_where_seconds_become_minutes_and_hours(seconds, said):
    assert duration_words(seconds) == said


def test_two_figures_however_large_and_degrees_that_are_too_many():
    assert [two_figures(value, "W") for value in (1254.0, 47.4, 0.1234)] == ["1300 W", "47 W", "0.12 W"]
    assert (degrees(94.6), degrees(inf)) == ("95 °C", "over 200 °C")


def test_an_open_stator_gives_off_a_watt_for_each_kelvin():
    # 0.1 m² at 10 W/(m²·K), common practice, no source: 1 K for each watt.
    assert RISE_K_PER_W.value == pytest.approx(1.0 / (0.1 * 10.0))
