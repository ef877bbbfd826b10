"""Figures of the derived formulas of the plant: lines and circles are of two ways to one number, and meet."""

from dataclasses import replace

import numpy as np
import pytest

from samples.charging_samples import plan
from samples.machine_samples import JET
from samples.plant_samples import plant
from statorbook.charging.dump_loads import judged_dumps
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.derived_adiabatic import draw_derived_adiabatic
from statorbook.figures.derived_dump import draw_derived_dump
from statorbook.figures.derived_lost import draw_derived_lost
from statorbook.figures.derived_sink import draw_derived_sink
from statorbook.protection.load_lost import load_lost
from statorbook.protection.rectifier import rectifier_needs
from statorbook.protection.rectifier_fit import rectifier_fit
from statorbook.protection.rectifier_label import Rectifier
from statorbook.quantities import RAD_S_PER_RPM, reader_units


@pytest.fixture
def axes():
    return KeptFigure().axes[0]


def curve(axes, name):
    return next(np.asarray(artist.get_data(), dtype=float) for artist in axes.lines if artist.get_gid() == name)


def on_line(axes, points, along):
    x, y = curve(axes, points)
    return y == pytest.approx(np.interp(x, *curve(axes, along)), rel=2e-3)


@pytest.mark.outside(
    "seconds of 10 mm² behind PVC under 1000 A, and where they end",
    source="IEC 60364-5-54, tables of k and table A.54",
    number="1.32 s of k 115, 160 °C",
    tolerance="0.5 %",
    seen="in a reproduction",
)
def test_wires_warm_as_the_library_says(axes):
    draw_derived_adiabatic(axes)
    assert on_line(axes, "library 10", "formula 10") and on_line(axes, "library 6", "formula 6")
    assert curve(axes, "library 10")[:, -1] == pytest.approx([1.32, 160.0], rel=5e-3)


@pytest.mark.outside(
    "air of a heat sink on a US reader's figure",
    source="NIST SP 811, appendix B.8",
    number="40 °C is 104 °F",
    tolerance="1e-6",
    seen="from memory",
)
def test_heat_goes_in_a_straight_line(axes):
    block = Rectifier(label_amps=60.0, reverse_volts=600.0, junction_case_k_per_w=0.6, heat_sink_k_per_w=0.5)
    made = plant(rectifier=block)
    needs = rectifier_needs(made)
    with reader_units("US"):
        parts = {"R_jc": 0.1, "R_cs": 0.1, "R_sb": 0.5, "R_ba": 0.0}
        draw_derived_sink(axes, rectifier_fit(made, needs).steps, needs.watts, parts)
    assert on_line(axes, "library", "formula")
    assert curve(axes, "formula")[1][0] == pytest.approx(104.0)


def test_the_run_up_meets_the_formula(axes):
    jet = replace(JET, runaway_ratio=2.0)
    lost = load_lost(plant(drive=jet))
    starts, ends = lost.starts_rpm * RAD_S_PER_RPM, lost.ends_rpm * RAD_S_PER_RPM
    numbers = {"J": 0.05, "T": jet.torque_nm(0.0), "omega_0": starts, "omega_r": ends}
    draw_derived_lost(axes, lost, 0.5 * lost.time_s[-1], numbers)
    assert on_line(axes, "formula", "library")


def test_dump_loads_take_what_is_asked(axes):
    made = plan()
    needs = judged_dumps(made.plant, made.points, made.dumps).needs
    draw_derived_dump(axes, needs, (1.1, 1.5))
    ohms, amps = curve(axes, "formula")
    assert ohms == pytest.approx([needs.alone_ohm, needs.ohm])
    assert amps == pytest.approx(np.interp(ohms, *curve(axes, "takes")), rel=2e-3)
