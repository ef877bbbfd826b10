"""Rows of the shorted log: one sentence for what cannot be, an empty meter cell taken as it was meant."""

from dataclasses import replace

import pytest

from samples.made_up_logs import shorted_row, spin_row
from sentences import sentences_of
from statorbook.bench.shorted import read_shorted
from statorbook.bench.spin import read_spin
from statorbook.winding.stator import Stator

wording = sentences_of("bench")

STATOR = Stator(slots=36, poles=48)


@pytest.mark.parametrize(
    "changes, complaint",
    [
        (dict(amps="0"), wording('Current, rms [A]: "0" was')),
        (dict(amps="two"), '"two" is not a number'),
        (dict(lead="AB"), wording('Lead: "AB" was given; allowed')),
        (dict(speed_rpm=""), "both speed cells are empty"),
        (dict(amps="B", lead="2.1"), "it is a word for Lead, so see whether the cells were swapped"),
        (dict(meter="cheap"), 'Meter: "cheap" was given'),
    ],
)
def test_a_bad_shorted_row_is_kept_with_one_sentence(changes, complaint):
    reading = read_shorted([shorted_row(120, 2.1), shorted_row(200, 2.3) | changes], STATOR)[1]
    assert not reading.usable and reading.refusal.startswith("shorted log, row 2") and complaint in reading.refusal


@pytest.mark.parametrize("read, row", [(read_shorted, shorted_row(200, 2.3)), (read_spin, spin_row(120, 48.1))])
def test_an_empty_meter_cell_counts_as_averaging(read, row):
    averaging, left_out = (read([row | {"meter": word}], STATOR)[0] for word in ("averaging", ""))
    assert left_out.usable and replace(left_out, raw={}) == replace(averaging, raw={})
