"""The panel of cable and pipe that pay: prices as typed, sizes that cannot be used, what is chosen."""

import pytest

from samples.pages import cells, is_stale, overlapping, refused, shown
from samples.year_samples import own_job
from statorbook.job.parts.cable import CablePart
from statorbook.job.parts.drive import DrivePart
from statorbook.job.parts.prices import PricesPart
from statorbook.panels.year.pays import CABLE, PIPE, PaysPanel
from statorbook.protection.cable_run import AT_BANK

CABLES = "4: 1.1, 10: 2.9, 16: 4.4, 25: 6.9, 50: 14.0, 120: 36.0"


@pytest.fixture
def job(tmp_path):
    return own_job(tmp_path, "spring_pipe", water_year_from="the same all year")


def piped(job):
    fields = {**job.drive.model_dump(), "head_from": "drop and pipe", "gross_head_m": 33.0, "pipe_length_m": 150.0}
    job.save_part("drive", DrivePart(**fields | {"pipe_bore_mm": 55.0, "pipe_material": "polyethylene"}))
    return job


def table(panel):
    return {row[0]: row for row in cells(panel.shown_answer.table.html())}


def test_without_prices_every_size_gives_its_energy_and_nothing_is_chosen(job):
    panel = PaysPanel(job)
    assert panel.message.text == "" and shown(panel)[1].count("<svg") == 1
    assert "type prices" in panel.sentence and "pays best" not in panel.shown_answer.headline
    rows = table(panel)
    assert "16 mm²" in rows and all(row[3:6] == ["", "", ""] for row in rows.values())
    assert float(rows["120 mm²"][2]) < float(rows["6 mm²"][2])


@pytest.mark.outside(
    "amps of two loaded wires of 2.5 mm², PVC, conduit (B2), 40 °C",
    source="IEC 60364-5-52, table B.52.2, and 0.87 at 40 °C",
    number="20 A: too little for 1.25 × 20 A",
    tolerance="none",
    seen="from memory",
)
def test_a_cable_too_thin_for_the_amps_never_pays(job):
    # 20 A can flow here.
    job.save_part("cable", CablePart(length_m=25.0))
    job.save_part("prices", PricesPart(cable_prices="1.5: 0.1, 2.5: 0.2, 10: 9.0", kwh_price=0.01))
    panel = PaysPanel(job)
    assert overlapping(panel.figure) == []
    assert table(panel)["2.5 mm²"][6] == "cannot be used" and table(panel)["10 mm²"][6] == ""
    assert panel.shown_answer.headline["pays best"] == "10 mm²"
    assert "too thin" in panel.shown_answer.caution and "local electrical code" in panel.shown_answer.caution
    panel.form.fields["cable_prices"].control.value = "1.5: 0.1, 2.5: 0.2"
    assert "pays best" not in panel.shown_answer.headline


def test_more_worth_and_more_years_buy_a_thicker_cable(job):
    job.save_part("cable", CablePart(length_m=60.0))
    job.save_part("prices", PricesPart(cable_prices=CABLES, kwh_price=0.02, years=1))
    panel, chosen = PaysPanel(job), []
    for kwh_price, years in (("0.02", "1"), ("0.3", "10"), ("5", "40")):
        panel.form.fields["kwh_price"].control.value = kwh_price
        panel.form.fields["years"].control.value = years
        chosen.append(float(panel.shown_answer.headline["pays best"].split()[0]))
    assert chosen == sorted(chosen) and chosen[0] < chosen[2]


def test_the_length_is_that_of_the_cable_of_page_06(job):
    job.save_part("cable", CablePart(length_m=30.0, area_mm2=35.0))
    panel = PaysPanel(job)
    panel.form.fields["cable_prices"].control.value = "16: 4.0"
    assert table(panel)["16 mm²"][3] == "120"  # 30 m at 4.0 a metre
    panel.run.fields["length_m"].control.value = "40"
    panel.run.save()
    assert (job.cable.length_m, job.cable.area_mm2) == (40.0, 35.0) and table(panel)["16 mm²"][3] == "160"


def test_three_wires_cost_half_as_much_again_and_lose_by_their_own_ohms(job):
    job.save_part("cable", CablePart(length_m=30.0, area_mm2=16.0, rectifier_at=AT_BANK))
    job.save_part("bank", job.cable.put_into(job.bank))
    panel = PaysPanel(job)
    panel.form.fields["cable_prices"].control.value = "16: 4.0"
    rows = table(panel)
    assert rows["16 mm²"][3] == "180"
    # Yours by its ohms is the 16 mm² that is priced: the same loss.
    assert rows["yours: 16 mm²"][1:3] == rows["16 mm²"][1:3] and float(rows["16 mm²"][2]) > 0.0


def test_a_pipe_by_its_bore(job):
    panel = PaysPanel(piped(job))
    panel.what.value = PIPE
    kwh = [float(row[1]) for row in table(panel).values()]
    assert kwh == sorted(kwh) and kwh[-1] > 1.1 * kwh[0]
    panel.form.fields["pipe_prices"].control.value = "42: 2.0, 64: 4.4, 80: 40"
    panel.form.fields["kwh_price"].control.value = "0.2"
    assert panel.shown_answer.headline["pays best"] == "64 mm"


def test_a_jet_without_a_pipe_is_asked_for_cable_alone(job):
    panel = PaysPanel(job)
    assert [value for _, value in panel.what.options] == [CABLE]
    assert "pipe_prices" not in panel.form.fields


def test_nonsense_names_its_entry_and_the_last_answer_stays(job):
    panel = PaysPanel(job)
    panel.form.fields["cable_prices"].control.value = "16: 4.2, cheap"
    assert is_stale(panel) and "“cheap”" in refused(panel) and panel.form.fields["cable_prices"].bad
