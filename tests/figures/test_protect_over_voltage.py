"""Figure of the bank that comes off: the courses it was given, and only those."""

import numpy as np

from samples.plant_samples import plant
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.protect_over_voltage import draw_over_voltage
from statorbook.protection.load_lost import load_lost
from statorbook.protection.over_voltage_load import OverVoltageLoad


def lines_of(axes):
    return {line.get_gid(): line for line in axes.lines if line.get_visible()}


def test_each_course_is_drawn_in_both_axes_and_one_that_goes_is_hidden():
    figure = KeptFigure(rows=2)
    load = OverVoltageLoad(set_dc_volts=70.0, ohm=6.0, watts=900.0)
    free, held = load_lost(plant()), load_lost(plant(), load=load)
    figure.draw(draw_over_voltage, {"without": ("bare", free), "yours": ("mine", held)}, limit_dc_volts=80.0)
    volts, speed = map(lines_of, figure.axes)
    assert set(volts) >= {"without", "yours"} and set(speed) == {"without", "yours"}
    times, values = volts["yours"].get_data()
    assert values.max() == held.dc_volts.max() and speed["without"].get_ydata().max() == free.ends_rpm
    assert np.all(np.diff(times) >= 0.0) and figure.axes[0].get_ylim()[1] >= free.ends_dc_volts
    figure.draw(draw_over_voltage, {"without": ("bare", free)}, limit_dc_volts=80.0)
    assert "yours" not in lines_of(figure.axes[0])
    assert [text.get_text() for text in figure.axes[0].get_legend().get_texts()] == ["bare"]
