"""Metric and US units, against the pint library."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly
from statorbook.errors import BadInput
from statorbook.unit_systems import from_shown, say, shown_unit, to_shown

REGISTRY = pint.UnitRegistry()
# Own unit, name of the quantity, unit shown, and both as pint knows them.
PAIRS = [
    ("m", "Net head", "ft", "m", "foot"), ("mm", "Nozzle bore", "in", "mm", "inch"),
    ("L/s", "Flow", "gpm", "liter/second", "gallon/minute"), ("L", "Bucket", "gal", "liter", "gallon"),
    ("m/s", "Jet", "ft/s", "m/s", "foot/second"), ("m/s", "Wind speed", "mph", "m/s", "mile/hour"),
    ("N·m", "Drag", "ft·lb", "N*m", "force_pound*foot"), ("N", "Pedal force", "lbf", "N", "force_pound"),
    ("kg", "Rotor mass", "lb", "kg", "pound"), ("bar", "Surge", "psi", "bar", "psi"),
    ("cm²", "Opening", "in²", "cm**2", "inch**2"), ("°C", "Air", "°F", "degC", "degF"),
]


@pytest.mark.parametrize("unit, name, us, own, other", PAIRS)
def test_the_factor_is_pints(unit, name, us, own, other):
    assert shown_unit(unit, "US", name) == us and shown_unit(unit, "metric", name) == unit
    expected = REGISTRY.Quantity(37.0, own).to(other).magnitude
    assert to_shown(37.0, unit, "US", name) == pytest.approx(expected, rel=1e-9)
    assert to_shown(37.0, unit, "metric", name) == 37.0


@given(st.sampled_from(PAIRS), st.floats(-1e6, 1e6))
def test_there_and_back_is_the_same(pair, value):
    unit, name, *_ = pair
    assert from_shown(to_shown(value, unit, "US", name), unit, "US", name) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_arrays_and_numbers_agree():
    values = np.array([1.0, 2.5])
    assert to_shown(values, "m", "US").tolist() == [to_shown(v, "m", "US") for v in values]


@pytest.mark.parametrize("unit", ["W", "V", "rpm", "", "h"])
def test_what_is_the_same_everywhere_stays(unit):
    assert (shown_unit(unit, "US"), to_shown(5.0, unit, "US")) == (unit, 5.0)


def test_a_wire_stays_in_millimetres():
    assert shown_unit("mm", "US", "Wire diameter") == "mm"


@pytest.mark.parametrize("value, unit, system, words", [
    (28.0, "m", "metric", "28 m"), (28.0, "m", "US", "91.9 ft"), (1390.4, "rpm", "US", "1390 rpm"),
    (0.5, "L/s", "metric", "0.5 L/s"), (123.4, "m", "metric", "123 m"),
])
def test_numbers_are_said_with_three_figures(value, unit, system, words):
    assert say(value, unit, system) == words


def test_another_system_is_refused():
    sentence = "units: 'imperial' was given; metric or US is allowed; choose one of them."
    with pytest.raises(BadInput, match=exactly(sentence)):
        say(1.0, "m", "imperial")
