"""Rows of the ohms log: star ohms, and one sentence for what cannot be."""

import pytest

from samples.made_up_logs import ohms_row
from sentences import sentences_of
from statorbook.bench.ohms import read_ohms

wording = sentences_of("bench")


@pytest.mark.parametrize(
    "changes, complaint",
    [
        (dict(ohms="0.1"), wording("0.1 Ω is not more")),
        (dict(lead_zero_ohm=""), "touch the probes together, read that, and type the reading"),
        (dict(lead_zero_ohm="-0.2"), 'Probes touching [Ω]: "-0.2" was given'),
        (dict(terminals="AN"), 'Leads: "AN" was given'),
        (dict(copper_c="warm"), 'Winding temperature [°C]: "warm" is not a number'),
        (dict(copper_c="400"), "from -40 to 150 °C is allowed"),
        (dict(ohms="1.3 kΩ"), '"1.3 kΩ" is not a number in Ω'),
    ],
)
def test_a_bad_ohms_row_is_kept_with_one_sentence(changes, complaint):
    reading = read_ohms([ohms_row(13.4) | changes])[0]
    assert not reading.usable and reading.refusal.startswith("ohms log, row 1") and complaint in reading.refusal


@pytest.mark.outside(
    "star that does the same as a delta of three equal resistances",
    source="Bird, Electrical Circuit Theory and Technology, ch. 34, delta to star",
    number="a third: 5/3 Ω for 5 Ω",
    tolerance="0.01 %",
    seen="from memory",
)
def test_half_the_reading_is_the_star_in_delta_too():
    # Between two leads lie 5 Ω beside 10 Ω.
    reading = read_ohms([ohms_row(13.4) | dict(ohms=f"{10 / 3 + 0.2:.4f}", lead_zero_ohm="0.2000")])[0]
    assert reading.star_ohm == pytest.approx(5 / 3, rel=1e-4)


def test_missing_copper_temperature_is_said():
    reading = read_ohms([ohms_row(13.4, copper_c="")])[0]
    assert reading.usable and reading.warnings == (wording("ohms log, row 1: no"),)
