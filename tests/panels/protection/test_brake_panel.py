"""Panel of the brake: the worst stands still, the slider's speed moves, and no drive's own sentence is lost."""

import pytest

from samples.pages import shown
from statorbook.examples import jobs as example
from statorbook.job.parts.heat import HeatPart
from statorbook.job.places import EXAMPLES
from statorbook.panels.protection.brake import BrakePanel
from statorbook.panels.protection.page import ProtectionPage
from statorbook.protection.brake_heat import brake_curves, joined_at
from statorbook.protection.joined_leads import JOINED_LEADS_CAUTION


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_is_told_what_holds_it_how_long_and_what_really_stops_it(tmp_path, name):
    panel = BrakePanel(ProtectionPage(example.write(tmp_path, name)))
    assert panel.sentence.startswith("As the source stands: joining all")
    stop = {"spring_pipe": "a deflector", "ridge_rotor": "furling", "shed_pedals": "the rider"}[name]
    assert f"The real stop is {stop}" in panel.sentence and "first swing" in panel.sentence
    assert ("guard failed: joining" in panel.sentence) == (name != "spring_pipe")  # one nozzle: no stronger source
    assert ("slow an unloaded rotor" in panel.sentence) == (name == "ridge_rotor")
    assert JOINED_LEADS_CAUTION in panel.shown_answer.caution and shown(panel)[1].count("<svg") == 1


def test_the_slider_moves_its_own_line_and_nothing_of_the_worst(tmp_path):
    panel = BrakePanel(ProtectionPage(example.write(tmp_path)))
    worst, plant = panel.sentence.splitlines()[:-1], panel.page.plant()
    panel.speed.value = panel.speed.min
    slow = panel.shown_answer.headline["steady"]
    panel.speed.value = panel.speed.max
    assert panel.sentence.splitlines()[:-1] == worst and panel.shown_answer.headline["steady"] != slow == "0 A"
    assert joined_at(plant, plant.runaway_rpm, 60.0).lead_amps_rms == pytest.approx(
        brake_curves(plant).lead_amps_rms[-1]
    )


def test_a_better_class_saved_elsewhere_gives_the_winding_longer(tmp_path):
    job = example.write(tmp_path)
    job.save_part("heat", HeatPart())
    page = ProtectionPage(job)
    panel = BrakePanel(page)
    before = panel.shown_answer.headline["limit from warm"]
    page.save("heat", HeatPart(thermal_class="B"))
    assert "120 °C that its class allows" in panel.sentence
    assert panel.shown_answer.headline["limit from warm"] != before
