"""A job as a zip: the same on the other side, and nothing that a job may not hold gets in or leaves a trace."""

import os
import random
import signal
import stat
import subprocess
import sys
import zipfile
from io import BytesIO

import pytest

from samples.job_samples import sample, spin_rows
from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job import archive as job_zip
from statorbook.job.archive import export_job, import_job, sweep_imports
from statorbook.job.history import JobFolder
from statorbook.job.job import Job

wording = sentences_of("job")


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


def zipped(files, packing=zipfile.ZIP_DEFLATED):
    made = BytesIO()
    with zipfile.ZipFile(made, "w", packing) as packed:
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


def test_an_imported_job_may_be_looked_into_by_others_and_changed_by_its_owner_only(data, packed):
    # Read, write and enter for the owner, read and enter for the rest: what a new folder is given by custom.
    assert stat.S_IMODE(import_job(packed, "copy", data).folder.stat().st_mode) == 0o755


@pytest.mark.parametrize("name", ["spring_pipe", "ridge_rotor", "shed_pedals"])
def test_every_example_goes_out_and_in(data, name):
    job = example.write(data, name)
    there = import_job(export_job(job), "copy", data)
    assert [there.read_log(log) for log in ("spin", "shorted", "ohms")] == [
        job.read_log(log) for log in ("spin", "shorted", "ohms")
    ]
    assert (there.coil, there.drive) == (job.coil, job.drive)


def test_a_job_is_never_written_over_and_a_free_name_is_offered(data, packed):
    assert refused(data, packed, "mill") == wording("mill is there already: a name such as mill-2")


@pytest.mark.parametrize("name", ["../out", "a/b", "", ".hidden", "x" * 60, "con\\x"])
def test_a_name_cannot_leave_the_data_folder(data, packed, name):
    refused(data, packed, name)


@pytest.mark.parametrize(
    "files, words",
    [
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
    ],
)
def test_what_a_job_may_not_hold_is_refused_and_leaves_no_trace(data, files, words):
    assert words in refused(data, zipped(files))


def test_a_file_twice_is_refused(data):
    with pytest.warns(UserWarning, match="Duplicate name"):
        packed = zipped([("job.json", '{"schema_version": 1}'), ("job.json", '{"schema_version": 1}')])
    assert "holds a file twice" in refused(data, packed)


def test_a_bomb_is_stopped_while_reading(data, monkeypatch):
    monkeypatch.setattr(job_zip, "MOST_FILE_BYTES", 10_000)
    bomb = zipped([("job.json", '{"schema_version": 1}'), ("spin.csv", "0" * 5_000_000)])
    assert len(bomb) < 10_000 and wording("spin.csv is larger than it") in refused(data, bomb)
    monkeypatch.setattr(job_zip, "MOST_FILE_BYTES", 2_000_000)
    assert "at most 2 MB a file" in refused(data, bomb)
    monkeypatch.setattr(job_zip, "MOST_ZIP_BYTES", 100)
    assert wording("are allowed; choose a zip") in refused(data, bomb)


def test_a_link_in_a_zip_becomes_a_plain_file_or_nothing(data):
    info = zipfile.ZipInfo("job.json")
    info.external_attr = 0o120777 << 16
    made = BytesIO()
    with zipfile.ZipFile(made, "w") as packed:
        packed.writestr(info, "/etc/passwd")
    assert "job.json" in refused(data, made.getvalue())


@pytest.mark.parametrize("junk", [b"", b"PK", b"not a zip", b"\0" * 5000])
def test_no_zip_is_told(data, junk):
    assert wording("this is no zip, or") in refused(data, junk)


@pytest.mark.parametrize("packing, name", [(zipfile.ZIP_LZMA, "lzma"), (zipfile.ZIP_BZIP2, "bzip2")])
def test_an_unusual_packing_is_told(data, packing, name):
    assert refused(data, zipped([("job.json", '{"schema_version": 1}')], packing)) == (
        f"zip of a job: job.json is packed in an unusual way ({name}); stored or deflated files are allowed; choose a "
        "zip that this workbook made."
    )


def test_a_packing_that_nobody_knows_is_told(data):
    # Bytes 10 and 11 of the central header, 8 and 9 of the local one, are the compression method (APPNOTE 4.4.5).
    packed = bytearray(zipped([("job.json", '{"schema_version": 1}')], zipfile.ZIP_STORED))
    for mark, place in ((b"PK\x03\x04", 8), (b"PK\x01\x02", 10)):
        packed[packed.find(mark) + place] = 99
    assert wording("job.json is packed in an") in refused(data, bytes(packed))


def test_stored_files_come_in(data):
    there = import_job(zipped([("job.json", '{"schema_version": 1}')], zipfile.ZIP_STORED), "copy", data)
    assert there.name == "copy" and there.stator is None


def test_a_checksum_that_does_not_fit_is_told_in_one_sentence(data):
    packed = zipped([("job.json", '{"schema_version": 1}'), ("README.txt", "abc 12.5 def")], zipfile.ZIP_STORED)
    assert packed.count(b"12.5") == 1
    assert refused(data, packed.replace(b"12.5", b"12.6")) == wording("zip of a job: README.txt")


def test_a_name_that_differs_only_in_capitals_is_taken(data, packed):
    assert refused(data, packed, "Mill") == wording("Mill is there already: a name such as Mill-2")


def test_what_comes_in_is_on_the_disk_before_it_has_its_name(data, packed, monkeypatch):
    done = []
    for name in ("fsync", "rename"):
        act = getattr(os, name)
        monkeypatch.setattr(os, name, lambda *given, act=act, name=name: (done.append(name), act(*given))[1])
    import_job(packed, "copy", data)
    # job.json and three logs, then their folder, then the name, then the folder that holds it.
    assert done == ["fsync"] * 5 + ["rename", "fsync"]


_KILLED = """
import os, signal, sys
from pathlib import Path
from statorbook.job import archive as job_zip
folder, step = sys.argv[1:]
write, count = job_zip.write_through, 0
def cut_off(path, data):
    global count
    count += 1
    if count > int(step):
        os.kill(os.getpid(), signal.SIGKILL)
    write(path, data)
job_zip.write_through = cut_off
job_zip.import_job(sys.stdin.buffer.read(), "copy", Path(folder))
"""


@pytest.mark.parametrize("step", [0, 2])
def test_a_kill_in_mid_import_leaves_nothing_after_the_next_start(data, packed, step):
    before = tree(data)
    killed = subprocess.run(
        [sys.executable, "-c", _KILLED, str(data), str(step)],
        input=packed,
        timeout=60,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
    )
    (left,) = data.glob(".import-*")
    assert killed.returncode == -signal.SIGKILL and len(list(left.iterdir())) == step
    sweep_imports(data)
    assert tree(data) == before and Job.names(data) == ["mill"]


def test_only_what_an_import_left_is_swept(data, packed):
    mine = [".import-mine", ".import-abcdefgh", ".import-12345678x"]
    for name in mine:
        (data / name).mkdir()
        (data / name / "notes.txt").write_text("mine")
    (data / ".import-linked00").symlink_to(data / "mill")
    before = tree(data)
    sweep_imports(data)
    assert tree(data) == before and Job.open("mill", data).read_log("spin") == spin_rows(3)


def test_a_damaged_job_goes_out_as_it_is_and_says_so(data, packed):
    job = Job.open("mill", data)
    (job.folder / "job.json").write_bytes(b"{")
    (job.folder / "ohms.csv").unlink()
    (job.folder / "ohms.csv").symlink_to("spin.csv")
    copy = export_job(JobFolder(folder=job.folder))
    with zipfile.ZipFile(BytesIO(copy)) as opened:
        assert opened.namelist() == ["README.txt", "job.json", "spin.csv", "shorted.csv"]
        assert opened.read("job.json") == b"{"
        about = opened.read("README.txt").decode()
    assert wording("Damaged: mill/job.json, line 1: the") in about
    assert wording("Damaged: mill/ohms.csv: it is a") in about
    assert "job.json, line 1" in refused(data, copy)


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
        assert (there.stator, there.bank, *(there.read_log(log) for log in kept)) == wanted[: 2 + len(kept)]
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
