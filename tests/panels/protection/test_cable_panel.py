"""Panel of the cable: sizes as typed, ohms put where all pages take them from, nonsense in a sentence."""

import pytest

from statorbook.assembly.year import source_year_from
from statorbook.examples import jobs as example
from statorbook.job.parts.bank import BankPart
from statorbook.job.parts.cable import CablePart
from statorbook.job.progress import inputs_fingerprint
from statorbook.panels.protection.cable import DISTANCES, CablePanel
from statorbook.panels.protection.page import ProtectionPage
from statorbook.protection.cable_run import AT_BANK


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("cable", CablePart())
    return made


@pytest.fixture
def page(job):
    return ProtectionPage(job)


@pytest.fixture
def panel(page):
    return CablePanel(page)


def typed(panel, **fields):
    for name, text in fields.items():
        panel.form.fields[name].control.value = text


@pytest.mark.outside(
    "section of AWG 6 typed into a field of mm²",
    source="ASTM B258, table of areas",
    number="13.30 mm²",
    tolerance="0.1 %",
    seen="from memory",
)
def test_a_longer_run_asks_for_a_thicker_cable_at_once_and_a_gauge_is_a_size_too(panel):
    least = panel.shown_answer.headline["smallest that will do"]
    typed(panel, length_m="100")
    assert panel.sentence.startswith("100 m one way, two wires")
    assert float(panel.shown_answer.headline["smallest that will do"].split()[0]) > float(least.split()[0])
    assert {row[-1] for row in panel.shown_answer.table.rows} == {"", "too thin", "loses more than wished"}
    typed(panel, area_mm2="AWG 6")
    assert panel.form.part().area_mm2 == pytest.approx(13.30, rel=1e-3)
    assert "Yours, AWG 6 (13.3 mm²)" in panel.sentence
    assert panel.shown_answer.folded[DISTANCES]().startswith("<svg")


@pytest.mark.outside(
    "ohms of a kilometre of 25 mm², flexible copper",
    source="IEC 60228, table 3, class 5",
    number="0.780 Ω/km at 20 °C",
    tolerance="0.5 %",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "copper at 70 °C against 20 °C",
    source="IEC 60034-1, resistance method, 235 for copper",
    number="305/255",
    tolerance="0.5 %",
    seen="from memory",
)
def test_the_ohms_go_into_the_bank_and_nowhere_else(panel, page, job):
    assert "page 04 reckons with 0.02 Ω" in panel.sentence
    before, mark = job.bank, inputs_fingerprint(job)
    typed(panel, length_m="50", area_mm2="25")
    assert job.bank == before and job.cable.length_m == 10.0  # typed and not saved: nothing of page 04 moves
    panel.form.save()
    # There and back.
    loop = 2.0 * 0.050 * 0.780 * 305.0 / 255.0
    assert job.bank.cable_ohm == pytest.approx(loop, rel=0.005) and job.bank.ac_cable_ohm is None
    assert not job.bank.assumes("cable_ohm")
    assert page.plant().conditions.cable_ohm == job.bank.cable_ohm
    assert "All pages reckon with these" in panel.sentence and "look at the choice" not in panel.sentence
    # A choice made before is out of date now: it hangs on the mark of the bank.
    assert mark != inputs_fingerprint(job)


@pytest.mark.outside(
    "ohms of a kilometre of 16 mm², flexible copper",
    source="IEC 60228, table 3, class 5",
    number="1.21 Ω/km at 20 °C",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_a_run_behind_the_machine_puts_three_wires_into_the_bank(panel, page, job):
    typed(panel, length_m="50", rectifier_at=AT_BANK)
    assert "three wires of AC" in panel.sentence and "as long as the rotor turns" in panel.shown_answer.caution
    panel.form.save()
    wire = 0.050 * 1.21 * 305.0 / 255.0
    assert job.bank.cable_ohm == 0.0 and job.bank.ac_cable_ohm == pytest.approx(wire, rel=0.005)
    assert page.plant().conditions.ac_cable_ohm == job.bank.ac_cable_ohm
    assert BankPart(**job.bank.model_dump()) == job.bank


def test_ohms_of_an_assumed_run_stay_assumed(panel, job):
    panel.form.save()
    assert job.bank.assumes("cable_ohm") and not job.bank.assumes("ac_cable_ohm")
    assert "Still assumed: Cable from machine" in panel.sentence


def test_nonsense_is_answered_at_its_field_and_never_saved(panel, job):
    for fields, words in (
        ({"area_mm2": "0"}, "above 0 and at most 1000 mm²"),
        ({"length_m": "far"}, "is not a number"),
        ({"length_m": "800 m", "area_mm2": "2.5"}, "a run of up to 10 Ω is allowed"),
    ):
        typed(panel, **fields)
        assert any(words in field.help.value for field in panel.form.fields.values() if field.bad)
    assert job.cable == CablePart()


def test_over_the_year_it_says_what_is_lost_and_which_of_the_sizes_priced_pays(panel, job):
    typed(panel, length_m="60", area_mm2="25")
    prices = job.prices
    dear = prices.model_copy(update={"cable_prices": "10: 1.0, 16: 200, 70: 900", "kwh_price": 0.3})
    job.save_part("prices", dear)
    panel.page.tell()
    panel.redraw()
    assert source_year_from(job) is not None and "Over the year" in panel.sentence
    # What costs 200 a metre cannot be paid back by the few per cent that a thicker cable saves.
    assert "sizes priced 10 mm² leaves most" in panel.sentence
    job.save_part("prices", dear.model_copy(update={"cable_prices": "1.5: 0.1"}))
    panel.page.tell()
    panel.redraw()
    assert "Of the sizes priced" not in panel.sentence  # too thin for what can flow
