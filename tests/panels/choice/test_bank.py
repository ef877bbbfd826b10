"""The bank's panel of chapter 04: its volts in a sentence, a caution in the cold, and what cannot be."""

import pytest
from traitlets import TraitError

from samples.job_samples import sample
from samples.pages import press, refused, shown
from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.choice.bank import BankPanel
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.follow_bank import ChooseForBank

wording = sentences_of("panels_choice")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


@pytest.fixture
def panel(job):
    return BankPanel(job)


def type_in(panel, name, text):
    panel.form.fields[name].control.value = text


@pytest.mark.outside(
    "DC without cover, wet and dry",
    source="IEC 60364-4-41, 414.4.5",
    number="30 V, 60 V: 56.8 V only where dry",
    tolerance="none",
    seen="in a reproduction",
)
@pytest.mark.outside(
    "least and most volts of a LiFePO4 cell",
    source="common practice, no source",
    number="2.50 and 3.65 V, 38.8 and 60.2 V on a meter of 3 %",
    tolerance="as printed",
    seen="from memory",
)
def test_the_examples_bank_in_words(panel):
    # 16 cells of 3.00, 3.28 and 3.55 V; 16 × 0.08 Ω·Ah / 200 Ah = 6.4 mΩ: sources in tables/bank_chemistry.csv.
    assert panel.sentence == wording("16 cells of LiFePO4: 48.0")
    assert wording("⚠ 57 V DC at") in shown(panel)[0]


@pytest.mark.parametrize(
    "chemistry, cells, empty, half, charging",
    [
        # Volts per cell at 25 °C as in tables/bank_chemistry.csv, times the cells.
        ("AGM", 24, 46.8, 49.4, 57.6),
        ("gel", 24, 47.0, 49.4, 56.4),
        ("LiFePO4", 16, 48.0, 52.5, 56.8),
    ],
)
def test_an_empty_cell_count_takes_the_usual_one(panel, chemistry, cells, empty, half, charging):
    type_in(panel, "temperature_c", "25")
    type_in(panel, "cells", "")
    type_in(panel, "chemistry", chemistry)
    assert panel.sentence.startswith(
        f"{cells} cells of {chemistry}: {empty:.1f} V empty and rested, {half:.1f} V half "
        f"full, {charging:.1f} V at the charging limit at 25 °C"
    )


@pytest.mark.outside(
    "charging volts of 24 AGM cells at 5 °C, 57.6 V at 25 °C",
    source="Dunlop, Batteries and Charge Control in Stand-Alone PV Systems, 1997",
    number="−5 mV/K a cell: 60.0 V",
    tolerance="as printed",
    seen="from memory",
)
def test_lead_takes_more_volts_in_the_cold(panel):
    type_in(panel, "cells", "")
    type_in(panel, "chemistry", "AGM")
    type_in(panel, "temperature_c", "5")
    assert wording("60.0 V at the charging") in panel.sentence


@pytest.mark.outside(
    "temperatures in which a LiFePO4 cell may charge",
    source="common practice, no source",
    number="0 to 45 °C",
    tolerance="none, the ends are inside",
    seen="from memory",
)
@pytest.mark.parametrize("typed, warned", [("-3", True), ("0", False), ("45", False), ("46", True)])
def test_lithium_iron_phosphate_is_charged_between_0_and_45_degrees(panel, typed, warned):
    type_in(panel, "temperature_c", typed)
    caution = (
        f"⚠ A LiFePO4 bank must not be charged at {typed} °C (allowed: 0 to 45 °C): warm or cool it first, and "
        "let the charge control enforce it."
    )
    assert (caution in shown(panel)[0]) == warned and panel.message.text == ""


def test_a_chemistry_that_is_not_in_the_table_cannot_be_chosen(panel):
    control = panel.form.fields["chemistry"].control
    assert [label for label, _ in control.options] == ["flooded lead-acid", "AGM", "gel", "LiFePO4"]
    with pytest.raises(TraitError, match="Invalid selection: value not found"):
        control.value = "alkaline"
    assert control.value == "LiFePO4" and panel.message.text == ""


def test_cells_that_do_not_make_the_nominal_volts_are_refused(panel):
    before = panel.sentence
    type_in(panel, "cells", "8")
    # 8 × 3.28 V
    assert refused(panel) == wording("bank, Cells in series [count]")
    assert before in shown(panel)[0] and wording("for the values before the") in shown(panel)[0]
    assert "count the cells in series again" in panel.form.fields["cells"].help.value


def test_a_bank_of_cells_alone_is_taken(panel):
    type_in(panel, "nominal_volts", "")
    type_in(panel, "cells", "11")
    # 11 × 3.28 V
    assert panel.sentence.startswith(wording("11 cells of LiFePO4: 33.0"))


def test_neither_volts_nor_cells_is_refused(panel):
    type_in(panel, "nominal_volts", "")
    type_in(panel, "cells", "")
    assert wording("Nominal bank volts, DC [V]") in refused(panel)


@pytest.mark.parametrize("volts", ["36", "51.2"])
def test_other_volts_ask_for_the_cells(panel, volts):
    type_in(panel, "cells", "")
    type_in(panel, "nominal_volts", volts)
    assert wording("12, 24 or 48 V") in refused(panel) and "number of cells in series" in panel.sentence


@pytest.mark.parametrize(
    "name, text",
    [
        ("capacity_ah", "0"),
        ("capacity_ah", "big"),
        ("temperature_c", "200"),
        ("cable_ohm", "-1"),
        ("diode_drop_v", ""),
        ("device_max_volts", "x"),
        ("cells", "16.5"),
    ],
)
def test_nonsense_is_named(panel, name, text):
    type_in(panel, name, text)
    assert panel.form.fields[name].label in refused(panel)


def test_an_empty_job_asks_for_what_is_missing(tmp_path):
    panel = BankPanel(Job.create("mill", tmp_path))
    assert panel.sentence == wording("Choose the chemistry first, then")
    assert panel.message.text == ""  # nothing was typed yet, so nothing is complained about
    type_in(panel, "chemistry", "AGM")
    assert refused(panel).endswith("look at Capacity [Ah].")


def test_what_is_typed_is_saved_and_what_is_assumed_is_said(panel, job):
    type_in(panel, "temperature_c", "41 °F")
    type_in(panel, "cable_ohm", "30 mΩ")
    press(panel.form, "Save the bank")
    kept = Job.open(job.name, job.folder.parent).bank
    assert kept.temperature_c == pytest.approx(5.0) and kept.cable_ohm == pytest.approx(0.03)
    assert kept.assumed == ("diode_drop_v",)
    assert panel.form.message.text == wording("Saved. Still assumed, not measured")


def test_what_is_refused_is_not_saved(panel, job):
    before = job.bank
    type_in(panel, "cells", "8")
    press(panel.form, "Save the bank")
    assert panel.form.message.text.startswith("Not usable – bank") and job.bank == before


def test_a_saved_bank_is_one_line_and_a_bank_to_be_described_is_open(panel, tmp_path):
    # 16 × 3.28 V, see tables/bank_chemistry.csv.
    assert not panel.is_open
    assert panel.fold.description == wording("▸ Bank: 16 cells")
    panel.fold.click()
    assert panel.is_open and panel.fold.description.startswith("▾ Bank: 16 cells")
    panel.fold.click()
    assert not panel.is_open
    fresh = BankPanel(Job.create("mill", tmp_path))
    assert fresh.is_open and "change" not in fresh.fold.description


def test_what_was_typed_and_not_saved_comes_back_in_sight(panel, job):
    type_in(panel, "capacity_ah", "3oo")
    assert BankPanel(job).is_open


def test_saving_changes_the_line_and_says_what_still_shows_the_bank_before(panel):
    type_in(panel, "cells", "")
    type_in(panel, "nominal_volts", "24")
    assert "16 cells" in panel.fold.description  # not saved yet
    press(panel.form, "Save the bank")
    # The usual 24 V bank of this chemistry has 8 cells of 3.28 V.
    assert wording("Bank: 8 cells") in panel.fold.description
    assert "Run the page" in panel.sentence


def test_the_caution_of_the_terminals_stands_at_the_form(panel):
    assert "fuse out first and in last" in shown(panel)[0]


def test_a_saved_bank_is_shown_again(job):
    job.save_part("bank", sample("bank", nominal_volts=24.0, chemistry="gel", cells=12, capacity_ah=400.0))
    # 12 × 1.96 V; 12 × 0.09 Ω·Ah / 400 Ah
    assert BankPanel(job).sentence.startswith(wording("12 cells of gel: 23.5"))
    assert "about 2.7 mΩ inside" in BankPanel(job).sentence


def test_the_groupings_follow_the_bank_of_a_job_that_had_none(job):
    made = Job.create("mill", job.folder.parent)
    for part in ("stator", "coil", "drive"):
        made.save_part(part, getattr(job, part))
    bank = BankPanel(made)
    panel = ChooseForBank(made, bank)
    assert panel.sentence.startswith("Job spring_pipe, not your own: ")
    for name, text in {"nominal_volts": "48", "chemistry": "LiFePO4", "capacity_ah": "200"}.items():
        type_in(bank, name, text)
    assert panel.sentence == ChoosePanel(made).sentence and "spring_pipe" not in panel.sentence
    type_in(bank, "nominal_volts", "24")
    assert panel.sentence == ChoosePanel(made).sentence
