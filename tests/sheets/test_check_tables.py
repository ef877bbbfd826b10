"""The meter checks on paper: few pages, every check once, every instruction once with its caution, room to write."""

import re
from dataclasses import replace
from functools import cache

import pytest

from samples.job_samples import sample
from sheets.test_sheets import chosen_plan, pages_of, poppler, sheets_of, titled, words_outside
from statorbook.assembly.meter_checks import checks_for
from statorbook.cautions import Exposure, exposures_of
from statorbook.examples.jobs import write as write_example
from statorbook.job.places import EXAMPLES
from statorbook.rewiring.checks.expected import bench_checks
from statorbook.rewiring.checks.groups import check_groups
from statorbook.rewiring.plan import LAYOUTS, cut_and_join
from statorbook.rewiring.work_steps import steps
from statorbook.sheets.paper import TICK_BOX
from statorbook.sheets.plan_sheets import write_pdf
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import found_wiring

PAPERS = ("A4", "Letter")
# The most teeth that a stator may have, in as many paths as they can make: by hand 144 / 3 = 48 coils of a phase,
# 120 poles, gcd(144, 60) = 12 repeats and twice as many paths.
LARGEST = {"found": (48, 1, "delta"), "wanted": (2, 24, "star")}


def of_example(folder, name, layout):
    job = write_example(folder, name)
    plan = chosen_plan(job, layout)
    return replace(sheets_of(), plan=plan, steps=steps(plan), checks=checks_for(job, plan).checks)


@cache
def of_largest(layout):
    groups = [Grouping(series=s, parallel=a, connection=c) for s, a, c in LARGEST.values()]
    plan = cut_and_join(found_wiring(Stator(slots=144, poles=120), groups[0]), groups[1], layout, 300.0)
    made = steps(plan)
    checks = bench_checks(plan, made, sample("coil"), sample("stator", slots=144, poles=120))
    return replace(sheets_of(), plan=plan, steps=made, checks=checks)


@pytest.fixture(params=[*EXAMPLES, "largest"])
def sheets(request, tmp_path):
    if request.param == "largest":
        return of_largest("neighbours"), 4
    return of_example(tmp_path, request.param, "neighbours"), 2


@pytest.mark.parametrize("paper", PAPERS)
def test_the_checks_are_on_few_pages_and_none_is_lost(sheets, paper, tmp_path):
    sheets, most_pages = sheets
    path = write_pdf(sheets, tmp_path / "plan.pdf", paper)
    pages = titled(pages_of(path), "Meter checks")
    assert 1 <= len(pages) <= most_pages
    said = " ".join(pages)
    groups = check_groups(sheets.checks, sheets.plan.wired)
    rows = [row for group in groups for row in group.rows]
    assert [row.number for row in rows].count(rows[-1].number) == 1 and len(rows) == sum(
        check.kind != "look" for check in sheets.checks
    )
    for group in groups:
        once = f"Each should say {group.rows[0].check.expects}." in said if group.rows else False
        for row in group.rows:
            step = f"{row.check.step} " if len(group.steps) > 1 else ""
            path = f"{row.path} " if row.path else ""
            place = f" {row.number} {step}{path}{' '.join(row.places)}"
            told = [f"{place} {row.check.expects} {TICK_BOX}", f"{place} {TICK_BOX}"]
            # What it should say stands in its own row, or once above all rows of a long group.
            assert said.count(told[0]) + (said.count(told[1]) if once else 0) == 1, told
    assert said.count(TICK_BOX) == len(sheets.checks)
    assert words_outside(tmp_path / "plan.pdf")[0] == []


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_other_layout_needs_no_more_pages(layout, paper, tmp_path):
    every = [(of_example(tmp_path, name, layout), 2) for name in EXAMPLES] + [(of_largest(layout), 4)]
    for sheets, most_pages in every:
        path = write_pdf(sheets, tmp_path / "plan.pdf", paper)
        assert len(titled(pages_of(path), "Meter checks")) <= most_pages


def test_every_instruction_is_said_once_and_its_caution_stands_with_it(sheets, tmp_path):
    sheets, _ = sheets
    said = " ".join(titled(pages_of(write_pdf(sheets, tmp_path / "plan.pdf")), "Meter checks"))
    groups = check_groups(sheets.checks, sheets.plan.wired)
    for check in sheets.checks:
        assert said.count(check.words.text) == 1, check.words.text
    told = set()
    for group, after in zip(groups, [*groups[1:], None], strict=True):
        exposed = exposures_of([*(look.words for look in group.looks), *(row.check.words for row in group.rows)])
        begins = said.index(f"{group.title}")
        ends = said.index(f"{after.title}", begins) if after else len(said)
        for exposure in exposed:
            words = exposure.tag if exposure in told else exposure.sentence
            assert words in said[begins:ends], (group.title, exposure)
        told |= set(exposed)
    assert told >= {Exposure.STANDING, Exposure.TURNING, Exposure.VOLTS, Exposure.TESTER, Exposure.BANK}


def test_rows_on_a_further_page_carry_their_caution_again(tmp_path):
    path = write_pdf(of_largest("neighbours"), tmp_path / "plan.pdf")
    goes_on = [page for page in titled(pages_of(path), "Meter checks") if ", the rows." in page]
    assert goes_on and all(re.search(r", the rows\. ⚠ \w", page) for page in goes_on)


# Letters of 9 pt and more, asked for; a digit written by hand is about 3 mm wide (common practice, no source).
def test_letters_can_be_read_and_a_reading_of_four_digits_fits_its_box(tmp_path):
    path = write_pdf(of_largest("neighbours"), tmp_path / "plan.pdf")
    first = next(number for number, page in enumerate(pages_of(path), 1) if page.startswith("Meter checks"))
    fonts = poppler("pdftohtml", "-xml", "-stdout", "-i", "-f", first, path)
    sizes = {int(size) for size in re.findall(r'<fontspec id="\d+" size="(\d+)"', fonts)}
    scale = float(re.search(r'<page [^>]*height="(\d+)"', fonts)[1]) / 841.89
    assert sizes and min(sizes) >= round(9 * scale) - 1
    words = poppler("pdftotext", "-bbox", "-f", first, path).splitlines()
    edges = {
        word: [tuple(map(float, re.findall(r'xM(?:in|ax)="([\d.]+)"', line))) for line in words if f">{word}<" in line]
        for word in ("Reading", "OK")
    }
    for left, _ in edges["Reading"]:
        box = min(x for x, _ in edges["OK"] if x > left) - left
        assert box / 72 * 25.4 >= 4 * 3.0
