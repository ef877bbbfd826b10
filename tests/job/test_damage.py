"""Damaged job files: told with file and line, never as a traceback, and left byte for byte as they are."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.job_samples import PARTS, sample, spin_rows
from sentences import sentences_of
from statorbook.bench.logs import LOGS
from statorbook.errors import BadInput
from statorbook.job.job import Job

wording = sentences_of("job")

REPAIR = wording("job.json is allowed as the")


@pytest.fixture
def job(tmp_path):
    return filled(tmp_path)


@pytest.fixture(scope="module")
def lasting_job(tmp_path_factory):
    return filled(tmp_path_factory.mktemp("data"))


def filled(base):
    made = Job.create("mill", base)
    for name in PARTS:
        made.save_part(name, sample(name))
    made.save_log("spin", spin_rows(4))
    return made


def damaged(job, old, new):
    """The job's file with one place changed; the test is void when that place is not there."""
    data = (job.folder / "job.json").read_bytes()
    assert data.count(old) >= 1
    return data.replace(old, new, 1)


def require_told(job, data, words):
    path = job.folder / "job.json"
    path.write_bytes(data)
    acts = [
        lambda: Job.open("mill", job.folder.parent),
        lambda: job.bank,
        job.states,
        lambda: job.save_part("bank", sample("bank", capacity_ah=77.0)),
    ]
    for act in acts:
        with pytest.raises(BadInput) as caught:
            act()
        assert str(caught.value) == words
        assert str(job.folder.parent) not in words
    assert path.read_bytes() == data
    assert sorted(p.name for p in job.folder.iterdir() if "tmp" in p.name) == []


@pytest.mark.parametrize(
    "data, words",
    [
        (b"", wording("mill/job.json, line 1: the file is empty; job.json")),
        (b"hello", f"mill/job.json, line 1: the text is not JSON (Expecting value); {REPAIR}"),
        (b"\x00\x00\x00", f"mill/job.json, line 1: the text is not JSON (Expecting value); {REPAIR}"),
        (
            b'{\n "schema_version": 1,\n',
            f"mill/job.json, line 3: the file breaks off or a text is not closed; {REPAIR}",
        ),
        (
            b'{\n "schema_version": 1;\n "bank": null}',
            f"mill/job.json, line 2: the text is not JSON (Expecting ',' delimiter); {REPAIR}",
        ),
        (b"speed;volts\n1;2\n", f"mill/job.json, line 1: the text is not JSON (Expecting value); {REPAIR}"),
        ('{"schema_version": 1}'.encode("utf-16"), f"mill/job.json, line 1: a letter is not in UTF-8; {REPAIR}"),
        (b"[1, 2]", wording("mill/job.json, line 1: a list")),
        (
            b'{\n\n"schema_version": 1,\n"x": [NaN]}',
            f"mill/job.json, line 4: NaN is not a number that a job can hold; {REPAIR}",
        ),
        (
            b'{"schema_version": 1,\n"x": 1e999}',
            f"mill/job.json, line 2: 1e999 is not a number that a job can hold; {REPAIR}",
        ),
        (b'{"schema_version": 1,\n"x": "\\ud800"}', wording("mill/job.json, line 2: a broken") + REPAIR),
        (
            b'{"schema_version": 1,\n"bank": null,\n"bank": null}',
            f'mill/job.json, line 3: "bank" stands there twice; {REPAIR}',
        ),
        # Of several the last is told; one that is written in another way is not found, and the top is told.
        (
            b'\n{"schema_version": 1,\n"bank": null,\n"bank": null,\n"bank": null}',
            f'mill/job.json, line 5: "bank" stands there twice; {REPAIR}',
        ),
        (
            b'\n{"schema_version": 1,\n"b\\u0061nk": null,\n"b\\u0061nk": null}',
            f'mill/job.json, line 1: "bank" stands there twice; {REPAIR}',
        ),
        (
            b'{"schema_version": 1, "x": ' + b"[" * 100_000,
            f"mill/job.json: a number is too long or the brackets are too deep; {REPAIR}",
        ),
        (
            b'{"schema_version": 1, "x": ' + b"9" * 5000 + b"}",
            f"mill/job.json: a number is too long or the brackets are too deep; {REPAIR}",
        ),
        (b"{}", wording("mill/job.json, line 1: no schema_version")),
        (b'{\n"schema_version": true}', wording("mill/job.json, line 2: schema version True")),
        (b'{\n"schema_version": "1"}', wording('mill/job.json, line 2: schema version "1"')),
        (b'{\n"schema_version": 1,\n"bank": 48}', wording("mill/job.json, line 3: bank: 48")),
    ],
)
def test_damage_is_told_with_its_line(job, data, words):
    require_told(job, data, words)


def test_a_newer_schema_is_refused_in_one_sentence(job):
    require_told(
        job,
        damaged(job, b'"schema_version": 1', b'"schema_version": 2'),
        wording("mill/job.json, line 2: schema version 2"),
    )


@pytest.mark.parametrize(
    "old, new, words",
    [
        (b'"slots": 36', b'"slots": "36"', wording("line {}: stator facts, Slots")),
        (b'"slots": 36', b'"slots": 37', wording("line {}: stator facts, slots")),
        (b'"magnet": "ferrite"', b'"magnet": ["ferrite"]', wording("line {}: stator facts, Magnets")),
        (b'"ohm": 0.5', b'"ohm": null', wording("line {}: coil constants, Resistance")),
        (b'"capacity_ah": 200.0', b'"capacity_ah": -200.0', wording("line {}: bank, Capacity [Ah]")),
    ],
)
def test_a_wrong_field_is_told_with_its_line(job, old, new, words):
    data = damaged(job, old, new)
    key = b'"stator"' if b"37" in new else old.split(b":")[0] + b":"
    line = data[: data.index(key)].count(b"\n") + 1
    require_told(
        job,
        data,
        f"mill/job.json, {words.format(line)}; correct that line in a text editor, or put "
        "job.previous.json in its place.",
    )


def test_a_wrong_field_of_a_part_that_is_not_found_is_told_at_the_top_and_not_where_another_has_its_name(job):
    data = damaged(job, b'"capacity_ah": 200.0', b'"capacity_ah": -200.0')
    data = data.replace(b'"bank"', b'"b\\u0061nk"').replace(b"{", b'{\n"other": {"capacity_ah": 1},', 1)
    words = wording("line {}: bank, Capacity [Ah]").format(1)
    require_told(
        job, data, f"mill/job.json, {words}; correct that line in a text editor, or put job.previous.json in its place."
    )


def test_another_editors_marks_and_line_ends_are_no_damage(job):
    path = job.folder / "job.json"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert job.stator == sample("stator")
    job.save_part("bank", sample("bank", capacity_ah=77.0))
    assert job.bank.capacity_ah == 77.0 and job.stator == sample("stator")


def test_wrong_letters_are_told_with_their_line(job):
    data = (job.folder / "job.json").read_text(encoding="utf-8").encode("cp1252", errors="replace")
    line = data[: data.index("°".encode("cp1252"))].count(b"\n") + 1
    require_told(job, data, f"mill/job.json, line {line}: a letter is not in UTF-8; {REPAIR}")


@st.composite
def damages(draw):
    """Cut the end off, flip bits of a few bytes, or put something in between."""
    cut = draw(st.none() | st.floats(0, 1))
    flips = draw(st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(1, 255)), max_size=4))
    extra = draw(st.none() | st.tuples(st.floats(0, 1), st.binary(min_size=1, max_size=6)))

    def damage(data):
        data = bytearray(data if cut is None else data[: int(cut * len(data))])
        for place, bits in flips if data else ():
            data[int(place * len(data))] ^= bits
        if extra:
            place = int(extra[0] * len(data))
            data[place:place] = extra[1]
        return bytes(data)

    return damage


def act_and_tell(act):
    """What the act gives, or None after a plain sentence; any other exception fails the test."""
    try:
        return act()
    except BadInput as told:
        assert str(told).startswith("mill/") and "\n" not in str(told)
        return None


@settings(max_examples=300)
@given(damage=damages())
def test_no_damage_to_job_json_gets_past_as_anything_but_a_sentence(lasting_job, damage):
    path = lasting_job.folder / "job.json"
    whole = path.read_bytes()
    try:
        data = damage(whole)
        path.write_bytes(data)
        opened = act_and_tell(lambda: Job.open("mill", lasting_job.folder.parent))
        assert path.read_bytes() == data
        if opened:
            assert len(opened.states()) == 10
            assert all(isinstance(getattr(opened, name), (model, type(None))) for name, model in PARTS.items())
        else:
            act_and_tell(lambda: lasting_job.save_part("bank", sample("bank")))
            assert path.read_bytes() == data
    finally:
        path.write_bytes(whole)


@settings(max_examples=300)
@given(damage=damages(), log=st.sampled_from(list(LOGS)))
def test_no_damage_to_a_log_gets_past_as_anything_but_a_sentence(lasting_job, damage, log):
    path = lasting_job.folder / f"{log}.csv"
    whole = path.read_bytes()
    try:
        data = damage(whole)
        path.write_bytes(data)
        rows = act_and_tell(lambda: lasting_job.read_log(log))
        assert path.read_bytes() == data
        if rows is None:
            act_and_tell(lambda: lasting_job.save_log(log, spin_rows(1)))
            assert path.read_bytes() == data
        else:
            lasting_job.save_log(log, rows)
            assert lasting_job.read_log(log) == rows
    finally:
        path.write_bytes(whole)
        lasting_job.read_log(log)
