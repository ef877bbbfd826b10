"""Errors that rows share: who scatters with whom, and what is said of weak evidence."""

import numpy as np
import pytest
from scipy import stats

from samples.made_up_logs import STATOR, spin_row
from statorbook.bench.spin import SpinReading, read_spin
from statorbook.fits.line import slope_through_origin
from statorbook.fits.shared_errors import shared_words, slope_widths

RPM = np.array([100.0, 200.0, 300.0, 400.0] * 2)


def reading(rpm, volts, **shared):
    return SpinReading(
        log="spin", row=1, raw={}, speed_rpm=rpm, star_emf_v_rms=volts, own_share=0.01, shared={"class": 0.02} | shared
    )


def widths(volts, shares):
    """Rows of 1 % each; the second half shares an error of so many percent as well."""
    made = [reading(n, v, **({"lamps": s} if s else {})) for n, v, s in zip(RPM, volts, shares)]
    sigma = 0.01 * volts
    return slope_widths(made, slope_through_origin(RPM, volts, sigma), RPM, volts, sigma)


def own_scatter(volts, groups):
    """√ of the mean square miss from the line of each group, in sigmas, and the rows to spare."""
    squares = freedom = 0
    for one in set(groups):
        x, y = RPM[groups == one], volts[groups == one]
        slope = np.polynomial.polynomial.Polynomial.fit(np.ones(len(x)), y / x, 0, domain=[0, 1]).coef[0]
        squares += np.sum(((y / x - slope) / (0.01 * y / x)) ** 2)
        freedom += len(x) - 1
    return np.sqrt(squares / freedom), freedom


@pytest.mark.parametrize("lamps, apart", [(0.05, False), (0.062, True), (0.2, True)])
def test_rows_with_a_large_error_in_common_scatter_about_their_own_line(lamps, apart):
    # Rows scatter by 1 %; those judged by lamps lie 8 % higher all together: more than six of their own sigmas is a
    # group by itself, less is scatter like any other.
    noise = 1 + 0.01 * np.array([1, -1, -1, 1, 1, -1, -1, 1])
    volts = 0.2 * RPM * noise * np.repeat([1.0, 1.08], 4)
    found = widths(volts, np.repeat([0.0, lamps], 4))
    scatter, freedom = own_scatter(volts, np.repeat([0, 1 if apart else 0], 4))
    pull = 1 / 8 * np.mean(volts / RPM)
    wanted = stats.t.ppf(0.975, freedom) * scatter * 0.01 * np.sqrt(8) * pull
    assert found.random == pytest.approx(wanted, rel=0.04)


def test_the_class_alone_makes_no_group_however_poor():
    volts = 0.2 * RPM * np.repeat([1.0, 1.08], 4)
    made = [reading(n, v) for n, v in zip(RPM, volts)]
    poor = [
        SpinReading(log="spin", row=1, raw={}, own_share=0.01, shared={"class": 0.2 if i > 3 else 0.1})
        for i in range(8)
    ]
    sigma = 0.01 * volts
    line = slope_through_origin(RPM, volts, sigma)
    same, other = (slope_widths(each, line, RPM, volts, sigma).random for each in (made, poor))
    assert same == pytest.approx(other)


@pytest.mark.parametrize(
    "cells, words",
    [
        ({"meter": "averaging"}, "assumed to add ± 1 %"),
        ({"meter": "averaging", "quantity": "AC phase rms", "terminals": "AN"}, "assumed to add ± 5 %"),
        ({"speed_by": "name plate"}, "a drill's name plate, ± 15 % assumed"),
        ({"volts_by": "lamps"}, "judged by lamps, ± 20 % assumed"),
    ],
)
def test_what_is_assumed_of_weak_rows_is_said_in_percent(cells, words):
    rows = [spin_row(n, 0.4 * n) | cells for n in (100, 200, 300)]
    assert sum(words in said for said in shared_words(read_spin(rows, STATOR))) == 1
