"""Cable and pipe that pay: Kelvin's law as judge, losses against the exact search, prices as typed."""

from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import windings
from samples.year_samples import machine, windy, year_of
from sentences import exactly, sentences_of
from statorbook.cable.ampacity import carried_amps
from statorbook.cable.ohms import cable_ohm
from statorbook.cable.sizes import CABLE_AWG, CABLE_MM2
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pipe import MATERIALS, Pipe
from statorbook.drives.piped_jet import PipedJet
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_points
from statorbook.year.energy import grouping_years
from statorbook.year.pays import cable_years, payback, pipe_bores_mm, pipe_years
from statorbook.year.pays_words import pays_words, sizes_words
from statorbook.year.price_list import read_prices

wording = sentences_of("year_pays")


@pytest.mark.outside(
    "section of AWG 4/0 and AWG 6",
    source="ASTM B258, table of areas",
    number="107.2, 13.30 mm²",
    tolerance="0.1 %",
    seen="from memory",
)
def test_gauges_in_mm2():
    assert [CABLE_AWG[name] for name in ("AWG 4/0", "AWG 6")] == pytest.approx([107.2, 13.30], rel=1e-3)


@pytest.mark.outside(
    "amps of AWG 3 and 3/0 copper, 75 °C",
    source="NEC table 310.16 (2020, 2023)",
    number="100, 200 A",
    tolerance="not above",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "amps of 16 mm², three loaded, method B2, 30 °C",
    source="IEC 60364-5-52, quoted in an instruction book",
    number="62 A",
    tolerance="not above",
    seen="in a reproduction",
)
def test_what_a_cable_carries_errs_to_the_safe_side():
    # AWG 3 and 3/0 in mm², then 16 mm².
    assert (carried_amps(np.array([26.7, 85.0, 16.0])) < [100.0, 200.0, 62.0]).all()
    assert carried_amps(1.0) == 0.0 and carried_amps(1000.0) < 200.0


@pytest.mark.outside(
    "bore of steel pipe DN 50, medium", source="EN 10255", number="53.1 mm", tolerance="0.5 mm", seen="from memory"
)
@pytest.mark.outside(
    "bore of polyethylene pipe 63 mm, SDR 13.6",
    source="ISO 4427",
    number="53.6 mm",
    tolerance="0.5 mm",
    seen="from memory",
)
@pytest.mark.parametrize("material, bore_mm", [("steel", 53.1), ("polyethylene", 53.6)])
def test_bores_that_are_sold(material, bore_mm):
    assert min(abs(bore - bore_mm) for bore in pipe_bores_mm(material, 40.0, 70.0)) < 0.5
    assert all(40.0 <= bore <= 70.0 for bore in pipe_bores_mm(material, 40.0, 70.0))


# Outside diameter and wall of the medium series, EN 10255 (from memory), DN 15 to DN 150; ISO 161-1 (from memory).
STEEL_MM = ((21.3, 2.6), (26.9, 2.6), (33.7, 3.2), (42.4, 3.2), (48.3, 3.2), (60.3, 3.6), (76.1, 3.6), (88.9, 4.0),
            (114.3, 4.5), (139.7, 5.0), (165.1, 5.0))  # fmt: skip
PLASTIC_MM = (20, 25, 32, 40, 50, 63, 75, 90, 110, 125, 160, 200, 250, 315)


def test_every_pipe_that_is_sold():
    assert pipe_bores_mm("steel", 0.0, 999.0) == pytest.approx(
        [outer - 2.0 * wall for outer, wall in STEEL_MM], abs=0.4
    )
    for material in ("PVC", "polyethylene"):
        share = 1.0 + 2.0 * MATERIALS[material].wall_share.value
        assert pipe_bores_mm(material, 0.0, 999.0) == pytest.approx([d / share for d in PLASTIC_MM], abs=0.051)
    # Usual bores of pipe of concrete; common practice, no source. Both ends of what is asked for are in it.
    assert pipe_bores_mm("concrete", 100.0, 500.0) == [100.0, 150.0, 200.0, 250.0, 300.0, 400.0, 500.0]
    assert pipe_bores_mm("concrete", 100.1, 499.9) == [150.0, 200.0, 250.0, 300.0, 400.0]


@pytest.mark.outside(
    "cable whose copper and loss cost alike",
    source="Kelvin's law of the economic section, in closed form I √(2 ρ h p N / (1000 c))",
    number="29.86 mm²",
    tolerance="1 %",
    seen="derived",
)
def test_kelvin_s_law_of_the_economic_section():
    amps, hours, length_m, kwh_price, years, price_mm2_m = 20.0, 5000.0, 30.0, 0.4, 10.0, 0.35
    areas = np.linspace(2.0, 120.0, 4721)
    price = price_mm2_m * areas * length_m
    rho = 0.0195  # Ω·mm²/m: any will do
    lost = hours * amps**2 * 2.0 * rho * length_m / areas / 1000.0
    found = payback(price, 4000.0 - lost, kwh_price=kwh_price, years=years)
    # Least cost where the yearly cost of the loss is that of the copper.
    assert price[found.best] == pytest.approx(years * kwh_price * lost[found.best], rel=0.01)
    area = amps * np.sqrt(2.0 * rho * hours * kwh_price * years / (1000.0 * price_mm2_m))
    assert areas[found.best] == pytest.approx(area, rel=0.01)
    # Up to there a step pays back within the years, beyond it no more.
    assert found.step_years[found.best] <= years < found.step_years[found.best + 1]


def test_what_costs_more_and_gives_no_more_never_pays():
    found = payback([30.0, 10.0, 20.0], [100.0, 90.0, 90.0], kwh_price=0.5, years=3.0)
    assert found.order == (1, 2, 0) and found.best == 1
    # 10 more for 10 kWh more at 0.5 a year: two years; 10 more for nothing: never.
    assert found.step_years[[0, 2]].tolist() == [2.0, np.inf] and np.isnan(found.step_years[1])
    # 3 years × 90 kWh × 0.5 − 10.
    assert found.left_over[1] == pytest.approx(125.0)


# Over 3 years at 0.5 a kilowatt-hour, by hand: 90 kWh leave 125 after 10; 110 leave 145 after 20; 95 leave 122.5 after
# 20, and a step of 10 for 5 kWh a year is paid back in 4 years.
@pytest.mark.parametrize(
    "prices, kwh, sentences",
    [
        ((10.0, 20.0), (90.0, 90.0), (wording("Of the sizes priced thin"), wording("The step to thick never"))),
        ((10.0, 20.0), (90.0, 95.0), (wording("Of the sizes priced thin"), wording("The step to thick would"))),
        ((10.0, 20.0), (90.0, 110.0), (wording("thick leaves most, over thin"), wording("It is the dearest of"))),
    ],
)
def test_which_size_pays_in_words(prices, kwh, sentences):
    prices, kwh = np.array(prices), np.array(kwh)
    found = payback(prices, kwh, kwh_price=0.5, years=3.0)
    said = pays_words(("thin", "thick"), kwh, prices, found, years=3.0)
    assert said == " ".join(sentences)


def test_cables_over_a_year_against_the_exact_search():
    now, source = machine(), windy([4.0, 6.0, 9.0], [3000.0, 2000.0, 900.0])
    winding, areas = windings()[4], np.array([4.0, 16.0, 50.0])
    found = cable_years(now, source, winding, cable_ohm(25.0, areas), areas)
    for place, ohm in enumerate(cable_ohm(25.0, areas)):
        around = replace(now.setting.conditions, cable_ohm=float(ohm))
        points = [operating_points(drive, [winding], now.bank.states[1], around) for drive in source.drives]
        lost, kwh = (
            sum(hours * getattr(point, name)[0, 0] for hours, point in zip((3.0, 2.0, 0.9), points, strict=True))
            for name in ("cable_watts", "bank_watts")
        )
        assert found.kwh[place] == pytest.approx(kwh, rel=0.002)
        assert found.loss_kwh[place] == pytest.approx(lost, rel=0.005)
    assert found.loss_kwh[0] > 8.0 * found.loss_kwh[2] > 0.0


def test_three_wires_over_a_year_against_the_exact_search():
    now, source, winding = machine(), windy([6.0, 9.0], [2000.0, 900.0]), windings()[4]
    (ohm,) = ohms = cable_ohm(25.0, np.array([4.0]), wires=1)
    found = cable_years(now, source, winding, ohms, [4.0], ac=True)
    around = replace(now.setting.conditions, ac_cable_ohm=float(ohm))
    points = [operating_points(drive, [winding], now.bank.states[1], around) for drive in source.drives]
    amps = np.array([point.phase_amps_rms[0, 0] for point in points])
    dc = np.array([point.dc_amps[0, 0] for point in points])
    # Three wires with the rms amps of a lead, and the DC cable that is there as well.
    watts = 3.0 * ohm * amps**2 + around.cable_ohm * dc**2
    hours = np.array([2.0, 0.9])
    assert found.loss_kwh[0] == pytest.approx(hours @ watts, rel=0.01)
    assert found.kwh[0] == pytest.approx(hours @ [point.bank_watts[0, 0] for point in points], rel=0.002)


def test_the_cable_of_the_job_gives_the_year_of_the_job():
    now, source = machine(), windy([4.0, 6.0, 9.0], [3000.0, 2000.0, 900.0])
    year = grouping_years(now, source, windings()[4:5])[0]
    found = cable_years(now, source, windings()[4], [now.setting.conditions.cable_ohm], [16.0])
    assert found.kwh[0] == pytest.approx(year.kwh, rel=1e-12)
    assert found.most_amps[0] == pytest.approx(year.dc_amps.max())
    # A wind that never blows counts for nothing, one of half an hour does.
    for hours, most in ((0.0, year.dc_amps[1]), (0.5, year.dc_amps[2])):
        seldom = windy([4.0, 6.0, 9.0], [3000.0, 2000.0, hours])
        found = cable_years(now, seldom, windings()[4], [now.setting.conditions.cable_ohm], [16.0])
        assert found.most_amps[0] == pytest.approx(most)
    assert year.dc_amps[2] > 1.1 * year.dc_amps[1]


def test_a_wider_pipe_gives_what_it_leaves_of_the_drop():
    pipe = Pipe(length_m=150.0, bore_mm=50.0, material="polyethylene")
    jet = PipedJet(gross_head_m=35.0, pipe=pipe, pitch_diameter_mm=260.0, nozzle_mm=14.0)

    def year_with(bore_mm):
        return year_of([replace(jet, pipe=replace(pipe, bore_mm=bore_mm))], [8760.0])

    found = pipe_years(machine(), year_with, windings()[4], [40.0, 50.0, 65.0, 100.0])
    assert (np.diff(found.kwh) > 0.0).all() and np.isnan(found.loss_kwh).all()
    free = replace(jet, pipe=replace(pipe, bore_mm=900.0))
    most = grouping_years(machine(), year_of([free], [8760.0]), windings()[4:5])[0].kwh
    assert found.kwh[-1] < most < 1.02 * found.kwh[-1]


@pytest.mark.parametrize(
    "text, unit, expected",
    [
        ("16: 4.20, 25: 6.80", "mm²", {16.0: 4.20, 25.0: 6.80}),
        ("25: 6,80, 16: 4,20", "mm²", {16.0: 4.20, 25.0: 6.80}),
        ("16:4,25:6", "mm²", {16.0: 4.0, 25.0: 6.0}),
        ("53: 3.1; 64 mm: 4.4\n2.5 in: 4.5", "mm", {53.0: 3.1, 63.5: 4.5, 64.0: 4.4}),
        ("  ", "mm", {}),
    ],
)
def test_prices_are_read_as_people_type_them(text, unit, expected):
    found = read_prices(text, unit, where="prices")
    assert {size: price for size, (_, price) in found.items()} == pytest.approx(expected)
    assert list(found) == sorted(found)


@pytest.mark.outside(
    "section of AWG 2/0", source="ASTM B258, table of areas", number="67.43 mm²", tolerance="0.1 %", seen="from memory"
)
def test_a_gauge_by_the_foot():
    # A foot is 0.3048 m.
    ((area, (typed, price)),) = read_prices("awg 2/0: 1.20/ft", "mm²", where="prices").items()
    assert (area, price) == (pytest.approx(67.43, rel=1e-3), pytest.approx(1.20 / 0.3048)) and typed == "AWG 2/0"


# A foot is 0.3048 m.
@pytest.mark.parametrize(
    "price, a_metre",
    [
        ("3.048/ft", 10.0),
        ("3.048 per foot", 10.0),
        ("3.048 a ft", 10.0),
        ("4.2/m", 4.2),
        ("4.2 per metre", 4.2),
        ("4.2 a meter", 4.2),
        ("0", 0.0),
        ("1000000", 1e6),
    ],
)
def test_prices_a_metre_and_a_foot(price, a_metre):
    ((size, (typed, found)),) = read_prices(f"16: {price}", "mm²", where="prices").items()
    assert (size, typed, found) == (16.0, "16 mm²", pytest.approx(a_metre))


@pytest.mark.parametrize(
    "text, unit, told",
    [
        ("2000: 1", "mm²", None),
        ("2001: 1", "mm²", "2001"),
        ("0.06: 1", "mm", None),
        ("0.05: 1", "mm", "0.05"),
        ("16: 1000001", "mm²", "a price a metre"),
        ("AWG 6: 1", "mm", "AWG 6"),
        ("thick " * 10 + ": 1", "mm", f"“{'thick ' * 6}thic”: "),
        ("no colon", "mm", "such as 53: 4.20"),
    ],
)
def test_sizes_and_prices_at_their_ends(text, unit, told):
    if told is None:
        assert len(read_prices(text, unit, where="prices")) == 1
    else:
        with pytest.raises(BadInput) as refused:
            read_prices(text, unit, where="prices")
        assert told in str(refused.value)


@pytest.mark.parametrize(
    "text, sentence",
    [
        ("16: 4.2, cheap", wording("an entry without a colon")),
        ("16: 4.2, 25: dear", wording("an entry without a price")),
        ("thick: 4.2", wording("an entry without a size")),
        ("16: -3", wording("a price below nothing")),
        ("16: 4.2; 16 mm²: 5", wording("one size twice")),
    ],
)
def test_prices_that_cannot_be_read_name_their_entry(text, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        read_prices(text, "mm²", where="Cable, price a metre")


def test_sizes_rise():
    assert list(CABLE_MM2) == sorted(CABLE_MM2) and list(CABLE_AWG.values()) == sorted(CABLE_AWG.values())


# More than half a kilowatt-hour less through a thicker one is worth a word; the ends of what can be used are told.
@pytest.mark.parametrize("thick, told", [(100.6, False), (100.0, False), (99.5, False), (99.4, True), (60.0, True)])
def test_that_thicker_gives_less_is_said_where_it_does(thick, told):
    kwh = np.array([90.0, 80.0, 100.0, 101.0, thick, 110.0])
    names = ("now", "thin", "small", "middle", "large", "huge")
    said = sizes_words(names, kwh, (True, False, True, True, True, False))
    now = wording("As it is (now)")
    assert said.startswith(f"{now} small: 100 kWh. large: {thick:.0f} kWh.")
    assert ("Thicker gives less" in said) is told
    assert sizes_words(names, kwh, [False] * 6) == now
    assert sizes_words(names[:2], kwh[:2], [True] * 2) == f"{now} thin: 80 kWh."


def test_the_step_that_is_told_is_that_to_the_next_dearer():
    # Over 3 years at 0.5: 90 kWh leave 125 after 10, 110 leave 145 after 20, 114 leave 131 after 40 and 116 leave 84.
    prices, kwh = np.array([90.0, 20.0, 10.0, 40.0]), np.array([116.0, 110.0, 90.0, 114.0])
    found = payback(prices, kwh, kwh_price=0.5, years=3.0)
    assert found.order == (2, 1, 3, 0) and found.left_over.tolist() == [84.0, 145.0, 125.0, 131.0]
    said = pays_words(("d", "b", "a", "c"), kwh, prices, found, years=3.0)
    # 20 more for 4 kWh more at 0.5 a year: ten years.
    assert (
        "over a +20.0 kWh a year" in said
        and "for 10 more" in said
        and "The step to c would" in said
        and "in 10 years" in said
    )


def test_the_most_amps_of_a_pipe_are_those_of_what_runs_at_all():
    drives = [KnownSpeed(working_rpm=rpm) for rpm in (400.0, 600.0, 900.0)]
    amps = grouping_years(machine(), year_of(drives, [1.0] * 3), windings()[4:5])[0].dc_amps
    hours = {40.0: [100.0, 0.0, 0.0], 50.0: [100.0, 0.5, 0.0], 60.0: [100.0, 0.0, 2.0]}
    found = pipe_years(machine(), lambda bore: year_of(drives, hours[bore]), windings()[4], list(hours))
    assert found.most_amps == pytest.approx(amps) and amps[0] < amps[1] < amps[2]
    assert found.sizes.tolist() == [40.0, 50.0, 60.0]


# ASTM B258: 0.127 mm × 92^((36 − n)/39), n = 1 − 4 for AWG 4/0, the thickest; 32 is 0.2019 mm, 33 0.180 mm.
@pytest.mark.parametrize(
    "gauge, number, read", [("32", 32, True), ("33", 33, False), ("4/0", -3, True), ("5/0", -4, False)]
)
def test_gauges_from_a_fifth_of_a_millimetre_to_the_thickest(gauge, number, read):
    if read:
        ((area, (typed, _)),) = read_prices(f"AWG {gauge}: 1", "mm²", where="prices").items()
        diameter_mm = 0.127 * 92.0 ** ((36.0 - number) / 39.0)
        assert typed == f"AWG {gauge}" and area == pytest.approx(np.pi * diameter_mm**2 / 4.0, abs=6e-4)
    else:
        with pytest.raises(BadInput, match="allowed"):
            read_prices(f"AWG {gauge}: 1", "mm²", where="prices")
