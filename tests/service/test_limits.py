"""What a ball bearing bears besides wear, against the standard and catalogues."""

import pytest

from statorbook.service.life import bearing_named
from statorbook.service.limits import SPEED_FACTOR, STATIC_SAFETY, limiting_rpm, static_load_n


@pytest.mark.outside(
    "load that dents a deep groove ball bearing at rest",
    source="ISO 76:2006, 5.1 and table 1",
    number="X0 = 0.6, Y0 = 0.5, never below the load across",
    tolerance="1e-6",
    seen="from memory",
)
def test_static_load_of_a_ball_bearing():
    # 0.6 × 1000 + 0.5 × 2000 = 1600 N; with 100 N along it is the 1000 N across.
    assert static_load_n(1000.0, 2000.0) == pytest.approx(1600.0) and static_load_n(1000.0, 100.0) == 1000.0


@pytest.mark.outside(
    "most speed of ball bearings with rubbing seals",
    source="common practice, no source",
    number="6203 12 000, 6204 10 000, 6206 7500, 6308 5000 rpm",
    tolerance="below, and not by half",
    seen="from memory",
)
def test_limiting_speeds_lie_where_catalogues_put_them():
    for number, most in (("6203", 12_000.0), ("6204", 10_000.0), ("6206", 7_500.0), ("6308", 5_000.0)):
        assert 0.5 * most < limiting_rpm(bearing_named(number)) <= most


@pytest.mark.parametrize("fact", [SPEED_FACTOR, STATIC_SAFETY])
def test_assumed_limits_are_plausible_and_sourced(fact):
    assert fact.low <= fact.value <= fact.high and fact.unit and "from memory" in fact.source
