"""The panel of what may stand between machine and bank, and page 04 with a converter in the job."""

import pytest

from samples.pages import cells, refused, shown
from statorbook.assembly.machine import machine_from
from statorbook.assembly.year import source_year_from
from statorbook.examples import jobs as example
from statorbook.job.parts.converter import STEP_DOWN, ConverterPart
from statorbook.job.parts.year.part import YearPart
from statorbook.operation.survival import LETS_GO
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.settle import SettlePanel
from statorbook.panels.year.converter import ConverterPanel
from statorbook.year.between import between_years

VOLTS = dict(window_low_volts="30", window_high_volts="120", survives_volts="150")


@pytest.fixture
def job(tmp_path):
    job = example.write(tmp_path, "ridge_rotor")
    job.save_part("year", YearPart(mean_wind_m_s=5.0))
    return job


def type_in(panel, **fields):
    for name, value in fields.items():
        panel.form.fields[name].control.value = value


def test_it_opens_on_an_invented_converter_and_says_so(job):
    panel = ConverterPanel(job)
    assert "one is invented here" in panel.sentence and job.converter is None
    assert panel.sentence.index("would destroy the converter") < panel.sentence.index("kWh a year")
    assert "whenever the bank is full" in panel.shown_answer.caution
    assert (panel.message.text, panel.message.last_fault) == ("", "")


def test_what_is_typed_is_saved_and_worked_out(job):
    panel = ConverterPanel(job)
    type_in(panel, between=STEP_DOWN)
    assert "a converter was chosen, but nothing" in refused(panel)
    type_in(panel, **VOLTS)
    assert job.converter.to_converter().survives_dc_volts == 150.0
    assert "invented" not in panel.sentence
    years = between_years(machine_from(job), source_year_from(job), job.converter.to_converter())
    rows = {row[0]: row for row in cells(shown(panel)[2])}
    assert len(rows) == len(years)
    for year in years:
        row = rows[year.grouping.label]
        assert row[1] == year.survival.outcome and row[3] == f"{year.through.kwh:.0f}"
    assert f"{max(y.through.kwh for y in years if not y.destroyed):.0f} kWh" in panel.sentence


def test_the_curve_for_an_input_for_turbines_follows_the_grouping(job):
    panel = ConverterPanel(job)
    type_in(panel, between=STEP_DOWN, **VOLTS)
    before = panel.sentence
    panel.grouping.value = panel.machine.stator.groupings()[0]
    assert panel.sentence != before
    assert f"the curve of {panel.grouping.value.label}: " in panel.sentence


def test_page_04_works_with_a_converter_and_names_what_would_destroy_it(job):
    job.save_part("converter", ConverterPart(between=STEP_DOWN, **{name: float(v) for name, v in VOLTS.items()}))
    panel = ChoosePanel(job)
    row = panel.compared()[1].find(panel.grouping.grouping)
    assert f"{row.point.bank_watts:.0f} ± " in panel.sentence and panel.message.last_fault == ""
    assert "acts by itself, within milliseconds" in panel.sentence
    assert "destroys the converter, which survives" in shown(panel)[2]
    assert LETS_GO in panel.shown_answer.caution
    settle = SettlePanel(job)
    assert f"{settle.shown_answer.headline['power']}".endswith(" W") and settle.message.last_fault == ""
    for fold in (*panel.folds.values(), *settle.folds.values()):
        fold.is_open = True
    assert all("<svg" in fold.value for fold in settle.folds.values())
    assert (panel.message.last_fault, settle.message.last_fault) == ("", "")
