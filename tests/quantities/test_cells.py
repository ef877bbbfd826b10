"""One typed cell: numbers in every usual hand, and refusals that say what to type."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.quantities.cells import cell_text, typed_number, typed_word

wording = sentences_of("quantities")

YES_NO = {"yes": "yes", "y": "yes", "no": "no"}


def volts(cell):
    return typed_number(cell, "V", at_least=0.001, at_most=2000, where="spin log, row 3, volts")


# SI Brochure, 9th edition, 5.4.4 (from memory): the decimal sign is a point or a comma, digits may stand in threes.
@pytest.mark.parametrize(
    "cell, value, step",
    [
        ("23.4", 23.4, 0.1),
        ("23,4", 23.4, 0.1),
        ("  23.40 ", 23.4, 0.01),
        ("+7", 7, 1),
        (".5", 0.5, 0.1),
        (",5", 0.5, 0.1),
        ("1 200", 1200, 1),
        ("1\u202f200", 1200, 1),
        ("1\t200", 1200, 1),
        ("1200,5", 1200.5, 0.1),
        ("0,560", 0.56, 0.001),
        ("1.234", 1.234, 0.001),
        ("2e2", 200, 100),
        ("1.5E1", 15, 1),
        ("12 V", 12, 1),
        ("12V", 12, 1),
        ("12,5 volts", 12.5, 0.1),
        ("12 V ac", 12, 1),
        (23.4, 23.4, 0.1),
        (12, 12, 1),
    ],
)
def test_numbers_as_people_type_them(cell, value, step):
    typed = volts(cell)
    assert typed.value == pytest.approx(value, rel=1e-12)
    assert typed.step == pytest.approx(step, rel=1e-12)


@pytest.mark.parametrize(
    "cell, unit",
    [
        ("200 rpm", "rpm"),
        ("200 1/min", "rpm"),
        ("50Hz", "Hz"),
        ("3 A rms", "A"),
        ("0.2 \u2126", "Ω"),
        ("0.2 ohm", "Ω"),
        ("\u221216 °C", "°C"),
        ("16 C", "°C"),
    ],
)
def test_the_unit_of_the_column_may_follow(cell, unit):
    assert typed_number(cell, unit, at_least=-1000, at_most=1000, where="x").value in (200, 50, 3, 0.2, -16, 16)


@pytest.mark.outside(
    "degrees Fahrenheit in Celsius, and a degree's size",
    source="NIST SP 811, appendix B.8",
    number="68 °F is 20 °C, −4 °F is −20 °C, 1 °F is 5/9 K",
    tolerance="1e-9",
    seen="from memory",
)
@pytest.mark.parametrize(
    "cell, value, step",
    [
        ("68 F", 20.0, 5 / 9),
        ("68 °F", 20.0, 5 / 9),
        ("60,8 degF", 16.0, 1 / 18),
        ("-4 deg F", -20.0, 5 / 9),
        ("68", 68.0, 1.0),
        ("20 C", 20.0, 1.0),
    ],
)
def test_a_temperature_may_be_typed_in_fahrenheit(cell, value, step):
    typed = typed_number(cell, "°C", at_least=-40, at_most=150, where="x")
    assert (typed.value, typed.step) == (pytest.approx(value), pytest.approx(step))


@pytest.mark.parametrize("cell", ["400 F", "-41 F"])
def test_the_limits_of_a_temperature_are_those_of_its_column(cell):
    with pytest.raises(
        BadInput,
        match=exactly(
            f'ohms log, row 1: "{cell}" was given; a number from -40 to 150 °C is allowed; type the reading again.'
        ),
    ):
        typed_number(cell, "°C", at_least=-40, at_most=150, where="ohms log, row 1")


def test_farads_are_no_temperature():
    with pytest.raises(BadInput, match=exactly(wording('x: "68 F" is not'))):
        typed_number("68 F", "V", at_least=0, at_most=150, where="x")


@pytest.mark.parametrize(
    "cell, complaint",
    [
        ("", wording("the cell is empty; a")),
        (None, "the cell is empty"),
        (float("nan"), "the cell is empty"),
        ("abc", wording('"abc" is not a number')),
        ("nan", '"nan" is not a number'),
        ("inf", '"inf" is not a number'),
        ("True", '"True" is not a number'),
        ("1.234,5", '"1.234,5" is not a number in V'),
        ("12,3,4", '"12,3,4" is not a number in V'),
        ("12 34", '"12 34" is not a number in V'),
        ("12.", '"12." is not a number in V'),
        ("5 mV", "not a number in V"),
        ("12²", "not a number in V"),
        ("1e999", "is not a number"),
        ("٣", "is not a number"),
        ("1,200", '"1,200" can mean 1.200 or 1200'),
        ("12,345 V", "can mean 12.345 or 12345"),
        ("0", wording('"0" was given; a number')),
        ("-5", '"-5" was given'),
        ("2001", '"2001" was given'),
        ("x" * 99, 'x…" is not a number'),
        ("a\nb", '"a b" is not a number'),
    ],
)
def test_refused_in_one_sentence(cell, complaint):
    with pytest.raises(BadInput) as refusal:
        volts(cell)
    assert complaint in str(refusal.value)
    assert str(refusal.value).startswith("spin log, row 3, volts: ") and "\n" not in str(refusal.value)


def test_a_hint_stands_before_the_next_step():
    with pytest.raises(BadInput, match=wording("look at the range")):
        typed_number("x", "V", at_least=0, at_most=1, where="", hint="look at the range, then ")


@given(st.text())
def test_any_text_is_a_number_or_a_sentence(cell):
    try:
        assert 0.001 <= volts(cell).value <= 2000
    except BadInput as refusal:
        assert str(refusal)


@given(st.decimals(min_value="0.001", max_value="2000", places=3), st.sampled_from(["", " V", "V"]))
def test_a_comma_and_a_point_mean_the_same(number, unit):
    with_point = volts(f"{number}{unit}")
    assert with_point.value == pytest.approx(float(number), rel=1e-12) and with_point.step == pytest.approx(0.001)
    try:
        assert volts(f"{number}{unit}".replace(".", ",")) == with_point
    except BadInput as refusal:  # three decimals behind up to three digits could be thousands
        assert "can mean" in str(refusal) and 1 <= number < 1000


@pytest.mark.parametrize("cell, word", [("yes", "yes"), (" Y ", "yes"), ("N-O", "no"), ("NO", "no")])
def test_words(cell, word):
    assert typed_word(cell, YES_NO, where="x") == word


@pytest.mark.parametrize(
    "cell, complaint", [("", wording("x: the cell is empty")), ("maybe", wording('"maybe" was given; allowed are'))]
)
def test_words_refused(cell, complaint):
    with pytest.raises(BadInput, match=complaint):
        typed_word(cell, YES_NO, where="x")


def test_nothing_is_an_empty_text():
    assert cell_text(None) == cell_text(float("nan")) == cell_text(" \u00a0\t") == ""
