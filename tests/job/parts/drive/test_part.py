"""The kinds of drive in a job: each in a file of its own, all of them flat in one part of the job's file."""

import ast
import inspect
import json
import sys

import pytest

from house.sources import LIBRARY, ROOT, tree_of
from statorbook.errors import BadInput
from statorbook.job.parts.drive.kind import own_fields
from statorbook.job.parts.drive.part import KINDS, DrivePart

FOLDER = LIBRARY / "job" / "parts" / "drive"


def named_in(path):
    """Every word of a module's code that could be a field: names, attributes and whole texts."""
    nodes = list(ast.walk(tree_of(path)))
    return {
        getattr(node, "id", getattr(node, "attr", getattr(node, "arg", getattr(node, "value", None))))
        for node in nodes
        if isinstance(node, (ast.Name, ast.Attribute, ast.keyword))
        or isinstance(node, ast.Constant)
        and isinstance(node.value, str)
    }


def files_of(kind):
    """The module of a kind, and those that its fields are inherited from."""
    classes = [type(kind), *(base for base in kind.fields.__mro__ if base is not object)]
    return {inspect.getsourcefile(sys.modules[kind_or_fields.__module__]) for kind_or_fields in classes}


@pytest.mark.parametrize("name", KINDS)
def test_a_kind_and_its_fields_stand_in_its_own_file_only(name):
    fields = own_fields(KINDS[name].fields)
    assert fields
    for field in fields:
        may = set().union(*(files_of(kind) for kind in KINDS.values() if kind.name == name or field in kind.borrowed))
        assert {str(path) for path in FOLDER.glob("*.py") if field in named_in(path)} <= may, field
    others = {str(path) for path in FOLDER.glob("*.py")} - files_of(KINDS[name])
    assert not [path for path in others if name in named_in(FOLDER / path)]


def test_every_field_that_a_kind_asks_for_is_a_field_of_the_part():
    for kind in KINDS.values():
        asked = DrivePart.asked({"kind": kind.name})
        assert {*kind.needs({}), *kind.borrowed, *kind.mended_in.values(), *kind.said_too_by} <= {*asked}, kind.name
        assert {*asked} <= {*DrivePart.model_fields}
    assert DrivePart.asked({}) == DrivePart.asked({"kind": ["water jet"]}) == ()


@pytest.mark.parametrize("path", sorted(ROOT.glob("data/*/job.json")), ids=lambda path: path.parent.name)
def test_a_stored_drive_is_saved_again_in_the_same_letters(path):
    stored = json.loads(path.read_text(encoding="utf-8"))["drive"]
    assert json.dumps(DrivePart(**stored).as_saved()) == json.dumps(stored)


def test_the_way_that_the_head_is_known_decides_what_is_asked():
    asked = {way: DrivePart.asked({"kind": "water jet", "head_from": way}) for way in ("", "drop and pipe")}
    assert "head_m" in asked[""] and "pipe_bore_mm" not in asked[""]
    assert "head_m" not in asked["drop and pipe"] and "pipe_bore_mm" in asked["drop and pipe"]


def test_what_only_another_kind_uses_is_assumed_until_somebody_changes_it():
    def assumed(name, **fields):
        return DrivePart(kind="known speed", speed_rpm=300.0, **fields).assumes(name)

    # A crank and the air are for others, drag is its own; a head is no default, and nobody assumed one.
    assert [assumed(name) for name in ("crank_mm", "air_c", "drag_nm", "head_m")] == [True, True, True, False]
    assert not assumed("air_c", air_c=30.0) and assumed("crank_mm", air_c=30.0)
    # Its own counts as known once it was typed, be it as it was taken to be; so does another kind's that was named.
    usual = DrivePart(kind="known speed", speed_rpm=300.0).drag_nm
    assert not assumed("drag_nm", drag_nm=usual) and assumed("air_c", air_c=30.0, assumed=["air_c"])


@pytest.mark.parametrize(
    "fields, field",
    [
        (dict(kind="water jet", head_m=20.0, pitch_diameter_mm=200.0), "nozzle_mm"),
        (dict(kind="water jet", head_m=20.0, pitch_diameter_mm=200.0, bucket_l=10.0), "bucket_s"),
        (dict(kind="pedals", gear_ratio=8.0), "rider_watts"),
        (dict(kind="engine", rated_watts=900.0, engine_rpm=3000.0), "pulley_ratio"),
        (dict(kind="wind rotor", rotor_diameter_m=2.0), "wind_m_s"),
        (dict(kind="known speed"), "speed_rpm"),
    ],
)
def test_a_complaint_names_the_field_in_which_it_is_mended(fields, field):
    with pytest.raises(BadInput) as refused:
        DrivePart(**fields)
    assert refused.value.field == field
