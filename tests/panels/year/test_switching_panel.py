"""The panel of two groupings and a contactor: dangers first, every pair in its table, the example meanwhile."""

import re
from html import unescape
from math import sqrt

import pytest

from samples.pages import cells, shown
from statorbook.assembly.machine import machine_from
from statorbook.assembly.year import source_year_from
from statorbook.examples import jobs as example
from statorbook.job.parts.reader import ReaderPart
from statorbook.job.parts.year.part import YearPart
from statorbook.panels.year.switching import SwitchingOverYear, SwitchingPanel
from statorbook.panels.year.year_source import YearSourcePanel
from statorbook.year.switch_contacts import switch_contacts
from statorbook.year.switching import switchings


def windy_job(folder, **drive):
    """The job with the wind rotor and a year of its own, into 48 V by a larger rotor, so that a switch gains."""
    job = example.write(folder, "ridge_rotor")
    job.save_part("bank", job.bank.model_copy(update={"nominal_volts": 48.0, "cells": None, "accepted_volts": None}))
    job.save_part("drive", job.drive.with_quantities({"rotor_diameter_m": 3.2}).model_copy(update=drive))
    job.save_part("year", YearPart(mean_wind_m_s=5.0))
    return job


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return windy_job(tmp_path_factory.mktemp("data"))


@pytest.fixture(scope="module")
def panel(job):
    return SwitchingPanel(job)


@pytest.fixture(scope="module")
def found(job):
    return switchings(machine_from(job), source_year_from(job))


def test_it_opens_on_the_best_pair_with_its_danger_first(panel, job, found):
    best = found[0]
    at = switch_contacts(machine_from(job), source_year_from(job), best)
    first, verdict = panel.sentence.splitlines()[:2]
    assert best.pair.low.label in first and f"{at.runaway.dc_volts_peak:.0f} V DC peak" in first
    assert f"{best.kwh:.0f} kWh a year" in verdict and f"{best.up_rpm:.0f} rpm" in verdict
    assert panel.pair.value == best.pair
    assert (panel.message.text, panel.message.last_fault) == ("", "")
    assert "At rest:" in panel.contacts.shown_answer.caution and "Bank:" in panel.contacts.shown_answer.caution
    assert f"{at.rated_volts_rms:.0f} V AC" in panel.contacts.sentence


def test_the_table_has_every_pair_with_danger_gain_and_speeds(panel, job, found):
    rows = [[unescape(cell) for cell in row] for row in cells(shown(panel)[2])]
    assert [row[:2] for row in rows] == [[each.pair.low.label, each.pair.high.label] for each in found]
    now = machine_from(job)
    for row, each in zip(rows, found, strict=True):
        # √2 × line volts rms at the runaway speed, magnets at their coldest, whichever of the two makes more.
        volts = [
            sqrt(2.0) * year.winding.line_volts_rms(now.drive.runaway_speed_rpm, now.setting.cold_c)
            for year in (each.low, each.high)
        ]
        assert float(row[4]) == pytest.approx(max(volts), abs=0.51)
        if each.is_stable:
            assert float(row[5]) == pytest.approx(each.kwh, abs=0.51)
            assert row[7] == f"{each.up_rpm:.0f} / {each.down_rpm:.0f}"
    assert any(each.is_stable for each in found)


def test_any_pair_can_be_looked_at(panel, found):
    try:
        for each in found:
            panel.pair.value = each.pair
            assert each.pair.low.label in panel.sentence.splitlines()[0]
            assert each.is_stable == ("AC-3" in panel.contacts.sentence)
            assert panel.message.last_fault == panel.contacts.message.last_fault == ""
            key = [text.get_text() for text in panel.curves.axes[0].get_legend().get_texts()]
            assert key[:2] == [f"below: {each.pair.low.label}", f"above: {each.pair.high.label}"]
            marks = {line.get_gid(): line for line in panel.curves.axes[1].lines if line.get_visible()}
            assert each.is_stable == ({"up", "down", "goes up", "goes down"} <= marks.keys())
            if each.is_stable:
                before, after = marks["goes up"].get_ydata()
                assert before >= each.up_rpm and after > each.down_rpm
                before, after = marks["goes down"].get_ydata()
                assert before <= each.down_rpm and after < each.up_rpm
    finally:
        panel.pair.value = found[0].pair


def test_it_speaks_in_the_readers_units(tmp_path):
    job = windy_job(tmp_path)
    job.save_part("reader", ReaderPart(units="US"))
    panel = SwitchingPanel(job)
    words = f"{panel.sentence} {panel.contacts.sentence} {panel.curves.axes[1].get_xlabel()}"
    assert " mph" in panel.sentence and "[mph]" in words
    assert not re.search(r"[0-9\[] ?(?:m|mm|m/s|kg)(?![\w·²/])", words)


@pytest.mark.outside(
    "gain of speed with ten times the mass",
    source="Newton's second law: α = T / J, J in proportion to the mass",
    number="1/10",
    tolerance="1e-6",
    seen="derived",
)
def test_a_weighed_rotor_tells_how_much_speed_it_gains(tmp_path):
    light, heavy = (SwitchingPanel(windy_job(tmp_path, rotor_kg=kg, rotor_ring_mm=300.0)) for kg in (5.0, 50.0))
    gains = [panel.at[panel.pair.value].gains_rpm_per_s for panel in (light, heavy)]
    assert gains[0] == pytest.approx(10.0 * gains[1])
    # A tenth of a second between the contactors.
    assert f"at most {0.1 * gains[0]:.0f} rpm" in light.contacts.sentence


def test_a_year_that_is_saved_above_is_followed_and_the_example_shown_without_one(tmp_path):
    example.write(tmp_path)
    job = windy_job(tmp_path)
    job.save_part("year", YearPart())
    source = YearSourcePanel(job)
    over = SwitchingOverYear(job, source)
    assert over.sentence.startswith("Job spring_pipe, not your own:")
    job.save_part("year", YearPart(mean_wind_m_s=5.0))
    source.tell()
    source.settle()
    assert over.sentence == SwitchingPanel(job).sentence
