"""The controller's sheets: cautions first, then sketch, tables, the whole program and relays, within the margins."""

import re

import pytest

from samples.printed import pages_of, squeezed, titled, words_outside
from statorbook.assembly.charging import charging_from
from statorbook.assembly.control_text import control_text_from
from statorbook.assembly.plan import choice_of
from statorbook.cautions import Exposure
from statorbook.examples import jobs as example
from statorbook.job.places import EXAMPLES
from statorbook.sheets.control_sheets import write_control_sheets


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    job = example.write(tmp_path_factory.mktemp("control"), EXAMPLES[2])
    job.save_part("choice", choice_of(job))
    plan = charging_from(job)
    path = write_control_sheets(job, "Letter", plan)
    return pages_of(path), words_outside(path), control_text_from(job, plan), plan


def test_the_cautions_come_first_and_nothing_leaves_the_margins(printed):
    pages, (outside, count), written, _ = printed
    first = squeezed(pages[0])
    for exposure in (Exposure.STANDING, Exposure.BANK, Exposure.HEAT):
        assert squeezed(exposure.sentence) in first
    assert "licensedelectrician" in first and first.index("CAUTION") < first.index("Relays")
    assert outside == [] and count > 500


def test_the_whole_program_is_there_line_by_line(printed):
    pages, _, written, _ = printed
    told = squeezed(" ".join(titled(pages, "Program, IEC 61131-3 Structured Text"))).replace("\xa0", "")
    body = re.sub(r"\s", "", written.program.text)
    for line in written.program.text.splitlines():
        assert squeezed(line) in told, line
    assert len(body) > 1500


def test_sketch_tables_and_relays_are_there(printed):
    pages, _, written, plan = printed
    drawn = squeezed(" ".join(titled(pages, "Wiring sketch")))
    wired = squeezed(" ".join(titled(pages, "Inputs and outputs")))
    for row in written.inputs:
        assert row.variable in drawn and row.variable in wired
    assert all(row.variable in drawn for row in written.outputs)
    alone = squeezed(" ".join(titled(pages, "The same without a processor")))
    assert all(squeezed(words) in alone for words in written.lost)
    assert str(written.volts_input.scale[0]) in wired
