"""Panel of the bank that comes off: both forms count at once, verdicts follow, nonsense is one sentence."""

import pytest

from statorbook.examples import jobs as example
from statorbook.panels.protection.over_voltage import TAKE_OVER, OverVoltagePanel
from statorbook.panels.protection.page import ProtectionPage
from statorbook.protection.guard_needs import guard_needs


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    return made


@pytest.fixture
def panel(job):
    return OverVoltagePanel(ProtectionPage(job))


def type_in(form, **texts):
    for name, text in texts.items():
        form.fields[name].control.value = text


def test_what_is_needed_is_said_and_a_load_like_that_does(panel):
    needs = guard_needs(panel.page.plant())
    assert "passed at once" in panel.sentence and f"{needs.ohm:.2g} Ω or less" in panel.sentence
    assert panel.shown_answer.pictures[0].startswith("<svg")
    farad = needs.capacitor_uf(0.001) * 1.05
    good = {"set_dc_volts": f"{needs.set_dc_volts:.2f}", "ohm": f"{needs.ohm:.3g}", "watts": f"{needs.watts:.0f}"}
    type_in(panel.form, **good, acts_within_s="0.001", capacitor_uf=f"{farad:.0f}")
    assert "Yours does:" in panel.sentence
    type_in(panel.form, capacitor_uf="0")
    assert "too slow" in panel.sentence and "Yours does not do." in panel.sentence
    assert [row[0] for row in panel.shown_answer.table.rows][-2:] == ["load as asked for", "yours"]


@pytest.mark.outside(
    "inertia of a disc of 20 kg and 400 mm",
    source="Young and Freedman, University Physics, moments of inertia",
    number="m d² / 8 = 0.4 kg·m²",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_heavier_rotor_takes_longer_and_is_kept_in_its_own_part(panel, job):
    type_in(panel.rotor, mass_kg="20", diameter_mm="400", shape="plain disc")
    assert "inertia of 0.4 kg·m²." in panel.sentence
    panel.rotor.save()
    assert job.rotor.to_rotor().inertia_kgm2 == pytest.approx(0.4)
    assert job.guard is None


@pytest.mark.outside(
    "inertia of a thin ring of 5 kg and 200 mm",
    source="Young and Freedman, University Physics, moments of inertia",
    number="m d² / 4 = 0.05 kg·m², less a tenth",
    tolerance="1e-6",
    seen="from memory",
)
def test_the_ring_of_page_03_is_taken_over_by_its_light_end(panel, job):
    drive = job.drive
    job.save_part("drive", type(drive)(**{**drive.model_dump(), "rotor_kg": 5.0, "rotor_ring_mm": 200.0}))
    panel.page.read()
    panel.buttons[TAKE_OVER].click()
    # Less the tenth that hub and spokes count too much.
    assert job.rotor.inertia_kgm2 == pytest.approx(0.045)
    assert not job.rotor.assumes("inertia_kgm2")


def test_a_wind_rotor_is_told_what_its_own_guard_saves(tmp_path):
    page = ProtectionPage(example.write(tmp_path, "ridge_rotor"))
    panel, works = OverVoltagePanel(page), guard_needs(page.plant(), drives_guard=True)
    assert f"{works.ohm:.2g} Ω and {works.watts:g} W are enough then." in panel.sentence
    assert works.watts < guard_needs(page.plant()).watts
    assert "comes too late" in panel.sentence
    assert [row[0].split()[-1] for row in panel.shown_answer.table.rows[:2]] == ["failed", "work"]


def test_riders_who_need_no_load_are_told_so(tmp_path):
    panel = OverVoltagePanel(ProtectionPage(example.write(tmp_path, "shed_pedals")))
    assert "is never passed" in panel.sentence and "not needed" in panel.sentence
    type_in(panel.form, set_dc_volts="90", ohm="5", watts="500")
    assert "Yours" not in panel.sentence


def test_without_a_measurement_there_is_nothing_to_take_over(panel):
    panel.buttons[TAKE_OVER].click()
    assert "page 03 holds neither" in panel.message.text


@pytest.mark.parametrize(
    ("form", "field", "text"),
    [
        ("rotor", "inertia_kgm2", "0"),
        ("rotor", "mass_kg", "heavy"),
        ("form", "ohm", "-3"),
        ("form", "set_dc_volts", "1e9"),
        ("form", "acts_within_s", "soon"),
    ],
)
def test_nonsense_keeps_the_last_answer_and_says_why_in_one_sentence(panel, form, field, text):
    good = panel.shown_answer
    type_in(getattr(panel, form), **{field: text})
    assert panel.shown_answer is good
    assert "cannot be used yet" in panel.sentence and "\n" not in panel.sentence


def test_both_forms_follow_the_units(panel):
    type_in(panel.rotor, mass_kg="10")
    panel.in_units("US")
    assert panel.rotor.fields["mass_kg"].control.value.startswith("22")
    assert panel.message.last_fault == ""
