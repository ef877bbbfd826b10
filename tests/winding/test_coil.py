"""What one coil does: constants that no coil has."""

from math import nan

import pytest

from sentences import exactly
from statorbook.errors import BadInput
from statorbook.winding import CoilConstants


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        (
            {"emf_v_per_rpm": 0.0},
            "coil EMF: 0.0 V/rpm was given; a number above 0 V/rpm is allowed; measure or type the coil EMF again.",
        ),
        (
            {"ohm": -0.5},
            "coil resistance: -0.5 Ω was given; a number above 0 Ω is allowed; measure "
            "or type the coil resistance again.",
        ),
        (
            {"henry": -1e-3},
            "coil inductance: -0.001 H was given; a number at least 0 H is allowed; "
            "measure or type the coil inductance again.",
        ),
        (
            {"ohm": nan},
            "coil resistance: nan Ω was given; a number above 0 Ω is allowed; measure "
            "or type the coil resistance again.",
        ),
        (
            {"henry": None},
            "coil inductance: None is not a number; a number at least 0 H is allowed; "
            "measure or type the coil inductance again.",
        ),
        ({"conductor": "silver"}, "conductor: 'silver' was given; allowed are copper, aluminium; choose one of them."),
        ({"magnet": "alnico"}, "magnet: 'alnico' was given; allowed are ferrite, neodymium; choose one of them."),
    ],
)
def test_bad_coil_constants_are_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        CoilConstants(**{"emf_v_per_rpm": 0.02, "ohm": 0.5, "henry": 4e-3, **changes})
