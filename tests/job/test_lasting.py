"""Long runs: a thousand kills, a full disk, two notebooks at once, ten thousand damaged files."""

import csv
import io
import json
import os
import random
import resource
import subprocess
import sys

import pytest

from samples.job_samples import sample, spin_rows
from statorbook.bench.csv_text import parse_log
from statorbook.errors import BadInput
from statorbook.job.document import parse_document
from statorbook.job.job import Job

pytestmark = pytest.mark.slow


@pytest.fixture
def job(tmp_path):
    made = Job.create("mill", tmp_path)
    for name in ("stator", "bank", "drive"):
        made.save_part(name, sample(name))
    return made


_KILLS = """
import os, random, signal, sys, time
from pathlib import Path
from samples.job_samples import spin_rows
from statorbook.job.job import Job
job = Job.open("mill", Path(sys.argv[1]))
rows, draw = [], random.Random(1)
for kill in range(1000):
    if len(rows) > 40:
        rows = []
        job.save_log("spin", rows)
    said, say = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            while True:
                rows.append(spin_rows(1, note=f"kill {kill}")[0])
                job.save_log("spin", rows)
                os.write(say, b".")
        finally:
            os._exit(1)
    os.close(say)
    time.sleep(draw.uniform(0.0, 0.006))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    confirmed = len(rows)
    while more := os.read(said, 1000):
        confirmed += len(more)
    os.close(said)
    job = Job.open("mill", job.folder.parent)
    rows = job.read_log("spin")
    assert len(rows) in (confirmed, confirmed + 1) and job.log_notes("spin") == (), (kill, confirmed, len(rows))
print("killed", kill + 1)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")
def test_a_thousand_kills_in_the_middle_of_saving_lose_no_confirmed_reading(job):
    # In a process of its own: to copy one as large as that of the tests takes longer than all the rest.
    killing = run(_KILLS, job.folder.parent, stdout=subprocess.PIPE)
    assert killing.communicate(timeout=300)[0] == b"killed 1000\n" and killing.returncode == 0
    job = Job.open("mill", job.folder.parent)
    assert job.bank == sample("bank") and job.states()["01_know_your_stator"]


_FILL = """
import resource, signal, sys
from pathlib import Path
from samples.job_samples import sample, spin_rows
from statorbook.errors import BadInput
from statorbook.job.job import Job
job = Job.open("mill", Path(sys.argv[1]))
kept = spin_rows(5)
job.save_log("spin", kept)
before = (job.folder / "spin.csv").read_bytes()
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (len(before) + 10, resource.getrlimit(resource.RLIMIT_FSIZE)[1]))
for act in (lambda: job.save_log("spin", spin_rows(50)),
            lambda: job.save_part("stator", sample("stator", notes="x" * 1900))):
    try:
        act()
        sys.exit("saved although the disk is full")
    except BadInput as refusal:
        assert "the old file is untouched" in str(refusal), refusal
assert (job.folder / "spin.csv").read_bytes() == before and job.read_log("spin") == kept
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
job.save_log("spin", spin_rows(6))
"""


def run(code, *arguments, **given):
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}
    return subprocess.Popen([sys.executable, "-c", code, *map(str, arguments)], env=environment, **given)


def test_a_full_disk_is_told_and_costs_nothing(job):
    # A limit on the size of files stands for the full disk: the system refuses the write in the middle all the same.
    assert resource.RLIMIT_FSIZE is not None and run(_FILL, job.folder.parent).wait(timeout=60) == 0
    fresh = Job.open("mill", job.folder.parent)
    assert fresh.read_log("spin") == spin_rows(6) and fresh.stator == sample("stator")
    assert not [path.name for path in job.folder.iterdir() if path.name.endswith(".tmp")]


_ROUNDS = """
import sys
from pathlib import Path
from samples.job_samples import sample
from statorbook.job.job import Job
name, field, log, folder = sys.argv[1:]
job = Job.open("mill", Path(folder))
for n in range(1, 201):
    part = sample(name, **{field: n + 0.5})
    job.save_part(name, part)
    assert getattr(job, name) == part
    rows = [{column: "" for column in job.read_log(log)[0]} | {"note": str(n)}]
    job.save_log(log, rows)
    assert job.read_log(log) == rows
"""


def test_two_notebooks_saving_at_once_for_two_hundred_rounds_keep_both(job):
    job.save_log("spin", spin_rows(1))
    job.save_log("ohms", [dict.fromkeys(("terminals", "ohms", "lead_zero_ohm", "copper_c", "note"), "1")])
    both = [
        run(_ROUNDS, name, field, log, job.folder.parent)
        for name, field, log in (("drive", "speed_rpm", "spin"), ("bank", "capacity_ah", "ohms"))
    ]
    assert [process.wait(timeout=300) for process in both] == [0, 0]
    fresh = Job.open("mill", job.folder.parent)
    assert (fresh.drive.speed_rpm, fresh.bank.capacity_ah, fresh.stator) == (200.5, 200.5, sample("stator"))
    assert fresh.read_log("spin")[0]["note"] == fresh.read_log("ohms")[0]["note"] == "200"


def mutated(draw, data):
    """A byte flipped, the end cut off, bytes put in, two lines exchanged, or a digit changed."""
    made, kind = bytearray(data), draw.randrange(5)
    at = draw.randrange(len(made))
    if kind == 0:
        made[at] ^= 1 << draw.randrange(8)
    elif kind == 1:
        del made[at:]
    elif kind == 2:
        made[at:at] = bytes(draw.choice(b'",;\t\r\n{}[]:0123456789.-eE\x00\xff\xef\xbb\xbf') for _ in range(3))
    elif kind == 3:
        lines = bytes(made).split(b"\n")
        one, other = draw.randrange(len(lines)), draw.randrange(len(lines))
        lines[one], lines[other] = lines[other], lines[one]
        made = bytearray(b"\n".join(lines))
    else:
        digits = [place for place, byte in enumerate(made) if 48 <= byte <= 57] or [at]
        made[draw.choice(digits)] = draw.choice(b"0123456789")
    return bytes(made)


def refusal_or(call):
    """What the call gives; None when it refuses in one sentence. Anything else is a fault."""
    try:
        return call()
    except BadInput as refusal:
        words = str(refusal)
        assert words.endswith(".") and "\n" not in words and "Traceback" not in words
        return None


def test_five_thousand_damaged_logs_give_a_sentence_or_the_cells_that_stand_there(job):
    draw, accepted = random.Random(2), 0
    job.save_log("spin", spin_rows(6))
    data = (job.folder / "spin.csv").read_bytes()
    for _ in range(5000):
        changed = mutated(draw, data)
        found = refusal_or(lambda: parse_log("spin", changed, "mill/spin.csv"))
        if found is None:
            continue
        accepted += 1
        # The same file by the csv module alone: the cells that stand below the header and the units are those read.
        text = changed.decode("utf-8-sig")
        mark = max(",;\t", key=text.split("\n", 1)[0].count)
        table = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True) if row]
        stands = [cell for row in table[2 if found.units else 1 :] for cell in row if cell]
        read = [
            cell
            for row in found.rows
            for value in row.values()
            for cell in (value if isinstance(value, list) else [value])
            if cell
        ]
        assert sorted(read) == sorted(stands)
    assert 500 < accepted < 5000


def test_five_thousand_damaged_job_files_give_a_sentence_or_the_values_that_stand_there(job):
    draw, accepted = random.Random(3), 0
    data = (job.folder / "job.json").read_bytes()
    for _ in range(5000):
        changed = mutated(draw, data)
        found = refusal_or(lambda: parse_document(changed, "mill/job.json"))
        if found is None:
            continue
        accepted += 1
        stands = json.loads(changed.decode("utf-8-sig"))
        for name, part in found.parts.items():
            read = part.as_saved()
            # A name that the workbook does not know is kept in the file, as one of a later version would be.
            assert {key: read[key] for key in stands[name] if key in read} == {
                key: value for key, value in stands[name].items() if key in read
            }
            assert found.keys[name] == stands[name]
    assert 100 < accepted < 5000
