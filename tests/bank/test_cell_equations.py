"""The bank's equations written out once more, by interpolation of the tables: for every charge, cold, and branch."""

from math import exp

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from statorbook.bank import (
    Bank,
    amps_at_once,
    bank_amps,
    bank_table,
    cells_for,
    next_slow_volts,
    rest_volts_of,
    stored_at_once,
    stored_wh,
)
from statorbook.bank.tables import column_of, rows_of

KINDS = ("flooded lead-acid", "AGM", "gel", "LiFePO4")
BANKS = {name: Bank(chemistry=name, cells=cells_for(name, 24), capacity_ah=150.0) for name in KINDS}
TABLES = {name: bank_table(bank) for name, bank in BANKS.items()}
kinds = st.sampled_from(KINDS)
places, between = st.integers(-10, 109), st.floats(0.0, 1.0)  # hundredths of the capacity, and the way to the next
cold = st.floats(-25.0, 55.0)


def rest(name, charge):
    """Rest volts: the table's own points, beyond its ends steep by an assumed 10 V for a whole charge, lithium 20 V."""
    rows = [row for row in rows_of("bank_rest") if row["chemistry"] == name]
    at = np.interp(charge, [float(row["charge"]) for row in rows], [float(row["value"]) for row in rows])
    beyond = charge - min(max(charge, 0.0), 1.0)
    return BANKS[name].cells * (at + (20.0 if name == "LiFePO4" else 10.0) * beyond)


def siemens(name, charge, cell_c, *, taking):
    """Conductance after minutes: inside, and what grows towards full or empty; cold cells are emptier and stiffer."""
    bank, cell = BANKS[name], column_of("bank_cell")[name]
    colder, way = 25.0 - cell_c, "taking" if taking else "giving"

    def at(hundredths):
        left = max(1.0 - hundredths / 100.0 if taking else hundredths / 100.0, 0.01)
        grown = cell[f"{way}_ohm_ah"] / left ** cell[f"{way}_power"]
        return 1.0 / (bank.internal_ohm + bank.cells / bank.capacity_ah * grown)

    felt = 100.0 * (charge - (0.0 if taking else cell["cold_share_per_k"] * max(colder, 0.0)))
    known = np.arange(-10, 111)
    return np.interp(felt, known, [at(each) for each in known]) * exp(-cell[f"{way}_per_k"] * colder)


def gas(name, volts, cell_c):
    """g e^(a (U − 2.23) + b (T − 20)), U of a cell: Schiffer and others, 2007 (from memory)."""
    bank, cell = BANKS[name], column_of("bank_cell")[name]
    over = cell["gas_per_volt"] * (volts / bank.cells - 2.23) + cell["gas_per_k"] * (cell_c - 20.0)
    return 1e-3 * cell["gas_ma_per_ah"] * bank.capacity_ah * exp(over)


def quick_siemens(name):
    bank = BANKS[name]
    return 1.0 / max(bank.internal_ohm, bank.cells * 0.03 / bank.capacity_ah)


@settings(max_examples=60)
@example("AGM", 30, 0.0, -1.5, 40.0)  # warm cells that give are as good as at 20 °C, no better
@given(kinds, places, between, st.floats(-2.0, 2.0), cold)
def test_amps_after_minutes(name, place, way, over_v, cell_c):
    charge = (place + way) / 100.0
    volts, taking = rest(name, charge) + over_v, over_v >= 0.0
    assert rest_volts_of(charge, TABLES[name]) == pytest.approx(rest(name, charge), rel=1e-9)
    expected = over_v * siemens(name, charge, cell_c, taking=taking) + gas(name, volts, cell_c)
    assert bank_amps(volts, charge, cell_c, TABLES[name]) == pytest.approx(expected, rel=1e-7, abs=1e-9)


@settings(max_examples=40)
@example("AGM", 30, 0.0, -1.5, 0.0, 40.0)
@given(kinds, places, between, st.floats(-2.0, 2.0), st.floats(-1.0, 1.0), cold)
def test_amps_at_once_and_what_is_stored(name, place, way, over_v, slow_v, cell_c):
    charge = (place + way) / 100.0
    volts = rest(name, charge) + slow_v + over_v
    amps = over_v * quick_siemens(name)
    found = amps_at_once(volts, slow_v, charge, cell_c, TABLES[name])
    assert found == pytest.approx(amps + gas(name, volts, cell_c), rel=1e-6, abs=1e-6)
    kept = column_of("bank_cell")[name]["stored_share"] if over_v > 0.0 else 1.0
    assert stored_at_once(volts, slow_v, charge, TABLES[name]) == pytest.approx(kept * amps, rel=1e-6, abs=1e-6)


# The cells' own ohms follow what is left in them: taking while charged, giving while they gave; from rest the amps say.
@settings(max_examples=60)
@given(kinds, places, between, st.floats(-2.0, 2.0), st.sampled_from([-0.5, -0.01, 0.0, 0.01, 0.5]), cold)
def test_a_second_of_the_slow_part(name, place, way, over_v, slow_v, cell_c):
    charge = (place + way) / 100.0
    cell, bank = column_of("bank_cell")[name], BANKS[name]
    taking = over_v > 0.0 if slow_v == 0.0 else slow_v > 0.0
    ohm = max(1.0 / siemens(name, charge, cell_c, taking=taking) - 1.0 / quick_siemens(name), 1e-6)
    left = over_v * quick_siemens(name) * ohm
    kept = exp(-1.0 / (ohm * cell["farad_per_ah"] * bank.capacity_ah / bank.cells))
    found = next_slow_volts(rest(name, charge) + slow_v + over_v, slow_v, charge, cell_c, TABLES[name])
    assert found == pytest.approx(left + (slow_v - left) * kept, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("name", KINDS)
def test_energy_is_the_area_under_the_rest_volts_and_none_when_empty(name):
    table, charges = TABLES[name], np.linspace(-0.1, 1.1, 12_001)
    volts = np.array([rest(name, charge) for charge in charges])
    area = np.concatenate(([0.0], np.cumsum(0.5 * (volts[1:] + volts[:-1]) * np.diff(charges)))) * 150.0
    found = [stored_wh(charge, table) for charge in charges[::500]]
    assert stored_wh(0.0, table) == pytest.approx(0.0, abs=1e-6)
    assert found == pytest.approx((area - np.interp(0.0, charges, area))[::500], rel=1e-5, abs=1e-3)
