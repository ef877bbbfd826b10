"""Panel of the rectifier: what to shop for, a verdict on the label as typed, one sentence for nonsense."""

import pytest

from samples.pages import is_stale, refused, shown
from statorbook.assembly.plant import plant_from
from statorbook.examples import jobs as example
from statorbook.job.parts.bank import BankPart
from statorbook.job.parts.drive.part import DrivePart
from statorbook.job.parts.rectifier import RectifierPart
from statorbook.job.places import EXAMPLES
from statorbook.panels.protection.bridge import CAUTION, BridgePanel
from statorbook.panels.protection.page import ProtectionPage
from statorbook.protection.rectifier import rectifier_needs


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("rectifier", RectifierPart())
    return made


@pytest.fixture
def panel(job):
    return BridgePanel(ProtectionPage(job))


def fill(panel, **typed):
    for name, text in typed.items():
        panel.form.fields[name].control.value = text


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_is_told_what_to_shop_for(tmp_path, name):
    panel = BridgePanel(ProtectionPage(example.write(tmp_path, name)))
    words, pictures = shown(panel)[:2]
    assert " V reverse" in panel.sentence and pictures.count("<svg") == 1
    assert CAUTION in panel.shown_answer.caution and "⚠" in words and panel.message.text == ""


def test_without_a_label_nothing_is_judged(panel, job):
    needs = rectifier_needs(plant_from(job))
    assert panel.sentence.startswith("It needs ") and f"{needs.usual_reverse_volts:g} V reverse" in panel.sentence


def test_a_label_as_typed_is_judged_and_saved(panel, job):
    fill(panel, label_amps="35", reverse_volts="800")
    assert panel.sentence.startswith("Yours fits: ")
    fill(panel, reverse_volts="100")
    assert panel.sentence.startswith("Yours does not fit: ")
    panel.form.save()
    assert (job.rectifier.label_amps, job.rectifier.reverse_volts) == (35.0, 100.0)
    assert plant_from(job).rectifier.reverse_volts == 100.0
    assert job.rectifier.assumed_in_use == ("max_junction_c",)


@pytest.mark.parametrize(
    "name, text", [("label_amps", "-1"), ("reverse_volts", "1e9"), ("heat_sink_k_per_w", "0"), ("drop_v", "thirty")]
)
def test_nonsense_keeps_the_last_answer_and_is_refused_in_a_sentence(panel, name, text):
    fill(panel, label_amps="35", reverse_volts="800")
    before = panel.shown_answer
    fill(panel, **{name: text})
    assert panel.shown_answer is before and is_stale(panel)
    assert panel.form.fields[name].label in refused(panel)


def test_what_is_asked_only_of_some_stands_there_only_for_them(panel):
    def seen():
        return {name for name, field in panel.form.fields.items() if field.widget.layout.display != "none"}

    assert not {"sharing", "box_cm2"} & seen()
    fill(panel, side_by_side="2", enclosure="in a closed box")
    assert {"sharing", "box_cm2"} <= seen()


def test_nothing_flows_where_the_machine_is_too_slow_for_its_bank(job):
    job.save_part("bank", BankPart(nominal_volts=192.0, cells=60, chemistry="LiFePO4", capacity_ah=100.0))
    job.save_part("drive", DrivePart(kind="water jet", head_m=0.5, nozzle_mm=14.0, pitch_diameter_mm=260.0))
    panel = BridgePanel(ProtectionPage(job))
    assert "no heat sink, since nothing flows" in panel.sentence
    assert panel.shown_answer.headline == {"heat sink": "none", "loss": "0 W"}


def test_other_units_are_spoken_at_once(panel):
    panel.in_units("US")
    assert "°F" in panel.sentence and "°C" not in panel.sentence and "in²" in panel.sentence
