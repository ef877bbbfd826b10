"""Metric and US units, against the pint library."""

from contextvars import copy_context
from threading import Thread

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, in_us, sentences_of
from statorbook.cautions import SPUN, Instruction
from statorbook.errors import BadInput
from statorbook.quantities.estimate import Estimate
from statorbook.quantities.unit_systems import (
    filled,
    from_shown,
    reader_units,
    say,
    say_pair,
    shown_unit,
    to_shown,
    units_now,
    use_units,
)

wording = sentences_of("quantities")

REGISTRY = pint.UnitRegistry()
# Own unit, name of the quantity, unit shown, and both as pint knows them.
PAIRS = [
    ("m", "Net head", "ft", "m", "foot"),
    ("mm", "Nozzle bore", "in", "mm", "inch"),
    ("L/s", "Flow", "gpm", "liter/second", "gallon/minute"),
    ("L", "Bucket", "gal", "liter", "gallon"),
    ("m³/h", "Fresh air", "cfm", "m**3/hour", "foot**3/minute"),
    ("m/s", "Jet", "ft/s", "m/s", "foot/second"),
    ("m/s", "Wind speed", "mph", "m/s", "mile/hour"),
    ("N·m", "Drag", "ft·lb", "N*m", "force_pound*foot"),
    ("N", "Pedal force", "lbf", "N", "force_pound"),
    ("kg", "Rotor mass", "lb", "kg", "pound"),
    ("bar", "Surge", "psi", "bar", "psi"),
    ("cm²", "Opening", "in²", "cm**2", "inch**2"),
    ("°C", "Air", "°F", "degC", "degF"),
]


@pytest.mark.outside(
    "metric and US units of 13 kinds of quantity",
    source="pint 0.25.3, UnitRegistry().Quantity(37.0, own).to(other)",
    number="37 in each of 13 pairs",
    tolerance="1e-9",
    seen="computed by package",
)
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


@pytest.mark.parametrize(
    "value, unit, system, words",
    [
        (28.0, "m", "metric", "28 m"),
        (28.0, "m", "US", "91.9 ft"),
        (1390.4, "rpm", "US", "1390 rpm"),
        (0.5, "L/s", "metric", "0.5 L/s"),
        (123.4, "m", "metric", "123 m"),
    ],
)
def test_numbers_are_said_with_three_figures(value, unit, system, words):
    with reader_units(system):
        assert say(value, unit) == words


@pytest.mark.parametrize(
    "speak", [use_units, lambda system: reader_units(system).__enter__(), lambda system: to_shown(1.0, "m", system)]
)
def test_another_system_is_refused(speak):
    sentence = wording("units: 'imperial' was given; metric")
    with pytest.raises(BadInput, match=exactly(sentence)):
        speak("imperial")


def test_units_hold_inside_only_and_for_one_reader_at_a_time():
    assert units_now() == "metric"
    with reader_units("US"):
        with reader_units("metric"):
            assert (units_now(), say(28.0, "m")) == ("metric", "28 m")
        assert (units_now(), say(28.0, "m")) == ("US", "91.9 ft")
        threads = []
        thread = Thread(target=lambda: threads.append(units_now()))  # JupyterLab may call back on another one
        thread.start()
        thread.join()
    assert (units_now(), threads) == ("metric", ["metric"])
    with pytest.raises(ZeroDivisionError), reader_units("US"):
        raise ZeroDivisionError
    assert units_now() == "metric"


def test_a_page_speaks_in_its_readers_units_from_then_on():
    in_a_page = copy_context()
    in_a_page.run(use_units, "US")
    assert (in_a_page.run(say, 28.0, "m"), say(28.0, "m")) == ("91.9 ft", "28 m")


@pytest.mark.outside(
    "degrees, inches, pounds-force, foot-pounds as told",
    source="NIST SP 811, appendix B.8",
    number="105 °C is 221 °F, 260 mm 10.2 in, 1234 N 277.4 lbf, 1.356 N·m 1 ft·lb",
    tolerance="as many figures as were there",
    seen="from memory",
)
@pytest.mark.parametrize(
    "value, unit, form, metric, us",
    [
        (105.0, "°C", "g", "105 °C", "221 °F"),
        (11.9, "K", ".0f", "12 K", "21.6 °F"),
        (260.2, "mm", ".0f", "260 mm", "10.2 in"),
        (1233.8, "N", ".0f", "1234 N", "277.4 lbf"),
        (-40.0, "°C", "g", "-40 °C", "−40 °F"),
        (1.356, "N·m per 1000 rpm", "g", "1.356 N·m per 1000 rpm", "1 ft·lb per 1000 rpm"),
        (0.9, "-", ".2f", "0.90", "0.90"),
        (12.0, "V AC rms", ".1f", "12.0 V AC rms", "12.0 V AC rms"),
        (500.0, "m", "g", "500 m", "1640 ft"),
        (1e20, "mm", "g", "1e+20 mm", "3937007874015748096 in"),
    ],
)
def test_a_number_is_written_as_asked_and_with_as_many_figures_in_us_units(value, unit, form, metric, us):
    assert say(value, unit, form=form) == metric and in_us(say, value, unit, form=form) == us


@pytest.mark.parametrize(
    "name, unit, us",
    [("Wind speed", "m/s", "10 mph"), ("Jet", "m/s", "14.667 ft/s"), ("Wire diameter", "mm", "4.4704 mm")],
)
def test_a_wire_stays_in_millimetres_and_wind_is_told_in_miles_an_hour(name, unit, us):
    assert in_us(say, 4.4704, unit, form="g", name=name) == us


@pytest.mark.parametrize(
    "first, second, unit, link, metric, us",
    [
        (-40, 80, "°C", " to ", "-40 to 80 °C", "−40 to 176 °F"),
        (2.54, 25.4, "mm", " and at most ", "2.54 and at most 25.4 mm", "0.1 and at most 1 in"),
        (1.356, 0.1356, "N·m", " ± ", "1.356 ± 0.1356 N·m", "1 ± 0.1 ft·lb"),
    ],
)
def test_two_numbers_share_the_unit_behind_them(first, second, unit, link, metric, us):
    assert say_pair(first, second, unit, link=link) == metric and in_us(say_pair, first, second, unit, link=link) == us


# By hand: 0.2 N·m over 1.3558 is 0.148 ft·lb, 0.03 is 0.0221.
def test_an_estimate_is_told_anew_to_each_reader():
    metric, drag = "0.200 ± 0.030 N·m", Estimate(value=0.2, plus_minus=0.03, unit="N·m", how="a coast-down")
    assert (str(drag), in_us(str, drag), str(drag)) == (metric, "0.148 ± 0.0221 ft·lb", metric)


@pytest.mark.outside(
    "bar, metres and degrees marked in a constant",
    source="NIST SP 811, appendix B.8",
    number="1 bar is 14.5 psi, 10.2 m 33.5 ft, 60 to 80 °C 140 to 176 °F",
    tolerance="as printed",
    seen="from memory",
)
@pytest.mark.parametrize(
    "marked, metric, us",
    [
        ("{1 bar} is {10.2 m}", "1 bar is 10.2 m", "14.5 psi is 33.5 ft"),
        (
            "dry it at {60 to 80 °C}, never hotter",
            "dry it at 60 to 80 °C, never hotter",
            "dry it at 140 to 176 °F, never hotter",
        ),
        (
            "“28 m” was typed, 48 V, {} and {a word}",
            "“28 m” was typed, 48 V, {} and {a word}",
            "“28 m” was typed, 48 V, {} and {a word}",
        ),
    ],
)
def test_quantities_marked_in_a_constant_are_told_and_nothing_else(marked, metric, us):
    assert filled(marked) == metric and in_us(filled, marked) == us
    told = in_us(filled, Instruction(marked, SPUN))
    assert (told.text, told.exposures) == (us, SPUN)


@given(st.floats(-60, 400).map(lambda value: round(value, 1)))
def test_a_temperature_in_us_units_turns_back_within_rounding(value):
    told = in_us(say, value, "°C", form=".1f")
    assert told.endswith(" °F")
    assert REGISTRY.Quantity(float(told[:-3].replace("−", "-")), "degF").to("degC").magnitude == pytest.approx(
        value, abs=0.06
    )  # four figures of °F are a tenth of a degree at most


def test_a_number_that_is_shown_in_its_own_unit_is_not_touched():
    slots, volts = 36, np.array([12, 24])
    assert (to_shown(slots, "count"), from_shown(slots, "count")) == (36, 36)
    assert to_shown(slots, "V", "US") is slots and to_shown(volts, "V") is volts is from_shown(volts, "V")
