"""What a panel says in the page is what the library says for what was typed, chosen or moved there."""

import pytest

from sentences import in_us
from statorbook.assembly.log_reading import bench_logs
from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of, plan_of
from statorbook.assembly.year import source_year_from
from statorbook.bank.battery import Bank, cells_for
from statorbook.choice.comparison import compare
from statorbook.choice.first_guess import quick_look
from statorbook.choice.uncertainty import with_plus_minus
from statorbook.drawings.coil_symbols import HALO
from statorbook.drives.quantity import with_quantities
from statorbook.fits.constants import terminal_constants
from statorbook.job.job import Job
from statorbook.job.parts.fields import field_facts
from statorbook.job.parts.registry import BankPart, DrivePart, StatorPart
from statorbook.operation.operating_point import operating_point
from statorbook.panels.choice.bank import describe_bank
from statorbook.panels.choice.settle import working_words
from statorbook.panels.drive.drive_words import describe_drive
from statorbook.panels.measuring.spin_log import describe_emf
from statorbook.panels.measuring.stator_facts import describe_stator
from statorbook.rewiring.work_steps import steps
from statorbook.widgets.controls import label_with_unit
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding
from statorbook.year.energy import grouping_years
from statorbook.year.plus_minus import kwh_spread
from statorbook.year.verdict import year_verdict

pytestmark = pytest.mark.slow  # a JupyterLab and a browser have to start
EXAMPLE = "spring_pipe"


def label_of(part, name):
    """The label that a field of a job's part carries in the page."""
    facts = field_facts(part, name)
    return label_with_unit(facts.name_alone, facts.unit_alone)


@pytest.mark.parametrize("opened", ["00_start_here"], indirect=True)
def test_the_quick_look_follows_what_is_typed(notebook):
    panel = notebook.panel("QuickPanel(")
    for label, text in {
        "Slots (teeth)": "12",
        "Poles, north and south": "14",
        "at a speed of [rpm]": "120",
        "AC volts, two leads, rms [V]": "0.03 kV",
        "Ohms between two leads [Ω]": "1.8",
        "Working speed, hoped [rpm]": "900",
    }.items():
        panel.type(label, text)
    panel.choose("Bank [V]", "24")
    panel.choose("Joined by the factory in", "delta")
    look = quick_look(
        Stator(slots=12, poles=14),
        Bank(chemistry="LiFePO4", cells=cells_for("LiFePO4", 24)),
        line_volts_rms=30,
        reading_rpm=120,
        line_ohm=1.8,
        working_rpm=900,
        connection="delta",
    )
    assert panel.sentence.startswith(look.sentence)
    assert panel.pictures == 1


@pytest.mark.parametrize("opened", ["00_start_here"], indirect=True)
def test_another_job_is_opened_by_choosing_it(notebook):
    panel = notebook.panel("start")
    panel.choose("Open a job", "shed_pedals")
    assert panel.sentence.startswith("Open job: shed_pedals; ")
    assert "in the job shed_pedals" in notebook.panel("JobCare(").sentence


@pytest.mark.parametrize("opened", ["01_know_your_stator"], indirect=True)
def test_the_stator_follows_its_counts(notebook):
    panel = notebook.panel("StatorPanel(")
    before = panel.picture_markup
    for name, text in {"slots": "12", "poles": "10"}.items():
        panel.type(label_of(StatorPart, name), text)
    assert panel.sentence == describe_stator(Stator(slots=12, poles=10))
    assert panel.pictures == 1 and panel.picture_markup != before


@pytest.mark.parametrize("opened", ["01_know_your_stator"], indirect=True)
def test_saved_facts_are_on_the_disk(notebook):
    panel = notebook.panel("StatorPanel(")
    panel.type(label_of(StatorPart, "mark_note"), "a file cut beside tooth 1")
    panel.press("Save the stator facts")
    assert Job.open(EXAMPLE, notebook.lab.data).stator.mark_note == "a file cut beside tooth 1"


@pytest.mark.parametrize("opened", ["02_spin_and_log"], indirect=True)
def test_the_fit_follows_the_log(notebook):
    panel = notebook.panel("spin")
    panel.type_cell("Volts [V]", 1, "25.4")
    job = Job.open(EXAMPLE, notebook.lab.data)
    assert job.read_log("spin")[0]["volts"] == "25.4"
    part = job.stator
    logs = bench_logs(job, part)
    found = terminal_constants(logs, part.to_stator(), conductor=part.conductor, magnet=part.magnet)
    assert panel.sentence.startswith(describe_emf(found.emf_fit))


@pytest.mark.parametrize("opened", ["03_what_turns_it"], indirect=True)
def test_the_drive_follows_its_head(notebook):
    panel = notebook.panel("DrivePanel(")
    panel.type(label_of(DrivePart, "head_m"), "35")
    panel.type(label_of(DrivePart, "nozzle_mm"), "1.2 cm")
    part = Job.open(EXAMPLE, notebook.lab.data).drive.model_copy(update={"head_m": 35.0, "nozzle_mm": 12.0})
    assert panel.sentence.startswith(describe_drive(part.to_drive()))
    panel.choose("Units", "US")
    assert panel.sentence.startswith(in_us(describe_drive, part.to_drive()))


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_the_bank_follows_its_cells(notebook):
    notebook.unfold()  # a bank that is saved is one line
    panel = notebook.panel("bank")
    panel.type(label_of(BankPart, "temperature_c"), "5")
    part = Job.open(EXAMPLE, notebook.lab.data).bank.model_copy(update={"temperature_c": 5.0})
    assert panel.sentence == describe_bank(part.to_bank())


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_the_comparison_follows_the_grouping(notebook):
    panel = notebook.panel("panel")
    # Most volts first, in those of one coil: 12 √3, 12, 6 √3, 4 √3, 6: 6 in delta is the fifth.
    panel.slide("Grouping, from most volts to most amps", "Home")
    panel.slide("Grouping, from most volts to most amps", times=4)
    job, picked = Job.open(EXAMPLE, notebook.lab.data), Grouping(series=6, parallel=2, connection="delta")
    now, source = machine_from(job), source_year_from(job)
    at_once = compare(now.stator, now.coil, now.drive, now.bank, now.setting)
    by_year = year_verdict(at_once, grouping_years(now, source), months_known=source.months_known).by_year
    spread = with_plus_minus(now, picked) | {"worth": kwh_spread(now, source, picked)}
    assert panel.sentence.startswith(by_year.words_of(by_year.find(picked), spread))
    assert panel.pictures == 1  # the other one is folded


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_the_operating_point_follows_the_slider(notebook):
    panel = notebook.panel("SettlePanel(")
    job = Job.open(EXAMPLE, notebook.lab.data)
    now, first = machine_from(job), machine_from(job).drive.quantities[0]
    label = label_with_unit(first.label, first.unit)
    panel.slide(label, "ArrowRight", times=3)
    moved = with_quantities(now.drive, {first.field: float(panel.stands(label))})
    winding = Winding(stator=now.stator, coil=now.coil, grouping=choice_of(job).to_grouping())
    point = operating_point(moved, winding, now.bank.states[1], now.setting.conditions)
    assert panel.stands(label) != first.value
    assert working_words(point) in panel.sentence


# How many wire ends are marked in the drawing and how many of these are in its box; how tall words and box are.
_MARKED = """box => {
    const seen = box.getBoundingClientRect();
    const marks = [...box.querySelectorAll('circle[fill="HALO"]')].map(each => each.getBoundingClientRect());
    const inside = marks.filter(at => at.left >= seen.left && at.right <= seen.right && at.top >= seen.top
                                      && at.bottom <= seen.bottom);
    const words = box.closest(".statorbook-panel").querySelector(".statorbook-sentence").getBoundingClientRect();
    return {count: marks.length, inside: inside.length, tall: seen.bottom - words.top};
}""".replace("HALO", HALO)


@pytest.mark.parametrize("opened", ["05_cut_and_join"], indirect=True)
def test_the_bench_drawing_goes_step_by_step(notebook):
    panel = notebook.panel("panel.view")
    job = Job.open(EXAMPLE, notebook.lab.data)
    made = steps(plan_of(job, choice_of(job), "neighbours"))
    whole = panel.picture_markup
    panel.press("Next step")
    assert panel.sentence == f"Step 1 of {len(made)}: {made[0].words.text}"
    panel.press("Next step")
    panel.press("Next step")
    assert made[2].kind == "cut"
    # The wire ends marked are in sight in the box, without a hand on its scroll bars, and all of it is on one screen.
    marked = panel.cell.locator(".statorbook-picture [role=region]").evaluate(_MARKED)
    assert marked["count"] == marked["inside"] == len(made[2].ends) and marked["tall"] < 700
    panel.slide("Step (0 shows the whole plan)", "End")
    assert panel.sentence == f"Step {len(made)} of {len(made)}: {made[-1].words.text}"
    assert panel.pictures == 1 and panel.picture_markup != whole
