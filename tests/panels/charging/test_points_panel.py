"""Panel of the set-points: usual ones at first, what is typed is judged, shown per cell and bank, and saved."""

import pytest

from samples.pages import by_gid, cells, overlapping, press, refused
from sentences import sentences_of
from statorbook.bank.battery import Bank, cells_for
from statorbook.charging.set_points import POINT_NAMES, usual_points
from statorbook.examples import jobs as example
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.set_points import draw_set_points
from statorbook.job.parts.set_points import SetPointsPart
from statorbook.panels.charging.page import ChargingPage
from statorbook.panels.charging.points import SetPointsPanel

wording = sentences_of("charging_points")


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)  # 16 cells LiFePO4, invented
    made.save_part("set_points", SetPointsPart())
    return made


@pytest.fixture
def panel(job):
    return SetPointsPanel(ChargingPage(job))


def type_in(panel, **fields):
    for name, value in fields.items():
        panel.form.fields[name].control.value = value


def row(panel, name):
    return next(row for row in cells(panel.table_box.value) if row[0] == name)


@pytest.mark.outside(
    "most volts and least temperature of a LiFePO4 cell on charge",
    source="common practice, no source",
    number="3.65 V, 0 °C",
    tolerance="as printed",
    seen="from memory",
)
def test_usual_ones_stand_there_per_cell_and_bank_with_range_and_source(panel):
    assert row(panel, "never above")[1:3] == ["3.65 V", "58.4 V"]
    assert row(panel, "no charging below")[1] == "0 °C"
    assert "equalise" not in [row[0] for row in cells(panel.table_box.value)]
    assert all(len(row[4]) > 10 for row in cells(panel.table_box.value))
    assert "volts do not tell the charge" in panel.sentence
    assert wording("assumed usual for its too") in panel.sentence
    assert "the set-points, usual ones" in panel.page.plan().assumed
    assert panel.shown_answer.caution.count("licensed electrician") == 1
    assert (panel.message.text, panel.message.last_fault) == ("", "")


def test_what_is_typed_is_shown_and_saved_and_goes_into_the_plan(panel, job):
    type_in(panel, absorption_volts="56 V", float_volts="53.6")
    assert wording("assumed usual for its") in panel.sentence
    assert panel.sentence.startswith(wording("charge its cells lifepo"))
    press(panel.form, panel.save_words)
    assert (job.set_points.absorption_volts, job.set_points.float_volts) == (56.0, 53.6)
    assert panel.page.plan().points.absorption_volts == 56.0


def test_what_crosses_is_one_sentence_and_not_saved(panel, job):
    type_in(panel, absorption_volts="54")
    assert wording("float at v and") in refused(panel)
    press(panel.form, panel.save_words)
    assert job.set_points.absorption_volts is None


def test_what_is_outside_the_usual_is_said(panel):
    type_in(panel, float_volts="52.8")
    assert wording("outside the usual float") in panel.sentence


@pytest.mark.parametrize("typed", ["0", "-5", "abc", "1e9", "5 kg"])
def test_nonsense_is_one_sentence_and_no_fault(panel, typed):
    type_in(panel, absorption_volts=typed)
    assert not panel.form.fields["absorption_volts"].usable and "cannot be used yet" in refused(panel)


@pytest.mark.outside(
    "charging volts of 24 lead cells at 5 °C, 57.6 V at 25 °C",
    source="Dunlop, Batteries and Charge Control in Stand-Alone PV Systems, 1997",
    number="−5 mV/K a cell: 60 V",
    tolerance="as printed",
    seen="from memory",
)
@pytest.mark.outside(
    "charging volts of 24 lead cells at 5 °C by another factor",
    source="Battery University, BU-403, quoted",
    number="−3 mV/K a cell: 59 V",
    tolerance="as printed",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "most volts of a lead cell",
    source="common practice, no source",
    number="16.0 V for 12 V, 66.5 V for 24 cells at 5 °C",
    tolerance="as printed",
    seen="from memory",
)
def test_a_lead_bank_is_told_of_gas_cold_and_what_it_takes(job):
    job.save_part(
        "bank", job.bank.model_copy(update={"chemistry": "flooded lead-acid", "cells": None, "temperature_c": 5.0})
    )
    panel = SetPointsPanel(ChargingPage(job))
    assert wording("at its c now too") in panel.sentence and "takes about" in panel.sentence
    # 24 × 2.67 V and 20 K of 0.12 V.
    assert wording("v at its c") in panel.sentence
    assert wording("set the guard a") in panel.sentence
    type_in(panel, compensation_v_per_k="-72 mV/K")
    assert wording("at its c now") in panel.sentence
    assert "hydrogen" in panel.shown_answer.caution and "volts do not tell" not in panel.sentence


@pytest.mark.parametrize("chemistry", ["flooded lead-acid", "gel", "LiFePO4"])
def test_each_set_point_is_a_line_with_its_words_beside_it(chemistry):
    bank = Bank(chemistry=chemistry, cells=cells_for(chemistry, 12))
    points, figure = usual_points(bank), KeptFigure(height_in=4.6)
    figure.draw(draw_set_points, bank, points)
    for name in POINT_NAMES:
        volts = getattr(points, name)
        if volts is not None:
            assert set(by_gid(figure.axes[0].lines, name).get_ydata()) == {volts}
    assert overlapping(figure) == []
    figure.draw(draw_set_points, bank, usual_points(bank, float_volts=points.float_volts - 0.1))
    assert set(by_gid(figure.axes[0].lines, "float_volts").get_ydata()) == {points.float_volts - 0.1}


def test_a_us_reader_is_told_in_fahrenheit(panel):
    panel.page.in_units("US")
    # 0 to 45 °C.
    assert wording("its cells are at") in panel.sentence and "°C" not in panel.sentence
    assert "77 °F" in panel.figure.axes[0].get_ylabel() and "°C" not in panel.table_box.value.split("<tbody>")[0]
