"""Copper ohms and magnet strength against temperature."""

import numpy as np
import pytest

from sentences import exactly
from statorbook.errors import BadInput
from statorbook.winding.temperature import magnet_factor, resistance_factor


@pytest.mark.parametrize(
    ("rise_k", "tolerance_k"),
    [
        pytest.param(
            59.65,
            0.01,
            marks=pytest.mark.outside(
                "rise of a winding from 3.42 Ω at 20 °C to 4.22 Ω",
                source="IEC 60034-1, resistance method with 235",
                number="59.65 K",
                tolerance="0.01 K",
                seen="from memory",
            ),
        ),
        # The book takes 1/α0 = 234.7.
        pytest.param(
            59.59,
            0.2,
            marks=pytest.mark.outside(
                "rise of a winding from 3.42 Ω at 20 °C to 4.22 Ω",
                source="Kulshreshtha, Basic Electrical Engineering, example 2.18 p. 32",
                number="59.59 K",
                tolerance="0.2 K",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_published_temperature_rise(rise_k, tolerance_k):
    per_kelvin = 3.42 / 255.0
    assert 3.42 * resistance_factor(20.0 + rise_k) == pytest.approx(4.22, abs=tolerance_k * per_kelvin)


@pytest.mark.parametrize(
    ("ohm", "from_c", "to_c", "expected_ohm", "tolerance"),
    [
        pytest.param(
            126.0,
            20.0,
            -35.0,
            98.80,
            1e-3,
            marks=pytest.mark.outside(
                "126 Ω at 20 °C, taken to −35 °C",
                source="Kulshreshtha, Basic Electrical Engineering, example 2.17",
                number="98.80 Ω",
                tolerance="0.1 %",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            250.0,
            15.0,
            45.0,
            280.2,
            1e-3,
            marks=pytest.mark.outside(
                "250 Ω at 15 °C, taken to 45 °C",
                source="Robertson, Basic Electrical and Instrumentation Engineering, example 1.18 p. 23",
                number="280.2 Ω",
                tolerance="0.1 %",
                seen="in a reproduction",
            ),
        ),
        # By hand: (235 + 71) / (235 + 20) = 1.2.
        (0.300, 20.0, 71.0, 0.360, 1e-9),
    ],
)
def test_published_ohms_at_a_temperature(ohm, from_c, to_c, expected_ohm, tolerance):
    assert ohm * resistance_factor(to_c) / resistance_factor(from_c) == pytest.approx(expected_ohm, rel=tolerance)


# Its 0.004 /K form differs from the 235 form by up to 0.5 %.
@pytest.mark.outside(
    "factors that bring ohms to 20 °C",
    source="IEC 60228, annex, 250/(230 + θ)",
    number="1.064, 0.962, 0.862, 0.820, 0.781",
    tolerance="0.5 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("copper_c", "expected"), [(5, 1.064), (30, 0.962), (60, 0.862), (75, 0.820), (90, 0.781)])
def test_published_factor_to_20_degrees(copper_c, expected):
    assert 1.0 / resistance_factor(copper_c) == pytest.approx(expected, rel=5e-3)


@pytest.mark.outside(
    "rise of copper's ohms for a degree at 20 °C",
    source="IEC 60028, annealed copper",
    number="0.00393 /K",
    tolerance="1.5 %",
    seen="from memory",
)
@pytest.mark.outside(
    "rise of aluminium's ohms for a degree at 20 °C",
    source="IEC 60121, annealed aluminium wire",
    number="0.00403 /K",
    tolerance="1.5 %",
    seen="from memory",
)
@pytest.mark.parametrize(("conductor", "expected_per_k"), [("copper", 0.00393), ("aluminium", 0.00403)])
def test_slope_at_20_degrees(conductor, expected_per_k):
    assert resistance_factor(21.0, conductor=conductor) - 1.0 == pytest.approx(expected_per_k, rel=0.015)


@pytest.mark.outside(
    "loss of strength of ferrite and of neodymium in 30 K",
    source="common practice, no source",
    number="−0.2 and −0.11 %/K",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize(("magnet", "expected"), [("ferrite", 0.94), ("neodymium", 0.967)])
def test_magnets_30_kelvin_warmer_are_weaker(magnet, expected):
    assert magnet_factor(50.0, magnet=magnet) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    ("factor", "kinds"), [(resistance_factor, {"conductor": "aluminium"}), (magnet_factor, {"magnet": "neodymium"})]
)
def test_all_is_as_measured_at_20_degrees_and_arrays_give_what_numbers_give(factor, kinds):
    temperatures = np.array([-40.0, 20.0, 75.5])
    assert factor(20.0, **kinds) == 1.0
    assert factor(temperatures, **kinds) == pytest.approx([factor(t, **kinds) for t in temperatures], rel=1e-15)


@pytest.mark.parametrize("name", ["silver", "Copper", "", None])
def test_an_unknown_conductor_is_refused(name):
    with pytest.raises(
        BadInput, match=exactly(f"conductor: {name!r} was given; allowed are copper, aluminium; choose one of them.")
    ):
        resistance_factor(20.0, conductor=name)


@pytest.mark.parametrize("name", ["alnico", "Ferrite", "", None])
def test_an_unknown_magnet_is_refused(name):
    with pytest.raises(
        BadInput, match=exactly(f"magnet: {name!r} was given; allowed are ferrite, neodymium; choose one of them.")
    ):
        magnet_factor(20.0, magnet=name)
