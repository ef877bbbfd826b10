"""Heat through resistances in a row: against worked examples of textbooks."""

import pytest

from statorbook.protection.heat_path import CLOSED, OPEN_AIR, VENTED, box_k_per_w, left_k_per_w, plate_cm2


# Each was worked out again from its inputs. Watts, hot end °C, air °C, the rest of the way K/W, heat sink as printed.
@pytest.mark.parametrize(
    "watts, hot_c, air_c, way, expected",
    [
        pytest.param(
            30.0,
            125.0,
            50.0,
            (1.0, 0.3),
            "1.20",
            marks=pytest.mark.outside(
                "heat sink for 30 W from 125 to 50 °C",
                source="B. R. Gupta and Singhal, Power Electronics, example 2.23",
                number="1.20 °C/W",
                tolerance="half of the last figure",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            40.0,
            120.0,
            35.0,
            (0.8,),
            "1.325",
            marks=pytest.mark.outside(
                "heat sink for 40 W from 120 to 35 °C",
                source="B. R. Gupta and Singhal, Power Electronics, example 2.25",
                number="1.325 °C/W",
                tolerance="half of the last figure",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            0.8 * (12.0 - 5.0),
            125.0,
            60.0,
            (5.0, 0.6),
            "6.0",
            marks=pytest.mark.outside(
                "heat sink of a regulator, 5.6 W from 125 to 60 °C",
                source="Franco, Design with Operational Amplifiers, example 11.15",
                number="6.0 °C/W",
                tolerance="half of the last figure",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            60.0,
            90.0,
            30.0,
            (),
            "1.0",
            marks=pytest.mark.outside(
                "heat sink for 60 W, case 90 and air 30 °C",
                source="Çengel, Heat and Mass Transfer, example 3.11",
                number="1.0 °C/W",
                tolerance="half of the last figure",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_what_is_left_for_the_heat_sink(watts, hot_c, air_c, way, expected):
    last_digit = 10.0 ** -len(expected.partition(".")[2])
    assert left_k_per_w(watts, hot_c, air_c, *way) == pytest.approx(float(expected), abs=0.51 * last_digit)


# Watts, cold end °C, way K/W, hot end °C as printed.
@pytest.mark.parametrize(
    "watts, cold_c, way, expected",
    [
        pytest.param(
            3.0 * 25.0,
            93.0,
            0.627,
            140.03,
            marks=pytest.mark.outside(
                "junction at 3 V and 25 A, sink at 93 °C",
                source="B. R. Gupta and Singhal, Power Electronics, example 2.24",
                number="140 °C, recomputed 140.03",
                tolerance="0.005 K",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            90.0,
            86.0,
            0.075,
            92.75,
            marks=pytest.mark.outside(
                "case over a heat sink of 86 °C at 90 W",
                source="Bimbhra, Power Electronics, example 4.19",
                number="92.75 °C",
                tolerance="0.005 K",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            90.0,
            86.0,
            0.075 + 0.15,
            106.25,
            marks=pytest.mark.outside(
                "junction over a heat sink of 86 °C at 90 W",
                source="Bimbhra, Power Electronics, example 4.19",
                number="106.25 °C",
                tolerance="0.005 K",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_way_that_leads_to_a_temperature(watts, cold_c, way, expected):
    assert left_k_per_w(watts, expected, cold_c) == pytest.approx(way, abs=5e-3 / watts)


# Hot end °C, cold end °C, way K/W, watts as printed.
@pytest.mark.parametrize(
    "hot_c, cold_c, way, watts",
    [
        pytest.param(
            125.0,
            70.0,
            (0.16, 0.08),
            229.17,
            marks=pytest.mark.outside(
                "loss that a sink of 70 °C allows",
                source="Bimbhra, Power Electronics, example 4.20",
                number="229.17 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            125.0,
            60.0,
            (0.16, 0.08),
            270.83,
            marks=pytest.mark.outside(
                "loss that a sink of 60 °C allows",
                source="Bimbhra, Power Electronics, example 4.20",
                number="270.83 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            125.0,
            80.0,
            (0.7, 0.4),
            40.91,
            marks=pytest.mark.outside(
                "loss that a sink of 80 °C allows",
                source="B. R. Gupta and Singhal, Power Electronics, example 2.26",
                number="40.91 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            125.0,
            50.0,
            (0.7, 0.4),
            68.18,
            marks=pytest.mark.outside(
                "loss that a sink of 50 °C allows",
                source="B. R. Gupta and Singhal, Power Electronics, example 2.26",
                number="68.18 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            150.0,
            30.0,
            (1.75, 50.0),
            2.32,
            marks=pytest.mark.outside(
                "loss of a transistor without heat sink",
                source="Neamen, Electronic Circuit Analysis, example 8.1",
                number="2.32 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            150.0,
            30.0,
            (1.75, 1.0, 5.0),
            15.48,
            marks=pytest.mark.outside(
                "loss of a transistor on its heat sink",
                source="Neamen, Electronic Circuit Analysis, example 8.1",
                number="15.48 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            200.0,
            40.0,
            (0.5, 0.6, 1.5),
            61.54,
            marks=pytest.mark.outside(
                "loss of a silicon power transistor",
                source="Boylestad and Nashelsky, Electronic Devices, example 12.18",
                number="61.54 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            150.0,
            50.0,
            (62.5,),
            1.6,
            marks=pytest.mark.outside(
                "loss of a transistor in free air",
                source="Sedra and Smith, Microelectronic Circuits, example 14.5",
                number="1.6 W",
                tolerance="0.005 W",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            150.0,
            50.0,
            (3.12, 0.5, 4.0),
            13.1,
            marks=pytest.mark.outside(
                "loss of the same transistor on a heat sink",
                source="Sedra and Smith, Microelectronic Circuits, example 14.5",
                number="13.1 W",
                tolerance="0.05 W",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_nothing_is_left_at_the_watts_allowed(hot_c, cold_c, way, watts):
    assert left_k_per_w(watts, hot_c, cold_c, *way) == pytest.approx(0.0, abs=0.005 * sum(way))


def test_a_box_keeps_the_heat_in():
    # 55 W through 2 m² at 5.5 W/m²K: 5 K; by hand.
    assert 55.0 * box_k_per_w(CLOSED, 2e4) == pytest.approx(5.0)
    assert box_k_per_w(OPEN_AIR, 2e4) == 0.0 < box_k_per_w(VENTED, 2e4) < box_k_per_w(CLOSED, 2e4)


def test_a_plate_gives_its_heat_off_on_both_faces():
    # 0.5 m² a face, two faces, 8 W/m²K: 8 W/K; by hand.
    assert plate_cm2(1.0 / 8.0) == pytest.approx(5000.0)
