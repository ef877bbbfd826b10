"""Sizes of cable and pipe that a panel looks at: what the job has first, then what was priced, or what is sold."""

from dataclasses import dataclass

import numpy as np

from statorbook.cable import size_name, sold_mm2
from statorbook.quantities import say
from statorbook.year import pipe_bores_mm

_NARROWEST, _WIDEST = 0.55, 2.3  # bores looked at, times the present one
_OWN = "yours: "


@dataclass(frozen=True, kw_only=True)
class Offer:
    """Sizes with what they are called and cost; the first is what the job has."""

    names: tuple
    sizes: np.ndarray  # mm² or mm
    prices: np.ndarray  # of the whole run; not a number where none is typed


def cable_offer(part, run, own_ohm):
    """Cables for a run: that of the job by its ohms, those priced, or the sizes that are sold."""
    own_mm2 = run.area_mm2 * run.run_ohm / own_ohm if own_ohm else np.inf
    priced = part.prices("cable_prices")
    sold = {area: (size_name(area).partition(" (")[0], np.nan) for area in sold_mm2()}
    own = f"{_OWN}{own_mm2:.2g} mm²" if own_ohm else f"{_OWN}0 Ω"
    return _offer(own, own_mm2, priced or sold, 0.5 * run.wires * run.length_m)  # a price is that of a pair


def pipe_offer(part, pipe):
    """Pipes for a run: that of the job, those priced, or the bores that are sold in its material."""
    priced = part.prices("pipe_prices")
    bores = pipe_bores_mm(pipe.material, _NARROWEST * pipe.bore_mm, _WIDEST * pipe.bore_mm)
    sold = {bore: ("", np.nan) for bore in bores if abs(bore - pipe.bore_mm) > 0.02 * pipe.bore_mm}
    offered = {bore: (say(bore, "mm", form=".3g"), price) for bore, (_, price) in (priced or sold).items()}
    return _offer(f"{_OWN}{say(pipe.bore_mm, 'mm', form='.3g')}", pipe.bore_mm, offered, pipe.length_m)


def _offer(own, own_size, others, length_m):
    return Offer(
        names=(own, *(name for name, _ in others.values())),
        sizes=np.array([own_size, *others]),
        prices=np.array([np.nan, *(price * length_m for _, price in others.values())]),
    )
