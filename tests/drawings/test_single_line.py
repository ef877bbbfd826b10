"""The single-line diagram: every part of the list that has a place on the line stands there once, and in its place."""

import re
import xml.etree.ElementTree as ET

import pytest

from samples.plant_samples import plant
from statorbook.drawings.line_rows import line_rows
from statorbook.drawings.single_line import SingleLine
from statorbook.drives.pedals import Pedals
from statorbook.operation.converter import Converter
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.parts_list import parts_to_buy
from statorbook.protection.site import DRY, Site

SVG = "{http://www.w3.org/2000/svg}"
ON_THE_LINE = ("brake", "rectifier", "cable", "switch", "fuse")
PLANTS = {
    "rectifier at the machine": plant(),
    "rectifier at the bank": plant(run=CableRun(rectifier_at=AT_BANK, length_m=300.0)),
    "converter": plant(converter=Converter(low_volts=60.0, high_volts=140.0, survives_dc_volts=150.0)),
    "pedals, dry": plant(drive=Pedals(rider_watts=100.0, gear_ratio=6.5), site=Site(place=DRY)),
}
each = pytest.mark.parametrize("made", PLANTS.values(), ids=PLANTS)


def names_in(made):
    """The names beside the line, which are bold, from top to bottom."""
    nodes = ET.fromstring(SingleLine(plant=made).svg()).findall(f"{SVG}text")
    return [node.text for node in nodes if node.attrib.get("font-weight") == "bold"]


@each
def test_every_part_stands_there_once_under_its_number_in_the_list(made):
    parts = parts_to_buy(made)
    drawn = [words for words in names_in(made) if re.match(r"\d", words)]
    named = {f"{number} {part.name}": part.key for number, part in enumerate(parts, start=1)}
    assert len(drawn) == len(set(drawn)) and set(drawn) <= set(named)
    assert set(ON_THE_LINE) <= {named[words] for words in drawn}
    assert drawn == sorted(drawn, key=lambda words: int(words.split()[0]))
    # What has a rating for a drawing but stands beside the line, such as enclosures, is said in the note.
    missing = {part.key for part in parts if part.brief} - {named[words] for words in drawn}
    assert missing <= {"enclosure"}


@each
def test_the_line_goes_from_the_machine_to_the_bank_and_the_run_lies_on_its_side_of_the_rectifier(made):
    order = [name for row in line_rows(made) for name, _ in row.words]
    places = {key: next(n for n, name in enumerate(order) if name.endswith(key)) for key in
              ("Generator", "Brake switch", "Rectifier", "Cable", "DC switch", "Fuse", "Bank")}  # fmt: skip
    at_bank = made.run.rectifier_at == AT_BANK
    assert (places["Cable"] < places["Rectifier"]) == at_bank
    assert places["Generator"] < places["Brake switch"] < places["Rectifier"] < places["DC switch"]
    assert (
        places["DC switch"] < places["Fuse"] < places["Bank"]
    )  # a fuse protects all that lies behind it from the bank
    assert ("Converter" in order) == (made.conditions.converter is not None)


@each
def test_it_is_of_plain_shapes_and_nothing_leaves_the_picture(made):
    drawn = SingleLine(plant=made)
    root = ET.fromstring(drawn.svg())
    assert not any({"id", "class"} & node.attrib.keys() for node in root.iter())
    width, height = (float(root.attrib[name]) for name in ("width", "height"))
    for node in root.findall(f"{SVG}text"):
        # DejaVu Sans is at most 0.68 em wide in the mean of a line of words.
        assert float(node.attrib["x"]) + 0.68 * float(node.attrib["font-size"]) * len(node.text) < width, node.text
        assert 0 < float(node.attrib["y"]) < height
    downs = [float(node.attrib["y"]) for node in root.findall(f"{SVG}text")]
    assert downs == sorted(downs) and len(set(downs)) == len(downs)


def test_the_picture_is_told_in_words_too():
    root = ET.fromstring(SingleLine(plant=plant()).svg())
    assert root.attrib["role"] == "img"
    for words in ("Generator", "Rectifier", "Bank"):
        assert words in root.attrib["aria-label"]
