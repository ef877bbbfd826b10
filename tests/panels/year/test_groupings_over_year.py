"""The panel of the year: its numbers are the library's, and a move changes what it should and nothing else."""

import numpy as np
import pytest

from statorbook.assembly.machine import machine_from
from statorbook.assembly.year import source_year_from
from statorbook.choice.comparison import compare
from statorbook.examples import jobs as example
from statorbook.operation.operating_point import operating_points
from statorbook.panels.year.groupings_over_year import HOURS_FOLD, MONTHS_FOLD, YearPanel


@pytest.fixture(scope="module", params=["spring_pipe", "ridge_rotor"])
def job(request, tmp_path_factory):
    return example.write(tmp_path_factory.mktemp("data"), request.param)


@pytest.fixture(scope="module")
def panel(job):
    return YearPanel(job)


def exact_kwh(job, grouping):
    """Hours times watts, each setting by the exact search."""
    now, source = machine_from(job), source_year_from(job)
    found = compare(now.stator, now.coil, now.drive, now.bank, now.setting)
    winding, around = found.find(grouping).winding, now.setting.conditions
    watts = [operating_points(d, [winding], now.bank.states[1], around).bank_watts[0, 0] for d in source.drives]
    return float(np.dot(source.hours_by_setting, watts)) / 1000.0


def test_the_kilowatt_hours_are_those_of_the_exact_search(job, panel):
    picked = panel.grouping.grouping
    wanted = exact_kwh(job, picked)
    verdict = panel.compared()[2]
    assert verdict.of(picked).kwh == pytest.approx(wanted, rel=0.003)
    assert panel.shown_answer.headline["over the year"].value == pytest.approx(wanted, rel=0.003)


def test_every_legal_grouping_stands_in_the_table(job, panel):
    table = panel.shown_answer.table
    assert len(table.rows) == len(job.stator.to_stator().groupings())
    kwh = [float(row[table.columns.index("over the year [kWh]")]) for row in table.rows]
    assert kwh == sorted(kwh, reverse=True)


def test_the_accepted_volts_are_a_wall(panel):
    before = panel.accepted.value
    panel.accepted.value = panel.accepted.max
    free = panel.compared()[2].by_year.recommended
    panel.accepted.value = panel.accepted.min
    tight = panel.compared()[2].by_year.recommended
    panel.accepted.value = before
    assert tight.runaway.dc_volts_peak <= free.runaway.dc_volts_peak


def test_what_the_year_sets_itself_has_no_slider(job, panel):
    source = panel.source
    for name in panel.drive.sliders:
        varies = len({getattr(drive, name, None) for drive in source.drives}) > 1
        assert (name in panel.turned) is not varies
    for name, slider in panel.turned.items():
        before, kwh = slider.value, panel.shown_answer.headline["over the year"].value
        slider.value = slider.value + 5.0 * slider.step
        moved = panel.shown_answer.headline["over the year"].value
        slider.value = before
        assert moved != pytest.approx(kwh, rel=1e-6) or name == "furls_from_m_s"


def test_the_folds_draw_what_they_name(job, panel):
    for name in (HOURS_FOLD, MONTHS_FOLD):
        if name in panel.shown_answer.folded:
            panel.folds[name].is_open = True
            assert panel.folds[name].value.count("<svg") == 1
            panel.folds[name].is_open = False
