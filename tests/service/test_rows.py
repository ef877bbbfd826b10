"""Rows of the service log: a bad one is kept and named, and warmth needs the air beside it."""

import pytest

from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.service.due_dates import findings
from statorbook.service.rows import read_service

wording = sentences_of("service")

FIRST = "2026-01-01"


def row(**cells):
    return blank_row("service") | cells


@pytest.mark.parametrize(
    "cells, words",
    [
        (dict(noise="quiet"), wording("service log, row 1, Date: nothing")),
        (dict(taken_on="31.5.26"), wording('service log, row 1, Date: "31.5.26"')),
        (dict(taken_on=FIRST, hours_run="-3"), "service log, row 1, Hours run [h]: "),
        (dict(taken_on=FIRST, noise="loud"), "service log, row 1, Noise: "),
    ],
)
def test_a_bad_row_is_kept_and_named(cells, words):
    (reading,) = read_service([row(**cells)])
    assert not reading.usable and reading.refusal.startswith(words) and reading.raw["noise"] == cells.get("noise", "")


def test_warmth_needs_the_air_beside_it():
    (reading,) = read_service([row(taken_on=FIRST, bearing_c="50")])
    assert reading.usable and "type both" in reading.warnings[0] and findings(reading) == ()
