"""Letters and numbers of derivations, and the turn that a minute's turns are counted in."""

from math import pi

import pytest

from statorbook.quantities.algebra import letters, number
from statorbook.quantities.turning import RAD_S_PER_RPM


def test_numbers_are_put_in_for_their_letters():
    volts, ohm = letters("V R")
    assert number(volts**2 / ohm, V=12.0, R=4.0) == pytest.approx(36.0) and letters("V") == volts
    assert volts.is_positive


def test_sixty_turns_a_minute_are_one_a_second():
    assert 60.0 * RAD_S_PER_RPM == pytest.approx(2.0 * pi)
