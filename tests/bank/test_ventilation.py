"""Fresh air for a lead-acid bank that charges."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from statorbook.bank.battery import Bank
from statorbook.bank.ventilation import GAS_MA_PER_AH, Ventilation, ventilation


# Worked by hand with the printed 0.05; kept here is the product 24 × 0.42/1000 × 5 = 0.0504, 0.8 % more.
@pytest.mark.outside(
    "air for 24 vented cells of 400 Ah",
    source="IEC 62485-2, as quoted, factor 0.05",
    number="9.6 m³/h at 2.40 V, 2.4 m³/h on float",
    tolerance="0.9 %",
    seen="derived",
)
def test_a_vented_bank_of_48_volts():
    air = ventilation(Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=400.0), 0.0)
    assert (air.boost_m3_h, air.float_m3_h) == pytest.approx((9.6, 2.4), rel=0.009)
    assert air.most_m3_h == air.boost_m3_h >= 9.6


# At 5, 50 and 200 mA/Ah, with 0.0504.
@pytest.mark.outside(
    "air for 95 cells of 1450 Ah",
    source="EN 50272-2, worked case, in an uploaded planning sheet without author",
    number="34.71, 347.13, 1388.52 m³/h",
    tolerance="0.006 m³/h",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("gas", "m3_h"), [(5.0, 34.71), (50.0, 347.13), (200.0, 1388.52)])
def test_a_worked_case(monkeypatch, gas, m3_h):
    monkeypatch.setitem(GAS_MA_PER_AH, "gel", (gas, gas))
    assert ventilation(Bank(chemistry="gel", cells=95, capacity_ah=1450.0), 0.0).boost_m3_h == pytest.approx(
        m3_h, abs=0.006
    )


@pytest.mark.outside(
    "gas of vented and of sealed cells",
    source="IEC 62485-2, as quoted by a calculator of battery rooms, without author",
    number="5 and 20 mA/Ah, 1 and 8 mA/Ah",
    tolerance="1e-6",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    ("chemistry", "on_float", "boost"), [("flooded lead-acid", 5, 20), ("AGM", 1, 8), ("gel", 1, 8)]
)
def test_gas_of_each_kind(chemistry, on_float, boost):
    air = ventilation(Bank(chemistry=chemistry, cells=6, capacity_ah=1000.0), 0.0)
    assert (air.float_m3_h, air.boost_m3_h) == pytest.approx((0.0504 * 6 * on_float, 0.0504 * 6 * boost))


# As makers print it of IEC 62485-2.
@pytest.mark.outside(
    "openings for the air",
    source="common practice, no source",
    number="28 cm² for each m³/h",
    tolerance="1e-6",
    seen="from memory",
)
def test_openings():
    air = Ventilation(float_m3_h=1.0, boost_m3_h=9.6, uncontrolled_m3_h=0.0)
    assert air.opening_cm2 == pytest.approx(268.8)


# 24 times as much air, five times for safety.
@pytest.mark.outside(
    "hydrogen of an amp in an hour and cell",
    source="Faraday's law",
    number="0.42 L at 0 °C",
    tolerance="1e-6",
    seen="derived",
)
def test_a_stuck_control_puts_all_amps_into_gas():
    air = ventilation(Bank(chemistry="AGM", cells=12, capacity_ah=100.0), 50.0)
    assert air.most_m3_h == air.uncontrolled_m3_h == pytest.approx(0.42e-3 * 12 * 50 * 24 * 5)


def test_lithium_cells_give_off_no_hydrogen():
    assert ventilation(Bank(chemistry="LiFePO4", cells=16), 50.0) is None


@given(st.integers(1, 30), st.floats(10.0, 1000.0), st.floats(0.0, 200.0), st.floats(1.0, 3.0))
@settings(max_examples=25)
def test_more_cells_amp_hours_or_amps_never_need_less_air(cells, amp_hours, amps, more):
    def most(cells, amp_hours, amps):
        return ventilation(Bank(chemistry="gel", cells=cells, capacity_ah=amp_hours), amps).most_m3_h

    least = most(cells, amp_hours, amps) * (1 - 1e-9)
    assert min(most(2 * cells, amp_hours, amps), most(cells, more * amp_hours, amps)) >= least
    assert most(cells, amp_hours, more * amps) >= least
