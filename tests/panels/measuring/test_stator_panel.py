"""The panel of chapter 01: stator facts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.assembly.plan import found_words
from statorbook.examples import jobs as example
from statorbook.job.drafts import load_drafts
from statorbook.job.job import Job
from statorbook.panels.measuring.stator_facts import StatorPanel, describe_stator
from statorbook.winding.stator import Stator

wording = sentences_of("panels_measuring")

BUTTON = "Save the stator facts"


@pytest.fixture
def empty(tmp_path):
    return Job.create("mine", tmp_path)


@pytest.fixture
def shipped(tmp_path):
    return example.write(tmp_path)


def typed(panel, **values):
    for name, value in values.items():
        panel.form.fields[name].control.value = value
    return panel


def save(panel):
    boxes = list(panel.form.widget.children)
    next(each for each in boxes if getattr(each, "description", "") == BUTTON).click()


@pytest.mark.outside(
    "coils, winding factor, hertz and clicks of 36 slots with 48 poles",
    source="exact: Q / 3, sin(60°), p n / 60, least common multiple",
    number="12, 0.866, 40.0 Hz at 100 rpm, 144",
    tolerance="as printed",
    seen="derived",
)
def test_the_example_says_what_the_library_says(shipped):
    panel = StatorPanel(shipped)
    stator = Stator(slots=36, poles=48)
    assert panel.sentence == describe_stator(stator)
    for words in (
        "12 coils in each of three phases",
        "winding factor 0.866",
        "40.0 Hz electrical for every 100 rpm",
        "1, 2, 3, 4, 6, 12 parallel paths",
        "144 times a turn",
    ):
        assert words in panel.sentence


def test_the_ring_is_shown(shipped):
    assert 'aria-label="Stator with 36 teeth' in StatorPanel(shipped).picture_box.value


def test_an_empty_job_asks_for_the_counts(empty):
    panel = StatorPanel(empty)
    assert panel.sentence == wording("Type the slots and the magnet poles first")
    assert panel.message.text == ""


def test_the_counts_alone_are_enough_for_the_ring(empty):
    panel = typed(StatorPanel(empty), slots="12", poles="10")
    assert panel.sentence == describe_stator(Stator(slots=12, poles=10))


def test_a_miscount_is_refused_with_the_nearest_counts_and_kept(empty):
    panel = typed(StatorPanel(empty), slots="35", poles="48")
    assert panel.sentence == wording("Not usable – slots and")
    assert panel.form.fields["slots"].control.value == "35"


def test_a_refusal_stands_at_the_count_that_it_is_about(empty):
    panel = typed(StatorPanel(empty), slots="36")
    assert panel.sentence.startswith(wording("Type the slots and the magnet poles first too"))
    said = {name: field.help for name, field in panel.form.fields.items()}
    typed(panel, poles="47")
    assert "so the count is even" in said["poles"].value and "even" not in said["slots"].value
    typed(panel, poles="36")
    assert "cannot make three equal phases" in said["slots"].value and "cannot" not in said["poles"].value
    typed(panel, poles="many")
    assert "is not a number" in said["poles"].value and "number" not in said["slots"].value
    typed(panel, poles="48", slots="27 slots")
    assert (wording("a whole number from 3") in said["slots"].value) and "27 slots" in panel.sentence_box.value


def test_the_part_is_saved_and_the_reader_told_what_to_do(empty):
    panel = typed(
        StatorPanel(empty), slots="36", poles="48", found_connection="delta", wire_diameter_mm="0,8", mark_note="paint"
    )
    save(panel)
    part = Job.open("mine", empty.folder.parent).stator
    assert (part.slots, part.poles, part.found_connection, part.wire_diameter_mm) == (36, 48, "delta", 0.8)
    assert part.mark_note == "paint" and "conductor" in part.assumed
    assert "Press “Run the page”" in panel.message.text


def test_a_new_job_needs_no_press_once_all_that_is_needed_is_good(empty):
    panel = typed(StatorPanel(empty), slots="36", poles="48")
    assert empty.stator is None and panel.form.message.text.startswith("Kept as typed, not used yet")
    typed(panel, found_connection="star")
    assert (empty.stator.slots, empty.stator.poles, empty.stator.found_connection) == (36, 48, "star")
    assert load_drafts(empty.folder) == () and panel.message.text.startswith("Saved in the job mine.")


def test_nothing_is_saved_while_a_field_is_bad(empty):
    panel = typed(StatorPanel(empty), slots="36", poles="48", wire_diameter_mm="thin", found_connection="star")
    save(panel)
    assert empty.stator is None and "Wire diameter [mm]" in panel.form.message.text


def test_impossible_paths_are_refused_with_those_that_can_be(empty):
    panel = typed(
        StatorPanel(empty), slots="36", poles="48", wire_diameter_mm="0.8", found_parallel="5", found_connection="star"
    )
    save(panel)
    assert empty.stator is None and wording("allow 1, 2, 3, 4") in panel.form.message.text
    assert panel.form.message.text.endswith("type one of these.")


def test_the_wire_need_not_be_measured(empty):
    panel = typed(StatorPanel(empty), slots="36", poles="48", found_connection="star")
    save(panel)
    assert empty.stator.wire_diameter_mm is None and panel.message.text.endswith("so that everything below uses it.")


def test_changed_facts_say_that_the_constants_have_to_be_written_again(shipped):
    panel = typed(StatorPanel(shipped), found_parallel="3")
    save(panel)
    assert panel.message.text.endswith(wording("press “Write these constants to"))
    typed(panel, found_parallel="1")
    save(panel)
    assert "constants" not in panel.message.text


def test_low_insulation_is_a_caution(shipped):
    panel = typed(StatorPanel(shipped), insulation_megohm="0.3")
    assert wording("0.3 MΩ between leads and") in panel.sentence_box.value
    typed(panel, insulation_megohm="20")
    assert "is low" not in panel.sentence_box.value


@pytest.fixture(scope="module")
def kept_panel(tmp_path_factory):
    return StatorPanel(example.write(tmp_path_factory.mktemp("data")))


@given(
    name=st.sampled_from(["slots", "poles", "found_parallel", "wire_diameter_mm", "insulation_megohm", "notes"]),
    junk=st.text(max_size=30) | st.sampled_from(["", "-1", "0", "1e309", "36.5", "<script>", "12 V", "999999"]),
)
def test_nonsense_is_one_sentence_and_stays_as_typed(kept_panel, name, junk):
    panel = kept_panel
    before = panel.job.stator
    control = panel.form.fields[name].control
    good = control.value
    control.value = junk
    assert control.value == junk and "\n" not in panel.sentence
    page = panel.sentence + panel.message.text + panel.form.message.text
    assert "fault of the workbook" not in page and "Traceback" not in page
    assert panel.job.stator == before
    control.value = good
    assert panel.sentence == describe_stator(Stator(slots=36, poles=48))


@pytest.mark.outside(
    "phase of the second tooth, 42 slots with 56 poles",
    source="star of slots: 28 × 360° / 42 = 240° a tooth",
    number="240°, so the usual C",
    tolerance="exact",
    seen="derived",
)
def test_traced_wires_keep_the_readers_letters_in_sentence_and_ring(tmp_path):
    job = Job.create("wind", tmp_path)
    panel = StatorPanel(job)
    words = "; ".join(
        f"{name}: {' '.join(str(tooth) for tooth in range(first, 43, 3))}" for first, name in enumerate("ABC", start=1)
    )
    for name, value in {"slots": "42", "poles": "56", "found_connection": "star", "found_wiring": words}.items():
        panel.form.fields[name].control.value = value
    assert panel.sentence.endswith(wording("in the usual pattern B is your C"))
    save(panel)
    kept = Job.open("wind", tmp_path).stator
    assert kept.found_wiring == words and [coil.phase for coil in kept.to_stator().coils[:4]] == list("ABCA")
    assert wording("in the usual pattern B is your C too") in found_words(kept)
