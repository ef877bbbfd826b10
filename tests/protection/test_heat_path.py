"""Heat through resistances in a row: against worked examples of textbooks."""

import pytest

from statorbook.protection.heat_path import CLOSED, OPEN_AIR, VENTED, box_k_per_w, left_k_per_w, plate_cm2

# Examples as companions to the books re-work them (read); each was worked out again from its inputs.
SINKS = [
    # watts, hot end °C, air °C, the rest of the way K/W, heat sink K/W as printed
    (30.0, 125.0, 50.0, (1.0, 0.3), "1.20", "Gupta and Singhal, Power Electronics, Ex. 2.23"),
    (40.0, 120.0, 35.0, (0.8,), "1.325", "Gupta and Singhal, Power Electronics, Ex. 2.25"),
    (0.8 * (12.0 - 5.0), 125.0, 60.0, (5.0, 0.6), "6.0", "Franco, Operational Amplifiers, Ex. 11.15"),
    (60.0, 90.0, 30.0, (), "1.0", "Çengel, Heat and Mass Transfer, Ex. 3.11"),
]
REACHED = [
    # watts, cold end °C, way K/W, hot end °C
    (3.0 * 25.0, 93.0, 0.627, 140.03, "Gupta and Singhal, Power Electronics, Ex. 2.24"),
    (90.0, 86.0, 0.075, 92.75, "Bimbhra, Power Electronics, Ex. 4.19"),
    (90.0, 86.0, 0.075 + 0.15, 106.25, "Bimbhra, Power Electronics, Ex. 4.19"),
]
ALLOWED = [
    # hot end °C, cold end °C, way K/W, watts
    (125.0, 70.0, (0.16, 0.08), 229.17, "Bimbhra, Power Electronics, Ex. 4.20"),
    (125.0, 60.0, (0.16, 0.08), 270.83, "Bimbhra, Power Electronics, Ex. 4.20"),
    (125.0, 80.0, (0.7, 0.4), 40.91, "Gupta and Singhal, Power Electronics, Ex. 2.26"),
    (125.0, 50.0, (0.7, 0.4), 68.18, "Gupta and Singhal, Power Electronics, Ex. 2.26"),
    (150.0, 30.0, (1.75, 50.0), 2.32, "Neamen, Electronic Circuit Analysis, Ex. 8.1"),
    (150.0, 30.0, (1.75, 1.0, 5.0), 15.48, "Neamen, Electronic Circuit Analysis, Ex. 8.1"),
    (200.0, 40.0, (0.5, 0.6, 1.5), 61.54, "Boylestad and Nashelsky, Electronic Devices, Ex. 12.18"),
    (150.0, 50.0, (62.5,), 1.6, "Sedra and Smith, Microelectronic Circuits, Ex. 14.5"),
    (150.0, 50.0, (3.12, 0.5, 4.0), 13.1, "Sedra and Smith, Microelectronic Circuits, Ex. 14.5"),
]


@pytest.mark.parametrize("watts, hot_c, air_c, way, expected, source", SINKS)
def test_what_is_left_for_the_heat_sink(watts, hot_c, air_c, way, expected, source):
    last_digit = 10.0 ** -len(expected.partition(".")[2])
    assert left_k_per_w(watts, hot_c, air_c, *way) == pytest.approx(float(expected), abs=0.51 * last_digit), source


@pytest.mark.parametrize("watts, cold_c, way, expected, source", REACHED)
def test_way_that_leads_to_a_temperature(watts, cold_c, way, expected, source):
    assert left_k_per_w(watts, expected, cold_c) == pytest.approx(way, abs=5e-3 / watts), source


@pytest.mark.parametrize("hot_c, cold_c, way, watts, source", ALLOWED)
def test_nothing_is_left_at_the_watts_allowed(hot_c, cold_c, way, watts, source):
    assert left_k_per_w(watts, hot_c, cold_c, *way) == pytest.approx(0.0, abs=0.005 * sum(way)), source


def test_a_box_keeps_the_heat_in():
    # 55 W through 2 m² at 5.5 W/m²K: 5 K; by hand.
    assert 55.0 * box_k_per_w(CLOSED, 2e4) == pytest.approx(5.0)
    assert box_k_per_w(OPEN_AIR, 2e4) == 0.0 < box_k_per_w(VENTED, 2e4) < box_k_per_w(CLOSED, 2e4)


def test_a_plate_gives_its_heat_off_on_both_faces():
    # 0.5 m² a face, two faces, 8 W/m²K: 8 W/K; by hand.
    assert plate_cm2(1.0 / 8.0) == pytest.approx(5000.0)
