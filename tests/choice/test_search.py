"""The search for the best factor, on watts whose top is known by construction."""

import numpy as np
import pytest

from statorbook.choice.search import Trial, best_trial


def trials(watts, sound=lambda x: True):
    """What a search tries: watts of a factor, none where it is rejected."""
    return lambda x: Trial(x, None, None, float(watts(x)) if sound(x) else 0.0, None)


# Watts that rise as x or fall as 1/x and are rejected beyond an edge: most is to be had at the edge itself.
@pytest.mark.parametrize("edge", [0.04, 0.3, 0.9, 1.7, 5.3, 20.0, 31.0])
@pytest.mark.parametrize("sign", [1.0, -1.0], ids=["rising", "falling"])
def test_the_search_comes_close_to_what_rejects_more(edge, sign):
    tried = trials(lambda x: 0.01 * x**sign, sound=lambda x: sign * (x - edge) <= 0.0)
    found = best_trial(1 / 32, 32.0, lambda x: 0.01 * x**sign, tried)
    assert 0.99 * 0.01 * edge**sign <= found.watts <= 0.01 * edge**sign


@pytest.mark.parametrize("sign, end", [(1.0, 32.0), (-1.0, 1 / 32)])
def test_the_search_goes_to_its_ends(sign, end):
    assert best_trial(1 / 32, 32.0, lambda x: x**sign, trials(lambda x: x**sign)).factor == pytest.approx(end)


# A smooth top at m, nothing rejected; next to the machine as it is the search is left alone.
@pytest.mark.parametrize("top, factor", [(0.1, 0.1), (0.8, 0.8), (1.02, 1.0), (0.98, 1.0), (1.2, 1.2), (9.0, 9.0)])
def test_the_search_finds_a_smooth_top_and_changes_nothing_for_a_hair(top, factor):
    def watts(x):
        return 100.0 * np.exp(-3.0 * np.log(x / top) ** 2)

    found = best_trial(1 / 32, 32.0, watts, trials(watts))
    assert found.factor == pytest.approx(factor, rel=0.03) and found.watts >= 0.99 * 100.0
    assert (found.factor == 1.0) == (factor == 1.0)


def test_a_search_among_nothing_changes_nothing():
    assert best_trial(1 / 32, 32.0, lambda x: 0.0 * x, trials(lambda x: 0.0)).factor == 1.0


def test_a_change_of_three_percent_is_none_unless_the_machine_as_it_is_gives_nothing():
    # One percent more and no further would do, which is no change; two percent that alone are sound are one.
    assert best_trial(1 / 32, 32.0, lambda x: x, trials(lambda x: x, sound=lambda x: x <= 1.01)).factor == 1.0

    def watts(x):
        return 100.0 * np.exp(-3.0 * np.log(x / 1.02) ** 2)

    found = best_trial(1 / 32, 32.0, watts, trials(watts, sound=lambda x: x > 1.01))
    assert found.factor == pytest.approx(1.02, rel=0.01) and found.watts > 99.0
