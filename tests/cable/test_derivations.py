"""The derived adiabatic equation: against the library, and where it has to end in simpler laws."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.cable.adiabatic import adiabatic_constant, short_circuit_area_mm2
from statorbook.cable.derivations import short_circuit_heating
from statorbook.quantities import number

# IEC 60364-5-54, annex A (read in a reproduction): Qc, ρ20 and β.
METALS = {"copper": (3.45e-3, 17.241e-6, 234.5), "aluminium": (2.5e-3, 28.264e-6, 228.0)}


def of(name, metal="copper", **values):
    return number(
        short_circuit_heating()[name], **dict(zip(("Q", "rho", "beta"), METALS[metal], strict=True)), **values
    )


@settings(max_examples=15, deadline=None)
@given(metal=st.sampled_from(list(METALS)), start_c=st.floats(-40.0, 90.0), hotter=st.floats(1.0, 200.0))
def test_k_is_the_librarys(metal, start_c, hotter):
    k = of("k", metal, theta_i=start_c, theta_f=start_c + hotter)
    assert adiabatic_constant(start_c, start_c + hotter, metal=metal) == pytest.approx(k, rel=1e-9)


@settings(max_examples=15, deadline=None)
@given(amps=st.floats(10.0, 2e4), seconds=st.floats(1e-3, 5.0))
def test_the_thinnest_wire_ends_at_the_temperature_behind_its_k(amps, seconds):
    area_mm2 = short_circuit_area_mm2(amps, seconds, adiabatic_constant(70.0, 160.0))
    assert number(short_circuit_heating()["area"], I=amps, t=seconds, k=adiabatic_constant(70.0, 160.0)) == (
        pytest.approx(area_mm2)
    )
    assert of("end", I=amps, S=area_mm2, t=seconds, theta_i=70.0) == pytest.approx(160.0)


# At 20 °C and for a moment: ρ J² / Q by hand, whatever the ohms do later.
@pytest.mark.parametrize("amps, kelvin_per_s", [(5.0, 0.125), (10.0, 0.500), (20.0, 1.999), (30.0, 4.498)])
def test_at_first_it_warms_in_a_straight_line(amps, kelvin_per_s):
    rise_k = of("end", I=amps, S=1.0, t=1e-3, theta_i=20.0) - 20.0
    assert rise_k / 1e-3 == pytest.approx(kelvin_per_s, rel=2e-3)
