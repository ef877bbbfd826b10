"""Panel of the dump loads: what is typed counts at once, nonsense is one sentence, the example stays the example's."""

import pytest

from samples.pages import refused
from statorbook.examples import jobs as example
from statorbook.job.parts.dump import DumpPart
from statorbook.panels.charging.dump import DumpPanel
from statorbook.panels.charging.page import ChargingPage


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("dump", DumpPart())
    return made


@pytest.fixture
def panel(job):
    return DumpPanel(ChargingPage(job))


def test_loads_are_judged_as_typed_and_saved(panel, job):
    assert "Assumed until you type yours" in panel.sentence
    panel.form.fields["dump_1_ohm"].control.value = "30"
    assert "First: stands for hours" in refused(panel)
    panel.form.fields["dump_1_watts"].control.value = "200"
    assert "does not do" in panel.sentence and panel.shown_answer.headline["one dead"] == "0 %"
    panel.form.save()
    assert job.read().dump.to_dumps()[0].ohm == 30.0
    assert panel.shown_answer.pictures[0].startswith("<svg")


def test_water_is_its_own_part(panel, job):
    panel.water.fields["litres"].control.value = "100"
    panel.water.fields["heater_watts"].control.value = "700"
    assert "The cylinder takes" in panel.sentence
    panel.water.save()
    assert job.read().water.litres == 100.0 and "The cylinder takes" in panel.sentence


def test_the_table_has_loads_that_would_do(panel):
    rows = panel.shown_answer.table.rows
    assert rows and all(row[5] <= row[6] for row in rows)


@pytest.mark.parametrize(
    ("field", "text"), [("dump_1_ohm", "0"), ("dump_1_ohm", "-2"), ("dump_2_watts", "much"), ("dump_3_ohm", "1e9")]
)
def test_nonsense_keeps_the_last_answer(panel, field, text):
    good = panel.shown_answer
    panel.form.fields[field].control.value = text
    assert panel.shown_answer is good and "\n" not in panel.sentence
    assert panel.message.last_fault == ""


def test_it_speaks_us(panel):
    panel.water.fields["litres"].control.value = "100"
    panel.water.fields["heater_watts"].control.value = "700"
    panel.in_units("US")
    assert "120 V" in panel.sentence and "°F" in panel.sentence and "°C" not in panel.sentence
