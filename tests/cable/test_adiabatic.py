"""What a wire stands until the fuse opens: k of metal and insulation, and the thinnest wire."""

from math import log

import pytest

from statorbook.cable.adiabatic import SHORT_CIRCUIT_C, adiabatic_constant, short_circuit_area_mm2
from statorbook.errors import BadInput


@pytest.mark.outside(
    "short-circuit factor k of copper and aluminium",
    source="IEC 60364-5-54, tables of k",
    number="115, 143, 143, 176 (copper), 76, 94 (aluminium)",
    tolerance="0.6 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    ("metal", "start_c", "end_c", "printed"),
    [
        ("copper", 70, 160, 115),
        ("copper", 30, 160, 143),
        ("copper", 90, 250, 143),
        ("copper", 30, 250, 176),
        ("aluminium", 70, 160, 76),
        ("aluminium", 90, 250, 94),
    ],
)
def test_k_is_that_of_the_standard(metal, start_c, end_c, printed):
    assert adiabatic_constant(start_c, end_c, metal=metal) == pytest.approx(printed, rel=0.006)


@pytest.mark.outside(
    "first factor of k, before the root of the logarithm",
    source="IEC 60364-5-54, annex A",
    number="226 (copper), 148 (aluminium)",
    tolerance="0.2 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("metal", "beta_c", "printed"), [("copper", 234.5, 226.0), ("aluminium", 228.0, 148.0)])
def test_the_first_factor_of_k(metal, beta_c, printed):
    logarithm = log((beta_c + 160.0) / (beta_c + 70.0))
    assert adiabatic_constant(70.0, 160.0, metal=metal) / logarithm**0.5 == pytest.approx(printed, rel=2e-3)


@pytest.mark.outside(
    "temperatures behind k: PVC, XLPE, rubber",
    source="IEC 60364-5-54, table A.54",
    number="70 to 160, 90 to 250, 60 to 200 °C",
    tolerance="exact",
    seen="in a reproduction",
)
def test_the_temperatures_behind_k():
    assert SHORT_CIRCUIT_C == {"PVC": (70, 160), "XLPE": (90, 250), "rubber": (60, 200)}


# By hand, S = I √t / 115.
@pytest.mark.parametrize(("amps", "seconds", "area_mm2"), [(3000, 0.4, 16.50), (2500, 0.1, 6.87), (650, 0.01, 0.565)])
def test_the_thinnest_wire_of_worked_cases(amps, seconds, area_mm2):
    assert short_circuit_area_mm2(amps, seconds, 115.0) == pytest.approx(area_mm2, rel=1e-3)


@pytest.mark.parametrize(("start_c", "end_c", "metal"), [(70, 70, "copper"), (70, 60, "copper"), (70, 160, "lead")])
def test_a_wire_that_cannot_be_is_refused(start_c, end_c, metal):
    with pytest.raises(BadInput):
        adiabatic_constant(start_c, end_c, metal=metal)


# Colder than any winter and hotter than copper's insulation ever: the ends themselves are taken.
def test_the_ends_of_what_a_wire_can_be_are_taken_and_nothing_beyond():
    assert adiabatic_constant(-60.0, 500.0) > adiabatic_constant(-59.0, 499.0)
    for start_c, end_c in ((-60.5, 160.0), (70.0, 501.0)):
        with pytest.raises(BadInput):
            adiabatic_constant(start_c, end_c)
