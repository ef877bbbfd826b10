"""The panel of chapter 04 for a job whose year is known: kilowatt-hours first, and what one setting would cost."""

import re
from dataclasses import replace

import pytest

from samples.pages import cells, shown
from samples.wind_case import rayleigh_year, wind_job
from sentences import sentences_of
from statorbook.assembly.judged import judged_from
from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of
from statorbook.choice.comparison import compare
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.groupings import written_words
from statorbook.year.energy import grouping_years
from statorbook.year.plus_minus import kwh_spread
from statorbook.year.verdict import year_verdict

wording = sentences_of("panels_choice")
BACK = "Back to the recommended one"


@pytest.fixture(autouse=True, scope="module")
def year_by_hand():
    """What a panel adds at rest is added at once, and every job has the invented year, spread over twelve months."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("statorbook.widgets.frame.when_at_rest", lambda call: call())
        patch.setattr("statorbook.assembly.judged.source_year_from", lambda job: YEAR)
        yield


YEAR = replace(rayleigh_year(), year_share=0.25)


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return wind_job(tmp_path_factory.mktemp("data"))


@pytest.fixture(scope="module")
def panel(job):
    return ChoosePanel(job)


def library(now, source=YEAR):
    found = compare(now.stator, now.coil, now.drive, now.bank, now.setting)
    return year_verdict(found, grouping_years(now, source))


def turned(**values):
    """The year of another rotor, each wind as it is."""
    return replace(YEAR, drives=tuple(replace(drive, **values) for drive in YEAR.drives))


def test_the_kilowatt_hours_stand_before_the_watts_with_their_plus_minus(panel, job):
    now = machine_from(job)
    verdict = library(now)
    row, kwh = verdict.by_year.chosen, kwh_spread(now, YEAR, verdict.by_year.chosen.grouping)
    assert panel.grouping.grouping == row.grouping != verdict.at_once.chosen.grouping
    assert kwh.plus_minus > 0.05 * kwh.value
    said = panel.sentence
    assert said.startswith(wording("Chosen, with the most kWh"))
    assert f"it gives {kwh}, and at the one setting" in said and str(kwh).endswith(" kWh a year")
    assert panel.shown_answer.headline["energy"] == kwh
    assert verdict.sentence in said and verdict.differs
    assert f"and with what is assumed: {kwh.both}; " in said and wording("Single years differ from") in said
    assert wording("One setting of the source") not in said
    assert re.search(wording("(No plausible step of anything"), said) and "nearby setting" not in said


def test_the_table_says_what_each_grouping_makes_of_the_year(panel, job):
    verdict, table = library(machine_from(job)), panel.shown_answer.table
    rows = [row for row in cells(shown(panel)[2]) if len(row) > 1]
    assert len(rows) == 8
    for line in rows:
        row = next(each for each in verdict.by_year.rows if each.grouping.label == line[0])
        year, named = verdict.of(row.grouping), dict(zip(table.columns, line, strict=True))
        assert float(named["over the year [kWh]"]) == pytest.approx(year.kwh, abs=0.51)
        hours = [float(named[f"{name} [h]"]) for name in ("charging", "turning, too few volts", "cannot be turned")]
        assert hours == pytest.approx([year.charging_h, year.idle_h, year.still_h], abs=0.51)
        assert sum(hours) == pytest.approx(8760.0, abs=2.0)
        gone, hot = (next(name for name in named if name.startswith(word)) for word in ("bank gone would", "coils"))
        assert float(named[gone]) == pytest.approx(year.gone_h(1000.0), abs=0.51)
        assert named[hot] == "wire not measured"
        best, worst = (named[f"{name} month [kWh]"].split(" ") for name in ("best", "worst"))
        # Every month has the same wind, so the short February is the worst.
        assert float(best[1]) >= float(worst[1]) and (worst[0] == "Feb" or year.kwh == 0.0)


def test_the_setting_moves_the_watts_alone_and_the_rotor_the_year(panel, job):
    now, before = machine_from(job), panel.sentence
    try:
        panel.drive.sliders["wind_m_s"].value = 9.0
        kwh = str(panel.shown_answer.headline["energy"]).split(" ")[0]
        assert panel.sentence != before and f"it gives {kwh}" in before
        assert panel.grouping.grouping == library(now).by_year.chosen.grouping
        panel.drive.sliders["rotor_diameter_m"].value = 2.0
        rotor = replace(now, drive=replace(now.drive, rotor_diameter_m=2.0, wind_m_s=9.0))
        wanted = library(rotor, turned(rotor_diameter_m=2.0)).by_year.chosen
        assert panel.grouping.grouping == wanted.grouping
        assert panel.shown_answer.headline["energy"].value == pytest.approx(wanted.worth.given)
    finally:
        with panel.together():
            panel.drive.sliders["wind_m_s"].value = now.drive.wind_m_s
            panel.drive.sliders["rotor_diameter_m"].value = now.drive.rotor_diameter_m
        panel.moves[BACK].click()


def test_the_wall_of_volts_stands_over_the_year_too(panel, job):
    now, accepted = machine_from(job), panel.accepted.value
    least = min(row.runaway.dc_volts_peak for row in library(now).by_year.sound)
    try:
        panel.accepted.value = least + 20.0
        limited = replace(now, setting=replace(now.setting, accepted_dc_volts=panel.accepted.value))
        assert panel.grouping.grouping == library(limited).by_year.chosen.grouping
        panel.moves["Show the most kilowatt-hours, whatever the volts"].click()
        assert panel.grouping.grouping == library(limited).by_year.without_limit.grouping
    finally:
        panel.accepted.value = accepted
        panel.moves[BACK].click()


def test_the_energy_is_written_with_the_grouping_and_said_again(tmp_path):
    own = wind_job(tmp_path)
    assert (
        choice_of(own).to_grouping()
        == judged_from(own).chosen.grouping
        == library(machine_from(own)).by_year.chosen.grouping
    )
    panel = ChoosePanel(own)
    panel.buttons["Write this grouping to the job"].click()
    kept, kwh = Job.open("hill", tmp_path).choice, panel.shown_answer.headline["energy"]
    assert (kept.year_kwh, kept.year_plus_minus_kwh) == pytest.approx((kwh.value, kwh.plus_minus))
    assert f"{str(kwh).removesuffix(' a year')} over the year" in written_words(own)


def test_without_a_year_one_line_points_to_the_page_that_adds_it_up(job):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("statorbook.assembly.judged.source_year_from", lambda job: None)
        plain = ChoosePanel(job)
    assert plain.sentence.startswith(wording("Chosen, with the most watts"))
    assert wording("One setting of the source") in plain.sentence
    assert "energy" not in plain.shown_answer.headline and not any(
        "year" in name for name in plain.shown_answer.table.columns
    )
    assert plain.grouping.grouping == library(machine_from(job)).at_once.chosen.grouping


def test_a_year_that_cannot_be_added_up_is_said_and_the_page_does_without(job):
    def refuse(job):
        raise BadInput("0 was given", "a mean wind above 0 is allowed", "type it again", where="mean wind")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("statorbook.assembly.judged.source_year_from", refuse)
        plain = ChoosePanel(job)
    assert wording("The year of this job cannot") in plain.sentence and "mean wind: 0 was given" in plain.sentence
