"""What a reading above the band of its meter is told."""

import pytest

from samples.made_up_logs import shorted_row, spin_row
from statorbook.bench.shorted import read_shorted
from statorbook.bench.spin import read_spin
from statorbook.winding.stator import Stator

STATOR = Stator(slots=36, poles=48)


def spin(changes=(), **cells):
    changes = dict(changes) | cells
    return read_spin([spin_row(120, 48.1) | changes, spin_row(200, 80.2), spin_row(300, 120.4)], STATOR)[0]


# 36/48 reaches 400 Hz at 1000 rpm.
@pytest.mark.parametrize("meter, warned", [("averaging", True), ("unknown", True), ("true rms", False)])
def test_a_cheap_meter_above_its_band(meter, warned):
    above, below = spin(speed_rpm="1010", meter=meter), spin(speed_rpm="990", meter=meter)
    assert above.usable and bool(above.warnings) == warned and below.warnings == ()
    assert not warned or "read at 404 Hz" in above.warnings[0]
    amps = read_shorted([shorted_row(1010, 2.1, meter=meter)], STATOR)[0]
    assert bool(amps.warnings) == warned
