"""The bank: cell counts, volts from empty to charging, temperature, refusals."""

from math import nan

import pytest

from sentences import exactly, sentences_of
from statorbook.bank.battery import Bank, cells_for, chemistries
from statorbook.errors import BadInput

wording = sentences_of("bank")

LEAD = ("flooded lead-acid", "AGM", "gel")


def bank_of(chemistry, nominal_volts=12, **more):
    return Bank(chemistry=chemistry, cells=cells_for(chemistry, nominal_volts), **more)


# 2 V a lead-acid cell, 3.2 V a LiFePO4 cell: common practice, no source.
@pytest.mark.parametrize("nominal_volts", [12, 24, 48])
def test_usual_cell_counts(nominal_volts):
    assert {cells_for(name, nominal_volts) for name in LEAD} == {nominal_volts // 2}
    assert cells_for("LiFePO4", nominal_volts) == nominal_volts // 3


# Battery Council International table (from memory), 12 V rested at 26.7 °C: 12.24 V half full, 11.89 V empty; ±0.03 V.
@pytest.mark.parametrize(("state", "expected_volts"), [(1, 12.24), (0, 11.89)])
def test_published_rested_volts(state, expected_volts):
    assert bank_of("flooded lead-acid").states[state].volts == pytest.approx(expected_volts, abs=0.03)


# Flooded, rested at 20 °C: 12.20 V half full, 11.90 V empty, ±0.07 V; common practice, no source.
@pytest.mark.parametrize(("state", "expected_volts"), [(1, 12.20), (0, 11.90)])
def test_usual_rested_volts(state, expected_volts):
    assert bank_of("flooded lead-acid").states[state].volts == pytest.approx(expected_volts, abs=0.07)


# Charge limit 2.40 V a cell, gassing at 2.40 ± 0.05 V: common practice, no source.
# Dunlop 1997 (from memory), 12 V at 25 °C: flooded 14.4–14.8 V, valve-regulated 14.0–14.4 V.
# Linden (from memory): gel at most 2.35–2.40 V a cell, AGM 2.40–2.45 V a cell.
@pytest.mark.parametrize(
    ("chemistry", "least_volts", "most_volts"),
    [
        ("flooded lead-acid", 14.1, 14.7),
        ("flooded lead-acid", 14.4, 14.8),
        ("AGM", 14.0, 14.4),
        ("AGM", 14.4, 14.7),
        ("gel", 14.0, 14.4),
        ("gel", 14.0, 6 * 2.40),
    ],
)
def test_published_charging_volts(chemistry, least_volts, most_volts):
    assert least_volts - 1e-9 <= bank_of(chemistry).charging_volts <= most_volts + 1e-9
    assert bank_of(chemistry, 48).charging_volts == pytest.approx(4 * bank_of(chemistry).charging_volts)


# Flooded 2.23–2.30 V a cell on float at 25 °C, sealed 2.30 V: common practice, no source.
@pytest.mark.parametrize("chemistry", LEAD)
def test_published_float_volts(chemistry):
    assert 2.23 <= chemistries()[chemistry]["float_volts"] <= 2.30


# Dunlop 1997; IEEE 1361 (from memory): −5 mV per K and cell, so 0.3 V more for 12 V at 15 °C.
@pytest.mark.parametrize("chemistry", LEAD)
def test_published_temperature_compensation(chemistry):
    cold, usual, hot = (bank_of(chemistry, temperature_c=t).charging_volts for t in (15.0, 25.0, 35.0))
    assert cold - usual == pytest.approx(0.3, abs=1e-9)
    assert usual - hot == pytest.approx(0.3, abs=1e-9)


# Trade handling guideline 2024: a LiFePO4 cell 2.5 V at least, 3.65 V at most: 10.0–14.6, 29.2 and 58.4 V for 4, 8, 16
# cells.
@pytest.mark.parametrize(
    ("nominal_volts", "least_volts", "most_volts"), [(12, 10.0, 14.6), (24, 20.0, 29.2), (48, 40.0, 58.4)]
)
def test_published_lithium_limits(nominal_volts, least_volts, most_volts):
    bank = bank_of("LiFePO4", nominal_volts)
    assert least_volts <= bank.empty_volts < bank.half_volts < bank.charging_volts <= most_volts
    # 3.2 V nominal, same source.
    assert bank.empty_volts < 3.2 * bank.cells < bank.charging_volts


# Same source: charging 0–45 °C only.
@pytest.mark.parametrize(("temperature_c", "cautioned"), [(-0.1, True), (0.0, False), (45.0, False), (45.1, True)])
def test_lithium_outside_its_temperatures_is_cautioned(temperature_c, cautioned):
    caution = bank_of("LiFePO4", temperature_c=temperature_c).caution
    assert caution == (
        f"A LiFePO4 bank must not be charged at {temperature_c:g} °C (allowed: 0 to 45 °C): "
        "warm or cool it first, and let the charge control enforce it."
        if cautioned
        else ""
    )


@pytest.mark.parametrize("chemistry", [*LEAD, "LiFePO4"])
def test_states_rise_from_empty_to_charging_and_the_regulator_holds_the_last(chemistry):
    bank = bank_of(chemistry, 24, capacity_ah=200.0)
    assert [state.name for state in bank.states] == ["empty", "half full", "charging"]
    assert [state.volts for state in bank.states] == [bank.empty_volts, bank.half_volts, bank.charging_volts]
    assert bank.empty_volts < bank.half_volts < bank.charging_volts
    assert [state.ohm for state in bank.states] == [bank.internal_ohm, bank.internal_ohm, 0.0]


# About 5 mΩ for 12 V 100 Ah flooded: common practice, no source. Twice the plates halve it, twice the cells double it.
def test_inner_resistance_follows_cells_and_capacity():
    one = bank_of("flooded lead-acid").internal_ohm
    assert one == pytest.approx(0.005, rel=0.1)
    assert bank_of("flooded lead-acid", capacity_ah=200.0).internal_ohm == pytest.approx(one / 2)
    assert bank_of("flooded lead-acid", 24).internal_ohm == pytest.approx(one * 2)


@pytest.mark.parametrize("nominal_volts", [36, 0, -12, "12", None])
def test_an_unusual_nominal_voltage_is_refused(nominal_volts):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"nominal bank voltage: {nominal_volts} V was given; 12, 24 or 48 V is allowed here; "
            "for another bank type the number of cells in series."
        ),
    ):
        cells_for("AGM", nominal_volts)


@pytest.mark.parametrize("chemistry", ["NiMH", "agm", "", None])
def test_an_unknown_chemistry_is_refused(chemistry):
    known = "flooded lead-acid, AGM, gel, LiFePO4"
    sentence = f"bank chemistry: {chemistry!r} was given; allowed are {known}; choose one of them."
    with pytest.raises(BadInput, match=exactly(sentence)):
        Bank(chemistry=chemistry, cells=6)


@pytest.mark.parametrize("chemistry", ["NiMH", "agm", "", None])
def test_an_unknown_chemistry_is_not_taken_for_lead(chemistry):
    with pytest.raises(BadInput, match=wording("^bank chemistry: .* was given")):
        cells_for(chemistry, 12)


@pytest.mark.parametrize("cells", [0, -6, 241, 6.0, True, "6", None])
def test_a_bad_cell_count_is_refused(cells):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"cells in series: {cells!r} was given; a whole number from 1 to 240 is allowed; count the cells in series."
        ),
    ):
        Bank(chemistry="AGM", cells=cells)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"capacity_ah": 0}, wording("bank capacity: 0 Ah was")),
        ({"capacity_ah": nan}, wording("bank capacity: nan Ah was")),
        ({"temperature_c": 81}, wording("bank temperature: 81 °C was")),
        ({"temperature_c": "warm"}, wording("bank temperature: 'warm' is not")),
    ],
)
def test_a_bad_number_is_refused(changes, sentence):
    with pytest.raises(BadInput) as refusal:
        Bank(chemistry="AGM", cells=6, **changes)
    assert str(refusal.value) == sentence
