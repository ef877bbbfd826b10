"""A full bank: where it leaps to, checked by what it takes there, and what it makes gas of for ever."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.charging_samples import LEAD_BANK
from samples.machine_samples import BANK
from statorbook.bank import bank_amps, bank_table, rest_volts_of
from statorbook.charging.full_bank import charge_at, gas_amps, leaps_to

BANKS = st.sampled_from([BANK, LEAD_BANK])


@settings(max_examples=40)
@given(BANKS, st.floats(0.02, 1.0))
def test_a_bank_that_rests_at_its_volts_has_its_charge(bank, charge):
    volts = rest_volts_of(charge, bank_table(bank))
    assert rest_volts_of(charge_at(bank, volts), bank_table(bank)) == pytest.approx(volts, abs=1e-6)


# What it takes at the volts that are found is just what was pushed in; its charge has grown by amps × hours.
@settings(max_examples=40)
@given(BANKS, st.floats(1.0, 30.0), st.floats(0.0, 120.0), st.floats(5.0, 40.0))
def test_it_leaps_to_where_it_takes_the_amps(bank, amps, seconds, cell_c):
    rested = rest_volts_of(0.95, bank_table(bank))
    volts = leaps_to(bank, amps, cell_c, from_volts=rested, seconds=seconds)
    charge = min(1.1, charge_at(bank, rested) + amps * seconds / 3600.0 / bank.capacity_ah)
    assert volts > rested
    assert bank_amps(volts, charge, cell_c, bank_table(bank)) == pytest.approx(amps, rel=1e-6)


@given(BANKS, st.floats(1.0, 30.0))
@settings(max_examples=20)
def test_more_amps_and_more_seconds_leap_no_lower(bank, amps):
    rested = rest_volts_of(0.95, bank_table(bank))
    low, more, longer = (
        leaps_to(bank, times * amps, 25.0, from_volts=rested, seconds=seconds)
        for times, seconds in ((1.0, 10.0), (2.0, 10.0), (1.0, 60.0))
    )
    assert low < more and low <= longer


# No gas of lithium (common practice, no source); of lead the more, the higher the volts.
def test_only_lead_makes_gas():
    assert gas_amps(BANK, BANK.highest_volts, 25.0) == pytest.approx(0.0, abs=1e-6)
    at = [gas_amps(LEAD_BANK, volts, 25.0) for volts in (27.0, 28.8, 30.0)]
    assert 0.0 < at[0] < at[1] < at[2] < 0.1 * LEAD_BANK.capacity_ah
