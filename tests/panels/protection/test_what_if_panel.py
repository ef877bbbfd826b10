"""Panel of what happens if …: the table of all, the one that is chosen in words, cautions with it."""

import pytest

from statorbook.cautions import Exposure
from statorbook.examples import jobs as example
from statorbook.job.parts.fuse import FusePart
from statorbook.panels.protection.page import ProtectionPage
from statorbook.panels.protection.what_if import WhatIfPanel
from statorbook.protection.what_if import MISHAPS


@pytest.fixture
def page(tmp_path):
    return ProtectionPage(example.write(tmp_path))


def test_the_table_has_a_row_for_each_mishap_and_marks_the_one_that_is_told(page):
    panel = WhatIfPanel(page)
    table = panel.shown_answer.table
    assert len(table.rows) == len(MISHAPS) and table.marks.count("chosen") == 1 and table.marks[0] == "chosen"
    panel.mishap.value = MISHAPS.index("one diode shorted")
    table = panel.shown_answer.table
    at = table.marks.index("chosen")
    assert at == MISHAPS.index("one diode shorted") and panel.sentence.startswith(f"If {table.rows[at][0]}: ")
    # The words hold the same volts, amps and guard as the row.
    for cell in table.rows[at][1:3]:
        assert cell in panel.sentence
    assert str(table.rows[at][5]) in panel.sentence


def test_the_cautions_of_all_rows_stand_beside_it(page):
    caution = WhatIfPanel(page).shown_answer.caution
    for exposure in (Exposure.STANDING, Exposure.VOLTS, Exposure.BANK):
        assert exposure.sentence in caution
    assert "licensed electrician" in caution


def test_a_fuse_that_is_saved_elsewhere_on_the_page_is_counted_with(page):
    panel = WhatIfPanel(page)
    at = MISHAPS.index("cable reversed at the bank")
    page.save("fuse", FusePart(amps=125.0, dc_volts=80.0, breaking_amps=20_000.0))
    assert "125 A" in panel.shown_answer.table.rows[at][3]
