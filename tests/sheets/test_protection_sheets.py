"""The protection sheets: list, diagram, cautions and questions are on them, within the margins, on both papers."""

import re
from math import ceil

import pytest

from samples.printed import PAPERS_PT, pages_of, poppler, squeezed, titled, words_outside
from statorbook.assembly.plan import choice_of
from statorbook.assembly.plant import assumed_for_plant, plant_from
from statorbook.cautions import Exposure
from statorbook.drawings.line_rows import line_rows
from statorbook.examples import jobs as example
from statorbook.job.parts.registry import ReaderPart
from statorbook.job.places import EXAMPLES
from statorbook.protection.cable_run import AT_BANK
from statorbook.protection.enclosures import questions
from statorbook.protection.parts_list import parts_to_buy
from statorbook.quantities import reader_units
from statorbook.sheets.paper import TICK_BOX, printable
from statorbook.sheets.protection_sheets import write_protection_sheets

CASES = [("A4", "metric", EXAMPLES[0]), ("Letter", "US", EXAMPLES[1])]


@pytest.fixture(scope="module", params=CASES, ids=["A4", "Letter"])
def printed(request, tmp_path_factory):
    """Paper, units, job and file of one example on each paper."""
    paper, system, name = request.param
    job = example.write(tmp_path_factory.mktemp("sheets"), name)
    job.save_part("reader", ReaderPart(units=system))
    job.save_part("choice", choice_of(job))
    if paper == "Letter":  # the longer list on the shorter paper
        job.save_part("cable", job.cable.model_copy(update={"rectifier_at": AT_BANK}))
    return paper, system, job, write_protection_sheets(job, paper)


def test_list_diagram_and_questions_are_there_in_the_readers_units(printed):
    paper, system, job, path = printed
    pages = pages_of(path)
    with reader_units(system):
        plant = plant_from(job)
        parts, rows, asked = parts_to_buy(plant), line_rows(plant), questions(plant)
    bought = squeezed(" ".join(titled(pages, "What to buy")))
    for part in parts:
        assert squeezed(printable(part.rating)) in bought and squeezed(printable(part.why)) in bought
    assert bought.count(TICK_BOX) >= len(parts)
    drawn = squeezed(" ".join(titled(pages, "Single-line diagram")))
    assert all(squeezed(name) in drawn for row in rows for name, _ in row.words)
    answered = squeezed(" ".join(titled(pages, "Ask the electrician")))
    assert all(squeezed(words) in answered for words in asked)
    with reader_units(system):
        assert all(squeezed(printable(words)) in answered for words in assumed_for_plant(job))


def test_the_caution_stands_before_the_list(printed):
    first = squeezed(pages_of(printed[-1])[0])
    for exposure in (Exposure.STANDING, Exposure.VOLTS, Exposure.BANK, Exposure.HEAT):
        assert squeezed(exposure.sentence) in first
    assert first.index("CAUTION") < first.index(squeezed("What it has to stand"))
    assert "licensedelectrician" in first


def test_every_page_keeps_paper_and_margins_and_carries_job_and_number(printed):
    paper, _, job, path = printed
    told = dict(line.split(":", 1) for line in poppler("pdfinfo", path).splitlines())
    size = map(float, re.findall(r"[0-9.]+", told["Page size"])[:2])
    assert [ceil(each) for each in size] == [ceil(each) for each in PAPERS_PT[paper]]
    outside, count = words_outside(path)
    assert outside == [] and count > 300
    pages = pages_of(path)
    for number, page in enumerate(pages, start=1):
        assert page.count(job.name) == 2 and page.endswith(f"page {number} of {len(pages)}")
