"""The coast log: times as people type them, the curve of a rotor that nothing drives, and its inertia."""

import numpy as np
import pytest

from sentences import exactly, sentences_of
from statorbook.bench.coast import coast_speed_rpm, read_coast, ring_inertia_kgm2
from statorbook.errors import BadInput
from statorbook.winding.stator import Stator

wording = sentences_of("bench")

STATOR = Stator(slots=36, poles=48)


def coast_row(time_s, rpm, **changes):
    """As typed from a meter on its Hz range: 24 pole pairs, so Hz = 0.4 rpm."""
    return {"time_s": f"{time_s:.1f}", "speed_rpm": "", "electrical_hz": f"{0.4 * rpm:.4g}", "note": ""} | changes


@pytest.mark.outside(
    "speed of a rotor that nothing drives, after 4 s and 8 s",
    source="dn/dt = −(a + k n) integrated by the midpoint rule in steps of 1 ms",
    number="four drags, 300 rpm at first",
    tolerance="1e-6",
    seen="derived",
)
@pytest.mark.parametrize("fall, rate", [(10.0, 0.0), (10.0, 1e-12), (4.0, 0.05), (0.0, 0.1)])
def test_the_curve_solves_its_equation(fall, rate):
    rpm, times = 300.0, np.array([0.0, 4.0, 8.0])
    stepped = [rpm]
    for _ in range(2):
        for _ in range(4000):
            middle = rpm - 0.0005 * (fall + rate * rpm)
            rpm -= 0.001 * (fall + rate * middle)
        stepped.append(rpm)
    assert coast_speed_rpm(times, 300.0, fall, rate) == pytest.approx(stepped, rel=1e-6)
    alone = coast_speed_rpm(8.0, 300.0, fall, rate)
    assert isinstance(alone, float) and alone == pytest.approx(stepped[-1], rel=1e-6)


# dn/dt = 0 at n = −a / k: 12 rpm/s and 0.3 1/s come to −40 rpm in the end. A rise of e^50 is far beyond any log.
def test_the_curve_comes_to_its_end_and_never_overflows():
    assert coast_speed_rpm(np.array([100.0, 180.0, 3600.0]), 300.0, 12.0, 0.3) == pytest.approx(-40.0)
    assert np.isfinite(coast_speed_rpm(3600.0, 300.0, -12.0, -0.3))


# Thin ring of 5 kg at 200 mm: m r² = 5 × 0.1² = 0.05; disc of 2 kg, 300 mm: m r² / 2 = 2 × 0.15² / 2 = 0.0225 kg·m².
def test_inertia_of_ring_and_wheel():
    assert ring_inertia_kgm2(5.0, 200.0) == pytest.approx(0.05)
    assert ring_inertia_kgm2(5.0, 200.0, wheel_kg=2.0, wheel_mm=300.0) == pytest.approx(0.0725)
    message = wording("added wheel: one of its")
    with pytest.raises(BadInput, match=exactly(message)):
        ring_inertia_kgm2(5.0, 200.0, wheel_kg=2.0)
    with pytest.raises(BadInput, match="^rotor mass: 0 kg was given; "):
        ring_inertia_kgm2(0, 200.0)


@pytest.mark.parametrize(
    "cell, words",
    [
        ("", wording("coast log, row 1, Time [s]: the")),
        ("soon", wording('coast log, row 1, Time [s]: "soon"')),
        ("3 V", wording('coast log, row 1, Time [s]: "3 V"')),
        ("3 m2", wording('coast log, row 1, Time [s]: "3 m2"')),
        ("-1", wording('coast log, row 1, Time [s]: "-1"')),
    ],
)
def test_a_time_that_cannot_be_used(cell, words):
    assert read_coast([coast_row(0, 300) | {"time_s": cell}], STATOR)[0].refusal == words


@pytest.mark.parametrize(
    "cell, time_s", [("3 s", 3.0), ("3,5sec", 3.5), ("1e1 s", 10.0), ("1e1", 10.0), (" 4.5 ", 4.5)]
)
def test_times_as_people_type_them(cell, time_s):
    assert read_coast([coast_row(0, 300) | {"time_s": cell}], STATOR)[0].time_s == time_s
