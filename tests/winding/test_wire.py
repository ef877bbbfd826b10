"""Round wire: its area."""

import numpy as np
import pytest

from statorbook.winding.wire import wire_area_mm2


@pytest.mark.outside(
    "ohms of 250 m of 0.5 mm wire at 18 nΩ·m",
    source="Robertson, Basic Electrical and Instrumentation Engineering, example 1.17 p. 22",
    number="22.92 Ω",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_published_ohms_of_a_round_wire():
    assert 0.018 * 250.0 / wire_area_mm2(0.5) == pytest.approx(22.92, rel=1e-3)


def test_wires_in_hand_add_their_areas():
    # π/4 · 0.9² = 0.6362 mm² by geometry.
    assert wire_area_mm2(0.9) == pytest.approx(0.6362, rel=1e-4)
    assert wire_area_mm2(0.9, 3) == pytest.approx(3 * 0.6362, rel=1e-4)


def test_numbers_and_arrays_give_the_same():
    diameters = np.array([0.3, 0.9, 2.5])
    areas = wire_area_mm2(diameters, 2)
    assert areas == pytest.approx([wire_area_mm2(d, 2) for d in diameters], rel=1e-15)
