"""Third harmonic round a delta: by hand algebra, and by adding up the phasors of every coil."""

from cmath import exp, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.quantities.facts import ZERO_SEQUENCE_SHARE
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.third_harmonic import OpenCorner, circulating, likely_circulating
from statorbook.winding.winding import Winding
from strategies import numbers, stators, windings

wording = sentences_of("winding")

TWELVE_TEN = Stator(slots=12, poles=10)
DELTA = Grouping(series=2, parallel=2, connection="delta")
COIL = CoilConstants(emf_v_per_rpm=0.02, ohm=0.5, henry=0.004)
WINDING = Winding(stator=TWELVE_TEN, coil=COIL, grouping=DELTA)


def third_phasors(stator, phase):
    """Third-harmonic phasor of each coil of a phase, in tooth order, length 1 each."""
    return [c.polarity * exp(3j * pi / 180.0 * c.angle_deg) for c in stator.coils if c.phase == phase]


@given(stators())
def test_third_harmonics_of_the_phases_add_up(stator):
    sums = [sum(third_phasors(stator, phase)) for phase in "ABC"]
    assert sums[1] == pytest.approx(sums[0], abs=1e-9) and sums[2] == pytest.approx(sums[0], abs=1e-9)
    assert abs(sums[0]) / stator.coils_per_phase == pytest.approx(stator.distribution_factor_third, abs=1e-12)


@pytest.mark.outside(
    "distribution factor of a 60° belt at order 3",
    source=(
        "Pyrhönen, Jokinen, Hrabovcová, Design of Rotating Electrical Machines, ch. 2, sin(n 30°) / (z sin(n 30°/z))"
    ),
    number="1, 0.7071, 0.6667, 0.6533 for z = 1 to 4",
    tolerance="1e-6",
    seen="from memory",
)
@pytest.mark.parametrize(
    "slots, poles, z",
    [(3, 2, 1), (12, 10, 2), (12, 14, 2), (9, 8, 3), (9, 10, 3), (24, 22, 4), (36, 48, 1), (36, 32, 3), (27, 24, 3)],
)
def test_the_third_distribution_factor_is_the_handbooks(slots, poles, z):
    expected = 1.0 / (z * np.sin(np.pi / (2.0 * z)))
    assert Stator(slots=slots, poles=poles).distribution_factor_third == pytest.approx(expected)


@given(stators())
def test_equal_paths_have_equal_third_harmonics(stator):
    # Coils one after the other round the ring, dealt out to paths as the ring repeats itself.
    phasors, paths = third_phasors(stator, "A"), stator.max_parallel_paths
    each = stator.coils_per_phase // paths
    sums = [abs(sum(phasors[k * each : (k + 1) * each])) for k in range(paths)]
    assert sums == pytest.approx([sums[0]] * paths, abs=1e-9)


def test_the_reading_becomes_volts_of_one_coil():
    # By hand: z = 2, kd3 = 1 / (2 sin 45°) = 0.70711; e3 = 12 V / (3 × 2 × 0.70711 × 100 rpm) = 0.028284 V/rpm.
    corner = OpenCorner(stator=TWELVE_TEN, grouping=DELTA, volts_rms=12.0, speed_rpm=100.0)
    assert corner.coil_third_emf_v_per_rpm == pytest.approx(0.0282843, rel=1e-5)
    assert corner.open_corner_v_per_rpm == pytest.approx(0.06)


def test_current_and_loss_by_hand():
    # At 500 rpm, 2 coils in series: 0.06 × 2 × 500 = 60 V round 3 × 0.5 Ω: 40 A, in each of 2 paths 20 A,
    # 40² × 1.5 = 2400 W.
    got = circulating(WINDING, 0.06, 500.0)
    assert (got.phase_amps_rms, got.coil_amps_rms, got.watts) == pytest.approx((40.0, 20.0, 2400.0))


def test_inductance_by_hand():
    # 12 poles / 10: 5 pole pairs × 500 / 60 = 41.667 Hz, the third 125 Hz; 0.25 × 4 mH gives 0.7854 Ω beside 0.5 Ω.
    got = circulating(WINDING, 0.06, 500.0, zero_sequence_share=0.25)
    assert got.phase_amps_rms == pytest.approx(60.0 / (3.0 * 0.931048), rel=1e-5)
    assert got.watts == pytest.approx(3.0 * 0.5 * got.phase_amps_rms**2)


@given(windings(connections=("delta",)), numbers(1e-4, 1.0), numbers(1.0, 3000.0))
def test_the_bound_is_above_what_is_likely(winding, volts, speed):
    most, likely = circulating(winding, volts, speed), likely_circulating(winding, volts, speed)
    assert likely.watts <= most.watts * (1.0 + 1e-12)
    assert likely.watts == circulating(winding, volts, speed, zero_sequence_share=ZERO_SEQUENCE_SHARE.value).watts


@given(stators(), numbers(1.0, 3000.0))
def test_the_bound_is_the_same_for_every_delta(stator, speed):
    # Joule's law by hand: the coils see the same EMF and the same ohms however they share the phase.
    deltas = [Winding(stator=stator, coil=COIL, grouping=g) for g in stator.groupings() if g.connection == "delta"]
    watts = [circulating(winding, 0.01, speed).watts for winding in deltas]
    assert watts == pytest.approx([watts[0]] * len(watts))


@given(windings(connections=("star",)), numbers(1e-4, 1.0))
def test_a_star_carries_none(winding, volts):
    got = circulating(winding, volts, np.array([100.0, 1000.0]))
    assert not got.phase_amps_rms.any() and not got.watts.any()


@given(windings(connections=("delta",)), numbers(1e-4, 1.0), st.floats(0.0, 1.0))
def test_arrays_and_numbers_agree_and_speed_only_adds(winding, volts, share):
    speeds = np.linspace(0.0, 1000.0, 7)
    whole = circulating(winding, volts, speeds, zero_sequence_share=share)
    each = [circulating(winding, volts, speed, zero_sequence_share=share).watts for speed in speeds]
    assert whole.watts == pytest.approx(each) and (np.diff(whole.watts) > 0.0).all() and whole.watts[0] == 0.0


def test_hot_copper_and_hot_magnets_carry_less():
    # Copper 235 + t (IEC 60034-1, from memory): 315/255 of the ohms at 80 °C; ferrite −0.2 %/K, 0.94 of the volts.
    got = circulating(WINDING, 0.06, 500.0, copper_c=80.0, magnet_c=50.0)
    assert got.phase_amps_rms == pytest.approx(40.0 * 0.94 * 255.0 / 315.0)


def corner(volts, stator=TWELVE_TEN, grouping=DELTA):
    return OpenCorner(stator=stator, grouping=grouping, volts_rms=volts, speed_rpm=100.0)


def test_a_reversed_phase_is_refused():
    # One of three phasors 120° apart turned round: they sum to twice one phase. 2 coils × kd 0.9659 × 2 V = 3.864 V.
    assert TWELVE_TEN.distribution_factor == pytest.approx(0.9659, rel=1e-4)
    with pytest.raises(BadInput, match=exactly(wording("open delta corner: 7.73 V"))):
        corner(7.73).doubt(COIL)


def test_a_rotor_may_turn_as_slowly_as_it_can():
    slow = OpenCorner(stator=TWELVE_TEN, grouping=DELTA, volts_rms=0.06, speed_rpm=0.5)
    assert slow.open_corner_v_per_rpm == pytest.approx(0.06)


def test_a_sound_reading_raises_no_doubt():
    assert corner(3.0).doubt(COIL) == ""


def test_a_stator_without_third_harmonic_must_show_none():
    # A coil that spans 240° of the magnet ring: sin(3 × 120°) = 0.
    stator, grouping = Stator(slots=36, poles=48), Grouping(series=12, parallel=1, connection="delta")
    assert corner(1.0, stator, grouping).doubt(COIL) == ""
    assert corner(6.0, stator, grouping).doubt(COIL) == wording("The open corner shows 25%")


@pytest.mark.parametrize(
    "change, words",
    [
        ({"grouping": Grouping(series=2, parallel=2, connection="star")}, wording("a star was given; a")),
        ({"grouping": Grouping(series=3, parallel=2, connection="delta")}, "is not the 4 coils of a phase"),
        ({"volts_rms": -1.0}, "open-corner volts: -1.0 V rms was given"),
        ({"speed_rpm": 0.0}, "speed of the open-corner reading: 0.0 rpm was given"),
    ],
)
def test_what_cannot_be_is_refused(change, words):
    with pytest.raises(BadInput, match=words):
        OpenCorner(**{"stator": TWELVE_TEN, "grouping": DELTA, "volts_rms": 1.0, "speed_rpm": 100.0} | change)


@pytest.mark.parametrize(
    "volts, share, words", [(-1.0, 0.0, "open-corner volts: -1"), (0.1, -0.1, "zero-sequence share: -0.1")]
)
def test_wrong_numbers_are_refused(volts, share, words):
    with pytest.raises(BadInput, match=words):
        circulating(WINDING, volts, 100.0, zero_sequence_share=share)
