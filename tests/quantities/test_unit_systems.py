"""Metric and US units, against the pint library."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly
from statorbook.errors import BadInput
from statorbook.quantities.unit_systems import from_shown, retold, say, shown_unit, to_shown

REGISTRY = pint.UnitRegistry()
# Own unit, name of the quantity, unit shown, and both as pint knows them.
PAIRS = [
    ("m", "Net head", "ft", "m", "foot"),
    ("mm", "Nozzle bore", "in", "mm", "inch"),
    ("L/s", "Flow", "gpm", "liter/second", "gallon/minute"),
    ("L", "Bucket", "gal", "liter", "gallon"),
    ("m/s", "Jet", "ft/s", "m/s", "foot/second"),
    ("m/s", "Wind speed", "mph", "m/s", "mile/hour"),
    ("N·m", "Drag", "ft·lb", "N*m", "force_pound*foot"),
    ("N", "Pedal force", "lbf", "N", "force_pound"),
    ("kg", "Rotor mass", "lb", "kg", "pound"),
    ("bar", "Surge", "psi", "bar", "psi"),
    ("cm²", "Opening", "in²", "cm**2", "inch**2"),
    ("°C", "Air", "°F", "degC", "degF"),
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
    assert say(value, unit, system) == words


def test_another_system_is_refused():
    sentence = "units: 'imperial' was given; metric or US is allowed; choose one of them."
    with pytest.raises(BadInput, match=exactly(sentence)):
        say(1.0, "m", "imperial")


# Expected numbers: NIST SP 811 factors by hand, such as 105 °C × 9/5 + 32 = 221 °F, 10 K × 9/5 = 18 °F, 260 / 25.4 =
# 10.2 in, 1234 / 4.44822 = 277.4 lbf; three figures, or as many as were there.
@pytest.mark.parametrize(
    "metric, us",
    [
        ("wire for 105 °C or more", "wire for 221 °F or more"),
        ("taken as at 20 °C ± 10 K.", "taken as at 68 °F ± 18 °F."),
        ("from -40 to 80 °C is allowed", "from −40 to 176 °F is allowed"),
        ("12 K warmer than the air", "21.6 °F warmer than the air"),
        ("a 260 mm runner", "a 10.2 in runner"),
        ("above 2.54 and at most 25.4 mm", "above 0.1 and at most 1 in"),
        ("drag 1.356 ± 0.1356 N·m", "drag 1 ± 0.1 ft·lb"),
        ("carries 1234 N at 900 rpm", "carries 277.4 lbf at 900 rpm"),
        ("Drag [N·m], Bank temperature [°C]", "Drag [ft·lb], Bank temperature [°F]"),
        ("a wind of 4.4704 m/s", "a wind of 10 mph"),
        ("a jet of 3.048 m/s", "a jet of 10 ft/s"),
    ],
)
def test_a_finished_text_is_told_in_us_units(metric, us):
    assert retold(metric, "US") == us and retold(metric) == metric


@pytest.mark.parametrize(
    "text",
    [
        "wire of 0.9 mm or AWG 19",
        "4 A/mm² and 2.5 mm² of it",
        "“28 m” was typed",
        'row 3: "12 mm" is not a number',
        "0.2 % for each K, 48 V, 10 A, 6.7 Ω, 3.1 mH, 700 rpm, 12 min",
        "0.01 kg·m² of inertia",
        "",
        "page 03, 5 magnets",
        "91.9 ft and 68 °F already",
    ],
)
def test_what_has_no_other_unit_or_was_typed_stays(text):
    assert retold(text, "US") == text


@given(st.floats(-60, 400).map(lambda value: round(value, 1)))
def test_a_retold_temperature_turns_back_within_rounding(value):
    told = retold(f"{value} °C", "US")
    assert told.endswith(" °F")
    assert REGISTRY.Quantity(float(told[:-3].replace("−", "-")), "degF").to("degC").magnitude == pytest.approx(
        value, abs=0.06
    )  # four figures of °F are a tenth of a degree at most


def test_a_text_in_an_unknown_system_is_refused():
    with pytest.raises(
        BadInput, match=exactly("units: 'imperial' was given; metric or US is allowed; choose one of them.")
    ):
        retold("20 °C", "imperial")
