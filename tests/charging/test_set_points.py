"""Set-points: usual ones within what the books say, what is typed, what crosses, and the shift with temperature."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.bank.battery import Bank, cells_for
from statorbook.charging.set_points import POINT_NAMES, outside_usual, point_facts, usual_points, volts_at
from statorbook.errors import BadInput
from statorbook.job.parts.set_points import SetPointsPart

LEAD = ("flooded lead-acid", "AGM", "gel")
ALL = (*LEAD, "LiFePO4")
RISING = ("least_volts", "cut_off_volts", "alarm_low_volts", "return_volts", "float_volts", "absorption_volts",
          "equalise_volts", "alarm_high_volts", "most_volts")  # fmt: skip
wording = sentences_of("charging_points")


def bank_of(chemistry, nominal_volts=12, **more):
    return Bank(chemistry=chemistry, cells=cells_for(chemistry, nominal_volts), **more)


@pytest.mark.outside(
    "window of a LiFePO4 cell",
    source="common practice, no source",
    number="3.65 V at most, float 13.2 to 13.8 V for 4 cells, 0 to 45 °C",
    tolerance="none",
    seen="from memory",
)
def test_lithium_is_held_in_its_window():
    points = usual_points(bank_of("LiFePO4"))
    assert points.absorption_volts < points.alarm_high_volts <= 4 * 3.65 and 13.2 <= points.float_volts <= 13.8
    assert points.most_volts <= 4 * 3.65
    assert points.equalise_volts is None and points.compensation_v_per_k == 0.0
    assert (points.least_charging_c, points.most_charging_c) == (0.0, 45.0)
    assert points.float_volts < points.balance_volts < points.absorption_volts


@pytest.mark.parametrize(
    ("chemistry", "name", "cell_volts"),
    [
        pytest.param(
            "flooded lead-acid",
            "float_volts",
            2.23,
            marks=pytest.mark.outside(
                "float volts of vented lead cells",
                source="IEC 62485-2 (EN 50272-2), table of gas currents",
                number="2.23 V a cell",
                tolerance="inside the range",
                seen="in a reproduction",
            ),
        ),
        pytest.param(
            "AGM",
            "float_volts",
            2.27,
            marks=pytest.mark.outside(
                "float volts of sealed lead cells",
                source="IEC 62485-2 (EN 50272-2), table of gas currents",
                number="2.27 V a cell",
                tolerance="inside the range",
                seen="in a reproduction",
            ),
        ),
        ("gel", "float_volts", 2.27),
        pytest.param(
            "flooded lead-acid",
            "absorption_volts",
            2.40,
            marks=pytest.mark.outside(
                "boost volts of lead cells",
                source="IEC 62485-2 (EN 50272-2), table of gas currents",
                number="2.40 V a cell",
                tolerance="inside the range",
                seen="in a reproduction",
            ),
        ),
        ("AGM", "absorption_volts", 2.40),
        ("flooded lead-acid", "equalise_volts", 2.50),  # 15 V per 12 V: common practice, no source
    ],
)
def test_published_set_points_lie_in_the_usual_range(chemistry, name, cell_volts):
    fact = point_facts(bank_of(chemistry))[name]
    assert fact.low <= cell_volts <= fact.high


# For 6 cells; 13.80 V become 14.25 V at 0 °C.
@pytest.mark.outside(
    "float volts of lead cells by temperature",
    source="Battery University, BU-403, quoted",
    number="2.30 V at 25 °C, 2.33 at 15, 2.27 at 35 °C",
    tolerance="none",
    seen="in a reproduction",
)
@pytest.mark.parametrize(("cell_c", "expected"), [(25.0, 13.80), (15.0, 13.98), (35.0, 13.62), (0.0, 14.25)])
def test_colder_cells_are_charged_to_more_volts(cell_c, expected):
    points = usual_points(bank_of("flooded lead-acid"), float_volts=13.80, compensation_v_per_k=6 * -0.003)
    assert volts_at(points.float_volts, points, cell_c) == pytest.approx(expected, abs=1e-9)


@pytest.mark.outside(
    "compensation of lead cells",
    source="Dunlop, Batteries and Charge Control in Stand-Alone Photovoltaic Systems, 1997",
    number="−5 mV/K and cell",
    tolerance="−3 to −6 mV/K",
    seen="from memory",
)
@pytest.mark.parametrize("chemistry", LEAD)
def test_lead_is_compensated(chemistry):
    assert -0.006 <= usual_points(bank_of(chemistry, 24)).compensation_v_per_k / 12 <= -0.003


@pytest.mark.parametrize("chemistry", ALL)
@pytest.mark.parametrize("temperature_c", [-10.0, 40.0])
def test_they_are_of_the_whole_bank_at_25_c_whatever_its_temperature(chemistry, temperature_c):
    points = usual_points(bank_of(chemistry, 48, temperature_c=temperature_c))
    one = usual_points(bank_of(chemistry))
    for name in POINT_NAMES:
        small, large = getattr(one, name), getattr(points, name)
        assert (small is None and large is None) or large == pytest.approx(4 * small, abs=0.25)


@given(st.sampled_from(ALL), st.sampled_from(RISING), st.floats(0.3, 1.7))
def test_what_is_taken_rises_from_never_below_to_never_above(chemistry, name, share):
    bank = bank_of(chemistry)
    usual = getattr(usual_points(bank), name) or bank.charging_volts
    try:
        points = usual_points(bank, **{name: share * usual})
    except BadInput as refusal:
        assert refusal.where == "set-points" and "\n" not in str(refusal)
        return
    there = [getattr(points, each) for each in RISING if getattr(points, each) is not None]
    assert there == sorted(set(there))


@pytest.mark.parametrize("low, high", list(zip(RISING[:-1], RISING[1:], strict=True)))
def test_two_that_cross_or_meet_are_refused_by_name(low, high):
    bank = bank_of("flooded lead-acid")
    points = usual_points(bank)
    for volts in (getattr(points, high), getattr(points, high) + 0.01):
        with pytest.raises(BadInput) as refused:
            usual_points(bank, **{low: volts})
        assert POINT_NAMES[low] in refused.value.given and POINT_NAMES[high] in refused.value.given


@pytest.mark.parametrize(
    ("said", "typed"),
    [
        (wording("crossed"), {"absorption_volts": 13.0}),
        (wording("equalised"), {"equalise_volts": 14.3}),
        (wording("compensated"), {"compensation_v_per_k": -0.01}),
        (wording("too cold"), {"least_charging_c": -1.0}),
        (wording("too high"), {"most_volts": 16.0}),
        (wording("one temperature"), {"least_charging_c": 5.0, "most_charging_c": 5.0}),
    ],
)
def test_a_refusal_is_one_sentence(said, typed):
    with pytest.raises(BadInput) as refused:
        SetPointsPart(**typed).to_points(bank_of("LiFePO4"))
    assert str(refused.value) == said


def test_never_equalised_where_it_is_typed_so():
    bank = bank_of("flooded lead-acid")
    assert usual_points(bank).equalise_volts == pytest.approx(15.0)
    assert usual_points(bank, equalise_volts=0.0).equalise_volts is None
    assert usual_points(bank_of("AGM")).equalise_volts is None
    assert usual_points(bank_of("AGM"), equalise_volts=14.9).equalise_volts == 14.9


def test_what_is_outside_the_usual_is_named_with_its_range():
    bank = bank_of("flooded lead-acid", 24)
    assert outside_usual(usual_points(bank), bank) == ()
    # Charging limit of flooded cells 2.35–2.45 V: common practice, no source.
    ((name, volts, ends),) = outside_usual(usual_points(bank, absorption_volts=29.6), bank)
    assert (name, volts) == ("absorption", 29.6) and ends == pytest.approx((28.2, 29.4))
    for edge in (28.2, 29.4):
        assert outside_usual(usual_points(bank, absorption_volts=edge), bank) == ()
    ((name, *_),) = outside_usual(usual_points(bank, absorption_volts=28.1), bank)
    assert name == "absorption"


# A regulator of four cells and more is set in tenths of a volt, of fewer in hundredths; a temperature as it is.
@pytest.mark.parametrize("chemistry", ALL)
@pytest.mark.parametrize(("cells", "places"), [(1, 2), (3, 2), (4, 1), (16, 1)])
def test_usual_ones_are_what_a_regulator_can_be_set_to(chemistry, cells, places):
    bank = Bank(chemistry=chemistry, cells=cells)
    points, facts = usual_points(bank), point_facts(bank)
    for name in (*POINT_NAMES, "least_charging_c", "most_charging_c", "compensation_v_per_k"):
        volts = getattr(points, name)
        if volts is None:
            continue
        fact = facts[name]
        if name.endswith("_c"):
            assert volts == fact.value
        elif name.endswith("_volts"):
            low, high = cells * fact.low, cells * fact.high
            assert volts == pytest.approx(min(max(round(cells * fact.value, places), low), high), abs=1e-9)
        else:
            assert volts == pytest.approx(cells * fact.value)


# The ends of what a chemistry stands may be typed, and a hair past them no more.
@pytest.mark.parametrize(
    ("name", "end", "past"),
    [
        ("most_volts", "high", 0.01),
        ("least_volts", "low", -0.01),
        ("least_charging_c", "low", -0.1),
        ("most_charging_c", "high", 0.1),
    ],
)
@pytest.mark.parametrize("chemistry", ["flooded lead-acid", "LiFePO4"])
def test_a_bank_is_taken_to_the_ends_of_its_chemistry(chemistry, name, end, past):
    bank = bank_of(chemistry, 24)
    edge = getattr(point_facts(bank)[name], end) * (1 if name.endswith("_c") else bank.cells)
    assert getattr(usual_points(bank, **{name: edge}), name) == edge
    with pytest.raises(BadInput, match="for [0-9]+ cells"):
        usual_points(bank, **{name: edge + past})


def test_balancing_lies_between_return_and_absorption_and_is_lithium_s_alone():
    bank = bank_of("LiFePO4")
    points = usual_points(bank)
    assert usual_points(bank, balance_volts=points.float_volts - 0.1).balance_volts == points.float_volts - 0.1
    for volts in (points.return_volts, points.absorption_volts):
        with pytest.raises(BadInput, match=POINT_NAMES["balance_volts"]):
            usual_points(bank, balance_volts=volts)
    with pytest.raises(BadInput, match="without such electronics"):
        usual_points(bank_of("gel"), balance_volts=13.9)
    assert usual_points(bank, compensation_v_per_k=0.0).compensation_v_per_k == 0.0


def test_an_older_job_and_an_empty_part_take_the_usual():
    bank = bank_of("gel")
    assert SetPointsPart().to_points(bank) == usual_points(bank)


# 15 cells in series are as usual for 48 V as 16; at most 3.65 V a cell (common practice, no source) are 54.75 V.
@pytest.mark.parametrize("cells", [7, 15, 23])
def test_the_usual_ones_of_any_number_of_cells_are_not_refused(cells):
    assert usual_points(Bank(chemistry="LiFePO4", cells=cells)).most_volts <= 3.65 * cells + 1e-9
