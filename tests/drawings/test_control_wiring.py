"""The wiring sketch: every input and relay stands there, each contact as it is, and nothing leaves the picture."""

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from samples.control_samples import EVERYTHING
from sentences import sentences_of
from statorbook.charging.control import CLOSED_AT_REST, OPEN_AT_REST
from statorbook.charging.plan import VoltsRelay
from statorbook.charging.program_tables import control_inputs, control_outputs
from statorbook.charging.volts_input import VoltsInput
from statorbook.drawings.control_symbols import closed_contact, open_contact
from statorbook.drawings.control_wiring import ControlWiring

wording = sentences_of("charging_program")

SVG = "{http://www.w3.org/2000/svg}"
INPUT = VoltsInput(upper_ohm=13_000.0, lower_ohm=2_200.0, input_ohm=1e5, input_volts=10.0, full_counts=4095)
GUARD = VoltsRelay(high_on_volts=30.2, high_off_volts=27.0, low_off_volts=21.0, low_on_volts=25.0)


def sketch(rules=EVERYTHING, guard=GUARD):
    return ControlWiring(
        inputs=control_inputs(rules, INPUT), outputs=control_outputs(rules), volts_input=INPUT, guard=guard
    )


def texts(drawn):
    return list(ET.fromstring(drawn.svg()).iter(f"{SVG}text"))


def test_every_input_and_relay_stands_there_under_its_name():
    words = [node.text for node in texts(sketch())]
    for row in (*control_inputs(EVERYTHING, INPUT), *control_outputs(EVERYTHING)):
        assert words.count(row.variable) == 1
    for number in range(1, 9):
        assert words.count(f"K{number}") == 2  # coil and contact
    assert words.count("KH") == 2 and "13 kΩ over 2.2 kΩ" in " ".join(words)
    said = " ".join(words)
    assert all(volts in said for volts in ("30.2 V", "27 V", "21 V", "25 V"))
    assert "KH" not in " ".join(node.text for node in texts(sketch(guard=None)))


def test_contacts_are_drawn_as_they_are_without_current():
    # The cylinder's own thermostat is the one closed contact more; the guard closes past two dump loads.
    for contact, closed in ((OPEN_AT_REST, 1), (CLOSED_AT_REST, 9)):
        relays = tuple(replace(relay, contact=contact) for relay in EVERYTHING.relays)
        svg = sketch(replace(EVERYTHING, relays=relays)).svg()
        assert svg.count(closed_contact()) == closed and svg.count(open_contact()) == 2 + 9 - closed


@pytest.mark.parametrize("guard", [GUARD, None], ids=["guard", "none"])
def test_it_is_of_plain_shapes_and_nothing_leaves_the_picture(guard):
    drawn = sketch(guard=guard)
    root = ET.fromstring(drawn.svg())
    assert not any({"id", "class"} & node.attrib.keys() for node in root.iter())
    width, height = (float(root.attrib[name]) for name in ("width", "height"))
    for node in root.findall(f"{SVG}text"):
        long = 0.62 * float(node.attrib["font-size"]) * len(node.text)
        right = float(node.attrib["x"]) + {"start": long, "end": 0.0, "middle": long / 2}[node.attrib["text-anchor"]]
        assert right < width and 0 < float(node.attrib["y"]) < height, node.text
    assert wording("relay normally closed first") in root.attrib["aria-label"]
