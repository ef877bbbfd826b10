"""Where a periodic steady state begins: Newton's step, the plain one, and giving up, by hand."""

import numpy as np
import pytest

from statorbook.bridge.shooting import settled_start


def halved(slope, seen):
    """A map that halves its starts, and says that its slope is a given one; what it is asked is kept."""

    def mapped(rows, start):
        seen.append((rows.tolist(), start[:, 0].tolist()))
        return 0.5 * start, np.broadcast_to(slope * np.eye(2), (len(start), 2, 2))

    return mapped


# By hand: a straight map has one fixed point, and one step of Newton's leads there; the row that starts there waits.
def test_a_straight_map_settles_in_one_step():
    seen, start = [], np.array([[1.0, -2.0], [0.0, 0.0], [4.0, 3.0]])
    options = {"settled": 1e-9, "most_iterations": 2, "name": "map"}
    assert settled_start(start, halved(0.5, seen), **options) == pytest.approx(np.zeros((3, 2)), abs=1e-12)
    assert seen == [([0, 1, 2], [1.0, 0.0, 4.0]), ([0, 2], [pytest.approx(0.0), pytest.approx(0.0)])]


# By hand: with a slope of 2 told for one of a half Newton's step leads from x to 1.5 x, and the plain one to x/2. It
# takes the plain one when the last step did not help, but Newton's at every third in any case.
def test_a_plain_step_is_taken_where_newtons_did_not_help():
    seen = []
    with pytest.raises(ArithmeticError, match="map did not settle for 1"):
        settled_start(np.array([[1.0, 0.0]]), halved(2.0, seen), settled=1e-9, most_iterations=7, name="map")
    assert [start[0] for _, start in seen] == [1.0, 1.5, 0.75, 1.125, 1.6875, 0.84375, 0.421875]


# By hand: half of 1 misses by a half, which is near enough when a half is asked for, but one step is taken yet.
def test_it_ends_when_the_miss_is_what_is_asked_for():
    seen = []
    settled_start(np.array([[1.0, 0.0]]), halved(0.5, seen), settled=0.5, most_iterations=7, name="map")
    assert len(seen) == 1
