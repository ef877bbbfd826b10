"""A stream over the year: mean power of textbook flows, never more water than there is, and dry or missing months."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.machine_samples import JET, windings
from samples.year_samples import machine
from sentences import exactly, sentences_of
from statorbook.bench.logs import blank_row
from statorbook.bench.year_logs import MONTHS
from statorbook.drives.pipe import Pipe
from statorbook.drives.piped_jet import PipedJet
from statorbook.drives.water_jet import WaterJet
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_points
from statorbook.year.energy import grouping_years
from statorbook.year.nozzles import best_outlet
from statorbook.year.source import MONTH_HOURS
from statorbook.year.water import read_water_months, year_of_same_water, year_of_water

wording = sentences_of("year_source")

PIPED = PipedJet(
    gross_head_m=30.0,
    pipe=Pipe(length_m=200.0, bore_mm=75.0, material="polyethylene", strainer=True),
    pitch_diameter_mm=260.0,
    nozzle_mm=14.0,
)
NOZZLES = (8.0, 10.0, 12.0, 14.0)
STREAM = (6.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.5, 0.0, 1.0, 3.0, 5.0, 6.0)  # invented [L/s]


def row(month, flow, **cells):
    return blank_row("water_months") | {"month": month, "flow_l_s": str(flow)} | cells


def months(flows):
    return read_water_months([row(month, flow) for month, flow in zip(MONTHS, flows, strict=True) if flow is not None])


def watts_by_month(year):
    """Shaft watts at the best speed in each month."""
    watts = np.array([drive.best_shaft_watts for drive in year.drives])
    return year.hours @ watts / MONTH_HOURS


def bore_for(flow_l_s, head_m):
    """Continuity: flow = area × speed, speed = 0.97 √(2 g H) (see `WaterJet`)."""
    return 1000.0 * (4.0 * flow_l_s / 1000.0 / (pi * 0.97 * (2.0 * 9.80665 * head_m) ** 0.5)) ** 0.5


@pytest.mark.parametrize(
    "flows, head_m, efficiency, scale, wanted_watts, tolerance",
    [
        pytest.param(
            [1000, 800, 600, 400, 400, 1200, 2400, 2400, 1000, 400, 400, 1000],
            150,
            0.85,
            1e-3,
            1250.35,
            1e-4,
            marks=pytest.mark.outside(
                "mean power of a year of monthly flows, m³/s",
                source="B. R. Gupta, Generation of Electrical Energy, example 8.2, p. 134",
                number="1250.35 MW",
                tolerance="0.01 %",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            [30, 25, 20, 0, 10, 50, 80, 100, 110, 65, 45, 30],
            90,
            0.86,
            1e6 / 2592e3,
            13_790,
            1e-3,
            marks=pytest.mark.outside(
                "mean power of a year of monthly flows, Mm³ a month",
                source="Nag, Power Plant Engineering, example 10.19, p. 725",
                number="13.79 MW",
                tolerance="0.1 %",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            [80, 50, 40, 20, 0, 100, 150, 200, 250, 120, 100, 80],
            100,
            0.80,
            1e6 / 2592e3,
            30_020,
            1e-3,
            marks=pytest.mark.outside(
                "mean power of a year with a month without water",
                source="B. R. Gupta, Generation of Electrical Energy, example 8.5, p. 154: its inputs, worked out anew",
                number="30.02 MW",
                tolerance="0.1 %",
                seen="derived",
            ),
        ),
        pytest.param(
            [600] * 12,
            200,
            0.88,
            1e-3,
            1036,
            1e-3,
            marks=pytest.mark.outside(
                "mean power of 600 m³/s at 200 m",
                source="Chakrabarti et al., Power System Engineering, example 1.7.26, p. 85",
                number="1036 MW",
                tolerance="0.1 %",
                seen="in a reproduction",
            ),
        ),
    ],
)
def test_the_mean_power_of_textbook_months(flows, head_m, efficiency, scale, wanted_watts, tolerance):
    """Each month has the nozzle that takes all of its water; flows and watts are a small part of the book's."""
    litres = [flow * scale for flow in flows]
    widest = bore_for(max(litres), head_m)
    jet = WaterJet(head_m=head_m, pitch_diameter_mm=8.0 * widest, nozzle_mm=widest, efficiency=efficiency)
    typed = [
        row(month, f"{flow:.7f}", nozzle_mm=f"{(1 - 1e-6) * bore_for(flow, head_m):.9f}") if flow else row(month, "0")
        for month, flow in zip(MONTHS, litres, strict=True)
    ]
    year = year_of_water(jet, read_water_months(typed))
    assert watts_by_month(year).mean() == pytest.approx(wanted_watts, rel=tolerance)
    assert year.hours.sum() == pytest.approx(sum(MONTH_HOURS[m] for m in range(12) if litres[m]))


@pytest.mark.outside(
    "weeks in which a stream has 1100, 1000 … 100 m³/s",
    source="Chakrabarti et al., Power System Engineering, example 1.7.25, p. 85",
    number="1, 2, 3, 4, 6, 7, 9, 10, 11, 12, 13 of 13 weeks, mean 600 m³/s",
    tolerance="exact",
    seen="in a reproduction",
)
def test_how_often_a_stream_feeds_a_nozzle_is_its_duration_table():
    weeks = [200, 300, 1100, 700, 900, 800, 600, 1000, 500, 400, 500, 700, 100]
    assert np.mean(weeks) == 600.0
    table = [
        sum(
            best_outlet([WaterJet(head_m=150, pitch_diameter_mm=2000, flow_l_s=draws)], flow) is not None
            for flow in weeks
        )
        for draws in range(1000, 0, -100)
    ]
    assert [1, *table] == [1, 2, 3, 4, 6, 7, 9, 10, 11, 12, 13]


def test_a_flow_that_never_changes_gives_its_watts_all_year():
    now = machine()
    watts = operating_points(JET, windings(), now.bank.states[1], now.setting.conditions).bank_watts[:, 0]
    enough = months([1.01 * JET.total_flow_l_s] * 12)
    for year in (year_of_same_water(JET), year_of_water(JET, enough)):
        # Definition: 8760 h of the same watts.
        assert [each.kwh for each in grouping_years(now, year)] == pytest.approx(8.76 * watts, rel=0.002, abs=0.5)
        assert year.drives == (JET,) and year.hours.sum() == 8760.0


def test_each_month_takes_the_nozzle_of_most_power_that_its_water_fills():
    year = year_of_water(PIPED, months(STREAM), NOZZLES)
    assert [drive.nozzle_mm for drive in year.drives] == list(NOZZLES)
    assert wording("14 mm from November") in year.words
    assert wording("It stands still from") in year.words
    assert year.hours[7].sum() == year.hours[8].sum() == 0.0 and year.hours[6, 0] == MONTH_HOURS[6]
    assert year.months_known and not year.gaps
    for drive in year.drives:
        # Bernoulli's equation: what the pipe takes and the jet's own head make up the drop, for each nozzle anew.
        jet_m = (drive.jet_m_s / 0.97) ** 2 / (2.0 * 9.80665)
        assert jet_m + PIPED.pipe.loss_m(drive.total_flow_l_s) == pytest.approx(30.0)


def test_what_would_run_in_a_dry_month_is_said():
    words = year_of_water(PIPED, months([*STREAM[:7], 0.5, *STREAM[8:]]), NOZZLES).words
    assert wording("One nozzle of 7.3") in words
    # A tenth of a millimetre more would draw more than September has.
    seven_three, seven_four = (replace(PIPED, nozzle_mm=bore).total_flow_l_s for bore in (7.3, 7.4))
    assert seven_three <= 1.0 < seven_four


def test_a_nozzle_wider_than_page_03_knows_is_said():
    assert wording("wider than the largest") in year_of_water(PIPED, months([9.0] * 12), (20.0,)).words
    known = replace(PIPED, largest_nozzle_mm=20.0)
    assert "wider" not in year_of_water(known, months([9.0] * 12), (20.0,)).words


# What another nozzle does to the head of a pipe nobody knows; a hundredth of its bore is no other nozzle.
@pytest.mark.parametrize("jet, bore, said", [(JET, 10.0, True), (JET, 13.9, False), (PIPED, 10.0, False)])
def test_an_unknown_pipe_is_told_with_another_nozzle(jet, bore, said):
    assumed = year_of_water(jet, months([60.0] * 12), (bore,)).assumed
    assert any(words.startswith(wording("the same net head")) for words in assumed) is said


def test_one_of_two_jets_runs_where_the_water_is_too_little_for_both():
    both = WaterJet(head_m=28.0, pitch_diameter_mm=260.0, nozzle_mm=10.0, jets=2)
    year = year_of_water(both, months([4.0] * 6 + [2.0] * 6))
    assert [drive.jets for drive in year.drives] == [1, 2]
    assert wording("2 jets of 10") in year.words


def test_months_without_a_row_are_filled_between_those_beside_and_named():
    year = year_of_water(PIPED, months([6, None, None, 4, 3, 2, 1.5, 0, 1, 3, 5, 6]), NOZZLES)
    assert year.gaps == (wording("No flow was typed"),)
    assert "the flow from February to March" in year.assumed and "within ± 25 %" in year.assumed[-1]
    one = year_of_water(PIPED, months([3.0] + [None] * 11), NOZZLES)
    assert not one.months_known and one.hours.sum() == 8760.0
    assert one.gaps == (wording("Only the flow of"),)


def test_a_head_typed_for_a_month_is_that_of_the_drive():
    rows = [row(month, 6.0, head_m="25" if month == "Jul" else "") for month in MONTHS]
    year = year_of_water(PIPED, read_water_months(rows))
    assert [drive.gross_head_m for drive in year.drives] == [25.0, 30.0]
    assert year.hours[6, 0] == MONTH_HOURS[6]
    jets = year_of_water(JET, read_water_months([row(month, 60.0, head_m="20") for month in MONTHS]))
    assert [drive.head_m for drive in jets.drives] == [20.0]


def test_the_last_digit_of_a_flow_does_not_stop_the_nozzle_that_it_was_measured_with():
    flow = round(PIPED.total_flow_l_s, 1)
    assert flow < PIPED.total_flow_l_s
    assert year_of_water(PIPED, months([flow] * 12)).hours.sum() == 8760.0
    still = months([0.97 * PIPED.total_flow_l_s] * 11 + [9.0])
    assert year_of_water(PIPED, still).hours.sum() == MONTH_HOURS[11]


@settings(max_examples=40)
@given(
    st.lists(st.floats(0.0, 9.0), min_size=12, max_size=12), st.sets(st.sampled_from((6, 8, 11, 14, 17)), min_size=1)
)
def test_no_month_draws_more_than_it_has(flows, bores):
    jet = WaterJet(head_m=28.0, pitch_diameter_mm=260.0, nozzle_mm=10.0, jets=2)
    try:
        year = year_of_water(jet, months([f"{flow:.3f}" for flow in flows]), sorted(bores))
    except BadInput:
        # Only when no month fills the narrowest nozzle.
        assert max(flows) < 1.02 * replace(jet, nozzle_mm=min(bores), jets=1).total_flow_l_s
        return
    drawn = year.hours @ year.setting / MONTH_HOURS
    assert (drawn <= 1.02 * np.array(flows) + 0.001).all() and (year.hours.sum(axis=1) <= MONTH_HOURS).all()
    # No more than the water that is there and drawn can give, by definition: ρ g H min(Q, most drawn) η.
    most = 9.80665 * 28.0 * 0.7 * np.minimum(np.array(flows) + 0.001, year.setting.max()) * 1.02
    assert (watts_by_month(year) <= most + 1e-6).all()


@pytest.mark.parametrize(
    "cells, where, given",
    [
        ({"flow_l_s": "-1"}, "Flow available [L/s]", '"-1" was given'),
        ({"flow_l_s": ""}, "Flow available [L/s]", "the cell is empty"),
        ({"nozzle_mm": "0"}, "Nozzle that runs [mm]", '"0" was given'),
        ({"jets_open": "1.5"}, "Jets open [jets]", "1.5 jets were given"),
        ({"jets_open": "2"}, "Jets open [jets]", "2 open jets were given"),
        ({"head_m": "0"}, "Head [m]", '"0" was given'),
        ({"month": "Foo"}, "Month", "“Foo” was given"),
        ({"month": "Jan"}, "Month", "January stands in row 1 already"),
    ],
)
def test_a_bad_row_is_refused_by_row_and_field(cells, where, given):
    rows = [row(month, 3.0) for month in MONTHS]
    rows[6] |= cells
    with pytest.raises(BadInput) as refused:
        year_of_water(PIPED, read_water_months(rows))
    assert str(refused.value).startswith(f"water months log, row 7, {where}: {given}; ")


def test_a_typed_nozzle_that_the_month_cannot_fill_is_refused_with_the_widest_that_it_can():
    rows = [row(month, 6.0) for month in MONTHS]
    rows[6] |= {"flow_l_s": "1.1", "nozzle_mm": "14"}
    said = wording("water months log, row")
    with pytest.raises(BadInput, match=exactly(said)):
        year_of_water(PIPED, read_water_months(rows))


def test_a_stream_without_water_for_any_nozzle_and_a_nozzle_that_the_runner_cannot_use_are_refused():
    with pytest.raises(BadInput, match=wording("water months log: the")):
        year_of_water(PIPED, months([0.5] * 12), NOZZLES)
    with pytest.raises(BadInput, match="^nozzle of 2 mm: "):
        year_of_water(PIPED, months([5.0] * 12), (2.0, 8.0))


def test_a_stream_that_is_dry_has_no_nozzle_to_be_told_of_and_two_rows_tell_months_apart():
    words = year_of_water(PIPED, months([9.0] * 10 + [0.0, 0.0]), NOZZLES).words
    assert "still from November to December" in words and "would run on" not in words
    two = year_of_water(PIPED, months([9.0, 6.0] + [None] * 10), NOZZLES)
    assert two.months_known and "from March to December" in two.gaps[0]
    same = year_of_same_water(PIPED)
    assert not same.months_known and same.year_share == 0.25 and same.gaps == ()
    assert read_water_months([]) == read_water_months([blank_row("water_months")]) == ()


# A thousandth is no wider nozzle; the widest of all that run counts.
@pytest.mark.parametrize("bores, said", [((14.01,), False), ((14.02,), True), ((8.0, 14.02), True)])
def test_a_nozzle_is_wider_by_more_than_a_thousandth(bores, said):
    assert ("is wider than the largest" in year_of_water(PIPED, months([9.0] * 12), bores).words) is said
