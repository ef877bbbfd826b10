"""The bank second by second: rest volts, acceptance, gas, cold, and an energy that adds up."""

from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from statorbook.bank import (
    Bank,
    amps_at_once,
    bank_amps,
    bank_table,
    cells_for,
    chemistries,
    next_slow_volts,
    rest_volts_of,
    slow_wh,
    stored_at_once,
    stored_wh,
)

LEAD = ("flooded lead-acid", "AGM", "gel")
ALL = (*LEAD, "LiFePO4")
BANKS = {name: Bank(chemistry=name, cells=cells_for(name, 12), capacity_ah=100.0) for name in ALL}
TABLES = {name: bank_table(bank) for name, bank in BANKS.items()}
chemistry, charge = st.sampled_from(ALL), st.floats(-0.05, 1.05)
share_of_volts, cell_c = st.floats(0.5, 1.5), st.floats(-20.0, 50.0)


def stored_amps(volts, charge, cell_c, table):
    """What is stored after minutes at those volts: all but gas, and 0.99 of it in LiFePO4 (common practice)."""
    gas = amps_at_once(volts, volts - rest_volts_of(charge, table), charge, cell_c, table)
    amps = bank_amps(volts, charge, cell_c, table) - gas
    return 0.99 * amps if table is TABLES["LiFePO4"] and amps > 0.0 else amps


def volts_at(amps, charge, cell_c, table):
    """Terminal volts at which those amps flow."""
    return brentq(lambda volts: bank_amps(volts, charge, cell_c, table) - amps, -5000.0, 500.0)


def run(table, start, amps, *, most_volts=inf, least_volts=-inf, until=lambda charge, amps: False):
    """Minutes of steady amps within volts: charge, Ah and Wh at the terminals when the run is over."""
    charge, ah, wh = start, 0.0, 0.0
    for _ in range(48 * 60):
        volts = min(max(volts_at(amps, charge, 25.0, table), least_volts), most_volts)
        flow = bank_amps(volts, charge, 25.0, table)
        if until(charge, flow):
            break
        charge += stored_amps(volts, charge, 25.0, table) / 60.0 / 100.0
        ah, wh = ah + flow / 60.0, wh + volts * flow / 60.0
    return charge, ah, wh


# m from a table of acid densities (from memory) at 1.120, 1.155, 1.190, 1.225 and 1.265.
@pytest.mark.outside(
    "rest volts of six lead cells from their chemistry",
    source="pybamm 26.10.1.1, Sulzer2019: lead_dioxide_ocp_Bode1977(m) - lead_ocp_Bode1977(m)",
    number="11.888, 12.072, 12.255, 12.442, 12.665 V",
    tolerance="0.03 V",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("charge", "expected"), [(0.0, 11.888), (0.25, 12.072), (0.5, 12.255), (0.75, 12.442), (1.0, 12.665)]
)
def test_lead_rests_where_its_chemistry_says(charge, expected):
    assert rest_volts_of(charge, TABLES["flooded lead-acid"]) == pytest.approx(expected, abs=0.03)


@pytest.mark.outside(
    "rest volts of a lead cell from its acid's density",
    source="handbooks of batteries, density + 0.845 V",
    number="12.66, 12.21 V for six",
    tolerance="0.06 V",
    seen="from memory",
)
@pytest.mark.parametrize(("charge", "expected"), [(1.0, 12.66), (0.5, 12.21)])
def test_lead_rests_where_its_acid_says(charge, expected):
    assert rest_volts_of(charge, TABLES["flooded lead-acid"]) == pytest.approx(expected, abs=0.06)


# Two fits put together, so 0.03 V.
@pytest.mark.outside(
    "rest volts of a LiFePO4 cell",
    source="pybamm 26.10.1.1, ParameterValues('Prada2013'), ElectrodeSOHSolver, 2.0 to 3.6 V",
    number="3.169, 3.206, 3.253, 3.266, 3.269, 3.274, 3.310, 3.314, 3.316 V",
    tolerance="0.03 V",
    seen="computed by package",
)
@pytest.mark.parametrize(
    ("charge", "expected"),
    [(0.2, 3.169), (0.3, 3.206), (0.4, 3.253), (0.5, 3.266), (0.6, 3.269), (0.7, 3.274), (0.8, 3.310), (0.9, 3.314),
     (0.95, 3.316)],
)  # fmt: skip
def test_lithium_rests_where_an_open_parameter_set_says(charge, expected):
    assert rest_volts_of(charge, TABLES["LiFePO4"]) / 4 == pytest.approx(expected, abs=0.03)


@pytest.mark.outside(
    "rest volts of a LiFePO4 cell as told at work",
    source="common practice, no source",
    number="3.4, 3.3, 3.2, 2.50 to 2.70 V",
    tolerance="0.05 V",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("charge", "expected", "off"), [(1, 3.4, 0.051), (0.5, 3.3, 0.05), (0.2, 3.2, 0.05), (0, 2.6, 0.1)]
)
def test_lithium_rests_where_the_trade_says(charge, expected, off):
    assert rest_volts_of(charge, TABLES["LiFePO4"]) / 4 == pytest.approx(expected, abs=off)


@pytest.mark.parametrize("name", ALL)
def test_rest_volts_agree_with_the_table_of_chemistries_and_leave_its_limits_beyond_full_and_empty(name):
    known = chemistries()[name]
    cell = [rest_volts_of(charge, TABLES[name]) / BANKS[name].cells for charge in (-0.05, 0.5, 1.06)]
    assert cell[0] < known["lowest_volts"] and cell[2] > known["highest_volts"]
    assert cell[1] == pytest.approx(known["half_volts"], abs=0.011)


# n 1.2 and 1.4, and 1.1 and 1.2; down to 1.6 V a cell: common practice, no source.
@pytest.mark.outside(
    "share left at 10, 25 and 50 A of 100 Ah",
    source="Peukert's law with the rate term, (I20/I)^(n − 1), n 1.1 to 1.4",
    number="93 to 40 %",
    tolerance="between the two exponents",
    seen="derived",
)
@pytest.mark.parametrize(
    ("name", "least", "most"),
    [("flooded lead-acid", (0.76, 0.52, 0.40), (0.87, 0.72, 0.63)), ("AGM", (0.87, 0.72, 0.63), (0.93, 0.85, 0.79))],
)
def test_fast_discharge_gives_less_as_peukert_says(name, least, most):
    table = TABLES[name]
    for amps, low, high in zip((10.0, 25.0, 50.0), least, most, strict=True):
        left, _, _ = run(table, 1.0, -amps, until=lambda q, flow, at=amps: volts_at(-at, q, 25.0, table) < 6 * 1.6)
        assert low <= 1.0 - left <= high


# From half full. Sealed ones and LiFePO4 as in the table of chemistries; 0.98 of its Ah: common practice, no source.
@pytest.mark.outside(
    "Ah and energy that lead-acid gives back",
    source="Linden, Handbook of Batteries",
    number="0.85 to 0.95 of the Ah, 0.70 to 0.85 of the energy",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("name", "ah_ends", "wh_ends"),
    [
        ("flooded lead-acid", (0.85, 0.95), (0.70, 0.85)),
        ("AGM", (0.85, 0.99), (0.75, 0.93)),
        ("LiFePO4", (0.98, 1.0), (0.88, 0.98)),
    ],
)
def test_a_day_in_and_out_loses_what_the_books_say(name, ah_ends, wh_ends):
    table, limit = TABLES[name], BANKS[name].charging_volts
    full, ah_in, wh_in = run(table, 0.5, 15.0, most_volts=limit, until=lambda q, flow: flow < 1.0 or q > 1.0)
    _, ah_out, wh_out = run(table, full, -10.0, until=lambda q, flow: q <= 0.5)
    assert full > 0.94
    assert ah_ends[0] <= -ah_out / ah_in <= ah_ends[1]
    assert wh_ends[0] <= -wh_out / wh_in <= wh_ends[1]


@pytest.mark.outside(
    "gas of a vented cell at 2.40 V and 40 °C",
    source="IEC 62485-2, as quoted",
    number="20 mA/Ah, 5 times for age",
    tolerance="between new and worn out",
    seen="in a reproduction",
)
def test_gas_of_flooded_cells_lies_between_new_and_worn_out():
    volts, full = 6 * 2.40, 1.0
    table = TABLES["flooded lead-acid"]
    gas = bank_amps(volts, full, 40.0, table) - stored_amps(volts, full, 40.0, table)
    assert 0.4 <= gas <= 2.0


@pytest.mark.outside(
    "what a flooded bank loses in a month",
    source="common practice, no source",
    number="5 to 20 %",
    tolerance="none",
    seen="from memory",
)
def test_a_bank_left_alone_runs_down():
    table = TABLES["flooded lead-acid"]
    volts = volts_at(0.0, 0.9, 20.0, table)
    assert -0.20 * 100 / (30 * 24) < stored_amps(volts, 0.9, 20.0, table) < -0.05 * 100 / (30 * 24)


def test_a_full_bank_takes_less_and_less():
    for name in LEAD:
        amps = [bank_amps(BANKS[name].charging_volts, q, 25.0, TABLES[name]) for q in (0.5, 0.7, 0.9, 0.98, 1.0)]
        assert all(later < sooner for sooner, later in zip(amps[:-1], amps[1:], strict=True))
        assert amps[0] > 20.0 and amps[-1] < 1.0


@pytest.mark.parametrize("name", ALL)
def test_cold_cells_take_and_give_less(name):
    rest = rest_volts_of(0.6, TABLES[name])
    for step_v in (0.5, -0.5):
        cold, warm = (stored_amps(rest + step_v, 0.6, t, TABLES[name]) for t in (0.0, 25.0))
        assert abs(cold) < abs(warm)


def test_a_measured_inner_resistance_is_taken():
    stiff, soft = (bank_table(Bank(chemistry="LiFePO4", cells=4, inner_ohm=ohm)) for ohm in (0.0, 0.1))
    # 0.1 Ω·Ah of four cells over 100 Ah; 1 V over it, and over 0.1 Ω more.
    volts = rest_volts_of(0.5, stiff) - 1.0
    assert bank_amps(volts, 0.5, 25.0, stiff) == pytest.approx(-1.0 / 0.004)
    assert bank_amps(volts, 0.5, 25.0, soft) == pytest.approx(-1.0 / 0.104)


@given(chemistry, charge, share_of_volts, cell_c)
def test_never_more_is_stored_than_taken_and_more_volts_are_more_amps(name, charge, share, cell_c):
    table, volts = TABLES[name], share * rest_volts_of(charge, TABLES[name])
    amps, stored = bank_amps(volts, charge, cell_c, table), stored_amps(volts, charge, cell_c, table)
    assert stored <= amps + 1e-12 * abs(amps)
    assert bank_amps(volts + 0.01, charge, cell_c, table) > amps
    # What is not stored is lost, never won: in ohms, in gas, or as amps that turn to heat.
    assert volts * amps - rest_volts_of(charge, table) * stored >= -1e-9


@given(chemistry, charge, charge)
def test_energy_is_the_integral_of_the_rest_volts(name, one, other):
    at = np.linspace(one, other, 4001)
    middle = np.array([rest_volts_of(q, TABLES[name]) for q in 0.5 * (at[1:] + at[:-1])])
    expected = 100.0 * float(middle @ np.diff(at))
    moved = stored_wh(other, TABLES[name]) - stored_wh(one, TABLES[name])
    assert moved == pytest.approx(expected, abs=1e-5 * 1300)


@pytest.mark.parametrize("name", ALL)
def test_an_hour_of_seconds_adds_up(name):
    table, charge, put_wh = TABLES[name], 0.93, 0.0
    for second in range(3600):
        volts = rest_volts_of(charge, table) + (1.0 if second < 2400 else -0.4)
        step = stored_amps(volts, charge, 25.0, table) / 3600.0 / 100.0
        put_wh += 100.0 * step * rest_volts_of(charge + 0.5 * step, table)
        charge += step
    assert put_wh == pytest.approx(stored_wh(charge, table) - stored_wh(0.93, table), rel=1e-6)


def held(table, volts, charge, cell_c, seconds, slow_volts=0.0):
    """What is left in the cells after seconds at the same volts and charge."""
    for _ in range(seconds):
        slow_volts = next_slow_volts(volts, slow_volts, charge, cell_c, table)
    return slow_volts


# The capacitor is assumed, so only what has to hold whatever its size: at once the inner resistance alone, later all.
@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize(("charge", "over_v"), [(0.6, 0.8), (0.6, -0.8), (0.9, 0.5)])
def test_after_a_while_at_the_same_volts_the_amps_are_those_of_the_steady_bank(name, charge, over_v):
    table = TABLES[name]
    volts = rest_volts_of(charge, table) + over_v
    first = amps_at_once(volts, 0.0, charge, 15.0, table) - bank_amps(volts - over_v, charge, 15.0, table)
    slow_volts = held(table, volts, charge, 15.0, 20_000)
    assert amps_at_once(volts, slow_volts, charge, 15.0, table) == pytest.approx(
        bank_amps(volts, charge, 15.0, table), rel=1e-6
    )
    assert stored_at_once(volts, slow_volts, charge, table) == pytest.approx(
        stored_amps(volts, charge, 15.0, table), rel=1e-6
    )
    assert first == pytest.approx(over_v / BANKS[name].internal_ohm, rel=0.02)


def test_a_load_pulls_the_volts_down_by_and_by_and_they_come_back():
    table = TABLES["flooded lead-acid"]
    quick_v = -20.0 * BANKS["flooded lead-acid"].internal_ohm
    slow = [0.0]
    for _ in range(900):
        volts = rest_volts_of(0.6, table) + slow[-1] + quick_v
        slow.append(next_slow_volts(volts, slow[-1], 0.6, 25.0, table))
    assert all(later <= sooner for sooner, later in zip(slow[:-1], slow[1:], strict=True))
    # 0.27 Ω·Ah over the 1.5th power of the charge: Copetti and others, 1993 (from memory); 20 A, 6 cells, 100 Ah.
    assert slow[-1] == pytest.approx(-20.0 * 6 * 0.27 / 0.6**1.5 / 100.0, rel=0.01)
    rested = rest_volts_of(0.6, table)
    for _ in range(3600):
        slow.append(next_slow_volts(rested + slow[-1], slow[-1], 0.6, 25.0, table))
    assert abs(slow[-1]) < 1e-3


@given(chemistry, st.floats(0.1, 1.0), st.lists(st.tuples(st.floats(-60, 60), st.integers(1, 200)), max_size=6), cell_c)
def test_no_run_of_amps_gives_back_more_than_it_took(name, charge, steps, cell_c):
    table, bank, slow_volts = TABLES[name], BANKS[name], 0.0
    kept, lost_wh = stored_wh(charge, table), 0.0
    for amps, seconds in steps:
        for _ in range(seconds):
            volts = rest_volts_of(charge, table) + slow_volts + amps * bank.internal_ohm
            taken = amps_at_once(volts, slow_volts, charge, cell_c, table)
            stored = stored_at_once(volts, slow_volts, charge, table)
            assert stored <= taken
            slow_volts = next_slow_volts(volts, slow_volts, charge, cell_c, table)
            charge += stored / 3600.0 / bank.capacity_ah
            now = stored_wh(charge, table) + slow_wh(slow_volts, table)
            lost_wh = volts * taken / 3600.0 - (now - kept)
            kept = now
            assert lost_wh >= -1e-9 or volts < 0.0


# A lead-acid cell has as much over all of it.
@pytest.mark.outside(
    "volts of a LiFePO4 cell from 80 to 20 %",
    source="pybamm 26.10.1.1, Prada2013, 3.310 - 3.169",
    number="0.141 V",
    tolerance="at most 0.15 V",
    seen="computed by package",
)
def test_volts_of_lithium_do_not_tell_its_charge():
    eighty, twenty = (rest_volts_of(charge, TABLES["LiFePO4"]) / 4 for charge in (0.8, 0.2))
    assert 0.0 < eighty - twenty <= 0.15
