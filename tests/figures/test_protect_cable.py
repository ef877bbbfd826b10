"""The picture of cable sizes shows what the needs hold; that of distances the curves of each way."""

import numpy as np
import pytest
from matplotlib.figure import Figure

from samples.plant_samples import plant
from statorbook.figures.protect_cable import draw_cable_distances, draw_cable_sizes
from statorbook.protection.cable_distances import Distances, WayAcross
from statorbook.protection.cable_needs import cable_needs
from statorbook.protection.cable_run import CableRun


def curve(axes, name):
    (found,) = (each for each in axes.lines if each.get_gid() == name)
    return found.get_xdata(), found.get_ydata()


def test_sizes_with_those_too_thin_and_ones_own():
    needs = cable_needs(plant(run=CableRun(length_m=60.0, area_mm2=25.0)))
    axes = draw_cable_sizes(Figure().subplots(), needs)
    thin = [size.drop_percent for size in needs.sold if not size.carries]
    assert curve(axes, "thin")[1].tolist() == thin
    assert curve(axes, "own")[0] == pytest.approx([needs.sold.index(next(s for s in needs.sold if s.name == "25 mm²"))])
    assert len(curve(axes, "carries")[0]) + len(thin) == len(needs.sold)


def test_each_way_is_a_curve_and_an_older_one_goes():
    lengths = np.array([1.0, 10.0, 100.0])
    way = WayAcross(words="rectifier at the bank", watts=np.array([9.0, 8.0, 7.0]), wins_from_m=np.inf)
    found = Distances(length_m=lengths, watts=np.array([9.0, 8.5, 6.0]), others=(way,))
    axes = draw_cable_distances(Figure().subplots(), found, 30.0)
    assert curve(axes, "way 1")[1].tolist() == way.watts.tolist()
    draw_cable_distances(axes, Distances(length_m=lengths, watts=found.watts, others=()), 30.0)
    assert len(curve(axes, "way 1")[0]) == 0
