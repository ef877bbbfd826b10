"""What one coil does: constants that no coil has."""

from math import nan

import pytest

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.winding import CoilConstants

wording = sentences_of("winding")


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"emf_v_per_rpm": 0.0}, wording("coil EMF: 0.0 V/rpm was")),
        ({"ohm": -0.5}, wording("coil resistance: -0.5 Ω was")),
        ({"henry": -1e-3}, wording("coil inductance: -0.001 H was")),
        ({"ohm": nan}, wording("coil resistance: nan Ω was")),
        ({"henry": None}, wording("coil inductance: None is not")),
        ({"conductor": "silver"}, wording("conductor: 'silver' was given; allowed")),
        ({"magnet": "alnico"}, wording("magnet: 'alnico' was given; allowed")),
    ],
)
def test_bad_coil_constants_are_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        CoilConstants(**{"emf_v_per_rpm": 0.02, "ohm": 0.5, "henry": 4e-3, **changes})
