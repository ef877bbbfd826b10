"""Inertia from a coast-down against a known drag: made-up tests of a rotor whose inertia is known."""

from dataclasses import replace
from math import hypot

import pytest

from fits.test_drag import coast_row, drill_row, refusal
from sentences import sentences_of
from statorbook.bench.coast import read_coast
from statorbook.bench.drill import read_drill
from statorbook.fits.drag import fit_coast, fit_drill
from statorbook.fits.inertia import inertia_from_coast
from statorbook.quantities import RAD_S_PER_RPM, Estimate
from statorbook.winding.stator import Stator

wording = sentences_of("fits")

STATOR = Stator(slots=36, poles=48)
RPMS = (100.0, 200.0, 300.0, 400.0)


def readings(inertia_kgm2, drag_nm):
    """A steady drag: rpm/s = T / J; the drill passes on 60 % of its added watts, T Ω / 0.6."""
    fall = drag_nm / inertia_kgm2 / RAD_S_PER_RPM
    times = [20.0 * step / 9.0 for step in range(10)]
    coast = [coast_row(t, 400.0 - (300.0 / 20.0) * t * fall / 15.0) for t in times]
    drill = [drill_row(rpm, drag_nm * rpm * RAD_S_PER_RPM / 0.6) for rpm in RPMS]
    return read_coast(coast, STATOR), fit_drill(read_drill(drill, STATOR))


# Newton by hand: 0.3 kg·m² that fall by 10 rpm each second are slowed by 0.314 N·m.
@pytest.mark.parametrize(("inertia", "drag"), [(0.3, 0.314), (0.6, 0.628), (0.3, 0.157)])
def test_a_known_rotor_is_found_again(inertia, drag):
    found = inertia_from_coast(*readings(inertia, drag))
    assert found.value == pytest.approx(inertia, rel=0.03)
    # The drill's efficiency, 0.60 ± 0.15, is a quarter of it; no ± can be less.
    assert found.plus_minus >= 0.24 * found.value
    assert found.unit == "kg·m²" and not found.assumed


def test_the_plus_minus_joins_those_of_both_tests_at_the_middle_speed():
    # A drag of 0.2 N·m and 0.5 N·m per 1000 rpm; the coast-down reaches from 400 to 200 rpm, 300 rpm in the middle.
    coast, _ = readings(0.3, 0.314)
    falls = fit_coast(coast, 1.0)
    known = {"drag_nm": (0.2, 0.02), "drag_nm_per_1000rpm": (0.5, 0.1)}
    made = {name: Estimate(value=v, plus_minus=pm, unit="N·m", how="made up") for name, (v, pm) in known.items()}
    drag = replace(falls, estimate=made["drag_nm"], drag_nm_per_1000rpm=made["drag_nm_per_1000rpm"])
    found = inertia_from_coast(coast, drag)
    torque, torque_off = 0.2 + 0.3 * 0.5, hypot(0.02, 0.3 * 0.1)
    rest, rise = falls.drag_nm, falls.drag_nm_per_1000rpm
    fall, fall_off = rest.value + 0.3 * rise.value, hypot(rest.plus_minus, 0.3 * rise.plus_minus)
    assert found.value == pytest.approx(torque / fall, rel=1e-3)
    assert found.plus_minus == pytest.approx(found.value * hypot(torque_off / torque, fall_off / fall), rel=1e-3)


def test_no_drag_in_the_other_test_is_refused():
    coast, drag = readings(0.3, 0.314)
    none = Estimate(value=0.0, plus_minus=0.1, unit="N·m", how="made up")
    words = refusal(inertia_from_coast, coast, replace(drag, estimate=none, drag_nm_per_1000rpm=none))
    assert words.startswith(wording("coast and drill log: no"))


def test_a_coast_down_of_three_rows_finds_none():
    coast, drag = readings(0.3, 0.314)
    assert "coast log" in refusal(inertia_from_coast, coast[:3], drag)
