"""What a bank drives through a spanner, and how far that may be off."""

from math import inf

import pytest

from statorbook.bank.battery import Bank, chemistries
from statorbook.bank.short_circuit import short_circuit


# Half full such a bank has 12.24 V.
@pytest.mark.outside(
    "short-circuit amps of 12 V behind 5 mΩ", source="Ohm's law", number="2400 A", tolerance="3 %", seen="derived"
)
def test_volts_over_the_resistance_inside():
    bank = Bank(chemistry="flooded lead-acid", cells=6, inner_ohm=0.005)
    assert short_circuit(bank).likely_amps == pytest.approx(2400.0, rel=0.03)


@pytest.mark.outside(
    "six 6 V batteries of 2400 A as a bank of 12 V",
    source="ABYC E-11, as quoted by boat owners in a discussion",
    number="7200 A",
    tolerance="1e-6",
    seen="in a reproduction",
)
def test_strings_add_up_and_cells_in_series_do_not():
    one = short_circuit(Bank(chemistry="flooded lead-acid", cells=3, capacity_ah=200.0))
    six = short_circuit(Bank(chemistry="flooded lead-acid", cells=6, capacity_ah=600.0))
    assert six.likely_amps / one.likely_amps == pytest.approx(7200 / 2400)
    assert six.most_amps / one.most_amps == pytest.approx(7200 / 2400)


@pytest.mark.outside(
    "resistance inside a bank of 12 V that gives 11.5 V",
    source="Robertson, Basic Electrical and Electronic Engineering, example 1.10, p. 16",
    number="0.1 Ω at 5 A",
    tolerance="1e-6",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "volts left of a cell of 2.0 V at 5 A",
    source="Bird, Electrical Circuit Theory and Technology, example 4.2, p. 35",
    number="1.9 V with 0.02 Ω",
    tolerance="1e-6",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("volts", "inner_ohm", "load_ohm", "amps"), [(12.0, 0.1, 2.3, 5.0), (2.0, 0.02, 0.38, 5.0)])
def test_a_loop_outside_holds_it_down(volts, inner_ohm, load_ohm, amps):
    bank = Bank(chemistry="flooded lead-acid", cells=round(volts / 2), inner_ohm=inner_ohm)
    found = short_circuit(bank, outside_ohm=load_ohm).likely_amps
    assert found * volts / bank.half_volts == pytest.approx(amps, rel=1e-6)


@pytest.mark.parametrize("chemistry", sorted(chemistries()))
def test_its_ends_hold_the_likely_one(chemistry):
    bank = Bank(chemistry=chemistry, cells=8, capacity_ah=150.0)
    low, high = bank.internal_ohm_ends
    assert 0.0 < low < bank.internal_ohm < high
    found = short_circuit(bank)
    assert found.least_amps < found.likely_amps < found.most_amps == pytest.approx(bank.charging_volts / low)


def test_a_bank_without_resistance_has_no_limit():
    assert short_circuit(Bank(chemistry="AGM", cells=6, inner_ohm=0.0)).least_amps == inf
