"""The panel that follows one grouping from rest to the bank: water, wind, pedals, and the reader's units."""

import pytest

from samples.pages import shown, unfolded
from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of
from statorbook.examples import jobs as example
from statorbook.job.parts.reader import ReaderPart
from statorbook.job.places import EXAMPLES
from statorbook.operation.starting import start_up
from statorbook.panels.choice.settle import CHAIN, SettlePanel, working_words
from statorbook.winding.grouping import Grouping


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def at_work(panel):
    now = panel.machine
    return now.bank.states[1], now.setting.conditions


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_shows_start_chain_and_brake(tmp_path, name):
    panel = SettlePanel(example.write(tmp_path, name))
    winding = panel.machine.stator, panel.machine.coil, panel.grouping.value
    found = panel.sentence
    assert found.startswith("It starts by itself: ") and "reach the bank" in found and winding
    assert shown(panel)[1].count("<svg") == 1 and panel.message.text == ""
    assert {name: picture.count("<svg") for name, picture in unfolded(panel).items()} == {CHAIN: 1}
    assert "⚠" in shown(panel)[0]


def test_the_sentence_is_what_start_up_says(job):
    from statorbook.winding.winding import Winding

    panel = SettlePanel(job)
    winding = Winding(stator=panel.machine.stator, coil=panel.machine.coil, grouping=panel.grouping.value)
    assert panel.sentence.startswith(start_up(panel.machine.drive, winding, *at_work(panel)).sentence)


def test_it_opens_on_the_grouping_of_the_job_else_on_the_recommended_one(job):
    assert SettlePanel(job).grouping.value == choice_of(job).to_grouping() != machine_from(job).found


def test_a_moved_slider_and_another_grouping_change_the_sentence(job):
    panel = SettlePanel(job)
    first = panel.sentence
    panel.drive.sliders["nozzle_mm"].value = 18.0
    second = panel.sentence
    panel.grouping.value = Grouping(series=12, parallel=1)
    assert len({first, second, panel.sentence}) == 3


@pytest.mark.outside(
    "wind on a US reader's slider",
    source="NIST SP 811, appendix B.8",
    number="6 m/s are 13.42 mph",
    tolerance="0.01 mph",
    seen="from memory",
)
def test_a_rider_is_told_what_the_legs_feel_and_a_wind_rotor_which_wind_is_held(tmp_path):
    pedals = SettlePanel(example.write(tmp_path, "shed_pedals")).sentence
    assert " N " in pedals and "cadence" in pedals
    wind = SettlePanel(example.write(tmp_path, "ridge_rotor")).sentence
    assert "m/s" in wind
    job = example.write(tmp_path, "ridge_rotor")
    job.save_part("reader", ReaderPart(units="US"))
    panel = SettlePanel(job)
    assert "mph" in panel.sentence and "m/s" not in panel.sentence
    slider = panel.drive.sliders["wind_m_s"]
    assert slider.description.endswith("[mph]") and slider.value == pytest.approx(13.42, abs=0.01)
    assert slider.read() == 6.0 and panel.drive.values == {}
    slider.value += 10 * slider.step
    assert panel.drive.drive().wind_m_s == pytest.approx((13.4216 + 10 * slider.step) * 0.44704, rel=1e-4)


def test_a_machine_that_does_not_charge_says_so(job):
    panel = SettlePanel(job)
    panel.grouping.value = Grouping(series=1, parallel=12, connection="delta")
    assert "never reaches the" in panel.sentence and "Nothing reaches the bank at" in panel.sentence


def test_the_share_is_of_the_source(job):
    from statorbook.operation.operating_point import operating_point
    from statorbook.winding.winding import Winding

    panel = SettlePanel(job)
    winding = Winding(stator=panel.machine.stator, coil=panel.machine.coil, grouping=panel.grouping.value)
    point = operating_point(panel.machine.drive, winding, *at_work(panel))
    share = 100 * point.bank_watts / panel.machine.drive.source_watts
    assert f"{share:.0f}% of what the source has" in working_words(point)


@pytest.mark.outside(
    "torque on a US reader's figure",
    source="NIST SP 811, appendix B.8",
    number="1 N·m is 0.73756 ft·lb",
    tolerance="0.01 %",
    seen="from memory",
)
def test_torque_is_told_and_drawn_in_the_readers_units(job):
    job.save_part("reader", ReaderPart(units="US"))
    panel = SettlePanel(job)
    axes = panel.torque.axes[0]
    assert "ft·lb on the standing rotor" in panel.sentence and "N·m" not in panel.sentence
    assert axes.get_ylabel().endswith("[ft·lb]")
    pull = next(line for line in axes.lines if line.get_gid() == "drive")
    at = pull.get_xdata()[0]
    assert pull.get_ydata()[0] == pytest.approx(0.73756 * panel.machine.drive.torque_nm(at), rel=1e-4)
