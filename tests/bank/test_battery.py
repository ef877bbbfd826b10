"""The bank: cell counts, volts from empty to charging, temperature, refusals."""

import csv
from importlib.resources import files
from math import nan

import pytest

from sentences import exactly, sentences_of
from statorbook.bank.battery import Bank, cells_for, chemistries
from statorbook.bank.tables import table_facts
from statorbook.errors import BadInput

wording = sentences_of("bank")

LEAD = ("flooded lead-acid", "AGM", "gel")


def bank_of(chemistry, nominal_volts=12, **more):
    return Bank(chemistry=chemistry, cells=cells_for(chemistry, nominal_volts), **more)


@pytest.mark.outside(
    "volts of a cell, lead-acid and LiFePO4",
    source="common practice, no source",
    number="2 V, 3.2 V",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize("nominal_volts", [12, 24, 48])
def test_usual_cell_counts(nominal_volts):
    assert {cells_for(name, nominal_volts) for name in LEAD} == {nominal_volts // 2}
    assert cells_for("LiFePO4", nominal_volts) == nominal_volts // 3


@pytest.mark.outside(
    "rested volts of a 12 V lead bank, half full and empty",
    source="Battery Council International, table at 26.7 °C",
    number="12.24, 11.89 V",
    tolerance="0.03 V",
    seen="from memory",
)
@pytest.mark.parametrize(("state", "expected_volts"), [(1, 12.24), (0, 11.89)])
def test_published_rested_volts(state, expected_volts):
    assert bank_of("flooded lead-acid").states[state].volts == pytest.approx(expected_volts, abs=0.03)


@pytest.mark.outside(
    "rested volts of a flooded 12 V bank",
    source="common practice, no source",
    number="12.20, 11.90 V",
    tolerance="0.07 V",
    seen="from memory",
)
@pytest.mark.parametrize(("state", "expected_volts"), [(1, 12.20), (0, 11.90)])
def test_usual_rested_volts(state, expected_volts):
    assert bank_of("flooded lead-acid").states[state].volts == pytest.approx(expected_volts, abs=0.07)


@pytest.mark.outside(
    "charging volts of a 12 V lead bank at 25 °C",
    source="Dunlop, Batteries and Charge Control in Stand-Alone PV Systems, 1997",
    number="flooded 14.4 to 14.8 V, valve-regulated 14.0 to 14.4 V",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.outside(
    "highest volts of gel and AGM cells",
    source="Linden, Handbook of Batteries",
    number="gel 2.35 to 2.40 V, AGM 2.40 to 2.45 V",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.outside(
    "charge limit of a flooded cell",
    source="common practice, no source",
    number="2.40 ± 0.05 V",
    tolerance="none",
    seen="from memory",
)
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


@pytest.mark.outside(
    "float volts of a lead cell at 25 °C",
    source="common practice, no source",
    number="2.23 to 2.30 V",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize("chemistry", LEAD)
def test_usual_float_volts(chemistry):
    assert 2.23 <= chemistries()[chemistry]["float_volts"] <= 2.30


@pytest.mark.outside(
    "charging volts for each kelvin and lead cell",
    source="Dunlop 1997; IEEE 1361",
    number="−5 mV",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize("chemistry", LEAD)
def test_published_temperature_compensation(chemistry):
    cold, usual, hot = (bank_of(chemistry, temperature_c=t).charging_volts for t in (15.0, 25.0, 35.0))
    assert cold - usual == pytest.approx(0.3, abs=1e-9)
    assert usual - hot == pytest.approx(0.3, abs=1e-9)


@pytest.mark.outside(
    "least, nominal and most volts of a LiFePO4 cell",
    source="common practice, no source",
    number="2.5, 3.2, 3.65 V",
    tolerance="none",
    seen="from memory",
)
@pytest.mark.parametrize(
    ("nominal_volts", "least_volts", "most_volts"), [(12, 10.0, 14.6), (24, 20.0, 29.2), (48, 40.0, 58.4)]
)
def test_usual_lithium_limits(nominal_volts, least_volts, most_volts):
    bank = bank_of("LiFePO4", nominal_volts)
    assert least_volts <= bank.empty_volts < bank.half_volts < bank.charging_volts <= most_volts
    # 3.2 V nominal, same source.
    assert bank.empty_volts < 3.2 * bank.cells < bank.charging_volts


@pytest.mark.outside(
    "temperatures in which a LiFePO4 cell may charge",
    source="common practice, no source",
    number="0 to 45 °C",
    tolerance="none",
    seen="from memory",
)
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


# Twice the plates halve it, twice the cells double it.
@pytest.mark.outside(
    "resistance of a flooded 12 V bank of 100 Ah",
    source="common practice, no source",
    number="5 mΩ",
    tolerance="10 %",
    seen="from memory",
)
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


# By hand from the rows of tables/bank_chemistry.csv: 2.67 V and −5 mV/K a flooded cell, at most 40 K below 25 °C.
@pytest.mark.parametrize(
    ("temperature_c", "volts"), [(25.0, 6 * 2.87), (50.0, 6 * 2.87), (-15.0, 6 * 2.87), (-25.0, 6 * 2.92)]
)
def test_the_highest_volts_are_those_of_the_worst_cold(temperature_c, volts):
    assert bank_of("flooded lead-acid", temperature_c=temperature_c).highest_volts == pytest.approx(volts)
    assert bank_of("LiFePO4", temperature_c=temperature_c).highest_volts == pytest.approx(4 * 3.65)


@pytest.mark.parametrize("chemistry", [*LEAD, "LiFePO4"])
def test_facts_of_a_chemistry_are_the_rows_of_the_table(chemistry):
    with files("statorbook").joinpath("tables", "bank_chemistry.csv").open(encoding="utf-8", newline="") as table:
        rows = {row["quantity"]: row for row in csv.DictReader(table) if row["chemistry"] == chemistry}
    found, bank = table_facts("bank_chemistry", chemistry), bank_of(chemistry, 24, capacity_ah=150.0)
    assert set(found) == set(rows)
    for name, fact in found.items():
        row = rows[name]
        assert (fact.value, fact.low, fact.high) == tuple(float(row[each]) for each in ("value", "low", "high"))
        assert (fact.unit, fact.source) == (row["unit"], row["source"])
    assert bank.lowest_volts == pytest.approx(bank.cells * float(rows["lowest_volts"]["value"]))
    assert (bank.usable_share, bank.round_trip_share) == tuple(
        float(rows[name]["value"]) for name in ("usable_share", "round_trip_share")
    )
    assert bank.capacity_kwh == pytest.approx(0.15 * bank.cells * float(rows["half_volts"]["value"]))
    ends = [bank.cells * float(rows["internal_ohm_ah"][each]) / 150.0 for each in ("low", "high")]
    assert bank.internal_ohm_ends == pytest.approx(ends)


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [("cells", 1, 240), ("capacity_ah", 1e-9, 100_000), ("temperature_c", -40, 80), ("inner_ohm", 0.0, 100)],
)
def test_a_bank_may_be_as_small_and_as_large_as_is_said(name, least, most):
    for value in (least, most):
        assert getattr(Bank(**{"chemistry": "AGM", "cells": 6, name: value}), name) == value
    for value in (0.0 if name == "capacity_ah" else least - 1, most + 1):
        with pytest.raises(BadInput):
            Bank(**{"chemistry": "AGM", "cells": 6, name: value})


# Most of the amp-hours in an hour: the usual share of the table, itself still no reason to speak.
@pytest.mark.parametrize("chemistry", [*LEAD, "LiFePO4"])
def test_more_amps_than_usual_are_told(chemistry):
    bank = bank_of(chemistry, capacity_ah=200.0)
    usual = 200.0 * chemistries()[chemistry]["most_charging_share"]
    assert bank.amps_caution(usual) == "" and bank.amps_caution(usual + 0.1).startswith(f"{usual + 0.1:.1f} A is")
