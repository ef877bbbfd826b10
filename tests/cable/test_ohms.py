"""Ohms of cable by size: the rows of the standards, warm and cold."""

import numpy as np
import pytest

from statorbook.cable.ohms import COARSE, FINE, STRANDS, cable_ohm, wire_ohm_per_km
from statorbook.cable.sizes import CABLE_AWG, CABLE_MM2, size_name, sold_mm2
from statorbook.quantities.unit_systems import reader_units

# Ω/km at 20 °C by cross-section.
CLASS_2 = {
    1.5: 12.1,
    2.5: 7.41,
    4: 4.61,
    6: 3.08,
    10: 1.83,
    16: 1.15,
    25: 0.727,
    35: 0.524,
    50: 0.387,
    70: 0.268,
    95: 0.193,
    120: 0.153,  # from memory
}
CLASS_5 = {
    1.5: 13.3,
    2.5: 7.98,
    4: 4.95,
    6: 3.30,
    10: 1.91,
    16: 1.21,
    25: 0.780,
    35: 0.554,
    50: 0.386,
    70: 0.272,
    95: 0.206,
    120: 0.161,  # from memory
}
# Ω per 1000 ft at 75 °C.
OF_GAUGE = {
    "14": 3.14,
    "12": 1.98,
    "10": 1.24,
    "8": 0.778,
    "6": 0.491,
    "4": 0.308,
    "2": 0.194,
    "1/0": 0.122,
    "2/0": 0.0967,
    "3/0": 0.0766,
    "4/0": 0.0608,
}
# mV per ampere and metre of two wires.
MILLIVOLTS = {1.5: 29, 2.5: 18, 4: 11, 6: 7.3, 10: 4.4, 16: 2.8, 25: 1.75}


@pytest.mark.outside(
    "most ohms of a kilometre, solid or stranded copper",
    source="IEC 60228, tables 1 and 2",
    number="12.1, 7.41, 4.61, 3.08, 1.83, 1.15, 0.727, 0.524, 0.387, 0.268, 0.193 Ω/km for 1.5 to 95 mm²",
    tolerance="exact",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "most ohms of a kilometre, flexible copper",
    source="IEC 60228, table 3, class 5",
    number="13.3, 7.98, 4.95, 3.30, 1.91, 1.21, 0.780, 0.554, 0.386, 0.272, 0.206 Ω/km for 1.5 to 95 mm²",
    tolerance="exact",
    seen="in a reproduction",
)
@pytest.mark.parametrize("strands, rows", [(COARSE, CLASS_2), (FINE, CLASS_5)])
def test_ohms_of_the_sizes_of_iec_60228(strands, rows):
    assert wire_ohm_per_km(list(rows), strands=strands) == pytest.approx(list(rows.values()), rel=1e-9)


@pytest.mark.outside(
    "resistivity of annealed copper at 20 °C",
    source="IEC 60028",
    number="1/58 Ω·mm²/m",
    tolerance="a cable has 0 to 17 % more",
    seen="in a reproduction",
)
@pytest.mark.parametrize("strands", STRANDS)
def test_a_cable_has_a_little_more_ohms_than_its_name_in_pure_copper(strands):
    for area in (*CABLE_MM2, *CABLE_AWG.values()):
        assert 1.0 < wire_ohm_per_km(area, strands=strands) * area * 58.0 / 1000.0 < 1.17


@pytest.mark.outside(
    "ohms of 1000 ft at 75 °C, uncoated stranded copper",
    source="NEC chapter 9, table 8",
    number="3.14, 1.98, 1.24, 0.778, 0.491, 0.308, 0.194, 0.122, 0.0608 Ω",
    tolerance="exact",
    seen="in a reproduction",
)
@pytest.mark.parametrize("strands", STRANDS)
def test_ohms_of_the_gauges_at_75_c(strands):
    for name, ohm in OF_GAUGE.items():
        area = CABLE_AWG[f"AWG {name}"]
        assert 0.3048 * wire_ohm_per_km(area, copper_c=75.0, strands=strands) == pytest.approx(ohm, rel=1e-9)
        # What was typed as a gauge is rounded somewhere on its way.
        assert wire_ohm_per_km(float(f"{area:.4g}")) == pytest.approx(wire_ohm_per_km(area), rel=1e-9)


@pytest.mark.outside(
    "ohms of 1000 ft of solid AWG 10 at 20 °C",
    source="NBS Handbook 100, Copper Wire Tables, 1966",
    number="0.9989 Ω",
    tolerance="3 %, a strand has 2 % more",
    seen="from memory",
)
@pytest.mark.outside(
    "ohms at 20 °C over those at 75 °C",
    source="NEC chapter 9, table 8, note on temperature",
    number="0.822",
    tolerance="0.1 %",
    seen="from memory",
)
def test_a_gauge_at_20_c():
    assert 0.3048 * wire_ohm_per_km(CABLE_AWG["AWG 10"]) == pytest.approx(0.9989, rel=0.03)
    cold, warm = (wire_ohm_per_km(CABLE_AWG["AWG 10"], copper_c=at) for at in (20.0, 75.0))
    assert cold / warm == pytest.approx(0.822, rel=1e-3)


@pytest.mark.outside(
    "volts lost for an ampere and metre, 2.5 mm²",
    source="BS 7671, appendix 4, table 4D2B",
    number="18 mV",
    tolerance="2 %",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "volts lost for an ampere and metre, 1.5 to 25 mm²",
    source="BS 7671, appendix 4, tables 4D1B and 4D2B",
    number="29, 11, 7.3, 4.4, 2.8, 1.75 mV",
    tolerance="2 %",
    seen="from memory",
)
@pytest.mark.outside(
    "volts lost by 16 A in 18 m of 2.5 mm²",
    source="BS 7671, table 4D2B, worked in a course on it",
    number="5.18 V",
    tolerance="2 %",
    seen="in a reproduction",
)
def test_volts_lost_of_the_british_tables():
    for area, millivolts in MILLIVOLTS.items():
        loop = cable_ohm(1.0, area, copper_c=70.0, strands=COARSE)
        assert 1000.0 * loop == pytest.approx(millivolts, rel=0.02)
    assert 16.0 * cable_ohm(18.0, 2.5, copper_c=70.0, strands=COARSE) == pytest.approx(5.18, rel=0.02)


def test_an_ac_wire_is_half_a_loop_and_sizes_between_lie_between():
    assert cable_ohm(30.0, 16.0, wires=1) == pytest.approx(0.5 * cable_ohm(30.0, 16.0))
    areas = np.linspace(0.5, 300.0, 2000)
    assert (np.diff(cable_ohm(10.0, areas[[not _near_a_gauge(a) for a in areas]])) < 0.0).all()


def _near_a_gauge(area):
    return any(abs(area / gauge - 1.0) < 0.006 for gauge in CABLE_AWG.values())


def test_sizes_are_named_and_sold_as_the_reader_buys_them():
    # ASTM B258 (from memory): AWG 6 has 13.30 mm².
    assert size_name(CABLE_AWG["AWG 6"]) == "AWG 6 (13.3 mm²)" and size_name(16.0) == "16 mm²"
    assert sold_mm2() == CABLE_MM2
    with reader_units("US"):
        assert sold_mm2() == tuple(CABLE_AWG.values())
