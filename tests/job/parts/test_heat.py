"""The part of a job that holds the winding's heat, and the temperature that every comparison is made at."""

import pytest

from samples.job_samples import sample
from sentences import sentences_of
from statorbook.assembly.machine import machine_from
from statorbook.choice.assumed_ranges import variations
from statorbook.errors import BadInput
from statorbook.job.job import Job
from statorbook.job.parts.heat import HeatPart
from statorbook.job.progress import inputs_fingerprint
from statorbook.panels.choice.choose import ChoosePanel

wording = sentences_of("protection_heat")
RUN = dict(cold_ohm=0.50, cold_c=20.0, hot_ohm=0.62, hot_air_c=25.0, run_dc_amps=8.0)


@pytest.fixture
def job(tmp_path):
    made = Job.create("mill", tmp_path)
    for part in ("stator", "coil", "drive", "bank"):
        made.save_part(part, sample(part))
    return made


def test_page_04_reckons_with_the_copper_of_the_part_and_with_80_degrees_without_it(job):
    assert machine_from(job).setting.conditions.copper_c == 80.0
    job.save_part("heat", HeatPart(copper_c=112.0))
    machine = machine_from(job)
    assert machine.setting.conditions.copper_c == 112.0
    point = ChoosePanel(job).compared()[0].setting.conditions
    assert point.copper_c == 112.0


def test_a_choice_notices_another_temperature_and_nothing_else_of_the_part(job):
    before = inputs_fingerprint(job)
    job.save_part("choice", sample("choice", worked_out_for=before))
    for silent in (HeatPart(), HeatPart(k_per_w=0.4, thermal_class="F", **RUN)):
        job.save_part("heat", silent)
        assert inputs_fingerprint(job) == before and job.states()["04_choose_a_grouping"] == "done"
    job.save_part("heat", HeatPart(copper_c=95.0))
    assert job.states()["04_choose_a_grouping"] == wording("out of date: the winding's temperature at work")


def test_a_temperature_counts_as_assumed_until_it_and_its_rise_are_known(job):
    def said(part):
        job.save_part("heat", part)
        return [words for words in machine_from(job).assumed if words.endswith("at work")]

    assert said(HeatPart()) == [wording("winding at 80 °C and magnets")]
    assert said(HeatPart(copper_c=95.0)) == [wording("winding at 95 °C and magnets")]  # its rise is still assumed
    assert said(HeatPart(copper_c=95.0, **RUN)) == ["magnets at 50 °C at work"]
    assert said(HeatPart(copper_c=95.0, k_per_w=0.4)) == ["magnets at 50 °C at work"]
    assert said(HeatPart(copper_c=95.0, magnet_c=41.0)) == ["winding at 95 °C at work"]
    assert said(HeatPart(copper_c=95.0, magnet_c=41.0, **RUN)) == []


def test_a_temperature_is_measured_once_a_run_has_shown_it():
    for fields, measured in (
        (dict(), set()),
        (RUN, set()),  # a run, and nothing typed of what it showed
        (dict(copper_c=95.0), set()),
        (dict(copper_c=95.0, k_per_w=0.4), set()),  # known, but by no run
        (dict(copper_c=95.0, **RUN), {"copper_c"}),
        (dict(magnet_c=41.0), {"magnet_c"}),
        (dict(copper_c=95.0, magnet_c=41.0, **RUN), {"copper_c", "magnet_c"}),
    ):
        assert HeatPart(**fields).measured == measured, fields


def test_measured_magnets_count_everywhere_and_are_known_more_closely(job):
    def magnets():
        machine = machine_from(job)
        return machine.setting.conditions.magnet_c, next(v for v in variations(machine) if v.name == "magnet_c").ends_at

    before, (now, assumed) = inputs_fingerprint(job), magnets()
    job.save_part("heat", HeatPart())
    assert inputs_fingerprint(job) == before  # an empty field makes no older choice look out of date
    job.save_part("heat", HeatPart(magnet_c=41.0))
    measured, ends = magnets()
    assert (now, measured) == (50.0, 41.0) and inputs_fingerprint(job) != before
    assert ends[0] < 41.0 < ends[1] and ends[1] - ends[0] < assumed[1] - assumed[0]


@pytest.mark.parametrize(
    "fields, words",
    [
        (dict(cold_ohm=0.5), "Cold: its temperature"),
        (RUN | dict(hot_ohm=0.5), "hotter than its air"),
        (RUN | dict(hot_ohm=0.9), "at most 220 °C"),
        (RUN | dict(run_dc_amps=0.0), "above 0"),
        (dict(k_per_w=0.0), "above 0"),
        (dict(thermal_class="Z"), "allowed are A, E, B, F, H"),
        (dict(copper_c=250.0), "-20 to 200 °C"),
        (dict(time_constant_min=0.0), "above 0"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence(fields, words):
    with pytest.raises(BadInput, match=words):
        HeatPart(**fields)
