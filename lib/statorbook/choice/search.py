"""The search for the factor on speed or turns that gives most watts among those that are not rejected."""

from dataclasses import dataclass
from math import log, sqrt

import numpy as np

from statorbook.choice.comparison import Row
from statorbook.choice.machine import Machine
from statorbook.choice.verdict import NEARLY_THE_MOST

_COARSE, _STRIDE, _FINE, _HALVINGS = 41, 4, 17, 7  # points and steps
_NO_CHANGE = 0.03  # a change by less is none
_MARGIN = 0.002  # watts worked out between the speeds swept may be off by that much


@dataclass(frozen=True)
class Trial:
    """One factor tried."""

    factor: float
    machine: Machine | None  # with it
    row: Row | None  # of that machine
    watts: float  # of the row, none when it is rejected
    inside: Row | None  # with most watts within the accepted volts, if any


def best_trial(low, high, watts_at, tried):
    """The trial with most watts in a range; the grid's watts, rejected or not, say how much there can be."""
    coarse = np.geomspace(low, high, _COARSE)
    watts = watts_at(coarse)
    if not watts.max() > 0.0:
        return tried(1.0)
    top, place = int(np.argmax(watts)), None
    fine = np.geomspace(coarse[max(top - 1, 0)], coarse[min(top + 1, _COARSE - 1)], _FINE)
    best = tried(float(fine[np.argmax(watts_at(fine))]))
    for at in np.argsort(-watts[::_STRIDE]) * _STRIDE:
        if watts[at] <= max(0.0, best.watts * (1.0 + _MARGIN)):
            break
        trial = tried(float(coarse[at]))
        if trial.watts > best.watts:
            best, place = trial, at
    near = [] if place is None else [i for i in (place - _STRIDE, place + _STRIDE) if 0 <= i < _COARSE]
    near = [i for i in near if watts[i] > watts[place]]
    rejected = coarse[near[0]] if near else best.factor  # what rejects the better neighbour sets in between
    for _ in range(_HALVINGS if near else 0):
        trial = tried(float(sqrt(best.factor * rejected)))
        better = trial.watts > best.watts and abs(log(trial.factor)) > _NO_CHANGE
        best, rejected = (trial, rejected) if better else (best, trial.factor)
    plain = tried(1.0) if abs(log(best.factor)) < _NO_CHANGE else best
    return plain if plain.watts >= NEARLY_THE_MOST * best.watts else best
