"""A job as a zip: the same on the other side, and nothing that a job may not hold gets in or leaves a trace."""

import random
import zipfile
from io import BytesIO

import pytest

from decisions.job_samples import sample, spin_rows
from statorbook import example, job_zip
from statorbook.errors import BadInput
from statorbook.job import Job
from statorbook.job_zip import export_job, import_job


@pytest.fixture
def data(tmp_path):
    folder = tmp_path / "data"
    folder.mkdir()
    return folder


@pytest.fixture
def packed(data):
    job = Job.create("mill", data)
    for name in ("stator", "bank"):
        job.save_part(name, sample(name))
    job.save_log("spin", spin_rows(3))
    return export_job(job)


def zipped(files):
    made = BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in files:
            packed.writestr(name, content)
    return made.getvalue()


def tree(folder):
    return sorted(str(path) for path in folder.rglob("*") if path.name != ".lock")


def refused(data, packed, name="copy"):
    before = tree(data.parent)
    with pytest.raises(BadInput) as caught:
        import_job(packed, name, data)
    assert tree(data.parent) == before
    words = str(caught.value)
    assert words.endswith(".") and "\n" not in words and "Traceback" not in words
    return words


def test_out_and_in_again_is_the_same_job(data, packed):
    there, here = import_job(packed, "copy", data), Job.open("mill", data)
    assert (there.stator, there.bank, there.coil) == (here.stator, here.bank, None)
    assert there.read_log("spin") == here.read_log("spin") == spin_rows(3)
    assert export_job(here) == packed  # the same job gives the same zip


@pytest.mark.parametrize("name", ["spring_pipe", "ridge_rotor", "shed_pedals"])
def test_every_example_goes_out_and_in(data, name):
    job = example.write(data, name)
    there = import_job(export_job(job), "copy", data)
    assert [there.read_log(log) for log in ("spin", "shorted", "ohms")] == [
        job.read_log(log) for log in ("spin", "shorted", "ohms")]
    assert (there.coil, there.drive) == (job.coil, job.drive)


def test_a_job_is_never_written_over_and_a_free_name_is_offered(data, packed):
    assert refused(data, packed, "mill") == (
        "name of the job: there is already a job mill; a job is never written over by an import; give it another name, "
        "such as mill-2.")


@pytest.mark.parametrize("name", ["../out", "a/b", "", ".hidden", "x" * 60, "con\\x"])
def test_a_name_cannot_leave_the_data_folder(data, packed, name):
    refused(data, packed, name)


@pytest.mark.parametrize("files, words", [
    ([("../job.json", "{}")], "the zip holds '../job.json'"),
    ([("/etc/job.json", "{}")], "the zip holds '/etc/job.json'"),
    ([("sub/job.json", "{}")], "the zip holds 'sub/job.json'"),
    ([("job.json", '{"schema_version": 1}'), ("evil.py", "x")], "the zip holds 'evil.py'"),
    ([("Job.json", '{"schema_version": 1}')], "the zip holds 'Job.json'"),
    ([("spin.csv", "x")], "the zip has no job.json"),
    ([], "the zip has no job.json"),
    ([("job.json", "{")], "job.json, line 1"),
    ([("job.json", '{"schema_version": 99}')], "99"),
    ([("job.json", '{"schema_version": 1}'), ("spin.csv", "rubbish\n1\n")], "spin.csv, line 1"),
    ([("job.json", '{"schema_version": 1}'), ("ohms.csv", b"\xff\xfe")], "ohms.csv, line 1"),
])
def test_what_a_job_may_not_hold_is_refused_and_leaves_no_trace(data, files, words):
    assert words in refused(data, zipped(files))


def test_a_file_twice_is_refused(data):
    with pytest.warns(UserWarning, match="Duplicate name"):
        packed = zipped([("job.json", '{"schema_version": 1}'), ("job.json", '{"schema_version": 1}')])
    assert "holds a file twice" in refused(data, packed)


def test_a_bomb_is_stopped_while_reading(data, monkeypatch):
    monkeypatch.setattr(job_zip, "MOST_FILE_BYTES", 10_000)
    bomb = zipped([("job.json", '{"schema_version": 1}'), ("spin.csv", "0" * 5_000_000)])
    assert len(bomb) < 10_000 and "spin.csv is larger than it may be" in refused(data, bomb)
    monkeypatch.setattr(job_zip, "MOST_ZIP_BYTES", 100)
    assert "are allowed; choose a zip that this workbook made" in refused(data, bomb)


def test_a_link_in_a_zip_becomes_a_plain_file_or_nothing(data):
    info = zipfile.ZipInfo("job.json")
    info.external_attr = 0o120777 << 16
    made = BytesIO()
    with zipfile.ZipFile(made, "w") as packed:
        packed.writestr(info, "/etc/passwd")
    assert "job.json" in refused(data, made.getvalue())


@pytest.mark.parametrize("junk", [b"", b"PK", b"not a zip", b"\0" * 5000])
def test_no_zip_is_told(data, junk):
    assert "this is no zip, or it is damaged" in refused(data, junk)


def test_a_zip_with_a_password_is_told(data, packed):
    # Bit 0 of the general purpose flag says encrypted (APPNOTE 4.4.4), in the local and the central header.
    locked = bytearray(packed)
    for mark, place in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = locked.find(mark)
        while at >= 0:
            locked[at + place] |= 1
            at = locked.find(mark, at + 4)
    assert "password" in refused(data, bytes(locked))


def test_an_odd_log_is_kept_with_its_note(data):
    csv = "time_s;electrical_hz\n0;120,5\n"
    there = import_job(zipped([("job.json", '{"schema_version": 1}'), ("coast.csv", csv)]), "copy", data)
    assert there.read_log("coast")[0]["electrical_hz"] == "120,5" and there.log_notes("coast")


@pytest.mark.slow
def test_no_changed_byte_of_a_zip_gets_in_as_another_number(data, packed):
    """3000 zips with bytes changed, cut off, put in or swapped: each is refused in a sentence or gives the same job."""
    draw, right = random.Random(7), Job.open("mill", data)
    wanted = (right.stator, right.bank, right.read_log("spin"))
    accepted = 0
    for turn in range(3000):
        changed = mutated(draw, packed)
        try:
            there = import_job(changed, f"c{turn}", data)
        except BadInput as refusal:
            assert str(refusal).endswith(".") and "\n" not in str(refusal)
            continue
        accepted += 1
        # A byte of the zip's own book-keeping, such as a date, may change; what is in the files may not.
        kept = [log for log in ("spin",) if (there.folder / f"{log}.csv").exists()]
        assert (there.stator, there.bank, *(there.read_log(log) for log in kept)) == wanted[:2 + len(kept)]
    assert accepted < 1500
    outside = [path for path in data.parent.rglob("*") if data not in path.parents and path != data]
    assert outside == [] and not list(data.glob(".import-*"))


def mutated(draw, data):
    made, kind = bytearray(data), draw.randrange(4)
    at = draw.randrange(len(made))
    if kind == 0:
        made[at] ^= 1 << draw.randrange(8)
    elif kind == 1:
        del made[at:]
    elif kind == 2:
        made[at:at] = draw.randbytes(draw.randrange(1, 9))
    else:
        to = draw.randrange(len(made))
        made[at], made[to] = made[to], made[at]
    return bytes(made)
