"""The docstring contract: on a package's face names, order and units against the code; inside a package one line."""

import ast
import re

import pytest

from house.docstrings import (
    complaints_about_entries,
    complaints_about_number,
    complaints_about_order,
    complaints_about_raises,
    complaints_about_returns,
    entries,
    split,
    unit_ending,
)
from house.sources import faces_seen_by, is_physics, modules, tree_of

# Modules in which every voltage is the bank's, so that none has to say so again.
ALL_DC = {"bank.battery"}
_NUMBER_CALLS = {"sum", "abs", "len", "float", "int", "min", "max", "round", "sqrt", "gcd", "lcm", "hypot", "sin"}


def bases_in(trees):
    """Names of the base classes of every class, by name."""
    return {
        node.name: [ast.unparse(base).split(".")[-1] for base in node.bases]
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef)
    }


BASES = bases_in(tree_of(path) for _, path in modules())


def is_model(name, bases):
    """True for a pydantic model: its fields carry title, unit and limits themselves."""
    return name == "BaseModel" or any(is_model(base, bases) for base in bases.get(name, ()))


def is_property(function):
    """True for property and cached_property."""
    return any(ast.unparse(mark).split(".")[-1] in ("property", "cached_property") for mark in function.decorator_list)


def parameters_of(function, *, method):
    """Names of a signature in order, without self."""
    a = function.args
    static = any(ast.unparse(mark) == "staticmethod" for mark in function.decorator_list)
    names = [each.arg for each in (*a.posonlyargs, *a.args)][1 if method and not static else 0 :]
    return (
        names
        + ([f"*{a.vararg.arg}"] if a.vararg else [])
        + [each.arg for each in a.kwonlyargs]
        + ([f"**{a.kwarg.arg}"] if a.kwarg else [])
    )


def complaints_about_function(function, *, method=False, physics=False):
    """What is wrong with the docstring of one public function or method."""
    text = ast.get_docstring(function)
    if not text:
        return ["has no docstring"]
    summary, sections = split(text)
    found = [] if summary.endswith((".", "?")) else ["the first line is not one whole sentence"]
    found += complaints_about_entries(entries(sections.get("Parameters", [])), parameters_of(function, method=method))
    found += complaints_about_returns(function, sections)
    found += complaints_about_raises(function, sections) + complaints_about_order(sections)
    kinds = [kind for kind, _, _ in entries(sections.get("Returns", []))]
    if physics and not set(kinds) <= {"str", "bool"}:
        heads = {line.strip().split(":")[0] for line in sections.get("Notes", []) if ":" in line}
        found += [f"Notes: no line {word}" for word in ("Equation", "Valid", "Source") if word not in heads]
    return found


def complaints_about_property(function):
    """A property, or a method that takes nothing, has one line, which ends with its unit when it gives a number."""
    text = ast.get_docstring(function)
    if not text:
        return ["has no docstring"]
    found = [] if len(text.splitlines()) == 1 else ["a property has one line"]
    if not re.search(r"(\.|\?|\])$", text.splitlines()[0]):
        found.append("the line is not one whole sentence")
    if (
        unit_ending(function.name)
        and (is_property(function) or gives_something(function))
        or gives_number(function)
        or re.search(r"\[[^\]]+\]\.?$", text)
    ):
        # An Estimate carries its unit with it; only a bare number needs it in the name.
        carrier = None if gives_number(function) else function.name
        found += complaints_about_number(function.name, text, named_for=carrier)
    return found


def gives_something(function):
    """True when a function returns a value."""
    return any(isinstance(node, ast.Return) and node.value is not None for node in ast.walk(function))


def gives_number(function):
    """True when a property's last line can only be a number."""
    last = function.body[-1]
    value = last.value if isinstance(last, ast.Return) else None
    if isinstance(value, ast.Call) and isinstance(value.func, ast.Name):
        return value.func.id in _NUMBER_CALLS
    return isinstance(value, ast.BinOp) and not any(
        isinstance(node, (ast.JoinedStr, ast.Tuple, ast.List)) or isinstance(getattr(node, "value", None), str)
        for node in ast.walk(value)
    )


def complaints_about_class(node, bases, *, physics=False):
    """What is wrong with the docstrings of one public class and of everything public in it."""
    found = []
    text = ast.get_docstring(node)
    if not text:
        found.append("has no docstring")
    else:
        found += complaints_about_fields(node, split(text)[1], bases)
    functions = [each for each in node.body if isinstance(each, ast.FunctionDef) and not each.name.startswith("_")]
    for each in functions:
        plain = not parameters_of(each, method=True) and len((ast.get_docstring(each) or "").splitlines()) == 1
        inner = (
            complaints_about_property(each)
            if plain or is_property(each)
            else complaints_about_function(each, method=True, physics=physics)
        )
        found += [f"{each.name}: {words}" for words in inner]
    return found


def complaints_about_fields(node, sections, bases):
    """Fields of a dataclass, or parameters of __init__, against the Parameters of the class."""
    maker = next((each for each in node.body if isinstance(each, ast.FunctionDef) and each.name == "__init__"), None)
    is_dataclass = any("dataclass" in ast.unparse(mark) for mark in node.decorator_list)
    fields = [
        each.target.id
        for each in node.body
        if isinstance(each, ast.AnnAssign) and "ClassVar" not in ast.unparse(each.annotation)
    ]
    checked = [
        each for each in node.body if isinstance(each, ast.FunctionDef) and each.name in ("__init__", "__post_init__")
    ]
    raised = [words for each in checked for words in complaints_about_raises(each, sections)]
    if is_model(node.name, bases):
        return [
            f"{each.target.id}: declare it with `labelled`"
            for each in node.body
            if isinstance(each, ast.AnnAssign)
            and each.target.id in fields
            and not (isinstance(each.value, ast.Call) and len(each.value.args) >= 3)
        ]
    expected = fields if is_dataclass else parameters_of(maker, method=True) if maker else []
    if is_dataclass or maker:
        return complaints_about_entries(entries(sections.get("Parameters", [])), expected) + raised
    return raised


def complaints_about_inside(node):
    """Inside a package one good line on whatever is public, and what is said besides agrees with the code."""
    methods = node.body if isinstance(node, ast.ClassDef) else []
    public = [node, *(each for each in methods if isinstance(each, ast.FunctionDef) and not each.name.startswith("_"))]
    found = []
    for each in public:
        text = ast.get_docstring(each)
        if not text:
            found.append(f"{each.name}: has no docstring")
        elif not re.search(r"[.?\]]$", split(text)[0]):
            found.append(f"{each.name}: the first line is not one whole sentence")
    return found


def complaints_about_module(name, tree, bases, face=None):
    """What is wrong with the docstrings of one module; everything stands on the face when none is given."""
    physics = is_physics(name)
    found = [] if ast.get_docstring(tree) else [f"{name}: has no docstring"]
    for node in tree.body:
        if face is not None and getattr(node, "name", None) not in face:
            public = isinstance(node, (ast.FunctionDef, ast.ClassDef)) and not node.name.startswith("_")
            inner = complaints_about_inside(node) if public else []
        elif isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            inner = complaints_about_function(node, physics=physics)
        elif isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            inner = complaints_about_class(node, bases, physics=physics)
        else:
            continue
        found += [f"{name}.{node.name}, line {node.lineno}: {words}" for words in inner]
    return [words for words in found if name not in ALL_DC or "say rms" not in words]


@pytest.mark.parametrize("name, path", modules(), ids=[name or "statorbook" for name, _ in modules()])
def test_docstrings_agree_with_the_code(name, path):
    face = faces_seen_by(path) if "." in name else None
    complaints = complaints_about_module(name, tree_of(path), BASES, face)
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
        ("    speed_rpm : float or ndarray\n        Rotor speed [rpm].\n", "", "Parameters are warm"),
        ("(speed_rpm, *, warm=False)", "(warm, *, speed_rpm)", "the code has warm, speed_rpm"),
        ("Rotor speed [rpm].", "Rotor speed.", "does not end with [unit]"),
        ("Rotor speed [rpm].", "Rotor speed [Hz].", "the name says rpm, the description [Hz]"),
        ("speed_rpm", "speed", "needs its unit in its name"),
        ("True when warm.", "", "needs a type and a description"),
        ("Line volts, rms [V].", "Line volts, rms.", "Returns: its description does not end"),
        ("Line volts, rms [V].", "Line volts, rms [A].", "the name says V"),
        ("line_volts_rms(", "line_volts(", "say rms, peak or DC"),
        ("line_volts_rms(", "some_volts_rms(", "say line or phase"),
        (
            "    Returns\n    -------\n    float or ndarray\n        Line volts, rms [V].\n",
            "",
            "needs a Returns section",
        ),
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
    text = "One.\n\nReturns\n-------\nint\n    A [-].\n\nParameters\n----------\na : int\n    A [-].\n"
    assert complaints_about_order(split(text)[1])


PROPERTY = "    speed_rpm: float\n    @property\n    def {name}(self):\n        {text}"


@pytest.mark.parametrize(
    "body, words",
    [
        ("    speed_rpm: float\n    coil_ohm: float", "the code has speed_rpm, coil_ohm"),
        ("    coil_ohm: float", "the code has coil_ohm"),
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
