"""Every derivation names the functions that stand on its formula, they name it, and a page shows it."""

import ast

import pytest

from house.derivations import (
    called_on_pages,
    complaints_about_derivations,
    derivations,
    docstrings,
    docstrings_of,
    named,
)

GOOD = {
    "drives.best_jet_speed": "Best speed.\n\nNotes\n-----\nBehind: `drives.Jet.torque_nm`,\n`drives.jet_watts`.",
    "drives.Jet.torque_nm": "Torque.\n\nNotes\n-----\nEquation: F r.\nDerivation: `drives.best_jet_speed`.\nSource: -",
    "drives.jet_watts": "Watts.\n\nNotes\n-----\nDerivation: `drives.best_jet_speed`.",
}


def test_derivations_and_functions_name_each_other():
    assert complaints_about_derivations(docstrings(), derivations()) == []


def test_every_derivation_stands_on_a_page():
    assert {name.split(".")[1] for name in derivations()} - called_on_pages() == set()


def test_good_ones_pass_and_lines_may_be_broken():
    assert complaints_about_derivations(GOOD, {"drives.best_jet_speed"}) == []
    assert named("Behind", GOOD["drives.best_jet_speed"]) == {"drives.Jet.torque_nm", "drives.jet_watts"}


def test_a_method_is_named_with_its_class():
    tree = ast.parse('class Jet:\n    """A jet."""\n    def watts(self):\n        """Its watts."""')
    assert dict(docstrings_of("drives.jet", tree)) == {"drives.Jet": "A jet.", "drives.Jet.watts": "Its watts."}


@pytest.mark.parametrize(
    ("name", "old", "new", "words"),
    [
        ("drives.jet_watts", "Derivation", "See also", "does not name it back"),
        ("drives.best_jet_speed", "`drives.jet_watts`", "", "does not name it back"),
        ("drives.best_jet_speed", "Behind", "Under", "names no function"),
        ("drives.best_jet_speed", "drives.jet_watts", "drives.jet_power", "there is no drives.jet_power"),
        ("drives.jet_watts", "best_jet_speed", "jet_watts", "is no derivation"),
    ],
)
def test_what_is_not_named_both_ways_is_found(name, old, new, words):
    said = complaints_about_derivations({**GOOD, name: GOOD[name].replace(old, new)}, {"drives.best_jet_speed"})
    assert any(words in each for each in said)
