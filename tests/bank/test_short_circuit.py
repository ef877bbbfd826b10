"""What a bank drives through a spanner, and how far that may be off."""

from math import inf

import pytest

from statorbook.bank.battery import Bank, chemistries
from statorbook.bank.short_circuit import short_circuit


# A trade page on battery short circuits (read): 12 V behind 5 mΩ, 2400 A; half full such a bank has 12.24 V.
def test_volts_over_the_resistance_inside():
    bank = Bank(chemistry="flooded lead-acid", cells=6, inner_ohm=0.005)
    assert short_circuit(bank).likely_amps == pytest.approx(2400.0, rel=0.03)


# Boat practice, ABYC E-11, quoted (read): six 6 V batteries of 2400 A each as a bank of 12 V drive 7200 A.
def test_strings_add_up_and_cells_in_series_do_not():
    one = short_circuit(Bank(chemistry="flooded lead-acid", cells=3, capacity_ah=200.0))
    six = short_circuit(Bank(chemistry="flooded lead-acid", cells=6, capacity_ah=600.0))
    assert six.likely_amps / one.likely_amps == pytest.approx(7200 / 2400)
    assert six.most_amps / one.most_amps == pytest.approx(7200 / 2400)


# Robertson, Ex. 1.10 (read): a bank of 12 V gives 11.5 V at 5 A, so 0.1 Ω inside; Bird, Ex. 4.2 (read): 2.0 V, 0.02 Ω.
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
