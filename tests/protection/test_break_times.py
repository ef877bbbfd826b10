"""How soon the fuse opens against what the cable stands, current by current."""

from dataclasses import replace

import numpy as np
import pytest

from samples.plant_samples import plant
from sentences import sentences_of
from statorbook.protection.break_times import break_times
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.fuse import Fuse, fuse_needs

wording = sentences_of("protection_fuse")
PLANT = plant()


# t = (k S / I)² with k = 115 for copper in PVC (IEC 60364-5-54, from memory), which holds up to 5 s; gates of a gG fuse
# of 16 A: 65 A within 5 s, 150 A within 0.1 s (IEC 60269-1, from memory), the arc on top.
def test_the_fuse_and_the_cable_over_the_current():
    found, needs = break_times(PLANT), fuse_needs(PLANT)
    assert (found.fuse_amps, found.amps[0], found.amps[-1]) == pytest.approx((16.0, 16.0, needs.breaking_amps))
    assert np.diff(np.log(found.amps)) == pytest.approx(np.log(needs.breaking_amps / 16.0) / (found.amps.size - 1))
    assert found.amps.size >= 50
    may_never = found.amps < 1.6 * 16.0
    assert np.isnan(found.fuse_s[may_never]).all() and np.isfinite(found.fuse_s[~may_never]).all()
    assert np.exp(np.interp(np.log(65.0), np.log(found.amps), np.log(found.fuse_s))) == pytest.approx(5.2, rel=0.1)
    stands = (115.0 * 16.0 / found.amps) ** 2
    known = stands < 4.95
    assert found.cable_s[known] == pytest.approx(stands[known], rel=5e-3)
    assert np.isnan(found.cable_s[stands > 5.05]).all()
    assert (found.continuous_amps, found.bank_amps) == (needs.continuous_amps, needs.breaking_amps)
    assert found.far_amps == needs.short.far_amps and found.cable_amps == needs.cable_amps


def test_a_fuse_of_the_readers_own_is_shown_at_least_up_to_20_times_its_amps():
    own = break_times(replace(PLANT, fuse=Fuse(amps=2000.0)))
    assert (own.fuse_amps, own.amps[-1]) == pytest.approx((2000.0, 40_000.0))


def test_it_says_what_it_shows():
    found = break_times(PLANT)
    assert found.words == wording("break times").format(carries=f"{found.cable_amps:.0f}")
    assert break_times(plant(run=CableRun(rectifier_at=AT_BANK))).words == wording("break times at the bank")
    slow = replace(found, fuse_s=np.array([0.01]))
    assert "it opens within 0.01 s" in slow.words
