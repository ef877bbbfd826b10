"""What cable carries for hours: the rows of the standards, hot and cool, and what always holds."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.cable.ampacity import IN_AIR, IN_CONDUIT, IN_GROUND, INSULATIONS, PVC, WAYS_LAID, XLPE, carried_amps
from statorbook.cable.sizes import CABLE_AWG, CABLE_MM2

# Amps at 30, 40 and 50 °C.
THREE_WIRES = {
    IN_CONDUIT: {
        1.5: (15, 13, 11),
        2.5: (20, 17, 14),
        4: (27, 23, 19),
        6: (34, 30, 24),
        10: (46, 40, 33),
        16: (62, 54, 44),
        25: (80, 70, 57),
        35: (99, 86, 70),
        50: (118, 103, 84),
        70: (149, 130, 106),
        95: (179, 156, 127),
    },
    IN_AIR: {
        1.5: (17, 15, 12),
        2.5: (24, 21, 17),
        4: (32, 28, 23),
        6: (41, 36, 29),
        10: (57, 50, 40),
        16: (76, 66, 54),
        25: (96, 84, 68),
        35: (119, 104, 84),
    },
}
TWO_WIRES_IN_AIR = {1.5: 19.5, 2.5: 27, 4: 36, 6: 46, 10: 63, 16: 85, 25: 112, 35: 138}
# 1.5 to 120 mm², typed a second time, from memory: two and three loaded wires.
IEC_ROWS = {
    (IN_CONDUIT, PVC): ("16.5 23 30 38 52 69 90 111 133 168 201 232", "15 20 27 34 46 62 80 99 118 149 179 206"),
    (IN_CONDUIT, XLPE): ("22 30 40 51 69 91 119 146 175 221 265 305", "19.5 26 35 44 60 80 105 128 154 194 233 268"),
    (IN_AIR, PVC): ("19.5 27 36 46 63 85 112 138 168 213 258 299", "17.5 24 32 41 57 76 96 119 144 184 223 259"),
    (IN_AIR, XLPE): ("24 33 45 58 80 107 138 171 209 269 328 382", "22 30 40 52 71 96 119 147 179 229 278 322"),
    (IN_GROUND, PVC): ("22 29 37 46 60 78 99 119 140 173 204 231", "18 24 30 38 50 64 82 98 116 143 169 192"),
    (IN_GROUND, XLPE): ("25 33 43 53 71 91 116 139 164 203 239 271", "21 28 36 44 58 75 96 115 135 167 197 223"),
}
# 60 and 75 °C columns.
NEC = {
    "8": (40, 50),
    "6": (55, 65),
    "4": (70, 85),
    "2": (95, 115),
    "1/0": (125, 150),
    "2/0": (145, 175),
    "3/0": (165, 200),  # 165 A from memory
    "4/0": (195, 230),
}
# The most that a fuse before the three smallest may have.
FUSE_CAPS = {"14": 15, "12": 20, "10": 30}


@pytest.mark.outside(
    "amps of three loaded wires, PVC, conduit (B2) and wall (C)",
    source="IEC 60364-5-52, tables B.52.4 and B.52.5, air of 30, 40, 50 °C",
    number="1.5 mm²: 15/13/11 A and 17/15/12 A … 95 mm²: 179/156/127 A",
    tolerance="1 A",
    seen="in a reproduction",
)
@pytest.mark.parametrize("laid", THREE_WIRES)
def test_three_wires_of_pvc_by_how_hot_it_is(laid):
    for area, amps in THREE_WIRES[laid].items():
        found = [carried_amps(area, laid=laid, around_c=air) for air in (30.0, 40.0, 50.0)]
        assert found == pytest.approx(amps, abs=1.0), area  # the tables round, and round their factors


@pytest.mark.outside(
    "amps of two loaded wires, PVC, on a wall (C)",
    source="IEC 60364-5-52, table B.52.2, 30 °C",
    number="19.5, 27, 36, 46, 63, 85, 112, 138 A for 1.5 to 35 mm²",
    tolerance="0.0001 %",
    seen="from memory",
)
def test_two_wires_clipped_to_a_wall():
    found = carried_amps(list(TWO_WIRES_IN_AIR), laid=IN_AIR, wires=2, around_c=30.0)
    assert found == pytest.approx(list(TWO_WIRES_IN_AIR.values()))


# At the temperature of the tables, 30 °C of air and 20 °C of ground; 1 K more is less of all of them.
@pytest.mark.outside(
    "amps of PVC and XLPE, two and three wires, three ways laid",
    source="IEC 60364-5-52, tables B.52.2 to B.52.5, methods B2, C, D1",
    number="144 rows: 1.5 mm² 16.5 A … 120 mm² 223 A",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize(("laid", "insulation"), IEC_ROWS)
def test_every_row_of_the_european_tables(laid, insulation):
    at_c = 20.0 if laid == IN_GROUND else 30.0
    for wires, row in zip((2, 3), IEC_ROWS[laid, insulation], strict=True):
        how = {"laid": laid, "insulation": insulation, "wires": wires}
        assert carried_amps(CABLE_MM2, around_c=at_c, **how).tolist() == [float(amps) for amps in row.split()]
        assert (
            carried_amps(CABLE_MM2, around_c=at_c + 1.0, **how) < carried_amps(CABLE_MM2, around_c=at_c, **how)
        ).all()


@pytest.mark.outside(
    "amps of copper by gauge, 60 and 75 °C columns",
    source="NEC (2020, 2023), table 310.16",
    number="AWG 8: 40, 50 A … AWG 4/0: 195, 230 A",
    tolerance="exact",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "most of a fuse before AWG 14, 12, 10",
    source="NEC 240.4(D)",
    number="15, 20, 30 A",
    tolerance="exact",
    seen="in a reproduction",
)
@pytest.mark.parametrize("laid", WAYS_LAID)
def test_gauges_by_the_us_table(laid):
    for name, amps in NEC.items():
        area = CABLE_AWG[f"AWG {name}"]
        assert [carried_amps(area, laid=laid, insulation=kind, around_c=30.0) for kind in (PVC, XLPE)] == list(amps)
    for name, most in FUSE_CAPS.items():
        assert carried_amps(CABLE_AWG[f"AWG {name}"], laid=laid, insulation=XLPE, around_c=20.0) == most


@pytest.mark.outside(
    "share of the amps at 40, 45, 50 °C, 75 °C column",
    source="NEC 310.15, ambient correction",
    number="0.88, 0.82, 0.75",
    tolerance="0.5 A of 85 A",
    seen="in a reproduction",
)
def test_heat_by_the_us_table():
    for air, factor in ((40.0, 0.88), (45.0, 0.82), (50.0, 0.75)):
        found = carried_amps(CABLE_AWG["AWG 4"], insulation=XLPE, around_c=air)
        assert found == pytest.approx(85.0 * factor, abs=0.5)


def test_the_thinnest_and_the_thickest():
    assert carried_amps(1.49) == 0.0 and carried_amps(1000.0) == carried_amps(120.0)
    assert carried_amps(16.0, around_c=70.0) == 0.0 and carried_amps(16.0, around_c=90.0) == 0.0


kinds = {"laid": st.sampled_from(WAYS_LAID), "insulation": st.sampled_from(INSULATIONS)}


@settings(max_examples=40)
@given(air=st.floats(-20.0, 70.0), hotter=st.floats(0.0, 30.0), wires=st.sampled_from((2, 3)), **kinds)
def test_hotter_thinner_and_more_wires_never_carry_more(air, hotter, wires, laid, insulation):
    for row in (np.array(CABLE_MM2), np.array(list(CABLE_AWG.values()))):
        amps = carried_amps(row, laid=laid, insulation=insulation, wires=wires, around_c=air)
        assert (np.diff(amps) >= 0.0).all()
        assert (carried_amps(row, laid=laid, insulation=insulation, wires=wires, around_c=air + hotter) <= amps).all()
        assert (carried_amps(row, laid=laid, insulation=insulation, wires=3, around_c=air) <= amps).all()
        if air <= 30.0:  # a gauge of PVC is taken to stand 60 °C alone
            assert (carried_amps(row, laid=laid, insulation=XLPE, wires=wires, around_c=air) >= amps).all()
