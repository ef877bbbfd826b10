"""Writing a job: whole or not at all, one at a time, never through a link, and not lost when the notebook is killed."""

import errno
import os
import signal
import subprocess
import sys
import time
from types import SimpleNamespace

import pytest

from samples.job_samples import sample, spin_rows
from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.job import files as job_files
from statorbook.job.files import put_aside
from statorbook.job.job import Job

wording = sentences_of("job")


@pytest.fixture
def job(tmp_path):
    made = Job.create("mill", tmp_path)
    made.save_part("bank", sample("bank"))
    made.save_log("spin", spin_rows(2))
    return made


def contents(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def refusing(error):
    def act(*arguments, **options):
        raise error

    return act


@pytest.mark.parametrize("step", ["replace", "fsync"])
def test_a_write_that_fails_leaves_everything_as_it_was(job, monkeypatch, step):
    before = contents(job.folder)
    monkeypatch.setattr(os, step, refusing(OSError(errno.ENOSPC, "No space left on device")))
    for name, act in (
        ("job.json", lambda: job.save_part("stator", sample("stator"))),
        ("spin.csv", lambda: job.save_log("spin", spin_rows(3))),
    ):
        with pytest.raises(BadInput) as caught:
            act()
        assert str(caught.value) == (
            f"mill/{name}: the file cannot be written (No space left on device); a folder that you may write to, "
            f"with room "
            "on the disk, is allowed; make room or check who owns the folder, then save again; the old file is "
            "untouched."
        )
    assert contents(job.folder) == before
    monkeypatch.undo()
    job.save_log("spin", spin_rows(3))
    assert job.read_log("spin") == spin_rows(3)


def test_a_file_that_windows_holds_open_for_somebody_is_waited_for(job, monkeypatch):
    left, rename = [2], os.replace

    def held(source, target):
        left[0] -= 1
        if left[0] >= 0:
            raise PermissionError(errno.EACCES, "in use")
        rename(source, target)

    waits = []
    monkeypatch.setattr(time, "sleep", waits.append)
    monkeypatch.setattr(job_files, "os", SimpleNamespace(**vars(os) | {"name": "nt", "replace": held}))
    job.save_log("spin", spin_rows(3))
    assert job.read_log("spin") == spin_rows(3) and len(waits) == 2
    # Twenty times and once more, then it is told; elsewhere a file that may not be replaced is told at once.
    for system, tries in (("nt", 21), ("posix", 1)):
        monkeypatch.setattr(job_files.os, "name", system)
        left[0] = 99
        with pytest.raises(BadInput, match="the file cannot be written"):
            job.save_log("spin", spin_rows(2))
        assert 99 - left[0] == tries and job.read_log("spin") == spin_rows(3)


def test_an_interrupted_write_leaves_nothing_behind(job, monkeypatch):
    before = contents(job.folder)
    monkeypatch.setattr(os, "replace", refusing(KeyboardInterrupt()))
    with pytest.raises(KeyboardInterrupt):
        job.save_log("spin", spin_rows(3))
    assert contents(job.folder) == before


def test_at_every_rename_the_old_or_the_new_file_is_whole(job, monkeypatch):
    old, seen, rename = (job.folder / "spin.csv").read_bytes(), [], os.replace

    def watched(source, target):
        seen.append((job.folder / "spin.csv").read_bytes())
        rename(source, target)
        seen.append((job.folder / "spin.csv").read_bytes())

    monkeypatch.setattr(os, "replace", watched)
    job.save_log("spin", spin_rows(3))
    new = (job.folder / "spin.csv").read_bytes()
    assert seen == [old, old, old, new] and (job.folder / "spin.previous.csv").read_bytes() == old


def test_a_left_over_of_a_killed_notebook_is_no_hindrance(job):
    (job.folder / ".spin.csv.new.tmp").write_bytes(b"half a fi")
    job.save_log("spin", spin_rows(3))
    assert job.read_log("spin") == spin_rows(3) and not (job.folder / ".spin.csv.new.tmp").exists()


def test_a_held_job_is_waited_for_and_then_refused(job, monkeypatch):
    monkeypatch.setattr(job_files, "LOCK_SECONDS", 0.1)
    before = contents(job.folder)
    with job_files.locked(job.folder), pytest.raises(BadInput) as caught:
        job.save_part("stator", sample("stator"))
    assert str(caught.value) == wording("mill: another notebook has held")
    assert contents(job.folder) == before
    job.save_part("stator", sample("stator"))
    assert job.stator == sample("stator")


def test_a_held_job_is_had_as_soon_as_it_is_let_go(job, monkeypatch):
    answers, asked = [False, False, True], []

    def answer(handle, *, blocking):  # as on every system: Windows and the others differ inside filelock only
        asked.append((os.fstat(handle).st_ino, blocking))
        return answers.pop(0)

    monkeypatch.setattr("filelock.lock_descriptor", answer)
    job.save_log("spin", spin_rows(3))
    assert job.read_log("spin") == spin_rows(3)
    assert asked == [((job.folder / ".lock").stat().st_ino, False)] * 3


def test_a_disk_that_cannot_lock_is_refused_and_left_without_a_mark(job, monkeypatch):
    fcntl = pytest.importorskip("fcntl")  # Windows has another way
    monkeypatch.setattr(fcntl, "flock", refusing(OSError(errno.ENOSYS, "Function not implemented")))
    before = contents(job.folder)
    with pytest.raises(BadInput, match=wording("^data folder: this disk cannot")):
        job.save_log("spin", spin_rows(3))
    assert contents(job.folder) == before


def test_a_lock_that_somebody_left_behind_hinders_nobody(job, monkeypatch):
    monkeypatch.setattr(job_files, "LOCK_SECONDS", 0.1)
    (job.folder / ".lock").write_text(f"{os.getpid()}\nsome other program\n")
    job.save_log("spin", spin_rows(3))
    assert job.read_log("spin") == spin_rows(3) and (job.folder / ".lock").exists()


_HOLDER = """
import sys, time
from pathlib import Path
from statorbook.job.files import locked
with locked(Path(sys.argv[1])):
    print("held", flush=True)
    time.sleep(600)
"""


def test_a_notebook_killed_while_it_holds_the_job_lets_go_of_it(job, monkeypatch):
    monkeypatch.setattr(job_files, "LOCK_SECONDS", 0.1)
    holder = subprocess.Popen([sys.executable, "-c", _HOLDER, str(job.folder)], stdout=subprocess.PIPE)
    try:
        assert holder.stdout.readline() == b"held\n"
        with pytest.raises(BadInput, match=wording("^mill: another notebook has held")):
            job.save_log("spin", spin_rows(3))
    finally:
        holder.kill()
        holder.communicate()
    job.save_log("spin", spin_rows(3))
    assert job.read_log("spin") == spin_rows(3)


@pytest.mark.parametrize("lock", ["link", "folder"])
def test_a_lock_that_is_no_plain_file_is_refused(job, outside, lock):
    (job.folder / ".lock").unlink()
    if lock == "link":
        (job.folder / ".lock").symlink_to(outside / "secret.txt")
    else:
        (job.folder / ".lock").mkdir()
    with pytest.raises(BadInput, match=wording("^mill: the folder cannot be written to")):
        job.save_log("spin", spin_rows(3))
    assert (outside / "secret.txt").read_bytes() == b"do not touch" and job.read_log("spin") == spin_rows(2)


def test_a_folder_that_is_gone(job):
    job.folder.rename(job.folder.parent / "barn")
    with pytest.raises(BadInput, match=wording("^mill: the folder cannot be written to \\(No")):
        job.save_log("spin", spin_rows(1))
    with pytest.raises(BadInput, match=wording("^job name: there is no")):
        job.bank


def test_a_folder_where_a_file_should_be(job):
    (job.folder / "ohms.csv").unlink()
    (job.folder / "ohms.csv").mkdir()
    with pytest.raises(BadInput, match=wording("^mill/ohms.csv: it is a link")):
        job.read_log("ohms")


@pytest.fixture
def outside(tmp_path):
    target = tmp_path / "outside"
    target.mkdir()
    (target / "secret.txt").write_bytes(b"do not touch")
    try:
        (tmp_path / "try").symlink_to(target)
    except OSError:
        pytest.skip("this system makes no links")
    (tmp_path / "try").unlink()
    return target


@pytest.mark.parametrize("target", ["../mill", "shed", "nowhere"])
def test_a_job_that_is_a_link_is_refused(job, outside, target):
    base = job.folder.parent / "data"
    base.mkdir()
    Job.create("shed", base)
    (base / "barn").symlink_to(target)
    for act in (Job.open, Job.create):
        with pytest.raises(BadInput, match=wording("^job name: 'barn' is a")):
            act("barn", base)
    assert Job.names(base) == ["shed"]


@pytest.mark.parametrize("name", ["spin.csv", "job.json"])
def test_a_file_that_is_a_link_is_neither_read_nor_written(job, outside, name):
    (job.folder / name).unlink()
    (job.folder / name).symlink_to(outside / "secret.txt")
    acts = (
        [lambda: job.save_log("spin", []), lambda: job.read_log("spin")]
        if name == "spin.csv"
        else [lambda: job.save_part("bank", sample("bank")), lambda: job.bank]
    )
    for act in acts:
        with pytest.raises(BadInput, match=f"^mill/{name}: it is a link or a folder; a plain file is allowed; "):
            act()
    assert (outside / "secret.txt").read_bytes() == b"do not touch"


@pytest.mark.parametrize("name", [".spin.csv.new.tmp", ".spin.csv.old.tmp", "spin.previous.csv"])
def test_no_link_is_followed_while_writing(job, outside, name):
    (job.folder / name).unlink(missing_ok=True)
    (job.folder / name).symlink_to(outside / "secret.txt")
    job.save_log("spin", spin_rows(3))
    assert (outside / "secret.txt").read_bytes() == b"do not touch" and job.read_log("spin") == spin_rows(3)


_WRITER = """
import sys
from samples.job_samples import sample
from statorbook.job.files import put_aside
from statorbook.job.job import Job
folder, name, field, count = sys.argv[1], sys.argv[2], sys.argv[3], int(sys.argv[4])
job = Job.open("mill", folder)
for n in range(1, count + 1):
    part = sample(name, **{field: n + 0.5})
    job.save_part(name, part)
    assert getattr(job, name) == part
"""


def test_two_processes_never_overwrite_each_others_part(job):
    run = [
        subprocess.Popen(
            [sys.executable, "-c", _WRITER, str(job.folder.parent), name, field, "40"],
            env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
        )
        for name, field in (("drive", "drag_nm"), ("choice", "dc_amps"))
    ]
    assert [process.wait(timeout=60) for process in run] == [0, 0]
    assert (job.drive.drag_nm, job.choice.dc_amps, job.bank) == (40.5, 40.5, sample("bank"))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")
def test_a_notebook_killed_while_saving_loses_no_reading(job):
    rows = []
    for round_number in range(30):
        said, say = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                for _ in range(1000):
                    rows.append(spin_rows(1, note=f"round {round_number}")[0])
                    job.save_log("spin", rows)
                    os.write(say, b".")
            finally:
                os._exit(1)
        os.close(say)
        os.read(said, 1)
        time.sleep(0.0005 * (round_number % 10))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        acknowledged = len(rows) + 1
        while more := os.read(said, 1000):
            acknowledged += len(more)
        os.close(said)
        fresh = Job.open("mill", job.folder.parent)
        job, rows = fresh, fresh.read_log("spin")
        assert len(rows) in (acknowledged, acknowledged + 1) and fresh.log_notes("spin") == ()


def test_without_room_a_damaged_file_stays_where_it_is(tmp_path, monkeypatch):
    path = tmp_path / "job.json"
    path.write_bytes(b"damaged")

    def full(*arguments):
        raise OSError(28, "no room")

    monkeypatch.setattr(job_files, "write_through", full)
    with pytest.raises(BadInput, match=r"cannot be kept aside \(no room\)"):
        put_aside(path)
    assert [(each.name, each.read_bytes()) for each in tmp_path.iterdir()] == [("job.json", b"damaged")]
