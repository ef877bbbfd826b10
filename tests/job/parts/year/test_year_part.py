"""The year of a job as a part: composed by kind of drive, saved without what nobody gave, open to older jobs."""

import json

import pytest

from samples.job_samples import sample
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.base import part_from_fields
from statorbook.job.parts.drive.part import KINDS
from statorbook.job.parts.year.part import YEAR_KINDS, YearPart


def test_every_kind_of_drive_has_a_year_whose_first_fields_are_few():
    assert set(YEAR_KINDS) == set(KINDS)
    for kind in KINDS:
        asked, may = YearPart.asked(kind, {}), YearPart.fields_for(kind)
        assert set(asked) <= set(may) and len(set(YearPart.asked_first({})) & set(asked)) <= 3
        assert set(YearPart().missing_for(kind)) <= set(asked)


@pytest.mark.parametrize(
    "given",
    [
        {},
        {"mean_wind_m_s": 5.0},
        {"mean_wind_m_s": 5.0, "assumed": ()},
        {"weibull_shape": 1.8, "assumed": ()},
        {"weibull_shape": 2.0, "assumed": ()},
        {"nozzles_mm": "10, 12", "pedal_hours_a_week": 4.0},
    ],
)
def test_a_year_comes_back_as_it_was_saved(given):
    part = part_from_fields(YearPart, given)
    assert part_from_fields(YearPart, json.loads(json.dumps(part.as_saved()))) == part


def test_what_nobody_gave_is_left_out_of_the_file():
    assert YearPart().as_saved() == {"assumed": []}
    saved = YearPart(nozzles_mm="10, 12").as_saved()
    assert set(saved) == {"assumed", "water_year_from", "nozzles_mm"} and saved["assumed"] == []
    assert YearPart(mean_wind_m_s=5.0).as_saved()["assumed"] == ["weibull_shape"]


def test_a_job_from_before_there_was_a_year_opens(tmp_path):
    job = example.write(tmp_path)
    path = job.folder / "job.json"
    kept = json.loads(path.read_text(encoding="utf-8"))
    kept.pop("year", None)
    path.write_text(json.dumps(kept), encoding="utf-8")
    old = Job.open(job.name, tmp_path)
    assert old.year is None and old.states()["04b_add_up_the_year"].startswith(("empty", "done"))
    old.save_part("year", sample("year"))
    assert Job.open(job.name, tmp_path).year == sample("year")


@pytest.mark.parametrize("given", [{"mean_wind_m_s": 0.0}, {"weibull_shape": 0.2}, {"nozzles_mm": "ten"}, {"gusts": 3}])
def test_what_cannot_be_is_one_sentence(given):
    with pytest.raises(BadInput) as caught:
        part_from_fields(YearPart, given)
    assert str(caught.value).startswith("year") and "\n" not in str(caught.value)
