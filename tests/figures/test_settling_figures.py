"""The chain of losses and the crossing torque curves: what they show is what the library found."""

import numpy as np
import pytest

from statorbook.bank.battery import BankState
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.loss_chain import chain_levels, draw_loss_chain
from statorbook.figures.torque_crossings import draw_torque_crossings
from statorbook.operation.operating_point import operating_point
from statorbook.operation.speed_sweep import Conditions
from statorbook.operation.starting import start_up
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

WINDING = Winding(
    stator=Stator(slots=36, poles=48),
    coil=CoilConstants(emf_v_per_rpm=0.023, ohm=0.65, henry=3.6e-3),
    grouping=Grouping(series=2, parallel=6),
)
BANK, CONDITIONS = BankState(name="half full", volts=27.0, ohm=0.01), Conditions()
JET = WaterJet(head_m=30.0, pitch_diameter_mm=250.0, nozzle_mm=14.0)


def artist(axes, gid):
    return next(a for a in axes.lines if a.get_gid() == gid)


def texts(axes):
    return [text.get_text() for text in axes.texts if text.get_visible() and text.get_text()]


# A chain by hand: 100 W, less 20 in the runner, 80 at the shaft, less 5 and 15, 60 into the bank.
CHAIN = (
    ("water at the nozzle", 100.0),
    ("runner", -20.0),
    ("shaft", 80.0),
    ("drag", -5.0),
    ("copper", -15.0),
    ("bank", 60.0),
)


def test_levels_go_down_from_the_source_and_meet_the_whole_bars():
    assert chain_levels(CHAIN) == [
        ("water at the nozzle", 100.0, 0.0, 100.0, 1.0),
        ("runner", -20.0, 100.0, 80.0, -0.2),
        ("shaft", 80.0, 0.0, 80.0, 0.8),
        ("drag", -5.0, 80.0, 75.0, -0.05),
        ("copper", -15.0, 75.0, 60.0, -0.15),
        ("bank", 60.0, 0.0, 60.0, 0.6),
    ]


def test_each_step_has_its_bar_its_watts_and_its_percent():
    figure = KeptFigure(height_in=4.4)
    figure.draw(draw_loss_chain, CHAIN)
    axes = figure.axes[0]
    assert list(artist(axes, "bar 1").get_xdata()) == [100.0, 80.0]
    assert texts(axes) == ["100 W, 100 %", "−20 W, −20 %", "80 W, 80 %", "−5 W, −5 %", "−15 W, −15 %", "60 W, 60 %"]
    named = [label.get_text() for label in axes.get_yticklabels()]
    assert named[:3] == ["water at the nozzle", "runner", "at the shaft"] and named[-1] == "into the bank"


def test_a_shorter_chain_leaves_nothing_of_a_longer_one():
    figure = KeptFigure(height_in=4.4)
    figure.draw(draw_loss_chain, CHAIN)
    figure.draw(draw_loss_chain, (("shaft", 50.0), ("drag", -5.0), ("bank", 45.0)))
    axes = figure.axes[0]
    assert texts(axes) == ["50 W, 100 %", "−5 W, −10 %", "45 W, 90 %"] and len(artist(axes, "bar 4").get_xdata()) == 0


def test_the_chain_of_a_machine_that_stands_still_can_be_drawn():
    point = operating_point(JET, WINDING, BANK, Conditions(drag_nm=50.0))
    figure = KeptFigure(height_in=4.4)
    figure.draw(draw_loss_chain, point.chain_watts)
    assert texts(figure.axes[0])[-1].startswith("0 W")


@pytest.mark.parametrize("drive", [JET, KnownSpeed(working_rpm=600.0)], ids=["jet", "known speed"])
def test_crossings_stand_on_both_curves(drive):
    start = start_up(drive, WINDING, BANK, CONDITIONS)
    figure = KeptFigure(height_in=4.2)
    figure.draw(draw_torque_crossings, drive, WINDING, BANK, CONDITIONS, start)
    axes = figure.axes[0]
    held = artist(axes, "holds")
    assert list(held.get_xdata()) == [c.speed_rpm for c in start.found if c.stable]
    generator = artist(axes, "generator")
    on_curve = np.interp(held.get_xdata(), generator.get_xdata(), generator.get_ydata())
    assert held.get_ydata() == pytest.approx(on_curve, rel=0.02)
    assert any(text.startswith("cut-in") for text in texts(axes))
    assert ("the drive's torque is not known" in texts(axes)) is isinstance(drive, KnownSpeed)
