"""Every panel told in both unit systems: the same numbers, and what is typed without a unit is in the unit shown."""

import re

import pint
import pytest

from samples.pages import of_page_06, shown
from sentences import sentences_of
from statorbook.assembly.machine import with_parts
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.reader import ReaderPart
from statorbook.job.places import EXAMPLES
from statorbook.panels.choice.bank import BankPanel
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.other_ways import OtherWaysPanel
from statorbook.panels.choice.settle import SettlePanel
from statorbook.panels.drive.drive import DrivePanel
from statorbook.panels.first_run.first_run import FirstRunPanel
from statorbook.panels.first_run.service import ServicePanel
from statorbook.panels.measuring.inductance_ways import InductanceWaysPanel
from statorbook.panels.measuring.ohms_log import OhmsPanel
from statorbook.panels.measuring.spin_log import SpinPanel
from statorbook.panels.measuring.stator_facts import StatorPanel
from statorbook.panels.protection.brake import BrakePanel
from statorbook.panels.protection.bridge import BridgePanel
from statorbook.panels.protection.heat import HeatPanel
from statorbook.panels.protection.over_voltage import OverVoltagePanel
from statorbook.panels.protection.trade import TradePanel
from statorbook.panels.rewiring.cut_and_join import CutPanel
from statorbook.panels.year.year_source import YearSourcePanel

wording = sentences_of("panels")

SAME_FOR_EVERY_DRIVE = (
    StatorPanel,
    OhmsPanel,
    SpinPanel,
    InductanceWaysPanel,
    BankPanel,
    CutPanel,
    OtherWaysPanel,
    FirstRunPanel,
    ServicePanel,
)
OF_THE_DRIVE = (DrivePanel, ChoosePanel, SettlePanel, YearSourcePanel)
# Not those of place, fuse and list: US workplaces and US fuses have other limits and sizes.
OF_PAGE_06 = (BridgePanel, BrakePanel, HeatPanel, OverVoltagePanel, TradePanel)
CASES = [
    *((kind, EXAMPLES[0]) for kind in SAME_FOR_EVERY_DRIVE),
    *((kind, EXAMPLES[0]) for kind in OF_THE_DRIVE),
    *(pytest.param(kind, name, marks=pytest.mark.slow) for kind in OF_THE_DRIVE for name in EXAMPLES[1:]),
    *(pytest.param(of_page_06(kind), EXAMPLES[0], marks=pytest.mark.slow) for kind in OF_PAGE_06),
]
ALIKE = ("V", "A", "W", "Ω", "rpm", "mH", "Ah")
# The unit that a US reader is shown, and the own one, as pint knows them.
PAIRS = {
    "ft": ("foot", "m"),
    "in": ("inch", "mm"),
    "gpm": ("gallon/minute", "liter/second"),
    "cfm": ("foot**3/minute", "m**3/hour"),
    "mph": ("mph", "m/s"),
    "ft/s": ("foot/second", "m/s"),
    "ft·lb": ("force_pound*foot", "N*m"),
    "lbf": ("force_pound", "N"),
    "psi": ("psi", "bar"),
    "°F": ("degF", "degC"),
    "gal": ("gallon", "liter"),
    "lb": ("pound", "kg"),
    "in²": ("inch**2", "cm**2"),
}
OWN = ("m", "mm", "L/s", "m³/h", "m/s", "N·m", "N", "bar", "°C", "L", "kg", "cm²")
NUMBER = r"(?<![\w.])([-−]?[0-9]+(?:\.[0-9]+)?)"
REGISTRY = pint.UnitRegistry()


def numbers_in(text, units):
    """Numbers that stand before one of these units, with the unit."""
    of = "|".join(sorted(map(re.escape, units), key=len, reverse=True))
    pattern = rf"{NUMBER} ({of})(?![\w·/²]| series)"
    return [(number.replace("−", "-"), unit) for number, unit in re.findall(pattern, text)]


def half_a_step(number):
    return 0.5 * 10.0 ** -len(number.partition(".")[2])


def words_of(kind, job, units):
    job.save_part("reader", ReaderPart(units=units))
    panel = kind(job)
    assert panel.message.text == ""
    sentences, _, table = shown(panel)
    return re.sub(r"<[^>]*>", " ", f"{sentences} {table}")


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


@pytest.mark.outside(
    "every number that a panel says, metric and US",
    source="pint 0.25.3, UnitRegistry().Quantity(number, source).to(target)",
    number="13 pairs of units, 18 panels",
    tolerance="half of the last figure of each",
    seen="computed by package",
)
@pytest.mark.parametrize("kind, name", CASES, ids=lambda each: getattr(each, "__name__", each))
def test_the_numbers_are_the_same_in_both_systems(tmp_path, kind, name):
    job = example.write(tmp_path, name)
    metric, us = (words_of(kind, job, units) for units in ("metric", "US"))
    assert numbers_in(us, ALIKE) == numbers_in(metric, ALIKE)
    wires = numbers_in(us, OWN)  # a wire and the two sides of an AWG stay in mm
    assert all(unit == "mm" for _, unit in wires), wires
    own = numbers_in(metric, OWN)
    for left in wires:
        own.remove(left)
    told = numbers_in(us, PAIRS)
    assert len(told) == len(own)
    for (number, unit), (kept, _) in zip(told, own, strict=True):
        source, target = PAIRS[unit]
        ends = [float(number) + side * half_a_step(number) for side in (-1.01, 1.01)]
        low, high = (REGISTRY.Quantity(end, source).to(target).magnitude for end in ends)
        slack = 1.01 * half_a_step(kept)
        assert low - slack <= float(kept) <= high + slack, (number, unit, kept)


@pytest.mark.outside(
    "bare numbers in a US reader's fields",
    source="NIST SP 811, appendix B.8",
    number="9.5 in is 241.3 mm, 77 °F 25 °C, 10 lb 4.535924 kg",
    tolerance="0.01 %",
    seen="from memory",
)
@pytest.mark.outside(
    "a gauge in a US reader's fields",
    source="ASTM B258, diameters by 0.127 mm × 92^((36 − n)/39)",
    number="AWG 19 is 0.9116 mm",
    tolerance="0.01 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    "kind, field, bare, own, typed",
    [
        (StatorPanel, "diameter_mm", "9.5", 241.3, "9.5 in"),
        (StatorPanel, "wire_diameter_mm", "0.9116", 0.9116, "AWG 19"),
        (BankPanel, "temperature_c", "77", 25.0, "77 F"),
        (ServicePanel, "turning_kg", "10", 4.535924, "10 lb"),
        (InductanceWaysPanel, "load_copper_c", "77", 25.0, "25 °C"),
    ],
)
def test_a_bare_number_is_in_the_unit_shown_and_a_typed_unit_wins(job, kind, field, bare, own, typed):
    for units, text in (("US", bare), ("US", typed), ("metric", typed), ("metric", repr(own))):
        job.save_part("reader", ReaderPart(units=units))
        control = kind(job).form.fields[field].control
        control.value = text
        assert control.read() == pytest.approx(own, rel=1e-4), (units, text)


@pytest.mark.parametrize(
    "kind, field, metric, us",
    [
        (StatorPanel, "diameter_mm", "[mm]", "[in]"),
        (BankPanel, "temperature_c", "[°C]", "[°F]"),
        (StatorPanel, "wire_diameter_mm", "[mm]", "[mm]"),
        (ServicePanel, "turning_kg", "[kg]", "[lb]"),
        (DrivePanel, "nozzle_mm", "[mm]", "[in]"),
    ],
)
def test_choosing_units_changes_the_heading_and_is_remembered(job, kind, field, metric, us):
    panel = kind(job)
    assert panel.form.fields[field].label.endswith(metric)
    before = panel.form.fields[field].read()
    panel.units.control.value = "US"
    assert panel.form.fields[field].label.endswith(us) and panel.form.fields[field].read() == before
    assert kind(job).units.control.value == "US"


@pytest.mark.outside(
    "place and step of a temperature slider",
    source="NIST SP 811, appendix B.8",
    number="80 °C is 176 °F, a step of 5 K 9 °F",
    tolerance="exact",
    seen="from memory",
)
def test_a_temperature_slider_sets_the_same_temperature_in_both_systems(job):
    job.save_part("reader", ReaderPart(units="US"))
    panel = ChoosePanel(job)
    assert (panel.copper.value, panel.copper.step, panel.copper.description) == (176.0, 9.0, "Winding at work [°F]")
    assert panel.copper.read() == 80.0
    panel.copper.value += 9.0
    assert panel.copper.read() == 85.0


def test_a_log_keeps_its_unit_and_says_what_else_may_be_typed(job):
    job.save_part("reader", ReaderPart(units="US"))
    panel = OhmsPanel(job)
    assert panel.grid.columns["copper_c"] == wording("Winding temperature [°C] (or type")
    row = panel.grid.row(1).cells
    before = panel.sentence
    # The example's ohms were read at 16 °C, which is 60.8 °F.
    assert row["copper_c"].value == "16"
    row["copper_c"].value = "60.8 F"
    assert panel.sentence == before and job.read_log("ohms")[0]["copper_c"] == "60.8 F"


def test_the_page_follows_the_readers_own_units_while_it_shows_the_example(tmp_path, monkeypatch):
    monkeypatch.delenv("STATORBOOK_JOB", raising=False)
    example.write(tmp_path)
    mine = Job.create("mine", tmp_path)
    mine.make_current()
    mine.save_part("reader", ReaderPart(units="US"))
    shown_job = with_parts(mine, "stator", "coil", "drive", "bank")
    assert shown_job.name == "spring_pipe" and shown_job.notice
    assert ChoosePanel(shown_job).copper.description == "Winding at work [°F]"
