"""Where jobs live: names that stay in the data folder, the current job, the example when it is gone."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.job.job import EXAMPLE, Job, open_current
from statorbook.job.places import data_folder

wording = sentences_of("job")


@pytest.fixture
def job(tmp_path):
    return Job.create("mill", tmp_path)


@pytest.fixture(autouse=True)
def nobody_has_chosen(monkeypatch):
    monkeypatch.delenv("STATORBOOK_JOB", raising=False)


def sentence(act, *arguments):
    with pytest.raises(BadInput) as caught:
        act(*arguments)
    return str(caught.value)


ALLOWED = wording("1 to 40 letters a")


@pytest.mark.parametrize(
    "name",
    [
        "",
        ".",
        "..",
        "../mill",
        "a/b",
        "a\\b",
        "/etc",
        "C:",
        "a b",
        "mill\n",
        "mühle",
        "a" * 41,
        "job.json",
        "~",
        "\x00",
        "%2e%2e",
        "．．",
    ],
)
def test_names_that_could_lead_elsewhere(tmp_path, name):
    words = f"job name: {name!r} was given; {ALLOWED}"
    assert sentence(Job.create, name, tmp_path) == words and sentence(Job.open, name, tmp_path) == words
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["con", "NUL", "Aux", "com1", "LPT9"])
def test_names_that_windows_reserves(tmp_path, name):
    assert sentence(Job.create, name, tmp_path) == (
        f"job name: {name!r} was given, which some computers reserve for a device; {ALLOWED}"
    )


def test_names_that_are_no_text_or_endless(tmp_path):
    assert sentence(Job.create, 12, tmp_path) == f"job name: a int was given; {ALLOWED}"
    assert sentence(Job.open, "x" * 500, tmp_path) == f"job name: '{'x' * 59}… was given; {ALLOWED}"


@settings(max_examples=25)
@given(name=st.text(alphabet="abcXYZ019_-", min_size=1, max_size=40))
def test_every_allowed_name_works(tmp_path_factory, name):
    base = tmp_path_factory.mktemp("data")
    assert Job.create(name, base).folder.parent == base and Job.open(name, base).name == name


def test_the_current_job(job, tmp_path, monkeypatch):
    Job.create(EXAMPLE, tmp_path)
    current = open_current(tmp_path)
    assert (current.name, current.notice) == (EXAMPLE, "")
    job.make_current()
    current = open_current(tmp_path)
    assert (current.name, current.notice) == ("mill", "")
    assert (tmp_path / ".current_job").read_text() == "mill\n" and Job.names(tmp_path) == ["mill", EXAMPLE]
    monkeypatch.setenv("STATORBOOK_JOB", EXAMPLE)
    assert open_current(tmp_path).name == EXAMPLE


@pytest.mark.parametrize(
    "kept, why",
    [
        (b"barn\n", wording("job name: there is no job 'barn'")),
        (b"../mill", f"job name: '../mill' was given; {ALLOWED}"),
        (b"\xff\xfe", f"job name: '��' was given; {ALLOWED}"),
    ],
)
def test_a_current_job_that_is_gone_gives_the_example_and_says_so(job, tmp_path, kept, why):
    Job.create(EXAMPLE, tmp_path)
    (tmp_path / ".current_job").write_bytes(kept)
    current = open_current(tmp_path)
    assert (current.name, current.notice) == (EXAMPLE, f"The example job spring_pipe is open instead: {why}")


def test_without_the_example_the_way_back_is_named(job, tmp_path):
    assert sentence(open_current, tmp_path) == wording("current job: neither the current")


def test_a_damaged_current_job_is_told_not_replaced(job, tmp_path):
    Job.create(EXAMPLE, tmp_path)
    job.make_current()
    (job.folder / "job.json").write_bytes(b"")
    assert sentence(open_current, tmp_path).startswith(wording("mill/job.json, line 1: the file is empty"))


def test_the_data_folder(tmp_path, monkeypatch):
    words = wording("data folder: {}; the folder")
    monkeypatch.setenv("STATORBOOK_DATA", str(tmp_path / "nowhere"))
    assert sentence(data_folder) == words.format(wording("STATORBOOK_DATA names a folder that"))
    monkeypatch.delenv("STATORBOOK_DATA")
    monkeypatch.chdir(tmp_path)
    (tmp_path / "data").mkdir()
    assert sentence(data_folder) == words.format(wording("no data folder is seen"))
    (tmp_path / "notebooks").mkdir()
    assert data_folder() == tmp_path / "data"
    monkeypatch.chdir("notebooks")
    assert data_folder() == tmp_path / "data"
    monkeypatch.setenv("STATORBOOK_DATA", "..")
    assert data_folder().resolve() == tmp_path
    assert sentence(Job.names, tmp_path / "nowhere") == wording("data folder: a folder that")
