"""The best volts of a converter as formulas: against calculus by hand, a search, and the library."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.bank import BankState
from statorbook.operation.best_volts import best_dc_volts
from statorbook.operation.derivations import converter_optimum
from statorbook.operation.speed_sweep import Conditions, sweep
from statorbook.quantities import number
from statorbook.winding import CoilConstants, Grouping, Stator, Winding

BARE = Conditions(diode_drop_v=0.0, copper_c=20.0, magnet_c=20.0)
# X is a hundred times R at 160 Hz, so 400 rpm.
WINDING = Winding(
    stator=Stator(slots=36, poles=48),
    coil=CoilConstants(emf_v_per_rpm=0.02, ohm=0.03, henry=0.003),
    grouping=Grouping(series=3, parallel=4, connection="star"),
)
PEAK_V_PER_RPM = 2.0**0.5 * WINDING.star_equivalent().emf_v_per_rpm


@pytest.mark.outside(
    "DC volts of most power behind a reactance, and that power",
    source="calculus by hand: 9 / (2π√2) of E, 27 / (4π²) of E²/X",
    number="1.012856, 0.683918",
    tolerance="1e-6",
    seen="derived",
)
def test_the_best_volts_and_watts_are_those_by_hand():
    best = converter_optimum()
    assert number(best.volts, E=1.0) == pytest.approx(1.012856, abs=1e-6)
    assert number(best.watts, E=1.0, X=1.0) == pytest.approx(0.683918, abs=1e-6)
    assert number(best.share, b=1.0) == pytest.approx(1.0)


def test_a_converter_without_loss_always_pays_and_one_of_no_use_never():
    best = converter_optimum()
    assert number(best.pays_below, e=1.0) == pytest.approx(1.0)
    assert number(best.pays_below, e=1e-3) == pytest.approx(0.0, abs=1e-3)
    edge = number(best.pays_below, e=0.95)
    assert number(best.share, b=edge) == pytest.approx(0.95) and number(best.share, b=0.9 * edge) < 0.95


@settings(max_examples=6)
@given(st.floats(0.2, 1.2))
def test_formula_and_library_agree(bank_ratio):
    best, speed = converter_optimum(), 400.0
    peak, reactance = PEAK_V_PER_RPM * speed, 2.0 * np.pi * 160.0 * WINDING.star_equivalent().henry
    volts, most = number(best.volts, E=peak), number(best.watts, E=peak, X=reactance)
    bank = BankState(name="", volts=bank_ratio * volts, ohm=0.0)
    straight = sweep([WINDING], np.array([speed]), bank, BARE).bank_watts[0, 0]
    assert straight == pytest.approx(most * number(best.share, b=bank_ratio), rel=0.02)
    found = best_dc_volts(WINDING, [speed], bank, BARE)
    assert found.dc_volts[0] == pytest.approx(max(volts, bank.volts), rel=0.03)  # the top is flat
    assert found.bank_watts[0] == pytest.approx(most if bank_ratio <= 1.0 else straight, rel=0.02)
