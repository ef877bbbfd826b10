"""Figures of notebook 91 on the winding: formulas and library on the same points, all groupings on one line."""

import numpy as np
import pytest

from samples.machine_samples import COIL, STATOR
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.derived_factor import draw_tooth_factors
from statorbook.figures.derived_regroup import draw_regrouped
from statorbook.figures.derived_warm import draw_warm
from statorbook.quantities.unit_systems import reader_units
from statorbook.winding.stator import Stator


@pytest.fixture
def axes():
    return KeptFigure().axes[0]


def points(axes, name):
    return next(np.asarray(artist.get_data(), dtype=float) for artist in axes.lines if artist.get_gid() == name)


@pytest.mark.outside(
    "winding factor of 12 slots with 14 poles",
    source="exact: cos² 15°",
    number="0.9330",
    tolerance="5e-5",
    seen="derived",
)
@pytest.mark.outside(
    "pole counts that 12 slots cannot have",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="6, 12, 18",
    tolerance="exact",
    seen="from memory",
)
def test_the_factors_of_all_pole_counts_lie_under_the_pitch_factor(axes):
    draw_tooth_factors(axes, Stator(slots=12, poles=14))
    library, formula, pitch = (points(axes, name) for name in ("library", "formula", "pitch"))
    assert formula == pytest.approx(library, abs=1e-9)
    assert (library[1] <= np.interp(library[0], *pitch) + 1e-3).all()
    assert points(axes, "yours")[1] == pytest.approx([0.9330], abs=5e-5)
    assert not {6.0, 12.0, 18.0} & set(library[0])


def test_every_grouping_lies_on_one_line(axes):
    draw_regrouped(axes, STATOR, COIL)
    for kind in ("star", "delta"):
        library, formula = points(axes, f"library {kind}"), points(axes, f"formula {kind}")
        assert formula == pytest.approx(library)
        assert np.log(library[1]) == pytest.approx(np.interp(np.log(library[0]), *np.log(points(axes, "one line"))))


def test_warmth_is_drawn_in_the_readers_degrees(axes):
    with reader_units("US"):
        draw_warm(axes)
    assert axes.get_xlabel() == "Temperature [°F]" and axes.get_ylabel() == "Over that at 68 °F [-]"
    for name in ("copper", "aluminium", "neodymium", "ferrite"):
        place, factor = points(axes, f"formula {name}")
        assert factor == pytest.approx(np.interp(place, *points(axes, f"library {name}")))
