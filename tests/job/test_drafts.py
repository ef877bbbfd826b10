"""What is typed and not used yet: kept field by field beside the job, whoever types, whatever the disk does."""

import json
import os
import random
import signal
import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from samples.job_samples import sample, spin_rows
from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job import files as job_files
from statorbook.job.archive import export_job, import_job
from statorbook.job.drafts import DRAFTS, Drafts, load_drafts, parse_drafts
from statorbook.job.history import history, restore
from statorbook.job.job import Job

wording = sentences_of("job")

FIELDS = ("slots", "poles")
TEXTS = st.text(max_size=20) | st.booleans() | st.none() | st.just("\ud800")


@pytest.fixture
def job(tmp_path):
    return Job.create("mill", tmp_path)


def page(job, form="stator", fields=FIELDS):
    """A page that was just opened, and what it shows."""
    drafts = Drafts(job.folder, form)
    return drafts, {name: [each.text for each in found] for name, found in drafts.found(fields).items()}


def test_what_is_typed_is_there_for_the_next_page_and_not_in_the_job(job):
    before = (job.folder / "job.json").read_bytes()
    mine, found = page(job)
    assert found == {} and not (job.folder / DRAFTS).exists()
    mine.keep("slots", "36x")
    mine.keep("slots", "36xy")
    assert page(job)[1] == {"slots": ["36xy"]} and page(job, "bank")[1] == {}
    assert (job.folder / "job.json").read_bytes() == before and history(job) == ()


def test_two_pages_never_write_over_each_other(job):
    (one, _), (two, _) = page(job), page(job)
    one.keep("slots", "36x")
    two.keep("poles", "4y")
    two.keep("slots", "38")
    assert page(job)[1] == {"slots": ["36x", "38"], "poles": ["4y"]}
    two.forget(FIELDS)  # it was written or discarded there
    assert page(job)[1] == {"slots": ["36x"]}
    after, _ = page(job)
    after.keep("slots", "37")  # a page that shows the text may replace it
    assert page(job)[1] == {"slots": ["37"]}
    one.keep("slots", "36")  # and the page that is still open tells its own again
    assert page(job)[1] == {"slots": ["37", "36"]}


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(moves=st.lists(st.tuples(st.integers(0, 2), st.sampled_from(FIELDS), TEXTS | st.just(...)), max_size=25))
def test_of_every_open_page_the_last_text_of_each_field_is_on_the_disk(job, moves):
    (job.folder / DRAFTS).unlink(missing_ok=True)
    pages, left = [page(job)[0] for _ in range(3)], {}
    for who, field, text in moves:
        if text is ...:
            pages[who].forget([field])
            left.pop((who, field), None)
        else:
            pages[who].keep(field, text)
            left[who, field] = text
    found = page(job)[1]
    for field in FIELDS:
        assert sorted(map(repr, found.get(field, []))) == sorted(
            repr(text) for (_, name), text in left.items() if name == field
        )


@settings(max_examples=200)
@given(
    data=st.binary(max_size=60)
    | st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=5),
        lambda each: (
            st.lists(each, max_size=3)
            | st.dictionaries(
                st.sampled_from(["schema_version", "drafts", "form", "field", "text", "system", "by"]), each, max_size=5
            )
        ),
        max_leaves=8,
    ).map(lambda keys: json.dumps(keys).encode())
)
def test_a_file_that_is_not_as_written_is_refused_in_a_sentence(data):
    try:
        assert parse_drafts(data, "x") == ()
    except BadInput as refusal:
        assert str(refusal) == wording("x: what was typed and")


def test_a_damaged_file_is_put_aside_and_typing_goes_on(job):
    (job.folder / DRAFTS).write_bytes(b'{"schema_version": 1, "drafts": [')
    with pytest.raises(BadInput, match=wording("mill/.drafts.json: what was typed and")):
        load_drafts(job.folder)
    mine = Drafts(job.folder, "stator")
    mine.forget(FIELDS)
    assert not list(job.folder.glob(".drafts.damaged-*"))
    mine.keep("slots", "36x")
    (aside,) = job.folder.glob(".drafts.damaged-*.json")
    assert aside.read_bytes() == b'{"schema_version": 1, "drafts": [' and page(job)[1] == {"slots": ["36x"]}


@pytest.mark.parametrize("cut", ["fsync", "replace"])
def test_what_was_kept_before_outlives_a_save_that_is_cut_off(job, monkeypatch, cut):
    mine, _ = page(job)
    mine.keep("slots", "36x")

    def die(*arguments):
        raise KeyboardInterrupt  # no `except OSError` stands in its way, like a kill

    with monkeypatch.context() as cutting:
        cutting.setattr(job_files.os, cut, die)
        with pytest.raises(KeyboardInterrupt):
            mine.keep("poles", "48")
    assert page(job)[1] == {"slots": ["36x"]}
    mine.keep("poles", "48")
    assert page(job)[1] == {"slots": ["36x"], "poles": ["48"]}


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")
def test_kills_in_the_middle_of_typing_lose_nothing_that_was_kept(job):
    draw, count = random.Random(1), 0
    for _ in range(40):
        said, say = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                drafts, _ = page(job)
                for number in range(count + 1, count + 1000):
                    drafts.keep("slots", str(number))
                    os.write(say, b".")
            finally:
                os._exit(1)
        os.close(say)
        time.sleep(draw.uniform(0.002, 0.02))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        confirmed = count
        while more := os.read(said, 1000):
            confirmed += len(more)
        os.close(said)
        (count,) = (int(text) for text in page(job)[1].get("slots", ["0"]))
        assert count in (confirmed, confirmed + 1)
    assert count > 0


def test_a_full_disk_is_told_and_what_was_kept_before_stays(job, monkeypatch):
    mine, _ = page(job)
    mine.keep("slots", "36x")

    def full(*arguments):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as filling:
        filling.setattr(os, "fsync", full)
        with pytest.raises(BadInput, match=exactly(wording("mill/.drafts.json: the file cannot be"))):
            mine.keep("slots", "36xy")
    assert page(job)[1] == {"slots": ["36x"]}


def test_a_copy_takes_what_is_typed_along_and_only_then_holds_such_a_file(job):
    plain = export_job(job)
    mine, _ = page(job)
    mine.keep("slots", "36x")
    there = import_job(export_job(job), "copy", job.folder.parent)
    assert page(there)[1] == {"slots": ["36x"]} and there.stator is None
    mine.forget(FIELDS)
    assert export_job(job) == plain


def test_damage_of_what_is_typed_never_keeps_a_copy_from_coming_in(job):
    job.save_log("spin", spin_rows(2))
    (job.folder / DRAFTS).write_bytes(b"rubbish")
    there = import_job(export_job(job), "copy", job.folder.parent)
    assert there.read_log("spin") == spin_rows(2) and load_drafts(there.folder) == ()


def test_a_version_before_is_restored_and_what_is_typed_stays(job):
    job.save_part("bank", sample("bank"))
    job.save_part("bank", sample("bank", cable_ohm=0.05))
    page(job)[0].keep("slots", "36x")
    assert {version.file for version in history(job)} == {"job.json"}
    restore(job, history(job)[0])
    assert page(job)[1] == {"slots": ["36x"]} and job.bank == sample("bank")


def test_an_example_written_anew_starts_with_nothing_typed(tmp_path):
    job = example.write(tmp_path)
    page(job)[0].keep("slots", "36x")
    assert page(example.write(tmp_path))[1] == {}
