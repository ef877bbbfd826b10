"""Nonsense typed into the forms of the pages, under both unit systems: one plain sentence, never a fault."""

import re
from html import unescape

import pytest

from samples.pages import of_page_06
from statorbook.examples import jobs as example
from statorbook.job.parts.reader import ReaderPart
from statorbook.panels.choice.bank import BankPanel
from statorbook.panels.drive.drive import DrivePanel
from statorbook.panels.first_run.service import ServicePanel
from statorbook.panels.measuring.inductance_ways import InductanceWaysPanel
from statorbook.panels.measuring.ohms_log import OhmsPanel
from statorbook.panels.measuring.stator_facts import StatorPanel
from statorbook.panels.protection.bridge import BridgePanel
from statorbook.panels.protection.fuse import FusePanel
from statorbook.panels.protection.heat import HeatPanel
from statorbook.panels.protection.over_voltage import OverVoltagePanel
from statorbook.panels.protection.touch import TouchPanel
from statorbook.panels.start.quick import QuickPanel
from statorbook.panels.year.converter import ConverterPanel
from statorbook.panels.year.year_source import YearSourcePanel

NONSENSE = ("abc", "-5", "1e9", "nan", "12 parsecs", "1,234", "<b>x</b>", "1e-12", "٣", "7 ft 3 in", "AWG 99")
OTHER_QUANTITIES = ("5 kg", "52 psi", "68 F", "3 min")


class WindYear(YearSourcePanel):
    """The year of a wind rotor, which asks for most numbers, in the units of the job."""

    def __init__(self, job):
        wind = example.write(job.folder.parent, "ridge_rotor")
        wind.save_part("reader", job.reader)
        super().__init__(wind)


FORMS = (
    StatorPanel,
    BankPanel,
    InductanceWaysPanel,
    ServicePanel,
    WindYear,
    ConverterPanel,
    pytest.param(DrivePanel, marks=pytest.mark.slow),
    of_page_06(TouchPanel),
    *(
        pytest.param(of_page_06(kind), marks=pytest.mark.slow)
        for kind in (BridgePanel, FusePanel, HeatPanel, OverVoltagePanel)
    ),
)
NOT_SHOWN_IN_US = re.compile(r"[0-9] (?:m|mm|°C|N·m|kg|L/s|m/s|bar)(?![\w·²/])")


def words_under(field):
    return re.sub("<[^>]*>", "", unescape(field.help.value))


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


@pytest.mark.parametrize("units", ["metric", "US"])
@pytest.mark.parametrize("kind", FORMS, ids=lambda kind: kind.__name__)
def test_a_form_says_what_is_wrong_and_keeps_what_was_typed(job, kind, units):
    job.save_part("reader", ReaderPart(units=units))
    panel = kind(job)
    for name, field in panel.form.fields.items():
        if field.facts.kind not in ("number", "count"):
            continue
        before = field.control.value
        for typed in NONSENSE if kind is not DrivePanel else NONSENSE[::3]:
            field.control.value = typed
            assert panel.message.last_fault == panel.form.message.last_fault == "", (name, typed)
            assert field.control.value == typed
            said = words_under(field)
            if field.usable:
                assert typed in ("-5", "1e9", "1e-12"), (name, typed)  # the only ones that are numbers at all
                continue
            assert said.endswith(".") and said.startswith(field.name), (name, typed, said)
            told = re.sub("“[^”]*”", "", said)
            wire = "wire" in field.name.lower()
            assert units == "metric" or wire or not NOT_SHOWN_IN_US.search(told), (name, typed, said)
        field.control.value = before


@pytest.mark.parametrize("units", ["metric", "US"])
@pytest.mark.parametrize(
    "kind, name",
    [
        (StatorPanel, "diameter_mm"),
        (BankPanel, "capacity_ah"),
        (BankPanel, "cable_ohm"),
        (ServicePanel, "magnet_pull_n"),
        (DrivePanel, "nozzle_mm"),
    ],
)
def test_another_quantity_is_refused_in_both_systems(job, kind, name, units):
    job.save_part("reader", ReaderPart(units=units))
    field = kind(job).form.fields[name]
    for typed in OTHER_QUANTITIES:
        field.control.value = typed
        assert not field.usable and f"“{typed}” was typed" in words_under(field)


@pytest.mark.parametrize("field", ["slots", "poles", "volts", "at", "ohms", "working"])
def test_the_quick_look_says_what_is_wrong(field):
    panel = QuickPanel(slots=36, poles=48, line_volts_rms=40, reading_rpm=100, line_ohm=13.2, working_rpm=800)
    control = getattr(panel, field)
    for typed in NONSENSE:
        control.value = typed
        assert panel.message.last_fault == "", typed
        assert panel.sentence.startswith("Not usable – ") or typed in ("1e9", "1e-12"), typed


def test_a_log_says_what_is_wrong_and_keeps_it(job):
    job.save_part("reader", ReaderPart(units="US"))
    panel = OhmsPanel(job)
    row = panel.grid.row(1)
    for name in ("ohms", "lead_zero_ohm", "copper_c"):
        before = row.cells[name].value
        for typed in (*NONSENSE, "400 F", "68 K"):
            row.cells[name].value = typed
            assert panel.message.last_fault == panel.grid.message.last_fault == ""
            usable = "✗" not in row.sign.value
            numbers = (("lead_zero_ohm", "1e-12"), ("copper_c", "-5"), ("copper_c", "1e-12"))
            assert not usable or (name, typed) in numbers
            assert job.read_log("ohms")[0][name] == typed
        row.cells[name].value = before
