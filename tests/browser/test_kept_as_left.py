"""A half-typed field comes back after the kernel is gone and the page is run anew; any version is in reach."""

import pytest

from sentences import sentences_of
from statorbook.job.job import Job

wording = sentences_of("browser")

pytestmark = pytest.mark.slow
STATOR, CARE = "StatorPanel(", "JobCare("


def field(browser, label):
    return browser.panel(STATOR).cell.get_by_label(label, exact=True)


@pytest.mark.parametrize("opened", ["01_know_your_stator"], indirect=True)
def test_a_half_typed_field_comes_back_on_the_next_run(notebook, kept_in):
    notebook.panel(STATOR).type("Slots", "41x")
    notebook.open("01_know_your_stator")  # ends the kernel
    notebook.run()
    assert field(notebook, "Slots").input_value() == "41x"
    words = notebook.panel(STATOR).cell.inner_text()
    assert "typed, not used yet" in words and wording("Brought back as you left") in words
    assert Job.open("spring_pipe", notebook.lab.data).stator.slots == 36
    notebook.picture(kept_in / "brought-back")
    notebook.panel(STATOR).press("Discard what is typed")
    assert field(notebook, "Slots").input_value() == "36"
    assert notebook.troubles() == []


@pytest.mark.parametrize("opened", ["00_start_here"], indirect=True)
def test_any_version_is_chosen_and_put_back(notebook, kept_in):
    job = Job.open("spring_pipe", notebook.lab.data)
    for number in range(1, 31):
        job.save_part("bank", job.bank.model_copy(update={"cable_ohm": number / 1000}))
    notebook.run()
    lists = notebook.panel(CARE).cell.locator("select")
    texts = lists.nth(2).locator("option").all_inner_texts()
    assert len(texts) == 30 and "“0.001” → “0.002”" in texts[-2].replace("\u00a0", " ")
    lists.nth(2).select_option(index=28)
    notebook.settle()
    notebook.picture(kept_in / "versions")
    notebook.panel(CARE).press("Restore this version")
    assert job.bank.cable_ohm == 0.001
    assert notebook.troubles() == []
