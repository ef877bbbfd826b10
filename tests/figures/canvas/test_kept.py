"""The kept figure: built once, moved, sent as SVG text that can stand beside others."""

import re
import subprocess
import sys
import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from statorbook.figures.canvas import artists
from statorbook.figures.canvas.kept import KeptFigure, look, svg

SVG = "{http://www.w3.org/2000/svg}"


def draw(axes, slope):
    artists.line(axes, "model", [0, 100], [0, 100 * slope], label="model")
    artists.limit(axes, "full", 60, "bank full")
    axes.set(xlabel="Speed [rpm]", ylabel="Power into the bank, DC [W]", xlim=(0, 100), ylim=(0, 200))


@pytest.fixture
def kept():
    return KeptFigure().draw(draw, 1.0)


def test_the_picture_is_one_element_with_an_alternative_text(kept):
    root = ElementTree.fromstring(kept.svg('Power "against" speed & more'))
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    assert root.get("aria-label") == 'Power "against" speed & more'


def test_nothing_in_it_reaches_outside_or_tells_the_day(kept):
    text = kept.svg("Power")
    assert not re.search(r"<\?xml|<!DOCTYPE|<metadata|<style|dc:date|<!--", text)
    assert set(re.findall(r"https?://[^\"]+", text)) <= {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"}


def test_two_pictures_share_no_id_and_every_reference_is_met():
    first, second = (KeptFigure().draw(draw, 1.0).svg("Power") for _ in range(2))
    for text in (first, second):
        assert {*re.findall(r'href="#([^"]+)"', text), *re.findall(r"url\(#([^)]+)\)", text)} <= ids(text)
    assert not ids(first) & ids(second)
    assert "clip-path" in first


def ids(text):
    return set(re.findall(r'\bid="([^"]+)"', text))


def test_with_a_stem_the_same_picture_is_the_same_text(kept):
    again = KeptFigure().draw(draw, 1.0)
    assert kept.svg("Power", id_stem="still") == again.svg("Power", id_stem="still")


def test_a_move_changes_the_data_and_keeps_the_artist(kept):
    line = next(a for a in kept.figure.axes[0].lines if a.get_gid() == "model")
    before = kept.svg("Power", id_stem="s")
    kept.draw(draw, 1.5)
    after = kept.svg("Power", id_stem="s")
    assert before != after
    assert [a for a in kept.figure.axes[0].lines if a.get_gid() == "model"] == [line]
    assert list(line.get_ydata()) == [0, 150]
    assert after == KeptFigure().draw(draw, 1.5).svg("Power", id_stem="s")


@pytest.mark.parametrize(
    "change",
    [
        lambda axes: axes.set_xlabel("Speed of the rotor [rpm]"),
        lambda axes: axes.set_ylim(0, 170),
        lambda axes: axes.set_title("Cold magnets"),
        lambda axes: axes.set_xticks([0, 40, 80]),
        lambda axes: axes.set_xticks([0, 50], ["still", "half"]),
        lambda axes: axes.set_xscale("symlog"),
        lambda axes: axes.set_axis_off(),
    ],
)
def test_a_change_of_labels_limits_or_ticks_is_drawn(kept, change):
    before = kept.svg("Power", id_stem="s")
    change(kept.axes[0])
    assert kept.svg("Power", id_stem="s") != before


def test_what_was_moved_is_drawn_even_when_the_figure_was_written_in_between(kept):
    kept.svg("Power", id_stem="s")
    kept.draw(draw, 1.5)
    svg(kept.figure, "Power")
    assert kept.svg("Power", id_stem="s") == KeptFigure().draw(draw, 1.5).svg("Power", id_stem="s")


def test_an_array_that_the_caller_changes_in_place_is_seen(kept):
    volts = np.array([0.0, 100.0])
    kept.draw(lambda axes: artists.line(axes, "model", [0, 100], volts))
    volts[1] = 40.0
    kept.draw(lambda axes: artists.line(axes, "model", [0, 100], volts))
    line = next(a for a in kept.axes[0].lines if a.get_gid() == "model")
    assert list(line.get_ydata()) == [0.0, 40.0]


def test_what_was_hidden_shows_again_at_the_same_place(kept):
    before = kept.svg("Power", id_stem="s")
    artists.hide(kept.axes[0], "model")
    assert kept.svg("Power", id_stem="s") != before
    assert kept.draw(draw, 1.0).svg("Power", id_stem="s") == before


def test_drawing_in_two_layers_leaves_everything_visible(kept):
    axes = kept.axes[0]
    artists.hide(axes, "model")
    parts = (kept.figure.patch, *axes.get_children())
    before = [part.get_visible() for part in parts]
    kept.svg("Power")
    assert axes.axison and [part.get_visible() for part in parts] == before
    assert before.count(True) > 5 and before.count(False) >= 1


def test_the_look_is_the_workbooks_and_is_given_back(kept):
    import matplotlib
    from matplotlib.colors import to_hex

    was = matplotlib.rcParams["font.size"], matplotlib.rcParams["svg.hashsalt"]
    with look():
        # Okabe and Ito, Color Universal Design (2008), from memory: blue 0,114,178 and vermilion 213,94,0.
        colours = matplotlib.rcParams["axes.prop_cycle"].by_key()["color"]
        assert [to_hex(f"#{c.lstrip('#')}") for c in colours[:2]] == ["#0072b2", "#d55e00"]
        assert matplotlib.rcParams["font.size"] >= 12
        assert matplotlib.rcParams["svg.hashsalt"] is None
    assert (matplotlib.rcParams["font.size"], matplotlib.rcParams["svg.hashsalt"]) == was
    assert to_hex(kept.figure.get_facecolor()) == "#ffffff"
    assert kept.height_px == pytest.approx(4.2 * 96, abs=1)


def test_any_figure_can_be_written_and_keeps_its_canvas():
    from matplotlib.figure import Figure

    figure = Figure(figsize=(4, 3), dpi=110)
    figure.subplots().plot([0, 1], [0, 1])
    canvas = figure.canvas
    assert ElementTree.fromstring(svg(figure, "A line")).get("width") == "384"
    assert (figure.canvas, figure.dpi) == (canvas, 110)


def test_text_of_the_reader_is_escaped():
    def name(axes):
        artists.words(axes, "name", [0.5], [0.5], ["<script>alert(1)</script> $x$"])

    text = KeptFigure().draw(name).svg("<script>alert(2)</script>")
    assert "<script" not in text
    assert ElementTree.fromstring(text).get("aria-label") == "<script>alert(2)</script>"


def test_no_plotting_state_is_touched_and_the_import_is_light():
    code = (
        "import sys; from statorbook.figures.canvas.kept import KeptFigure; "
        "light = 'matplotlib' not in sys.modules; "
        "KeptFigure().svg('x'); print(light, 'matplotlib.pyplot' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout == "True False\n"


def test_a_cell_can_end_with_the_figure(kept):
    assert 'aria-label="Power into the bank, DC [W]"' in kept._repr_svg_()
