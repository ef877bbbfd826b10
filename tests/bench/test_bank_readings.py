"""Bank volts as read: what each usual bank can show is taken, what it cannot is refused with the reason."""

import pytest

from sentences import sentences_of
from statorbook.bank.battery import Bank, cells_for
from statorbook.bench.bank_readings import require_bank_volts, volts_shown
from statorbook.errors import BadInput

wording = sentences_of("bench")

CHEMISTRIES = ("flooded lead-acid", "AGM", "gel", "LiFePO4")


def bank_of(chemistry, nominal_volts, **more):
    return Bank(chemistry=chemistry, cells=cells_for(chemistry, nominal_volts), **more)


@pytest.mark.outside(
    "banks that are mistaken for each other",
    source="common practice, no source",
    number="12, 24 and 48 V",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize("chemistry", CHEMISTRIES)
@pytest.mark.parametrize("own, other", [(12, 24), (12, 48), (24, 12), (24, 48), (48, 12), (48, 24)])
def test_a_bank_of_another_voltage_is_refused(chemistry, own, other):
    for bank_state in bank_of(chemistry, other).states:
        with pytest.raises(BadInput, match=wording("V was given; .* cells")):
            require_bank_volts(bank_of(chemistry, own), bank_state.volts, "run log, row 2")


@pytest.mark.outside(
    "volts of 12 V of lead, rested and empty",
    source="Battery Council International, table of open-circuit volts",
    number="11.89 V",
    tolerance="3 % of a meter",
    seen="from memory",
)
@pytest.mark.outside(
    "volts of 12 V of lead, gassing and equalising cold",
    source="Dunlop, Batteries and Charge Control in Stand-Alone PV Systems, 1997",
    number="14.4 V; 2.67 V a cell and 5 mV/K a cell",
    tolerance="3 % of a meter",
    seen="from memory",
)
@pytest.mark.outside(
    "lowest volts of 12 V of lead, and the ends of a LiFePO4 cell",
    source="common practice, no source",
    number="10.5 V; 2.5 and 3.65 V",
    tolerance="3 % of a meter",
    seen="from memory",
)
@pytest.mark.parametrize(
    "chemistry, volts",
    [
        *((name, volts) for name in CHEMISTRIES[:3] for volts in (10.5, 11.89, 14.4)),
        ("flooded lead-acid", 17.2),
        ("LiFePO4", 4 * 2.5),
        ("LiFePO4", 4 * 3.65),
    ],
)
@pytest.mark.parametrize("times", [1, 2, 4])
@pytest.mark.parametrize("meter", [0.97, 1.03])
def test_what_a_bank_can_show_is_taken_with_a_poor_meters_error(chemistry, volts, times, meter):
    require_bank_volts(bank_of(chemistry, 12 * times), times * volts * meter, "run log, row 2")


def test_too_many_volts_mean_that_the_bank_is_off():
    with pytest.raises(BadInput) as refusal:
        require_bank_volts(bank_of("LiFePO4", 24), 48.0, "run log, row 2, Bank volts, DC [V]")
    assert str(refusal.value).startswith(wording("run log, row 2, Bank"))
    assert "the bank is not joined" in refusal.value.next_step and "stop the source" in refusal.value.next_step


def test_a_colder_bank_may_show_more():
    assert volts_shown(bank_of("AGM", 12, temperature_c=-30))[1] > volts_shown(bank_of("AGM", 12))[1]
