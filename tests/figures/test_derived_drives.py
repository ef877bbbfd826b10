"""Figures of notebook 91 on drives: the library's curves go through derived points, marks stand at the tops."""

import numpy as np
import pytest

from samples.machine_samples import JET
from statorbook.drives import Engine, Pedals, WindRotor
from statorbook.figures import draw_derived_jet, draw_derived_legs, draw_derived_pipe, draw_derived_wind
from statorbook.figures.canvas.kept import KeptFigure


@pytest.fixture
def axes():
    return KeptFigure().axes[0]


def curve(axes, name):
    return next(np.asarray(artist.get_data(), dtype=float) for artist in axes.lines if artist.get_gid() == name)


@pytest.mark.outside(
    "bucket speed of most power of an ideal wheel",
    source="Euler's turbine equation",
    number="0.5 of the jet's speed",
    tolerance="1e-6",
    seen="derived",
)
def test_the_runners_curve_goes_through_the_derived_points(axes):
    draw_derived_jet(axes, JET)
    ratio, power = curve(axes, "library")
    at, points = curve(axes, "formula")
    assert points == pytest.approx(np.interp(at, ratio, power), abs=1e-3)
    assert curve(axes, "best")[0] == pytest.approx([ratio[power.argmax()]] * 2, abs=0.01)
    ideal, most = curve(axes, "no losses")  # Euler's turbine equation, any text: most at half the jet's speed
    assert ideal[most.argmax()] == pytest.approx(0.5)


@pytest.mark.outside(
    "head lost where a nozzle gives most",
    source="differentiation of Q (H − c Q²)",
    number="1/3",
    tolerance="0.02",
    seen="derived",
)
def test_power_over_the_head_lost_is_highest_at_a_third(axes):
    draw_derived_pipe(axes)
    share, power = curve(axes, "library")
    at, points = curve(axes, "formula")
    assert len(share) > 50 and points == pytest.approx(np.interp(at, share, power), abs=0.01)
    assert share[power.argmax()] == pytest.approx(1 / 3, abs=0.02)
    assert curve(axes, "third")[0] == pytest.approx([1 / 3] * 2)


@pytest.mark.outside(
    "most that a rotor takes, and the wind left behind it",
    source="Betz, maximum of (1 + b)(1 − b²) / 2",
    number="16/27 at b = 1/3",
    tolerance="0.001; 0.01",
    seen="derived",
)
def test_the_share_of_the_wind_is_highest_at_betzs(axes):
    draw_derived_wind(axes, WindRotor(rotor_diameter_m=2.0, wind_m_s=6.0, power_coefficient=0.4))
    left, share = curve(axes, "formula")
    assert share.max() == pytest.approx(16 / 27, abs=1e-3) and left[share.argmax()] == pytest.approx(1 / 3, abs=0.01)
    # Nothing slowed gives nothing; held up altogether, half the air goes through with all its energy lost.
    assert (share[0], share[-1]) == pytest.approx((0.5, 0.0), abs=1e-12)
    assert curve(axes, "most")[1] == pytest.approx([16 / 27] * 2)
    assert curve(axes, "rotor")[1] == pytest.approx([0.4] * 2)


def test_torques_go_through_the_derived_points(axes):
    rider, engine = Pedals(rider_watts=90.0, gear_ratio=7.0), Engine(rated_watts=1e3, engine_rpm=3e3, pulley_ratio=0.5)
    draw_derived_legs(axes, rider, engine)
    for name in ("legs", "engine"):
        at, points = curve(axes, f"{name} formula")
        assert len(at) >= 3 and points == pytest.approx(np.interp(at, *curve(axes, name)), abs=0.01)
