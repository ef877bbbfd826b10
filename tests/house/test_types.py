"""A field that holds a machine or a part of one says so by its type."""

import ast

import pytest

from house.sources import modules, tree_of

TYPES = {
    "drive": "Drive",
    "bank": "Bank",
    "stator": "Stator",
    "winding": "Winding",
    "grouping": "Grouping",
    "machine": "Machine",
    "plan": "Plan",
    "meter": "Meter",
}
# What a reader may type into any field of a job: text, a number, a date, nothing.
ANYTHING = {"job.parts.fields.FieldFacts.default", "widgets.answer.Answer.at"}


def complaints_about_types(name, tree):
    """Fields of dataclasses whose type is none, or not that of what they are called after."""
    classes = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef) and any("dataclass" in ast.unparse(mark) for mark in node.decorator_list)
    ]
    found = []
    for node in classes:
        for field in (item for item in node.body if isinstance(item, ast.AnnAssign)):
            place, kind = f"{name}.{node.name}.{field.target.id}", ast.unparse(field.annotation).strip("'")
            if kind == "object" and place not in ANYTHING:
                found.append(f"{place}: any object at all")
            elif field.target.id in TYPES and TYPES[field.target.id] not in kind.split(" | "):
                found.append(f"{place}: {kind}")
    return found


def test_fields_have_their_real_types():
    assert [words for name, path in modules() for words in complaints_about_types(name, tree_of(path))] == []


@pytest.mark.parametrize("field", ["drive: object", "found: object", "bank: BankState", "stator: 'Grouping'"])
def test_a_wrong_type_is_named(field):
    source = f"@dataclass(frozen=True)\nclass A:\n    {field}\n"
    assert len(complaints_about_types("choice", ast.parse(source))) == 1


@pytest.mark.parametrize("field", ["drive: Drive", "bank: Bank | None = None", "machine: 'Machine'", "found: tuple"])
def test_a_right_type_passes(field):
    source = f"@dataclass(frozen=True)\nclass A:\n    {field}\n"
    assert complaints_about_types("choice", ast.parse(source)) == []
