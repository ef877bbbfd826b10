"""Round wire: gauge and area."""

import numpy as np
import pytest

from statorbook.quantities.typed_quantity import awg_diameter_mm
from statorbook.winding.wire import wire_area_mm2


# ASTM B258, read in a reproduction: 10 → 2.588, 12 → 2.053, 14 → 1.628, 18 → 1.024, 24 → 0.5106, 30 → 0.2546 mm.
@pytest.mark.parametrize(
    ("awg", "expected_mm"), [(10, 2.588), (12, 2.053), (14, 1.628), (18, 1.024), (24, 0.5106), (30, 0.2546)]
)
def test_published_gauge_diameter(awg, expected_mm):
    assert awg_diameter_mm(awg) == pytest.approx(expected_mm, rel=4e-4)


# Same source: one gauge number is a factor of 1.1229322 in diameter.
def test_published_ratio_of_neighbouring_gauges():
    assert awg_diameter_mm(17) / awg_diameter_mm(18) == pytest.approx(1.1229322, rel=1e-7)


def test_wires_in_hand_add_their_areas():
    # π/4 · 0.9² = 0.6362 mm² by geometry.
    assert wire_area_mm2(0.9) == pytest.approx(0.6362, rel=1e-4)
    assert wire_area_mm2(0.9, 3) == pytest.approx(3 * 0.6362, rel=1e-4)


def test_numbers_and_arrays_give_the_same():
    diameters = np.array([0.3, 0.9, 2.5])
    areas = wire_area_mm2(diameters, 2)
    assert areas == pytest.approx([wire_area_mm2(d, 2) for d in diameters], rel=1e-15)
