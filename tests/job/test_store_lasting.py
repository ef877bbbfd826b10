"""Long runs over the ways in and out of a job: a really full disk, damaged zips, files, versions and left-overs."""

import csv
import io
import random
import subprocess
import zipfile
from io import BytesIO

import pytest

from job.test_lasting import mutated, refusal_or
from samples.job_samples import sample, spin_rows
from sentences import sentences_of
from statorbook.bench.paste import decoded, pasted_rows
from statorbook.errors import BadInput
from statorbook.job.archive import export_job, import_job, sweep_imports
from statorbook.job.history import JobFolder, history, lost_jobs, restore
from statorbook.job.job import Job
from statorbook.quantities.cells import cell_text

wording = sentences_of("job")

pytestmark = pytest.mark.slow
NO_MOUNT = wording("this system lets the tests")
FULL = "the file cannot be written (No space left on device)"


@pytest.fixture
def small_disk(tmp_path):
    """A disk of 128 kB of its own."""
    place = tmp_path / "disk"
    place.mkdir()
    try:
        made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=128k", "tmpfs", str(place)], capture_output=True)
    except FileNotFoundError:
        made = None
    if made is None or made.returncode != 0:
        pytest.skip(NO_MOUNT)
    try:
        yield place
    finally:
        subprocess.run(["umount", str(place)], check=True)


def test_on_a_full_disk_every_confirmed_reading_stays_and_the_job_opens(small_disk):
    job = Job.create("mill", small_disk)
    job.save_part("bank", sample("bank"))
    copy = export_job(job)
    rows, refused = [], 0
    for turn in range(400):
        wanted = [*rows, spin_rows(1, note=f"reading {turn} {'x' * 40}")[0]]
        try:
            job.save_log("spin", wanted)
            rows = wanted
        except BadInput as full:
            refused += 1
            assert FULL in str(full) and "the old file is untouched" in str(full)
        if refused and turn % 10 == 0:
            job = Job.open("mill", small_disk)
            assert job.read_log("spin") == rows
    assert rows and refused > 10
    with pytest.raises(BadInput, match="No space left on device"):
        import_job(copy, "copy", small_disk)
    assert not list(small_disk.glob(".import-*")) and Job.names(small_disk) == ["mill"]
    fresh = Job.open("mill", small_disk)
    assert fresh.read_log("spin") == rows and fresh.log_notes("spin") == () and fresh.bank == sample("bank")
    # With room again everything goes on.
    for old in history(fresh)[20:]:
        old.path.unlink()
    fresh.save_log("spin", spin_rows(2))
    restore(fresh, history(fresh)[0])
    assert Job.open("mill", small_disk).read_log("spin") == rows


def test_damage_restored_on_a_full_disk_is_all_or_nothing(small_disk):
    job = Job.create("mill", small_disk)
    job.save_log("spin", spin_rows(2))
    job.save_log("spin", spin_rows(3))
    path = job.folder / "spin.csv"
    path.write_bytes(b"rubbish\n" * 800)
    (small_disk / "filler").write_bytes(b"x" * 40_000)
    for size in (8192, 4096, 1024, 1):
        try:
            while True:
                with open(small_disk / "filler", "ab") as filler:
                    filler.write(b"x" * size)
        except OSError:
            continue
    with pytest.raises(BadInput, match=wording("the damaged file cannot be")):
        restore(JobFolder(folder=job.folder), history(job)[0])
    assert path.read_bytes() == b"rubbish\n" * 800 and not list(job.folder.glob("*.damaged-*"))
    (small_disk / "filler").unlink()
    restore(JobFolder(folder=job.folder), history(job)[0])
    assert job.read_log("spin") == spin_rows(2)


@pytest.fixture
def job(tmp_path):
    base = tmp_path / "data"
    base.mkdir()
    made = Job.create("mill", base)
    made.save_part("bank", sample("bank"))
    made.save_part("bank", sample("bank", cable_ohm=0.05))
    made.save_log("spin", spin_rows(4))
    made.save_log("spin", spin_rows(6))
    return made


def repacked(packing, files):
    made = BytesIO()
    with zipfile.ZipFile(made, "w", packing) as packed:
        for name, content in files.items():
            packed.writestr(name, content)
    return made.getvalue()


@pytest.mark.parametrize("packing", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED, zipfile.ZIP_LZMA, zipfile.ZIP_BZIP2])
def test_four_thousand_changed_zips_of_every_packing_bring_in_no_other_number(job, packing):
    base, draw, accepted = job.folder.parent, random.Random(f"zip {packing}"), 0
    with zipfile.ZipFile(BytesIO(export_job(job))) as whole:
        files = {info.filename: whole.read(info) for info in whole.infolist()}
    data = repacked(packing, files)
    for turn in range(1000):
        there = refusal_or(lambda: import_job(mutated(draw, data), f"c{turn}", base))
        if there is not None:
            accepted += 1
            for file in there.folder.glob("*.*"):
                assert file.read_bytes() == files[file.name]
    assert (accepted > 10) == (packing in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)) and accepted < 500
    assert not list(base.glob(".import-*")) and {path.name for path in base.parent.iterdir()} == {base.name}


def test_five_thousand_changed_files_from_other_hands_keep_every_cell_or_are_refused(job):
    draw, accepted, guessed = random.Random(11), 0, 0
    data = "speed_rpm;volts;terminals;note\r\nrpm;V;pair;text\r\n100,5;13,2;AB;naïve 20 °C\r\n110;14;BC;\r\n".encode()
    for _ in range(5000):
        changed = mutated(draw, data)
        found = refusal_or(lambda: decoded(changed, "theirs.csv"))
        rows = None if found is None else refusal_or(lambda: pasted_rows("spin", found[0]).rows)
        if rows is None:
            continue
        accepted, guessed = accepted + 1, guessed + bool(found[1])
        # What the letters say, by Python's own decoding and the csv module alone.
        assert found[1] or found[0] == changed.decode("utf-8-sig")
        text = found[0].lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
        mark = next(
            sign for sign in "\t;," if sign in next(line for line in text.split("\n") if line.strip()) or sign == ","
        )
        table = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=mark) if any(map(cell_text, row))]
        read = "\n".join(" ".join(row.values()) for row in rows)
        for cells in table[len(table) - len(rows) :]:
            assert all(part in read for cell in cells for part in cell.split() if cell_text(part))
    assert 1000 < accepted < 5000 and guessed > 50


def test_harmed_jobs_are_told_offered_and_restored(job):
    """Whatever becomes of the files of a job and of its versions: a sentence, and no version that is no version."""
    draw, base = random.Random(12), job.folder.parent
    files = [path for path in job.folder.rglob("*") if path.is_file() and path.suffix in (".json", ".csv")]
    whole = {path: path.read_bytes() for path in files}
    restored = 0
    for _ in range(300):
        for path in draw.sample(files, draw.randrange(1, 4)):
            if draw.random() < 0.15:
                path.unlink()
            else:
                path.write_bytes(mutated(draw, whole[path]))
        harmed = JobFolder(folder=job.folder)
        assert all(
            words.startswith("mill/") and words.endswith(".") and "\n" not in words for words in harmed.damage.values()
        )
        assert lost_jobs(base) in ([], ["mill"]) and export_job(harmed)
        for version in history(harmed, most=4):
            before, now = version.path.read_bytes(), job.folder / version.file
            broken = harmed.damage.get(version.file) and now.exists() and now.read_bytes()
            if refusal_or(lambda: restore(harmed, version)):
                restored += 1
                assert now.read_bytes() == before and version.file not in harmed.damage
                if broken:
                    assert broken in [path.read_bytes() for path in job.folder.glob(f"{now.stem}.damaged-*")]
        for path in job.folder.rglob("*"):
            if path.is_file() and path.name != ".lock":
                path.unlink()
        for path, data in whole.items():
            path.write_bytes(data)
    assert restored > 200 and {path.name for path in base.iterdir()} <= {"mill", ".lock"}


def test_left_overs_of_any_kind_neither_stop_a_start_nor_take_a_job_along(job):
    draw, base = random.Random(13), job.folder.parent
    for turn in range(200):
        name = ".import-" + "".join(draw.choice("abc019_A.") for _ in range(draw.choice((7, 8, 8, 8, 9))))
        place = base / name
        if not place.exists():
            place.mkdir()
            (place / draw.choice(("job.json", "spin.csv", "mine.txt"))).write_bytes(draw.randbytes(5))
        sweep_imports(base)
        assert not (place / "mine.txt").exists() or (place / "mine.txt").stat().st_size == 5
    assert all(
        (place / "mine.txt").exists() or "A" in place.name or "." in place.name[1:] or len(place.name) != 16
        for place in base.glob(".import-*")
    )
    assert Job.open("mill", base).read_log("spin") == spin_rows(6)
