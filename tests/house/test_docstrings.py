"""The docstring contract: on a package's face names, order and units against the code; inside a package one line."""

import ast
from functools import cache

import pytest

from house.docstrings import bases_in, complaints_about_module
from house.sources import faces_seen_by, modules, tree_of
from house.units import unit_ending


@cache
def all_bases():
    """Of the whole library, read when the first test asks: every worker collects this file."""
    return bases_in(tree_of(path) for _, path in modules())


@pytest.mark.parametrize("name, path", modules(), ids=[name or "statorbook" for name, _ in modules()])
def test_docstrings_agree_with_the_code(name, path):
    face = faces_seen_by(path) if "." in name else None
    complaints = complaints_about_module(name, tree_of(path), all_bases(), face)
    assert not complaints, "\n" + "\n".join(complaints)


GOOD = '''
def line_volts_rms(speed_rpm, *, warm=False):
    """Volts between two leads.

    Parameters
    ----------
    speed_rpm : float or ndarray
        Rotor speed [rpm].
    warm : bool
        True when warm.

    Returns
    -------
    float or ndarray
        Line volts, rms [V].

    Raises
    ------
    BadInput
        When it stands.

    Notes
    -----
    Equation: U = k n.
    Valid: any speed.
    Source: definition.
    """
    if speed_rpm < 0:
        raise BadInput("a", "b", "c")
    return speed_rpm
'''


def test_a_good_docstring_passes():
    assert complaints_about_module("winding.temperature", ast.parse('"""Good."""\n' + GOOD), {}) == []


@pytest.mark.parametrize(
    "old, new, words",
    [
        ('"""Good."""', "", "has no docstring"),
        ("Volts between two leads.", "Volts between", "not one whole sentence"),
        ("    speed_rpm : float or ndarray\n        Rotor speed [rpm].\n", "", "PR01"),
        ("(speed_rpm, *, warm=False)", "(warm, *, speed_rpm)", "PR03"),
        ("Rotor speed [rpm].", "Rotor speed.", "does not end with [unit]"),
        ("Rotor speed [rpm].", "Rotor speed [Hz].", "the name says rpm, the description [Hz]"),
        ("speed_rpm", "speed", "needs its unit in its name"),
        ("True when warm.", "", "PR07"),
        ("warm : bool", "warm", "PR04"),
        ("Line volts, rms [V].", "Line volts, rms.", "Returns: its description does not end"),
        ("Line volts, rms [V].", "Line volts, rms [A].", "the name says V"),
        ("line_volts_rms(", "line_volts(", "say rms, peak or DC"),
        ("line_volts_rms(", "some_volts_rms(", "say line or phase"),
        ("    Returns\n    -------\n    float or ndarray\n        Line volts, rms [V].\n", "", "RT01"),
        ("return speed_rpm", "return", "returns nothing"),
        ("    Raises\n    ------\n    BadInput\n        When it stands.\n", "", "raises BadInput, not under Raises"),
        ("    Source: definition.\n", "", "Notes: no line Source"),
        ("    Notes\n    -----\n    Equation", "    Equation", "Notes: no line Equation"),
    ],
)
def test_a_wrong_function_is_named(old, new, words):
    source = ('"""Good."""\n' + GOOD).replace(old, new)
    if words.startswith("say"):
        source = source.replace("Line volts, rms [V].", "Volts [V].")
    complaints = complaints_about_module("winding.temperature", ast.parse(source), {})
    assert any(words in each for each in complaints), complaints


def test_sections_out_of_order_are_named():
    lines = GOOD.splitlines(keepends=True)
    place = lines.index("    Returns\n")
    moved = "".join([*lines[:4], *lines[place : place + 5], *lines[4:place], *lines[place + 5 :]])
    complaints = complaints_about_module("winding.temperature", ast.parse('"""Good."""\n' + moved), {})
    assert len(complaints) == 1 and "GL07" in complaints[0]


PROPERTY = "    speed_rpm: float\n    @property\n    def {name}(self):\n        {text}"


@pytest.mark.parametrize(
    "body, words",
    [
        ("    speed_rpm: float\n    coil_ohm: float", "PR01"),
        ("    coil_ohm: float", "PR02"),
        ("    speed_rpm: float\n    def f(self):\n        pass", "f: has no docstring"),
        (PROPERTY.format(name="a_hz", text='"""Frequency."""'), "a_hz: a_hz: its description does not end"),
        (PROPERTY.format(name="a_hz", text='"""One [Hz].\n\n        Two."""'), "one line"),
        (PROPERTY.format(name="pairs", text='"""Pairs."""\n        return 2 * self.a'), "[unit]"),
        ("    speed_rpm: float\n    def __post_init__(self):\n        raise BadInput(1)", "raises BadInput"),
    ],
)
def test_a_wrong_class_is_named(body, words):
    text = '    """A value.\n\n    Parameters\n    ----------\n    speed_rpm : float\n        Speed [rpm].\n    """\n'
    source = f'"""M."""\n@dataclass(frozen=True)\nclass A:\n{text}{body}\n'
    complaints = complaints_about_module("fit", ast.parse(source), {})
    assert any(words in each for each in complaints), complaints


LONG = "'''One.\n\n{0}Two.\n{0}'''"


@pytest.mark.parametrize(
    "source, words",
    [
        ("def f():\n    " + LONG.format("    "), "f: has one line"),
        ("def f():\n    pass", "f: has no docstring"),
        ("def _f():\n    '''One'''", "_f: the first line is not one whole sentence"),
        ("class B:\n    '''One.'''\n\n    def f(self):\n        pass", "f: has no docstring"),
        ("class A:\n    '''One.'''\n\n    def _f(self):\n        " + LONG.format("        "), "_f: has one line"),
        ("def h():\n    '''One.'''\n\n    def g():\n        " + LONG.format("        "), "g: has one line"),
    ],
)
def test_what_stands_on_no_face_has_one_line(source, words):
    complaints = complaints_about_module("fits", ast.parse(f'"""M."""\n{source}\n'), {}, face={"A", "h"})
    assert len(complaints) == 1 and words in complaints[0]


def test_a_model_without_labels_is_named():
    source = '"""M."""\nclass BankPart(BaseModel):\n    """A bank."""\n\n    volts: float = 12.0\n'
    tree = ast.parse(source)
    assert any("labelled" in each for each in complaints_about_module("job_parts", tree, bases_in([tree])))


@pytest.mark.parametrize(
    "name, unit",
    [
        ("speed_rpm", "rpm"),
        ("runaway_dc_volts_peak", "V"),
        ("emf_v_per_rpm", "V/rpm"),
        ("copper_c", "°C"),
        ("flow_l_s", "L/s"),
        ("drag_nm", "N·m"),
        ("amps_per_mm2", "A/mm²"),
        ("volts", "V"),
    ],
)
def test_the_unit_of_a_name_is_read(name, unit):
    assert unit_ending(name) == unit


@pytest.mark.parametrize("name", ["c", "slots", "label", "basic", "verdict", "how"])
def test_a_name_without_a_unit_is_left_alone(name):
    assert unit_ending(name) == ""
