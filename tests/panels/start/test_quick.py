"""The quick look on the start page: the library's numbers, and one sentence for any nonsense."""

import pytest

from samples.pages import cells, is_stale, refused, shown
from sentences import sentences_of
from statorbook.bank.battery import Bank
from statorbook.choice.first_guess import quick_look
from statorbook.examples import jobs as example
from statorbook.job.drafts import load_drafts
from statorbook.job.job import Job
from statorbook.job.parts.registry import BankPart
from statorbook.panels.choice.bank import BankPanel
from statorbook.panels.measuring.stator_facts import StatorPanel
from statorbook.panels.start.quick import QuickPanel
from statorbook.panels.start.start import StartPanel
from statorbook.widgets.form_field import CARRIED
from statorbook.winding.stator import Stator

wording = sentences_of("panels_start")

SIX = {"slots": 36, "poles": 48, "line_volts_rms": 40, "reading_rpm": 100, "line_ohm": 13.2, "working_rpm": 800}
FIELDS = {"slots": "36", "poles": "48", "volts": "40", "at": "100", "ohms": "13.2", "working": "800"}


@pytest.fixture(scope="module")
def lasting_panel():
    return QuickPanel(**SIX)


@pytest.fixture
def panel(lasting_panel):
    """The panel, put back afterwards."""
    chosen = {lasting_panel.found: "star", lasting_panel.nominal: 48, lasting_panel.chemistry: "LiFePO4"}
    yield lasting_panel
    back = {getattr(lasting_panel, name): text for name, text in FIELDS.items()} | chosen
    if any(control.value != value for control, value in back.items()):
        with lasting_panel.together():
            for control, value in back.items():
                control.value = value


def library(*, slots=36, poles=48, bank=("LiFePO4", 16), **changes):
    six = {"line_volts_rms": 40.0, "reading_rpm": 100.0, "line_ohm": 13.2, "working_rpm": 800.0, **changes}
    return quick_look(Stator(slots=slots, poles=poles), Bank(chemistry=bank[0], cells=bank[1]), **six)


def agrees(panel, look):
    """Check sentence and table against the library's quick look."""
    assert panel.message.text == "" and panel.message.last_fault == ""
    assert panel.sentence == look.sentence
    rows = cells(shown(panel)[2])
    assert [row[0] for row in rows] == [row.grouping.label for row in look.best]
    for line, row in zip(rows, look.best, strict=True):
        least, most = look.watts[row.grouping]
        assert [float(w) for w in line[1].split(" to ")] == pytest.approx([least, most], abs=0.51)
        assert float(line[2]) == pytest.approx(row.cut_in_rpm, rel=1e-3, abs=0.51)
        assert float(line[3]) == pytest.approx(row.runaway.dc_volts_peak, rel=1e-3, abs=0.51)
        assert line[4] == row.runaway.word
    return True


def test_at_first_it_shows_the_librarys_quick_look(panel):
    look = library()
    assert agrees(panel, look)
    assert "With the bank gone: " + look.best[0].runaway.sentence in shown(panel)[0]
    assert shown(panel)[1].count("<svg") == 1


@pytest.mark.parametrize(
    "moved, changes",
    [
        ({"volts": "55"}, {"line_volts_rms": 55.0}),
        ({"at": "150 rpm"}, {"reading_rpm": 150.0}),
        ({"ohms": "5,1"}, {"line_ohm": 5.1}),
        ({"working": "500"}, {"working_rpm": 500.0}),
        ({"found": "delta"}, {"connection": "delta"}),
        ({"nominal": 24, "chemistry": "AGM"}, {"bank": ("AGM", 12)}),
        ({"slots": "27", "poles": "36"}, {"slots": 27, "poles": 36}),
    ],
)
def test_each_control_changes_the_answer_as_the_library_says(panel, moved, changes):
    before = panel.sentence
    for name, value in moved.items():
        getattr(panel, name).value = value
    assert panel.sentence != before and agrees(panel, library(**changes))


@pytest.mark.parametrize("text", ["", "many", "-5", "0", "1e400", "1,234", "٣", "<b>4</b>", "3 kg", "nan"])
@pytest.mark.parametrize("name", FIELDS)
def test_nonsense_in_any_field_is_one_sentence_and_the_last_picture_stays(panel, name, text):
    before = panel.shown_answer
    getattr(panel, name).value = text
    label = getattr(panel, name).label
    assert refused(panel).startswith(f"{label}: ")
    assert is_stale(panel) and panel.shown_answer is before
    assert getattr(panel, name).value == text and "<b>4" not in panel.message.widget.value


@pytest.mark.parametrize(
    "name, text, limits",
    [
        ("volts", "3000", "above 0 and at most 2000"),
        ("at", "30000", "above 0 and at most 20000"),
        ("ohms", "1500", "from 0.001 to 1000"),
        ("slots", "200", "from 3 to 144"),
        ("poles", "146", "from 2 to 144"),
        ("working", "20001", "above 0 and at most 20000"),
    ],
)
def test_beyond_a_limit_the_limit_is_said(panel, name, text, limits):
    getattr(panel, name).value = text
    assert limits in refused(panel).replace(" and at most 20_000", " and at most 20000")


@pytest.mark.parametrize("name, text", [("slots", "36.5"), ("poles", "47")])
def test_counts_are_whole_and_poles_even(panel, name, text):
    getattr(panel, name).value = text
    said = {"slots": "a whole number from 3 to 144 is allowed", "poles": "poles come in pairs, so the count is even"}
    assert said[name] in refused(panel)


def test_a_miscount_names_the_nearest_counts_that_work(panel):
    panel.slots.value = "35"
    # 35 is no multiple of 3; 36 and 33 are, and 36 with 48 poles is the pair one slot away.
    assert refused(panel).startswith(wording("slots and poles: 35 slots"))
    assert "36/48" in panel.sentence and "a miscount by one is common" in panel.sentence
    assert is_stale(panel)


def test_an_unusual_pair_is_doubted_in_the_sentence(panel):
    panel.slots.value, panel.poles.value = "36", "10"
    assert panel.message.text == ""
    assert panel.sentence.endswith("count both again before going on.")


def test_when_nothing_charges_the_picture_and_the_way_out_are_there(panel):
    panel.working.value = "10"
    assert agrees(panel, library(working_rpm=10.0)) and wording("a faster drive or a") in panel.sentence
    assert shown(panel)[1].count("<svg") == 1 and not is_stale(panel)


@pytest.mark.parametrize(
    "moved",
    [
        {"volts": "0.001"},
        {"volts": "2000", "at": "1"},
        {"ohms": "0.001"},
        {"ohms": "1000"},
        {"at": "20000"},
        {"working": "20000"},
        {"working": "0.01"},
        {"slots": "144", "poles": "142"},
        {"slots": "3", "poles": "2"},
    ],
)
def test_numbers_at_the_edge_are_answered_or_refused_but_no_fault(panel, moved):
    with panel.together():
        for name, text in moved.items():
            getattr(panel, name).value = text
    assert panel.message.last_fault == ""
    assert panel.sentence.startswith(("As found, the leads make ", "Not usable – "))
    assert " nan " not in panel.sentence and " inf " not in panel.sentence


def test_every_field_says_its_unit(panel):
    labels = [getattr(panel, name).description for name in FIELDS]
    assert labels == [
        "Slots (teeth)",
        "Poles, north and south",
        "AC volts, two leads, rms [V]",
        "at a speed of [rpm]",
        "Ohms between two leads [Ω]",
        "Working speed, hoped [rpm]",
    ]


def test_the_fields_stand_in_line(panel):
    # Every label has the same room, so that each control begins at the same place.
    assert len({control.style.description_width for control in inputs(panel)}) == 1


def inputs(panel):
    return [getattr(panel, name) for name in (*FIELDS, "found", "nominal", "chemistry")]


@pytest.fixture
def start(tmp_path):
    return StartPanel(example.write(tmp_path))


def carry(start, **moved):
    panel = QuickPanel(**SIX, start=start)
    for name, value in moved.items():
        getattr(panel, name).value = value
    panel.buttons["Carry these numbers to my job"].click()
    return panel.message.text


def beside(form):
    """The fields that are marked as from the quick look."""
    return {name for name, field in form.fields.items() if CARRIED in field.beside.value}


def test_the_numbers_are_carried_to_the_forms_of_the_readers_job(start):
    job = Job.create("mill", start.job_folder)
    start.open("mill")
    told = carry(start, slots="27", poles="36", found="delta", nominal=24, chemistry="AGM")
    assert wording("Carried: 3 of 3") in told
    assert job.parts == {}  # a guess is no part of the job before the reader has looked at it
    stator, bank = StatorPanel(job).form, BankPanel(job).form
    typed = {name: stator.fields[name].control.value for name in ("slots", "poles", "found_connection")}
    assert typed == {"slots": "27", "poles": "36", "found_connection": "delta"}
    assert (bank.fields["nominal_volts"].read(), bank.fields["chemistry"].read()) == (24.0, "AGM")
    assert beside(stator) == {"slots", "poles", "found_connection"} and beside(bank) == {"nominal_volts", "chemistry"}
    stator.save()
    assert (job.stator.slots, job.stator.poles, job.stator.found_connection) == (27, 36, "delta")
    assert beside(stator) == set()


def test_what_stands_there_is_never_carried_over(start):
    job = Job.create("mill", start.job_folder)
    start.open("mill")
    job.save_part("bank", BankPart(nominal_volts=12.0, chemistry="gel", capacity_ah=60.0))
    StatorPanel(job).form.fields["slots"].control.value = "42"
    assert wording("Carried: 2 of 3") in carry(start)
    assert StatorPanel(job).form.fields["slots"].control.value == "42"
    assert job.bank.nominal_volts == 12.0 and beside(BankPanel(job).form) == set()
    assert carry(start, slots="27", poles="36").startswith("Carried")  # its own guess may be replaced
    assert StatorPanel(job).form.fields["poles"].control.value == "36"


def test_nothing_is_carried_into_an_example(start):
    assert carry(start) == wording("Not usable – quick look: the job")
    assert load_drafts(start.job.folder) == ()


def test_counts_that_can_be_no_machine_are_not_carried(start):
    job = Job.create("mill", start.job_folder)
    start.open("mill")
    assert carry(start, slots="35").startswith("Not usable – slots and poles: ") and load_drafts(job.folder) == ()
