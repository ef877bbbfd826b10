"""The figure of the rectifier: the amps of a diode and the temperatures that the library found."""

import numpy as np
import pytest

from samples.plant_samples import plant
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.protect_rectifier import draw_rectifier
from statorbook.protection.heat_path import CLOSED
from statorbook.protection.rectifier import diode_waves, rectifier_needs
from statorbook.protection.rectifier_fit import rectifier_fit
from statorbook.protection.rectifier_label import Rectifier
from statorbook.quantities import reader_units


def drawn(figure, rectifier):
    at = plant(rectifier=rectifier)
    needs = rectifier_needs(at)
    fit = rectifier_fit(at, needs)
    figure.draw(draw_rectifier, diode_waves(at), needs, fit)
    return needs, fit


def artist(axes, gid):
    return next(a for a in axes.lines if a.get_gid() == gid)


def test_curves_and_bars_show_what_was_found():
    figure = KeptFigure(rows=2)
    boxed = Rectifier(label_amps=60.0, reverse_volts=600.0, heat_sink_k_per_w=2.5, enclosure=CLOSED)
    needs, fit = drawn(figure, boxed)
    amps, heat = figure.axes
    for name, expected in (("most", needs.most), ("work", needs.working)):
        curve = artist(amps, name)
        assert curve.get_ydata().max() == pytest.approx(expected.amps_peak)
        assert np.trapezoid(curve.get_ydata(), curve.get_xdata()) / 360.0 == pytest.approx(expected.mean_amps)
    for row, step in enumerate(fit.steps):
        assert artist(heat, f"most {row}").get_xdata()[1] == pytest.approx(step.most_c)
        assert artist(heat, f"work {row}").get_xdata()[1] == pytest.approx(step.working_c)
    assert artist(heat, "limit 4").get_xdata()[0] == pytest.approx(fit.steps[4].limit_c)


@pytest.mark.outside(
    "air of a rectifier on a US reader's figure",
    source="NIST SP 811, appendix B.8",
    number="40 °C is 104 °F",
    tolerance="1e-6",
    seen="from memory",
)
def test_bars_that_are_not_asked_for_any_more_go_and_units_follow():
    figure = KeptFigure(rows=2)
    drawn(figure, Rectifier(label_amps=60.0, reverse_volts=600.0, enclosure=CLOSED))
    with reader_units("US"):
        _, fit = drawn(figure, None)
    heat = figure.axes[1]
    assert [label.get_text() for label in heat.get_yticklabels()] == [step.name for step in fit.steps]
    assert not artist(heat, "most 4").get_visible()
    assert artist(heat, "most 0").get_xdata()[1] == pytest.approx(104.0)
