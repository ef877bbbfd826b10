"""Hot water: heat, hours, and what a cylinder loses."""

from dataclasses import replace
from math import inf, log1p

import pytest
from hypothesis import given
from hypothesis import strategies as st

from samples.charging_samples import CYLINDER, ROOM
from statorbook.charging.cylinder import heat_hours, heat_wh, litres_a_day, loss_w_per_k, room_rise_k, standing_wh_a_day

TIGHT = replace(CYLINDER, loss_w_per_k=0.0)


@pytest.mark.outside(
    "heat of 100 kg of water, three rises",
    source="CoolProp 8.0.0, PropsSI('H', 'T', …, 'P', 3e5, 'Water')",
    number="5.2263, 6.3898, 6.9728 kWh for 15 to 60, 10 to 65, 20 to 80 °C",
    tolerance="0.1 %",
    seen="computed by package",
)
@pytest.mark.parametrize(("low", "high", "kwh"), [(15, 60, 5.2263), (10, 65, 6.3898), (20, 80, 6.9728)])
def test_heat_of_water(low, high, kwh):
    assert heat_wh(100.0, low, high) / 1000.0 == pytest.approx(kwh, rel=1e-3)


# The first counts with 4.2 kJ/(kg K), which reads half a per cent high.
@pytest.mark.outside(
    "heat for 100 kg of water by 45 K at 90 %",
    source="B. H. Khan, Non-Conventional Energy Resources, example 14.7",
    number="5.83 kWh",
    tolerance="0.5 %",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "minutes in which 3 kW warm 2 kg by 80 K",
    source="Muthusubramanian and Salivahanan, Basic Electrical Engineering, example 1.10",
    number="6 min at 62 %",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_hours_of_textbooks():
    assert heat_wh(100.0, 15.0, 60.0) / 0.9 == pytest.approx(5833.0, rel=5e-3)
    small = replace(TIGHT, litres=2.0, inlet_c=20.0, thermostat_c=100.0)
    assert 60.0 * heat_hours(small, 0.62 * 3000.0) == pytest.approx(6.0, rel=5e-3)


# Litres, kelvins, minutes, volts and efficiency as the examples give them; all count with 4.2 kJ/(kg K).
@pytest.mark.parametrize(
    ("litres", "rise_k", "minutes", "volts", "efficiency", "ohm"),
    [
        pytest.param(
            0.6,
            90.0,
            5.0,
            230.0,
            0.78,
            54.6,
            marks=pytest.mark.outside(
                "ohms of a kettle, 0.6 kg by 90 K in 5 min",
                source="P. L. Kapoor, example 15.31",
                number="54.6 Ω",
                tolerance="0.5 %",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            2.0,
            83.0,
            10.0,
            200.0,
            0.85,
            29.26,
            marks=pytest.mark.outside(
                "ohms of a kettle, 2 kg by 83 K in 10 min",
                source="P. L. Kapoor, example 15.39",
                number="29 Ω, recomputed 29.26",
                tolerance="0.5 %",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_ohms_of_a_heater_from_the_heat_of_its_water(litres, rise_k, minutes, volts, efficiency, ohm):
    watts = heat_wh(litres, 10.0, 10.0 + rise_k) / efficiency / (minutes / 60.0)
    assert volts**2 / watts == pytest.approx(ohm, rel=5e-3)


@pytest.mark.outside(
    "share of 500 W for 15 min that warms 1 kg",
    source="P. L. Kapoor, example 2.20",
    number="79.33 %",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_efficiency_of_a_heater_from_its_time():
    assert 60.0 * heat_hours(replace(TIGHT, litres=1.0), 0.7933 * 500.0, from_c=15.0, to_c=100.0) == (
        pytest.approx(15.0, rel=5e-3)
    )


# By hand: 120 L × 55 K × 1.1617 Wh/(L K) / 800 W.
def test_hours_without_loss_are_mass_times_heat_times_kelvins():
    assert heat_hours(TIGHT) == pytest.approx(120 * 55 * 4.182 / 3.6 / 800, rel=1e-9)
    assert heat_hours(TIGHT, from_c=70.0) == 0.0


# m c dθ/dt = P − K (θ − θ_air) in closed form, −ln(1 − x) / K with x = K Δθ / P at the start, by a library's log1p.
@pytest.mark.parametrize("share", [1e-9, 9e-7, 1.1e-6, 1e-3])
def test_hours_with_next_to_no_loss_keep_their_figures(share):
    lost = share * 800.0 / (55.0 + share * (CYLINDER.inlet_c - 20.0))
    wh_per_k = 120.0 * 4.182 / 3.6
    found = heat_hours(replace(CYLINDER, loss_w_per_k=lost))
    assert found == pytest.approx(-wh_per_k / lost * log1p(-share), rel=2e-10)


# By hand, steps of a second: 1.6 W/K, room 20 °C.
def test_hours_with_loss_follow_the_slow_sum():
    water_c, seconds = CYLINDER.inlet_c, 0
    while water_c < CYLINDER.thermostat_c:
        water_c += (800.0 - 1.6 * (water_c - 20.0)) / (120.0 * 4182.0)
        seconds += 1
    assert heat_hours(CYLINDER) == pytest.approx(seconds / 3600.0, rel=1e-3)
    # 1.6 W/K × 45 K = 72 W are lost at 65 °C: fewer never get there.
    assert heat_hours(CYLINDER, 71.9) == inf and heat_hours(CYLINDER, 72.5) < inf


# Litres, mm of foam, kWh a day; and with a loose jacket of as many mm.
@pytest.mark.outside(
    "what a hot cylinder loses a day, foam",
    source="SAP 10.2, tables 2 and 2a",
    number="2.876, 1.822, 2.646, 1.608 kWh",
    tolerance="0.1 %",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "what a hot cylinder loses a day, loose jacket",
    source="SAP 10.2, tables 2 and 2a",
    number="6.187, 3.963, 5.755, 3.337 kWh",
    tolerance="0.1 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    ("litres", "mm", "kwh", "jacket_kwh"),
    [(120, 25, 2.876, 6.187), (120, 50, 1.822, 3.963), (210, 50, 2.646, 5.755), (150, 80, 1.608, 3.337)],
)
def test_what_it_loses(litres, mm, kwh, jacket_kwh):
    assert standing_wh_a_day(litres, mm) == pytest.approx(1000.0 * kwh, rel=1e-3)
    assert standing_wh_a_day(litres, mm, jacket=True) == pytest.approx(1000.0 * jacket_kwh, rel=1e-3)
    # By hand: over 24 h and 45 K.
    assert loss_w_per_k(litres, mm) == pytest.approx(1000.0 * kwh / 24.0 / 45.0, rel=1e-3)


# By hand: 200 W − 72 W over 24 h into litres of 55 K; 600 W over 60 W/K.
def test_a_day_of_surplus():
    assert litres_a_day(CYLINDER, 200.0) == pytest.approx(24.0 * 128.0 / (55.0 * 4.182 / 3.6), rel=1e-6)
    assert litres_a_day(CYLINDER, 50.0) == 0.0
    assert room_rise_k(ROOM, 600.0) == 10.0


@given(st.floats(0.0, 5.0), st.floats(1.0, 300.0), st.floats(1.0, 1.5))
def test_more_loss_or_fewer_watts_never_heat_sooner(lost, watts, more):
    leaky = replace(TIGHT, loss_w_per_k=lost)
    assert heat_hours(leaky, watts) >= heat_hours(TIGHT, watts) * (1 - 1e-9)
    assert heat_hours(leaky, more * watts) <= heat_hours(leaky, watts) * (1 + 1e-9)
