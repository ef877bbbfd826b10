"""The quick writer of SVG: it puts everything where matplotlib's own writer puts it."""

import re
import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from samples.pages import same_ids
from sentences import sentences_of
from statorbook.examples import jobs as example
from statorbook.figures.canvas.kept import svg
from statorbook.figures.canvas.light_svg import LightCanvas
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.settle import SettlePanel

wording = sentences_of("figures")

SVG = "{http://www.w3.org/2000/svg}"
X = np.linspace(0.5, 9.5, 41)
Y = 0.7 * X**2 + 1.0


@pytest.fixture
def figure():
    made = Figure(figsize=(4, 3), dpi=72)
    made.axes_of_test = made.subplots()
    made.axes_of_test.set(xlim=(0, 10), ylim=(0, 80))
    return made


def light(figure):
    renderer = LightCanvas(figure).get_renderer()
    figure.draw(renderer)
    return ElementTree.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{renderer.taken()}</svg>')


def points(d):
    numbers = np.array([float(number) for number in re.findall(r"-?[\d.]+", d)])
    return numbers.reshape(-1, 2)


def of_colour(root, attribute, colour):
    return [
        path
        for path in root.iter(f"{SVG}path")
        if path.get(attribute) == colour or f"{attribute}: {colour}" in (path.get("style") or "")
    ]


def test_a_line_runs_where_matplotlibs_own_writer_draws_it(figure):
    figure.axes_of_test.plot(X, Y, color="#123456", linewidth=2.5, linestyle="--")
    (ours,) = of_colour(light(figure), "stroke", "#123456")
    (theirs,) = of_colour(ElementTree.fromstring(svg(figure, "x")), "stroke", "#123456")
    assert points(ours.get("d")) == pytest.approx(points(theirs.get("d")), abs=0.006)
    assert ours.get("stroke-width") == "2.5" and "stroke-width: 2.5" in theirs.get("style")
    dashes = re.search(r"stroke-dasharray: ([^;]+)", theirs.get("style"))[1]
    assert ours.get("stroke-dasharray") == dashes


@pytest.mark.parametrize("gaps", [[], [0], [20], [0, 1, 40], range(41)])
def test_a_line_has_gaps_where_there_is_no_number(figure, gaps):
    holed = Y.copy()
    holed[list(gaps)] = np.nan
    figure.axes_of_test.plot(X, holed, color="#123456")
    ours, theirs = (
        of_colour(root, "stroke", "#123456") for root in (light(figure), ElementTree.fromstring(svg(figure, "x")))
    )
    drawn = [path.get("d") for path in ours]
    assert "nan" not in "".join(drawn)
    expected = "".join(path.get("d") or "" for path in theirs)
    assert points("".join(drawn)) == pytest.approx(points(expected), abs=0.006)


def test_a_band_has_the_edges_of_its_values_and_its_thin_colour(figure):
    figure.axes_of_test.fill_between(X, Y, Y + 5.0, color="#654321", alpha=0.25, linewidth=0)
    (ours,) = of_colour(light(figure), "fill", "#654321")
    # The corners of a filled band: up along the one edge, back along the other.
    edge = np.concatenate([np.column_stack([X, Y]), np.column_stack([X, Y + 5.0])])
    wanted = figure.axes_of_test.transData.transform(edge) * [1.0, -1.0] + [0.0, 216.0]
    drawn = points(ours.get("d")) + points(re.search(r"translate\(([^)]+)\)", ours.get("transform"))[1])
    for one, other in ((drawn, wanted), (wanted, drawn)):
        assert np.abs(one[:, None] - other[None]).sum(axis=2).min(axis=1).max() < 0.02
    assert ours.get("opacity", ours.get("fill-opacity")) == "0.25"


def test_points_stand_at_their_values_and_are_cut_at_the_frame(figure):
    axes = figure.axes_of_test
    axes.plot([2.0, 5.0], [40.0, 20.0], marker="o", linestyle="none", color="#abcdef")
    root = light(figure)
    marks = of_colour(root, "fill", "#abcdef")
    places = [points(re.search(r"translate\(([^)]+)\)", mark.get("transform"))[1])[0] for mark in marks]
    wanted = axes.transData.transform([(2.0, 40.0), (5.0, 20.0)])
    assert np.array(places) == pytest.approx(np.column_stack([wanted[:, 0], 216 - wanted[:, 1]]), abs=0.006)
    # A clip on the moved element itself would move with it and hide the point.
    assert all(mark.get("clip-path") is None for mark in marks)
    around = [group for group in root.iter(f"{SVG}g") if any(child in marks for child in group)]
    assert len(around) == 2 and all(group.get("clip-path") for group in around)


@pytest.mark.parametrize("words", ["10.2 A, 537 W", "ΔT ≥ 5 °C · u [-]"])
def test_words_are_the_fonts_own_shapes_at_their_size(figure, words):
    figure.text(0.25, 0.5, words, fontsize=20, color="#0a0b0c", parse_math=False)
    (shape,) = of_colour(light(figure), "fill", "#0a0b0c")
    assert shape.get("transform").startswith("translate(72 108)")
    fine = float(re.search(r"scale\(([\d.]+)\)", shape.get("transform"))[1])
    at = walked(shape.get("d")) * fine
    # The outline that matplotlib makes of the same words, y upward.
    outline = TextPath((0, 0), words, size=20, prop=FontProperties())
    wanted = outline.vertices[outline.codes != outline.CLOSEPOLY] * [1.0, -1.0]
    assert at == pytest.approx(wanted, abs=0.021)  # a part of the words and a point in it, each to half a step


def walked(d):
    """Every point of a path told in steps, control points too."""
    found, pen, start = [], np.zeros(2), np.zeros(2)
    for letter, numbers in re.findall(r"([Mmlqcz])([^Mmlqcz]*)", d):
        if letter == "z":
            pen = start
            continue
        if letter == "M":  # a new part of the words, told from their start
            pen, letter = np.zeros(2), "m"
        size = {"m": 1, "l": 1, "q": 2, "c": 3}[letter]
        for piece in points(numbers).reshape(-1, size, 2):
            found += list(pen + piece)
            pen = found[-1]
        start = pen if letter == "m" else start
    return np.array(found)


def test_a_bitmap_is_refused(figure):
    figure.axes_of_test.imshow([[0.0, 1.0]])
    with pytest.raises(NotImplementedError, match=wording("^a picture of the workbook")):
        light(figure)


@pytest.mark.parametrize("kind", [pytest.param(ChoosePanel, marks=pytest.mark.slow), SettlePanel])
def test_after_moves_the_picture_is_the_one_drawn_afresh(tmp_path, kind):
    job = example.write(tmp_path)
    moved, fresh = kind(job), kind(job)
    head = moved.drive.sliders["head_m"]
    for steps in (1, 7, -3, 2):
        head.value += steps * head.step
    fresh.drive.sliders["head_m"].value = head.value
    for panel in (moved, fresh):
        panel.redraw()  # nothing moved since: where it stood before is not shown any more
    assert same_ids(moved.picture_box.value) == same_ids(fresh.picture_box.value)
    assert moved.sentence == fresh.sentence and moved.table_box.value == fresh.table_box.value
