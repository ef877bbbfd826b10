"""The panels of the three logs and of the coil's constants, without a browser."""

import asyncio
import re
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.coroutines import run_apart
from samples.pages import shown
from sentences import sentences_of
from statorbook.assembly.machine import stale_words
from statorbook.bench.logs import LOGS, columns_of
from statorbook.bench.ohms import read_ohms
from statorbook.bench.readings import read_logs
from statorbook.examples import jobs as example
from statorbook.fits.constants import coil_estimates, terminal_constants
from statorbook.fits.emf import fit_emf
from statorbook.fits.ohms import fit_ohms
from statorbook.job.job import Job
from statorbook.job.parts.results import facts_worked_out_for
from statorbook.job.places import EXAMPLE
from statorbook.panels.measuring import spin_log
from statorbook.panels.measuring.coil_constants import CoilPanel, describe_coil
from statorbook.panels.measuring.log_panel import NO_STATOR, NOTHING_YET
from statorbook.panels.measuring.ohms_log import OhmsPanel, describe_ohms
from statorbook.panels.measuring.spin_log import ShortedPanel, SpinPanel, describe_emf, describe_inductance

wording = sentences_of("panels_measuring")

PANELS = {"ohms": OhmsPanel, "spin": SpinPanel, "shorted": ShortedPanel}
STATOR = example.MADE_UP[EXAMPLE].winding.stator
_SPIN_SESSIONS = wording("2 sessions: 2025-04-12 (5 rows)")


@pytest.fixture
def shipped(tmp_path):
    return example.write(tmp_path)


@pytest.fixture
def empty(tmp_path):
    return Job.create("mine", tmp_path)


def constants(**options):
    return terminal_constants(read_logs(example.raw_rows(), STATOR, found_connection="star"), STATOR, **options)


def cell(panel, number, name):
    return panel.grid.row(number).cells[name]


def sign(panel, number):
    return panel.grid.row(number).sign.value


def words_under(panel, number):
    return panel.grid.row(number).sentence.value


def on_disk(panel):
    return Job.open(panel.job.name, panel.job.folder.parent).read_log(panel.log)


def test_the_sentences_are_the_librarys(shipped):
    found = constants()
    ohms = OhmsPanel(shipped).sentence
    assert ohms.startswith(f"{describe_ohms(found.ohms_fit)} ")
    assert ohms.endswith(wording("3 of 3 rows are"))
    fit, spin = found.emf_fit, SpinPanel(shipped).sentence
    odd = fit.sentences[: -len(fit.warnings)]  # warnings stand below, as a caution
    assert spin.startswith(describe_emf(fit))
    assert spin.endswith(" ".join(("13 of 14 rows are used.", *odd, _SPIN_SESSIONS)))
    assert "halve the ±" in spin and "halve the ±" in ohms
    shorted = ShortedPanel(shipped).sentence
    assert shorted.startswith(f"{describe_inductance(found.inductance_fit)} A row at 446 rpm is worth 2.6 times as ")
    assert shorted.endswith(wording("6 of 6 rows are"))


def test_the_odd_row_is_named_marked_and_not_deleted(shipped):
    panel = SpinPanel(shipped)
    assert f"spin log, row {example.MADE_UP[EXAMPLE].planted_row}: " in panel.sentence
    assert "it is set aside, not deleted" in panel.sentence
    assert "! odd" in sign(panel, example.MADE_UP[EXAMPLE].planted_row)
    assert wording("below what the other 13") in words_under(panel, example.MADE_UP[EXAMPLE].planted_row)
    assert "✓ good" in sign(panel, 1) and len(on_disk(panel)) == 14


def test_every_row_can_be_used_all_the_same(shipped):
    panel = SpinPanel(shipped)
    panel.keep_all.value = True
    assert panel.sentence.startswith(describe_emf(constants(keep_all=True).emf_fit))
    assert wording("Every usable row is used") in panel.sentence
    assert "✓ good" in sign(panel, example.MADE_UP[EXAMPLE].planted_row)
    panel.keep_all.value = False
    assert "! odd" in sign(panel, example.MADE_UP[EXAMPLE].planted_row)


def test_the_balance_of_the_pairs_is_a_table(shipped):
    for panel in (OhmsPanel(shipped), SpinPanel(shipped)):
        assert all(f">{pair}<" in panel.table_box.value for pair in ("AB", "BC", "CA"))
    assert ShortedPanel(shipped).table_box.value == ""


def test_pictures_have_words(shipped):
    for panel in (SpinPanel(shipped), ShortedPanel(shipped)):
        assert f'role="img" aria-label="{panel.log.capitalize()} log. One phase' in panel.picture_box.value


@pytest.mark.parametrize("log", LOGS)
def test_an_empty_job_is_calm(empty, log):
    panel = PANELS[log](empty)
    assert panel.sentence == NOTHING_YET
    assert panel.message.text == "" and panel.grid.message.text == ""


def test_readings_are_kept_before_the_stator_is_known(empty):
    panel = SpinPanel(empty)
    cell(panel, 1, "volts").value = "24"
    assert panel.sentence == NO_STATOR and on_disk(panel)[0]["volts"] == "24"


def test_ohms_need_no_stator_and_say_what_is_assumed(empty):
    panel = OhmsPanel(empty)
    for name, text in {"terminals": "AB", "ohms": "13.4", "lead_zero_ohm": "0.2", "copper_c": "16"}.items():
        cell(panel, 1, name).value = text
    assert panel.sentence == (
        f"{describe_ohms(fit_ohms(read_ohms(on_disk(panel))))} (Copper wire is assumed until the "
        "stator facts are saved.) One more row, on all three pairs, probes pressed hard on "
        "bright copper, tells how far the readings scatter. 1 of 1 rows are used."
    )


def test_volts_are_fitted_before_the_ohms_are_read(shipped):
    OhmsPanel(shipped).job.save_log("ohms", [])
    panel = SpinPanel(shipped)
    logs = read_logs({"spin": example.raw_rows()["spin"]}, STATOR, found_connection="star")
    assert panel.sentence.startswith(describe_emf(fit_emf(logs.spin, STATOR)))
    assert ShortedPanel(shipped).sentence.startswith(wording("Your readings are kept. The"))


def test_a_cell_is_on_the_disk_before_its_verdict(shipped, monkeypatch):
    panel = SpinPanel(shipped)
    seen, read = [], spin_log.bench_logs

    def watched(*given, **rows):
        seen.append(on_disk(panel)[0]["volts"])
        return read(*given, **rows)

    monkeypatch.setattr(spin_log, "bench_logs", watched)
    cell(panel, 1, "volts").value = "25.1"
    assert seen == ["25.1"]


def test_a_row_that_cannot_be_used_is_kept_and_explained(shipped):
    panel = SpinPanel(shipped)
    cell(panel, 2, "volts").value = "about 40 <b>"
    assert on_disk(panel)[1]["volts"] == "about 40 <b>"
    assert "✗ bad" in sign(panel, 2) and "spin log, row 2, Volts [V]" in words_under(panel, 2)
    assert "&lt;b&gt;" in words_under(panel, 2) and "12 of 14 rows are used." in panel.sentence


def test_what_two_pages_type_is_never_overwritten(shipped):
    one, other = SpinPanel(shipped), SpinPanel(shipped)
    cell(one, 1, "note").value = "first"
    ShortedPanel(shipped)  # reads all logs, and must not make the other page believe that it has seen the change
    cell(other, 2, "note").value = "second"
    assert on_disk(one)[0]["note"] == "first" and on_disk(one)[1]["note"] != "second"
    assert "changed elsewhere" in other.grid.message.text and cell(other, 2, "note").value == "second"


def test_another_log_that_is_damaged_is_said(shipped):
    panel = SpinPanel(shipped)
    (shipped.folder / "ohms.csv").write_text("nothing,of,the,kind\n")
    cell(panel, 1, "note").value = "still kept"
    assert panel.sentence.startswith(wording("Your readings are kept, but"))
    assert "ohms.csv" in panel.sentence and on_disk(panel)[0]["note"] == "still kept"


def test_the_coil_is_the_librarys(shipped):
    panel = CoilPanel(shipped)
    expected = coil_estimates(STATOR, shipped.stator.to_found_grouping(), constants())
    assert panel.sentence.startswith(f"{describe_coil(expected)} The wiring as found is 12 in series, 1 path, star.")
    assert panel.sentence.endswith("The job holds these constants.")
    assert f"{expected.ohm.value:.4g}" in panel.table_box.value and "6 rows of the shorted log" in panel.table_box.value


def test_the_constants_are_written_with_the_date(shipped):
    spin = SpinPanel(shipped)
    panel = CoilPanel(shipped, follows=[spin])
    cell(spin, 1, "volts").value = "26"
    assert panel.sentence.endswith(wording("The job holds other constants"))
    panel.buttons["Write these constants to the job"].click()
    kept = Job.open(shipped.name, shipped.folder.parent).coil
    coil, _ = panel.estimates()
    assert kept.date == date.today().isoformat() and kept.model_dump() == {
        "date": kept.date,
        **coil.fields,
        **facts_worked_out_for(shipped.stator),
    }
    assert panel.sentence.endswith("The job holds these constants.")
    assert panel.message.text.startswith("Saved in the job spring_pipe.")


def test_constants_of_other_facts_are_named_until_the_button_renews_them(shipped):
    shipped.save_part("stator", shipped.stator.model_copy(update={"found_parallel": 3}))
    panel = CoilPanel(shipped)
    assert panel.sentence.endswith(wording("The job holds constants worked"))
    panel.buttons["Write these constants to the job"].click()
    assert panel.sentence.endswith("The job holds these constants.")
    assert (shipped.coil.for_parallel, stale_words(shipped)) == (3, "")


def test_a_row_is_told_by_the_headings_above_the_grid(shipped):
    panel = OhmsPanel(shipped)
    cell(panel, 1, "copper_c").value = "warm"
    assert wording("ohms log, row 1, Winding") in words_under(panel, 1)


def test_without_shorted_rows_the_inductance_is_marked_as_assumed(shipped):
    shorted = ShortedPanel(shipped)
    panel = CoilPanel(shipped, follows=[shorted])
    shorted.job.save_log("shorted", [])
    panel.redraw()
    assert (
        "mH (assumed)" in panel.sentence
        and wording("No row is in the shorted log yet") in panel.widget.children[1].value
    )
    panel.write()
    assert shipped.coil.henry_assumed


def test_the_coil_panel_of_an_empty_job_says_what_is_missing(empty, shipped):
    panel = CoilPanel(empty)
    assert panel.sentence == wording("No constants yet: the slots")
    panel.buttons["Write these constants to the job"].click()
    assert panel.message.text.startswith(wording("Not usable – coil constants"))
    empty.save_part("stator", shipped.stator)
    panel.redraw()
    assert panel.sentence == wording("No constants yet: no row")
    assert empty.coil is None


def test_where_the_fits_take_the_temperature_from_is_in_their_sentences(shipped):
    # The example's machine rests at 16 °C, as data/README.md says.
    for panel in (SpinPanel(shipped), ShortedPanel(shipped), CoilPanel(shipped)):
        assert wording("taken to be at 16") in panel.sentence


def test_rows_that_wait_for_another_log_are_not_called_unusable(shipped, empty):
    empty.save_part("stator", shipped.stator)
    empty.save_log("shorted", shipped.read_log("shorted"))
    panel = ShortedPanel(empty)
    assert wording("spin log above and the") in panel.sentence


def test_a_log_with_rows_that_cannot_be_used_is_not_said_to_be_empty(shipped, empty):
    empty.save_part("stator", shipped.stator)
    empty.save_log("spin", [row | {"volts": "high"} for row in shipped.read_log("spin")])
    assert CoilPanel(empty).sentence == wording("No constants yet: none of")


@pytest.fixture(scope="module")
def kept_panels(tmp_path_factory):
    job = example.write(tmp_path_factory.mktemp("data"))
    return {log: panel(job) for log, panel in PANELS.items()}


JUNK = ["", " ", "1,234", "-5", "1e309", "١٢", "<img src=x>", "12 kV", "0", "a\nb", '"', "'; --", "999999999999"]


TYPED = st.sampled_from(JUNK) | st.text(st.characters(exclude_categories=("Cs",)), max_size=30)


@given(data=st.data(), junk=TYPED)
@settings(max_examples=15)
def test_nonsense_in_a_cell_is_on_the_disk_and_said_in_one_sentence(kept_panels, data, junk):
    type_nonsense(kept_panels, data, junk)


@pytest.mark.slow
@given(data=st.data(), junk=TYPED)
def test_nonsense_in_any_cell_is_on_the_disk_and_said_in_one_sentence(kept_panels, data, junk):
    type_nonsense(kept_panels, data, junk)


def type_nonsense(kept_panels, data, junk):
    panel = kept_panels[data.draw(st.sampled_from(sorted(PANELS)))]
    name = data.draw(st.sampled_from([name for name in columns_of(panel.log) if name not in panel.grid.options]))
    number = data.draw(st.integers(1, 3))
    good = cell(panel, number, name).value
    cell(panel, number, name).value = junk
    assert on_disk(panel)[number - 1][name] == junk
    said = panel.sentence + panel.message.text + panel.grid.message.text + words_under(panel, number)
    assert "fault of the workbook" not in said and "Traceback" not in said and "<img" not in said
    cell(panel, number, name).value = good
    assert "✓ good" in sign(panel, number)


def test_what_stands_below_follows_once_when_the_hand_rests(shipped):
    async def type_three_cells():
        told, panel = [], SpinPanel(shipped)
        panel.follow(lambda: told.append(on_disk(panel)[0]["note"]))
        for text in ("a", "b", "c"):
            cell(panel, 1, "note").value = text
        before = list(told)
        await asyncio.sleep(0.5)
        return before, told

    assert run_apart(type_three_cells()) == ([], ["c"])


def test_what_a_button_says_outlives_what_still_waited_for_the_hand(shipped):
    async def press_at_once():
        spin = SpinPanel(shipped)
        shorted = ShortedPanel(shipped, follows=[spin])
        panel = CoilPanel(shipped, follows=[shorted])
        cell(spin, 1, "volts").value = "26"
        panel.buttons["Write these constants to the job"].click()
        await asyncio.sleep(1.5)
        return panel.message.text

    assert run_apart(press_at_once()).startswith("Saved in the job")


def test_what_was_odd_in_the_file_is_said_and_not_only_assumed(tmp_path):
    job = example.write(tmp_path)
    path = job.folder / "spin.csv"
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join(lines[:1] + lines[2:]), encoding="utf-8")  # the units row is gone
    caution = shown(SpinPanel(job))[0]
    assert wording("spring_pipe/spin.csv has no units row") in caution


# 48 poles in the example: at 100 rpm a row of 55 V, so 600 V at some 1,091 rpm; the name plate says 1,200 rpm.
def test_a_drill_at_full_trigger_is_warned_before_and_its_reading_kept(shipped):
    shipped.save_log("spin", [])
    panel = SpinPanel(shipped)
    assert "First row below 115 rpm" in panel.sentence_box.value
    for name, text in {
        "speed_rpm": "100",
        "volts": "55",
        "terminals": "AB",
        "connection": "star",
        "quantity": "AC line rms",
        "meter": "averaging",
    }.items():
        cell(panel, 1, name).value = text
    assert wording("What meter and probes stand") in panel.sentence_box.value
    for name, text in {
        "speed_rpm": "1200",
        "volts": "",
        "speed_by": "name plate",
        "terminals": "AB",
        "connection": "star",
        "quantity": "AC line rms",
        "meter": "averaging",
    }.items():
        cell(panel, 2, name).value = text
    (volts,) = re.findall(r"do not turn it at 1200 rpm: up to ([0-9]+) V would stand", words_under(panel, 2))
    assert 660 <= int(volts) < 1.1 * 660 and f"up to {volts} V" in panel.sentence_box.value
    cell(panel, 2, "volts").value = "655"
    assert wording("655 V was given; your") in words_under(panel, 2)
    assert on_disk(panel)[1]["volts"] == "655"
