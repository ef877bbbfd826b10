"""Figures of notebook 90: curves of the library, points of the formulas, best ratios marked."""

import numpy as np
import pytest

from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.formulas import draw_currents, draw_powers, draw_six_pulse


@pytest.fixture
def axes():
    return KeptFigure().axes[0]


def curve(axes, name):
    return next(np.asarray(artist.get_data(), dtype=float) for artist in axes.lines if artist.get_gid() == name)


@pytest.mark.outside(
    "mean of a six-pulse wave over its peak",
    source="exact: 3/π, mean of a cosine over 60°",
    number="0.95493",
    tolerance="2e-5",
    seen="derived",
)
def test_the_top_of_six_waves_has_the_mean_drawn(axes):
    angle, top = curve(draw_six_pulse(axes), "top")
    assert np.trapezoid(top, angle) / 360.0 == pytest.approx(0.95493, abs=2e-5)
    assert curve(axes, "mean")[1] == pytest.approx([0.95493] * 2, abs=1e-5)
    assert axes.get_xlabel() == "Electrical angle [°]"


def test_the_formulas_lie_on_the_curves(axes):
    draw_currents(axes)
    pairs = {"no resistance": "q 100", "no inductance, overlap": "q 0.01", "no inductance, gaps": "q 0.01"}
    for points, line in pairs.items():
        u, amps = curve(axes, points)
        assert len(u) >= 2 and amps == pytest.approx(np.interp(u, *curve(axes, line)), abs=0.012)
    assert (curve(axes, "q 1")[1][curve(axes, "q 1")[0] >= 1.0] == 0.0).all()


def test_the_best_ratios_stand_at_the_tops(axes):
    draw_powers(axes)
    for mark, line in (("q → 0", "q 0.01"), ("q → ∞", "q 100")):
        u, power = curve(axes, line)
        assert curve(axes, mark)[0][0] == pytest.approx(u[power.argmax()], abs=0.01)
        assert power.max() == pytest.approx(1.0)
