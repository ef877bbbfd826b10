"""The figures of the water drive: units, marks where the numbers are, shapes to scale, artists that move."""

from dataclasses import replace

import numpy as np
import pytest

from samples.pages import by_gid, overlapping
from sentences import sentences_of
from statorbook.drives.nozzle_choice import best_nozzle_mm
from statorbook.drives.pipe import Pipe
from statorbook.drives.piped_jet import PipedJet
from statorbook.drives.water_jet import WaterJet
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.jet_and_bucket import draw_jet_and_bucket
from statorbook.figures.nozzle_power import draw_nozzle_power
from statorbook.quantities import reader_units

wording = sentences_of("figures")

PIPE = Pipe(length_m=120.0, bore_mm=60.0, material="polyethylene", bends=3, valve="ball", strainer=True)
DRIVE = PipedJet(gross_head_m=28.0, pipe=PIPE, nozzle_mm=16.0, pitch_diameter_mm=220.0)
WIDE = replace(DRIVE, nozzle_mm=30.0)


def drawn(function, drive, *values, figure=None, system="metric"):
    figure = figure or KeptFigure(columns=2)
    with reader_units(system):
        return figure.draw(function, drive, *values).axes


def visible_words(axes):
    return [text.get_text() for text in axes.texts if text.get_visible() and text.get_text()]


def artists(axes):
    return [*axes.lines, *axes.collections, *axes.texts]


# Power against the nozzle


@pytest.mark.parametrize(("system", "unit", "inch"), [("metric", "mm", 1.0), ("US", "in", 25.4)])
def test_the_nozzle_is_in_the_readers_unit(system, unit, inch):
    power, share = drawn(draw_nozzle_power, DRIVE, system=system)
    assert power.get_xlabel() == share.get_xlabel() == f"Nozzle bore, each [{unit}]"
    assert power.get_ylabel() == "Shaft power at best speed [W]"
    assert share.get_ylabel() == wording("Head lost in the pipe")
    assert by_gid(power.lines, "chosen").get_xdata() == pytest.approx([16.0 / inch])
    assert by_gid(power.lines, "best").get_xdata() == pytest.approx([best_nozzle_mm(DRIVE) / inch] * 2)
    assert any(f" {unit}" in text for text in visible_words(power))


def test_the_chosen_nozzle_stands_on_both_curves_and_the_best_on_the_top():
    power, share = drawn(draw_nozzle_power, DRIVE)
    assert by_gid(power.lines, "chosen").get_ydata() == pytest.approx([DRIVE.best_shaft_watts])
    lost = 100.0 * DRIVE.pipe_loss_m / DRIVE.gross_head_m
    assert by_gid(share.lines, "chosen").get_ydata() == pytest.approx([lost])
    curve = by_gid(power.lines, "curve")
    for axes in (power, share):
        line, point = by_gid(axes.lines, "curve"), by_gid(axes.lines, "chosen")
        assert np.interp(point.get_xdata(), *line.get_data()) == pytest.approx(point.get_ydata(), rel=0.01)
    top = curve.get_xdata()[curve.get_ydata().argmax()]
    assert by_gid(power.lines, "best").get_xdata()[0] == pytest.approx(top, abs=1.0)
    assert f"now 16 mm,\n{DRIVE.best_shaft_watts:.0f} W" in visible_words(power)
    assert by_gid(share.lines, "third").get_ydata() == pytest.approx([100 / 3] * 2)


def test_another_nozzle_moves_the_mark_and_adds_nothing():
    figure = KeptFigure(columns=2)
    power, share = drawn(draw_nozzle_power, DRIVE, figure=figure)
    before = artists(power), artists(share)
    drawn(draw_nozzle_power, WIDE, figure=figure, system="US")
    assert (artists(power), artists(share)) == before
    assert by_gid(power.lines, "chosen").get_xdata() == pytest.approx([30.0 / 25.4])
    assert by_gid(power.lines, "chosen").get_ydata() == pytest.approx([WIDE.best_shaft_watts])


# Jet and bucket


@pytest.mark.parametrize(("system", "unit", "inch"), [("metric", "mm", 1.0), ("US", "in", 25.4)])
def test_runner_jet_and_bucket_are_to_scale(system, unit, inch):
    runner, bucket = drawn(draw_jet_and_bucket, DRIVE, 50.0, system=system)
    assert runner.get_aspect() == bucket.get_aspect() == 1.0
    assert runner.get_xlabel() == bucket.get_ylabel() == f"[{unit}]"
    circle = by_gid(runner.lines, "pitch circle").get_xydata()
    assert np.hypot(*circle.T) == pytest.approx(np.full(len(circle), 110.0 / inch))
    edges = [by_gid(runner.lines, f"jet {side}").get_ydata() for side in ("-1", "+1")]
    assert edges[1] - edges[0] == pytest.approx([16.0 / inch] * 2)
    assert (edges[0] + edges[1]) / 2 == pytest.approx([-110.0 / inch] * 2)
    assert np.ptp(by_gid(bucket.lines, "jet").get_xdata()) == pytest.approx(16.0 / inch)
    assert np.ptp(by_gid(bucket.lines, "bucket").get_xdata()) == pytest.approx(50.0 / inch)
    # The bucket is as tall along the shaft as it is for the jet.
    tall = [np.ptp(by_gid(axes.lines, "bucket").get_ydata()) for axes in (runner, bucket)]
    assert tall[0] == pytest.approx(tall[1], rel=0.01)


# 16 / 25.4 = 0.630 in, 220 / 25.4 = 8.66 in, 50 / 25.4 = 1.97 in.
def test_lengths_are_written_in_the_readers_unit():
    runner, bucket = drawn(draw_jet_and_bucket, DRIVE)
    assert visible_words(runner) == ["pitch circle 220 mm", "jet and nozzle 16 mm"]
    assert visible_words(bucket) == ["bucket width 48 mm, at least", "jet 16 mm"]
    runner, bucket = drawn(draw_jet_and_bucket, DRIVE, 50.0, system="US")
    assert visible_words(runner) == ["pitch circle 8.66 in", "jet and nozzle 0.63 in"]
    assert visible_words(bucket) == ["bucket width 1.97 in, measured", "jet 0.63 in"]


def test_a_jet_without_a_pipe_can_be_drawn():
    jet = WaterJet(head_m=20.0, nozzle_mm=12.0, pitch_diameter_mm=200.0)
    assert visible_words(drawn(draw_jet_and_bucket, jet)[0]) == ["pitch circle 200 mm", "jet and nozzle 12 mm"]


def test_another_jet_moves_the_shapes_and_adds_nothing():
    figure = KeptFigure(columns=2)
    runner, bucket = drawn(draw_jet_and_bucket, DRIVE, figure=figure)
    before = artists(runner), artists(bucket)
    drawn(draw_jet_and_bucket, WIDE, 95.0, figure=figure, system="US")
    assert (artists(runner), artists(bucket)) == before
    assert np.ptp(by_gid(bucket.lines, "jet").get_xdata()) == pytest.approx(30.0 / 25.4)


@pytest.mark.parametrize("nozzle_mm", [4.0, 10.0, 16.0, 20.0, 26.0, 30.0, 40.0])
@pytest.mark.parametrize("system", ["metric", "US"])
@pytest.mark.parametrize("function", [draw_nozzle_power, draw_jet_and_bucket])
def test_no_words_run_into_each_other(function, system, nozzle_mm):
    figure = KeptFigure(columns=2, height_in=5.0)
    drive = replace(DRIVE, nozzle_mm=nozzle_mm)
    drawn(function, drive, figure=figure, system=system)
    assert overlapping(figure) == []
    for axes in figure.axes:
        low, high = axes.get_xlim()
        assert all(np.nanmax(each.get_xdata()) <= high for each in axes.lines if each.get_gid() in ("curve", "bucket"))
