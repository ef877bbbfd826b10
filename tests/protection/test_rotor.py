"""Inertia from mass and size: hand algebra, integrals, and refusals."""

import pytest
from scipy.integrate import quad

from statorbook.errors import BadInput
from statorbook.protection.rotor import BLADES, DISC, RING, Rotor, inertia_from_size_kgm2


@pytest.mark.outside(
    "inertia of hoop and solid cylinder, 5 kg, 200 mm",
    source="Young and Freedman, University Physics, moments of inertia",
    number="m r² and m r² / 2: 0.05, 0.025 kg·m²",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize(("shape", "expected"), [(RING, 0.05), (DISC, 0.025)])
def test_a_hoop_and_a_disc_have_the_inertia_of_the_textbook(shape, expected):
    assert inertia_from_size_kgm2(5.0, 200.0, shape) == pytest.approx(expected)


def test_blades_thin_out_to_nothing_at_their_tips():
    mass, _ = quad(lambda r: 1.0 - r, 0.0, 1.0)
    inertia, _ = quad(lambda r: r**2 * (1.0 - r), 0.0, 1.0)
    assert inertia_from_size_kgm2(6.0, 2000.0, BLADES) == pytest.approx(6.0 * inertia / mass)


@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), 1e9])
def test_no_rotor_has_such_an_inertia(value):
    with pytest.raises(BadInput, match="inertia of what turns") as refused:
        Rotor(inertia_kgm2=value)
    assert "\n" not in str(refused.value)
