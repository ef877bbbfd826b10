"""Round wire: gauge, area, resistance."""

import numpy as np
import pytest

from statorbook.quantities.typed_quantity import awg_diameter_mm
from statorbook.winding.wire import wire_area_mm2, wire_ohm

# NBS Handbook 100 (1966), wire tables at 20 °C (from memory, equal to ρ and d to four digits): Ω per 1000 ft.
OHM_PER_1000_FT = {10: 0.9989, 12: 1.588, 14: 2.525, 16: 4.016, 18: 6.385, 20: 10.15, 22: 16.14, 24: 25.67, 30: 103.2}
# IEC 60228, tables 1 and 2, plain copper class 1 and 2, and table 3, class 5: most Ω/km at 20 °C.
MOST_OHM_PER_KM = {
    1.5: (12.1, 13.3),
    2.5: (7.41, 7.98),
    4: (4.61, 4.95),
    6: (3.08, 3.30),
    10: (1.83, 1.91),
    16: (1.15, 1.21),
    25: (0.727, 0.780),
    35: (0.524, 0.554),
    50: (0.387, 0.386),
    70: (0.268, 0.272),
    95: (0.193, 0.206),
}


# ASTM B258, read in a reproduction: 10 → 2.588, 12 → 2.053, 14 → 1.628, 18 → 1.024, 24 → 0.5106, 30 → 0.2546 mm.
@pytest.mark.parametrize(
    ("awg", "expected_mm"), [(10, 2.588), (12, 2.053), (14, 1.628), (18, 1.024), (24, 0.5106), (30, 0.2546)]
)
def test_published_gauge_diameter(awg, expected_mm):
    assert awg_diameter_mm(awg) == pytest.approx(expected_mm, rel=4e-4)


# Same source: one gauge number is a factor of 1.1229322 in diameter.
def test_published_ratio_of_neighbouring_gauges():
    assert awg_diameter_mm(17) / awg_diameter_mm(18) == pytest.approx(1.1229322, rel=1e-7)


@pytest.mark.parametrize(("awg", "expected_ohm"), OHM_PER_1000_FT.items())
def test_published_ohms_per_1000_feet(awg, expected_ohm):
    assert wire_ohm(304.8, wire_area_mm2(awg_diameter_mm(awg))) == pytest.approx(expected_ohm, rel=1e-3)


# Robertson, Ex. 1.17: 250 m of 0.5 mm wire of 18 nΩ·m have 22.92 Ω; ours is copper of 17.241 nΩ·m (IEC 60028).
def test_published_ohms_of_a_long_thin_wire():
    assert wire_ohm(250.0, wire_area_mm2(0.5)) * 18.0 / 17.241 == pytest.approx(22.92, rel=1e-3)


# IEC 60317-0-1 (from memory, low confidence): nominal 0.02176 Ω/m for 1.000 mm. It holds within 1 %.
def test_one_millimetre_wire_is_near_its_nominal_ohms():
    assert wire_ohm(1.0, wire_area_mm2(1.0)) == pytest.approx(0.02176, rel=0.01)


@pytest.mark.parametrize(("area_mm2", "most"), MOST_OHM_PER_KM.items())
def test_pure_copper_of_the_nominal_area_stays_below_the_standard_cable(area_mm2, most):
    # A real cable of a nominal size has up to 16 % more than its nominal area of pure copper would have.
    own = wire_ohm(1000.0, area_mm2)
    assert all(own < limit < 1.17 * own for limit in most)


def test_wires_in_hand_add_their_areas():
    # π/4 · 0.9² = 0.6362 mm² by geometry.
    assert wire_area_mm2(0.9) == pytest.approx(0.6362, rel=1e-4)
    assert wire_area_mm2(0.9, 3) == pytest.approx(3 * 0.6362, rel=1e-4)


def test_numbers_and_arrays_give_the_same():
    diameters = np.array([0.3, 0.9, 2.5])
    areas = wire_area_mm2(diameters, 2)
    assert areas == pytest.approx([wire_area_mm2(d, 2) for d in diameters], rel=1e-15)
    assert wire_ohm(12.0, areas) == pytest.approx([wire_ohm(12.0, a) for a in areas], rel=1e-15)
