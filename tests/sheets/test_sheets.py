"""The sheets for the bench: everything of the plan is on them, within the margins, on both papers."""

import re
import tempfile
import time
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from unicodedata import category

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.pages import cells
from samples.printed import PAPERS_PT, pages_of, poppler, squeezed, titled, words_outside
from sentences import exactly, in_us, sentences_of
from statorbook.assembly.machine import machine_from
from statorbook.assembly.plan import choice_of
from statorbook.cautions import Exposure, Instruction, exposures_of
from statorbook.choice.uncertainty import with_plus_minus
from statorbook.errors import BadInput
from statorbook.examples.jobs import write as write_example
from statorbook.job.parts.registry import ReaderPart
from statorbook.job.places import EXAMPLES
from statorbook.panels.rewiring.meter_checks import MeterChecks
from statorbook.rewiring.checks.bands import MeterCheck
from statorbook.rewiring.checks.groups import check_groups
from statorbook.rewiring.plan import LAYOUTS, cut_and_join
from statorbook.rewiring.probes import LEAD_PAIRS
from statorbook.rewiring.work_steps import steps
from statorbook.sheets.job_sheets import write_sheets
from statorbook.sheets.paper import TICK_BOX, font_files, printable
from statorbook.sheets.plan_sheets import PlanSheets, write_pdf
from statorbook.sheets.summary import Summary, materials, summary_of
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import found_wiring

wording = sentences_of("sheets")

DAY = date(2026, 6, 1)
STILL = (Exposure.STANDING,)
SUMMARY = Summary(
    found="Found: 9 Ω and more.",
    wanted="Wanted: less.",
    promise="Promised: 100 W.",
    cautions=("Bank off and fuse out.", "Volts can kill: 212 V.", "Fumes – work outdoors."),
    assumed=("drag", "cold magnets −10 °C"),
    materials=("Wire 2.5 mm², 0.4 m.", "Sleeves: 12."),
)
# Plans that a bench may see: the smallest, the usual one to the longest, one with jumpers, and the most teeth.
CASES = {
    "small": (9, 12, (3, 1, "star"), (1, 3, "star"), "neighbours"),
    "long": (36, 48, (12, 1, "star"), (1, 12, "star"), "neighbours"),
    "jumpers": (36, 48, (12, 1, "star"), (4, 3, "star"), "spread"),
    "most teeth": (144, 120, (48, 1, "delta"), (2, 24, "star"), "neighbours"),
}


def picture(width=400, height=400, word="drawn"):
    """A drawing with something at its corners."""
    marks = "".join(
        f'<text x="{x}" y="{y}" font-size="12" text-anchor="{anchor}">{word}</text>'
        for x, y, anchor in ((0, 12, "start"), (width, height - 4, "end"), (width / 2, height / 2, "middle"))
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}" '
        f'font-family="DejaVu Sans, Verdana, sans-serif"><rect width="{width}" height="{height}" fill="white"/>'
        f"{marks}</svg>"
    )


def plan_of(case, diameter_mm=220.0):
    slots, poles, found, wanted, layout = CASES[case]
    groups = [Grouping(series=s, parallel=a, connection=c) for s, a, c in (found, wanted)]
    return cut_and_join(found_wiring(Stator(slots=slots, poles=poles), groups[0]), groups[1], layout, diameter_mm)


def checks_for(made):
    """Two before the work, one after each step that asks for one, three at the end."""
    said = [("A-B", "ohms", 0, "Ω"), ("A-iron", "megohm", 0, "MΩ")]
    for step in made:
        if step.check == "parted":
            said.append(("", "look", step.number, ""))
        elif step.check:
            said.append(("B-C" if step.check == "alike" else step.check, "ohms", step.number, "Ω"))
    said += [(pair, "volts", len(made), "V") for pair in LEAD_PAIRS]
    return tuple(
        MeterCheck(name=name, kind=kind, step=step, unit=unit, group=f"{kind} {bool(step)}",
                   low=2.1, high=2.4, expected=2.2,
                   words=Instruction(f"Take the {kind} of {bool(step)}, wait until the meter is steady.", STILL))
        for name, kind, step, unit in said
    )  # fmt: skip


@cache
def sheets_of(case="small"):
    plan = plan_of(case)
    made = steps(plan)
    return PlanSheets(
        job_name="mill_race",
        made_on=DAY,
        plan=plan,
        steps=made,
        checks=checks_for(made),
        drawing_svg=picture(),
        summary=SUMMARY,
    )


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """Writes each case once on each paper."""
    folder = tmp_path_factory.mktemp("sheets")
    return cache(lambda case, paper: write_pdf(sheets_of(case), folder / f"{case} {paper}.pdf", paper))


EACH = pytest.mark.parametrize("case, paper", [
    ("small", "A4"), ("small", "Letter"), ("long", "A4"), ("jumpers", "Letter"), ("most teeth", "Letter"),
    ("most teeth", "A4"),
])  # fmt: skip


@EACH
def test_every_page_has_the_size_of_the_paper_and_carries_name_date_and_number(printed, case, paper):
    path = printed(case, paper)
    told = dict(line.split(":", 1) for line in poppler("pdfinfo", path).splitlines())
    width, height = map(float, re.findall(r"[0-9.]+", told["Page size"])[:2])
    assert (width, height) == pytest.approx(PAPERS_PT[paper], abs=0.01)
    pages = pages_of(path)
    assert len(pages) == int(told["Pages"]) >= 4
    for number, page in enumerate(pages, start=1):
        assert page.count("mill_race") == 2
        assert page.endswith(f"mill_race 2026-06-01 · computed, not certified page {number} of {len(pages)}")


@EACH
def test_nothing_of_the_plan_is_missing(printed, case, paper):
    sheets, pages = sheets_of(case), [squeezed(page) for page in pages_of(printed(case, paper))]
    whole = "".join(pages)
    summary = sheets.summary
    for words in (summary.found, summary.wanted, summary.promise, *summary.cautions, *summary.assumed,
                  *summary.materials):  # fmt: skip
        assert squeezed(words) in pages[0]
    assert "CAUTION" in pages[0]
    at = 0
    for step in sheets.steps:  # in the order of the work
        at = whole.index(squeezed(step.words.text), at)
    for group in check_groups(sheets.checks, sheets.plan.wired):
        assert all(squeezed(check.words.text) in whole[at:] for check in (*group.looks, *(r.check for r in group.rows)))


@EACH
def test_a_row_stays_on_its_page_and_every_page_of_a_table_has_its_header(printed, case, paper):
    sheets, pages = sheets_of(case), pages_of(printed(case, paper))
    step_pages, check_pages = titled(pages, "Steps"), titled(pages, "Meter checks")
    assert step_pages and check_pages and len(step_pages) + len(check_pages) == len(pages) - 2
    assert all(page.count("Step Done What to do") == 1 for page in step_pages)
    assert all("No." in page and "From To" in page for page in check_pages)
    whole = [squeezed(page) for page in step_pages]
    assert all(sum(page.count(squeezed(row.words.text)) for page in whole) == 1 for row in sheets.steps)


@EACH
def test_each_caution_of_the_steps_is_said_once_above_them_and_in_few_words_beside_its_step(printed, case, paper):
    sheets, pages = sheets_of(case), pages_of(printed(case, paper))
    told, every = squeezed(" ".join(titled(pages, "Steps"))), [step.words for step in sheets.steps]
    for exposure in exposures_of(every):
        assert told.count(squeezed(exposure.sentence)) == 1
        rows = sum(exposure in words.exposures for words in every)
        # What every row shares is not said again in the rows.
        assert told.count(squeezed(exposure.tag)) == (rows if rows < len(every) else 0), exposure


@EACH
def test_there_is_a_box_to_tick_for_every_step_and_every_check(printed, case, paper):
    sheets, pages = sheets_of(case), pages_of(printed(case, paper))
    ticks = {title: sum(page.count(TICK_BOX) for page in titled(pages, title)) for title in ("Steps", "Meter checks")}
    assert ticks == {"Steps": len(sheets.steps), "Meter checks": len(sheets.checks)}


@EACH
def test_no_word_reaches_over_the_margins(printed, case, paper):
    outside, count = words_outside(printed(case, paper))
    assert outside == [] and count > 300


def test_a_step_says_which_checks_follow_and_the_first_page_of_steps_which_come_before(printed):
    sheets, pages = sheets_of("small"), pages_of(printed("small", "A4"))
    said = " ".join(titled(pages, "Steps"))
    # By hand: two checks before the work; a look after the cuts are parted; four checks after the last step.
    assert wording("Before step 1: meter checks") in said
    parted = next(step for step in sheets.steps if step.check == "parted")
    last = "; ".join(each.tag for each in (Exposure.MAGNETS, Exposure.TURNING, Exposure.VOLTS))
    assert (
        f"{parted.words.text} ⚠ {Exposure.SHARP.tag} Then: look, as the meter checks say after step {parted.number}."
    ) in said
    assert f"{sheets.steps[-1].words.text} ⚠ {last} Then: meter checks 3 to 6." in said
    listed = " ".join(titled(pages, "Meter checks"))
    assert (
        f"1 lead A lead B 2.1 to 2.4 Ω {TICK_BOX}" in listed
        and f"{TICK_BOX} After step {parted.number}. Take" in listed
    )


@pytest.mark.parametrize("name", [EXAMPLES[0], *(pytest.param(name, marks=pytest.mark.slow) for name in EXAMPLES[1:])])
@pytest.mark.parametrize("layout", LAYOUTS)
def test_page_and_print_count_and_number_the_same_checks(tmp_path, name, layout):
    job = write_example(tmp_path, name)
    plan = chosen_plan(job, layout)
    panel = MeterChecks(job, plan)
    pages = titled(pages_of(write_sheets(job, plan)), "Meter checks")
    counted = [
        re.search(pattern, words)[1]
        for pattern, words in (
            (r"0 of (\d+) checks are read", panel.sentence),
            (r"(\d+) checks with a number", " ".join(pages)),
        )
    ]
    assert counted[0] == counted[1]
    # The last number of both tables is that count, and belongs to the same check.
    last = cells(panel.plan_table.value)[-1]
    assert last[1] == counted[0] and f"{' '.join([last[1], *last[4:7]])} {TICK_BOX}" in " ".join(pages)


@pytest.mark.parametrize("size", [(400, 400), (200, 900), (900, 200)], ids=["square", "tall", "wide"])
def test_the_drawing_is_whole_on_its_page_whatever_its_shape(tmp_path, size):
    path = write_pdf(replace(sheets_of(), drawing_svg=picture(*size, word="Ω−corner")), tmp_path / "a.pdf", "Letter")
    drawing = pages_of(path)[1]
    # 9 slots and 12 poles, 3 in series to 3 paths: both wires in each of three phases are cut, worked out by hand.
    assert drawing.startswith(wording("Drawing mill_race 1 in series"))
    assert drawing.count("Ω−corner") == 3
    assert words_outside(path)[0] == []


def test_fonts_travel_with_the_file(printed):
    rows = poppler("pdffonts", printed("small", "A4")).splitlines()[2:]
    assert len(rows) == 2 and all("DejaVuSans" in row for row in rows)
    # Columns before the object number: embedded, subset, with a table back to Unicode.
    assert all(row.split()[-5:-2] == ["yes", "yes", "yes"] for row in rows)


def test_the_same_sheets_are_the_same_file(tmp_path, monkeypatch):
    first = write_pdf(sheets_of(), tmp_path / "first.pdf").read_bytes()
    later = time.time() + 90_000.0
    monkeypatch.setattr(time, "time", lambda: later)
    assert write_pdf(sheets_of(), tmp_path / "second.pdf").read_bytes() == first
    assert re.search(r"CreationDate: +D:20260601000000Z", poppler("pdfinfo", "-rawdates", tmp_path / "second.pdf"))


def test_newer_sheets_replace_the_old_ones(tmp_path):
    path = write_pdf(sheets_of(), tmp_path / "plan.pdf")
    before = path.read_bytes()
    assert write_pdf(replace(sheets_of(), made_on=date(2026, 6, 2)), str(path)) == path
    assert path.read_bytes() != before and {each.name for each in tmp_path.iterdir()} == {"plan.pdf", ".lock"}


@pytest.mark.parametrize("paper", ["A5", "a4", None, ["A4"]])
def test_an_unknown_paper_is_refused_and_the_old_file_stays(tmp_path, paper):
    path = tmp_path / "plan.pdf"
    path.write_bytes(b"old")
    with pytest.raises(BadInput, match=exactly(f"paper: {paper!r} was given; A4 or Letter is allowed; "
                                               "choose one of them.")):  # fmt: skip
        write_pdf(sheets_of(), path, paper)
    assert path.read_bytes() == b"old"
    assert {each.name for each in tmp_path.iterdir()} <= {"plan.pdf", ".lock"}


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(BadInput, match=exactly(
        wording('gone: the folder cannot be')
    )):  # fmt: skip
        write_pdf(sheets_of(), tmp_path / "gone" / "plan.pdf")


def test_a_folder_in_the_files_place_is_refused(tmp_path):
    (tmp_path / "plan.pdf").mkdir()
    with pytest.raises(BadInput, match=exactly(
        f"{tmp_path.name}/plan.pdf: it is a link or a folder; a plain file is allowed; put the file itself there."
    )):  # fmt: skip
        write_pdf(sheets_of(), tmp_path / "plan.pdf")


def test_another_ending_is_refused(tmp_path):
    with pytest.raises(BadInput, match=exactly(
        wording("sheets: the name 'job.json' was")
    )):  # fmt: skip
        write_pdf(sheets_of(), tmp_path / "job.json")


@pytest.mark.parametrize("changes, sentence", [
    ({"made_on": 2026}, wording('date of the sheets: 2026')),
    ({"steps": ()}, wording('sheets: no steps were given')),
    ({"drawing_svg": ""}, wording('sheets: no drawing was given')),
    ({"checks": (MeterCheck(name="B1", kind="ohms", step=99, words=Instruction("Read.", STILL)),)},
     wording('sheets: check B1 belongs after')),
])  # fmt: skip
def test_sheets_that_do_not_belong_together_are_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence.format(last=len(sheets_of().steps)))):
        replace(sheets_of(), **changes)


def test_sheets_without_checks_end_with_the_steps(tmp_path):
    path = write_pdf(replace(sheets_of(), checks=()), tmp_path / "plan.pdf")
    pages = pages_of(path)
    assert titled(pages, "Steps")[-1] == pages[-1] and "meter checks" not in " ".join(pages)


def test_a_row_longer_than_a_page_goes_on_below_and_loses_nothing(tmp_path):
    one = sheets_of().steps[0]
    ends = ", ".join(f"{number}F" for number in range(1, 1000))
    words = Instruction(f"{ends}.", (Exposure.SHARP,))
    sheets = replace(sheets_of(), checks=(), steps=(replace(one, words=words), replace(one, number=2)))
    path = write_pdf(sheets, tmp_path / "plan.pdf", "Letter")
    pages = titled(pages_of(path), "Steps")
    found = re.findall(r"\d+F", " ".join(pages))
    assert found == [f"{number}F" for number in range(1, 1000)]
    assert sum(page.count(TICK_BOX) for page in pages) == 2 and "goes on" in " ".join(pages)
    assert words_outside(path)[0] == []


@pytest.mark.parametrize("typed, shown", [
    ("mill_race", "mill_race"),
    ("Zoë's 3 Ω coil, −10°, ½ ☐", "Zoë's 3\xa0Ω coil, −10°, ½ ☐"),
    ("two\nlines\tand  blanks ", "two lines and blanks"),
    ("bell\x07 zero-width\u200b turned\u202e soft\xadhyphen", "bell zero-width turned softhyphen"),
    ("山 and half a pair \ud83d", "? and half a pair ?"),
    ("{nb} **bold** __it__ --x-- [a](b)", "{nb} **bold** __it__ --x-- [a](b)"),
    ("", ""),
])  # fmt: skip
def test_what_the_fonts_lack_is_a_question_mark_and_control_characters_vanish(typed, shown):
    assert printable(typed) == shown


@cache
def font_tables():
    from fontTools.ttLib import TTFont

    return [TTFont(path).getBestCmap() for path in font_files().values()]


ANYTHING = st.text(st.characters(exclude_categories=()), max_size=60)


@given(ANYTHING)
def test_only_what_both_fonts_have_is_printed(typed):
    shown = printable(typed)
    assert all(ord(each) in table for each in shown for table in font_tables())
    assert not any(category(each) in ("Cc", "Cf", "Cs") for each in shown)
    assert printable(shown) == shown


@settings(max_examples=6)
@given(ANYTHING, ANYTHING)
def test_whatever_was_typed_is_printed_within_the_margins(name, note):
    with tempfile.TemporaryDirectory() as folder:
        summary = replace(SUMMARY, found=note, cautions=(note, "Bank off."))
        path = write_pdf(replace(sheets_of(), job_name=name, summary=summary, checks=()), Path(folder) / "a.pdf")
        pages = pages_of(path)
        assert "2026-06-01 · computed, not certified" in pages[0] and words_outside(path)[0] == []


def test_a_long_name_is_cut_and_typed_marks_stay_marks(tmp_path):
    name = "{nb} **" + "W" * 300
    note = "**x** {nb} " + "y" * 300
    path = write_pdf(replace(sheets_of(), job_name=name, summary=replace(SUMMARY, found=note)), tmp_path / "a.pdf")
    pages = pages_of(path)
    assert all(page.count("{nb} **WW") == 2 and page.count("W…") == 2 for page in pages)
    assert squeezed(note) in squeezed(pages[0]) and words_outside(path)[0] == []


def test_cautions_stay_in_one_box_on_one_page(tmp_path):
    long = ("This may hurt. " * 20).strip()
    summary = replace(SUMMARY, found="A long note. " * 150, cautions=(long,) * 6)
    pages = pages_of(write_pdf(replace(sheets_of(), summary=summary), tmp_path / "a.pdf"))
    assert [page.count("This may hurt.") for page in pages[:2]] == [0, 120] and "CAUTION" in pages[1]


def test_materials_of_a_small_stator_are_as_counted_by_hand():
    # By hand, 9 teeth, 3 in series to 3 paths, circle of 100 mm. Each lead: 2 ends and its cable, 3 joints, and wire
    # past teeth three apart, 2/3 π 100 + 60 = 269 mm. Star point: 6 ends and what is left of it, 7 joints, and
    # 8/9 π 100 + 60 = 339 mm. 3 × 3 + 7 = 16 joints; ties 16 + 3 × 2 + 3 = 25. 10 A / 4 A/mm² = 2.5 mm².
    plan = plan_of("small", diameter_mm=100.0)
    lead, star = "0.27 m", "0.34 m"
    said = materials(plan, 3.3, 10.0)
    assert said[1] == (
        f"To bring ends together: 2.5 mm² for at most 10.0 A rms: lead A {lead}, lead B {lead}, lead C {lead}, "
        f"star point {star}."
    )
    assert said[2] == wording("Soldered joints: 16. Sleeves: 16")
    assert said[3] == wording("Ties of lacing cord or")


@pytest.mark.outside(
    "standard section above 1.05 mm²",
    source="IEC 60228, tables 1 to 3",
    number="1.5 mm²",
    tolerance="exact",
    seen="in a reproduction",
)
def test_jumpers_are_counted_measured_and_given_a_wire():
    plan = plan_of("jumpers")
    # 4.2 A / 4 A/mm² = 1.05 mm².
    words = next(each for each in materials(plan, 4.2, 12.6) if each.startswith("Jumpers"))
    total = sum(plan.jumper_mm) / 1000.0
    assert len(plan.joins) > 0 and total > 1.0
    wire = f"Jumpers: {len(plan.joins)}, 1.5 mm² for at most 4.2 A rms in each path"
    assert words.startswith(f"{wire}; {total:.2g} m in all, ")
    unknown = materials(plan_of("jumpers", diameter_mm=None), 4.2, 12.6)
    lacking = [each for each in unknown if "diameter not given, measure the jumper at the stator" in each]
    assert len(lacking) == 2 and not any(" m in all" in each for each in unknown)


@pytest.mark.outside(
    "gauges that are no thinner than 2.5 and 35 mm²",
    source="ASTM B258, table of areas",
    number="AWG 12 of 3.31, 14 of 2.08, 1 of 42.4, 2 of 33.6 mm²",
    tolerance="exact",
    seen="from memory",
)
def test_us_readers_get_feet_and_gauges_and_strong_currents_several_wires():
    plan = plan_of("small", diameter_mm=100.0)
    # 0.269 m / 0.3048 = 0.88 ft.
    said = in_us(materials, plan, 3.3, 10.0)
    assert wording("2.5 mm² or AWG 12") in said[1]
    assert said[3].endswith("every 3.9 in of wire.")
    # 330 A on three wires, 110 A each, 27.5 mm², next size 35 mm².
    assert wording("3 × 35 mm² or") in in_us(materials, plan, 110.0, 330.0)[1]


def test_nothing_to_do_needs_no_wire():
    plan = plan_of("small")
    same = cut_and_join(plan.found, plan.found.grouping)
    assert materials(same, 1.0, 1.0) == (wording("No wire and no solder"),)


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    """The example; nothing is written to it."""
    return write_example(tmp_path_factory.mktemp("jobs"))


@pytest.fixture(scope="module")
def summary(job):
    return summary_of(job, chosen_plan(job))


def chosen_plan(job, layout="neighbours"):
    facts = job.stator
    return cut_and_join(facts.to_found_wiring(), choice_of(job).to_grouping(), layout, facts.diameter_mm)


def test_the_summary_says_what_the_job_holds(job, summary):
    made, choice = summary, choice_of(job)
    assert made.found == wording("36 slots, 48 magnet poles")
    assert made.wanted.startswith(f"{choice.to_grouping().label}, each path of neighbouring coils: ")
    assert f"About {choice.dc_watts:.0f} W ({choice.dc_amps:.1f} A)" in made.promise
    machine = machine_from(job)
    watts, amps = (with_plus_minus(machine, choice.to_grouping())[name] for name in ("bank_watts", "dc_amps"))
    assert f" ± {str(watts).split(' ± ')[1]} (± {str(amps).split(' ± ')[1]}) with what is assumed" in made.promise
    assert "Over the year" not in made.promise
    assert "Runner efficiency" in made.assumed and not any("[" in each for each in made.assumed)


def test_a_choice_made_by_the_year_says_its_energy_in_one_line(tmp_path):
    job = write_example(tmp_path)
    by_year = {"year_kwh": 3204.1, "year_plus_minus_kwh": 412.0}
    job.save_part("choice", choice_of(job).model_copy(update=by_year))
    assert wording("Over the year that was") in summary_of(job, chosen_plan(job)).promise


@pytest.mark.outside(
    "volts between leads of twelve coils in series, star, swung at 200 rpm",
    source="exact: √3 × 12 × 0.019294 V/rpm × 200 rpm, magnets 20 K colder",
    number="83.4 V",
    tolerance="as printed",
    seen="derived",
)
def test_the_cautions_carry_the_job_s_own_volts(job, summary):
    cautions = summary.cautions
    choice = choice_of(job)
    # × 1.04 for magnets at 0 °C.
    assert any(wording("about 83 V rms when") in each for each in cautions)
    runaway = next(each for each in cautions if each.startswith("As chosen, running away"))
    assert f"{choice.runaway_line_volts_rms:.0f} V AC line rms" in runaway and "can kill" in runaway
    said = " ".join(cautions)
    for word in ("fuse pulled", "leads off the rectifier", "rotor out or tied", "fumes", "Sleeve every joint",
                 "clear of the rotor", "measure the insulation", "electrical code", "licensed person"):  # fmt: skip
        assert word in said


def test_the_cautions_tell_the_volts_when_the_guard_of_a_wind_rotor_fails(tmp_path, summary):
    job = write_example(tmp_path, "ridge_rotor")
    choice = choice_of(job)
    said = next(each for each in summary_of(job, chosen_plan(job)).cautions if each.startswith("As chosen"))
    assert choice.unguarded_dc_volts_peak > 4 * choice.runaway_dc_volts_peak
    assert f"; {choice.unguarded_dc_volts_peak:.0f} V DC peak if furling from a wind of 8 m/s at the hub fails" in said
    # A jet has no guard, so there is nothing that could fail.
    assert not any(" fails" in each for each in summary.cautions if each.startswith("As chosen"))


def test_the_summary_speaks_the_reader_s_units_and_says_first_that_a_choice_is_not_written(tmp_path, summary):
    job = write_example(tmp_path)
    plan, choice = chosen_plan(job), choice_of(job)
    assert not any(" ft" in each for each in summary.materials)
    assert summary.cautions[0].startswith(wording("No grouping is written to"))
    job.save_part("reader", ReaderPart(units="US"))
    job.save_part("choice", choice)
    again = in_us(summary_of, job, plan)
    assert any(" ft" in each for each in again.materials)
    assert not any(re.search(r"\d m\b", each) for each in again.materials)
    assert not any("No grouping is written" in each for each in again.cautions)


def test_a_delta_whose_open_corner_was_not_measured_says_so_in_the_caution_box(tmp_path):
    words = wording("The open corner of this")
    job = write_example(tmp_path)
    for connection, said in (("delta", True), ("star", False)):
        job.save_part("choice", choice_of(job).model_copy(update={"connection": connection}))
        assert any(words in each for each in summary_of(job, chosen_plan(job)).cautions) is said


def test_a_plan_for_another_grouping_is_refused(job):
    other = Grouping(series=1, parallel=12, connection="star")
    plan = cut_and_join(job.stator.to_found_wiring(), other)
    with pytest.raises(BadInput, match=exactly(
        f"sheets: the plan makes 1 in series, 12 paths, star; the grouping chosen is "
        f"{choice_of(job).to_grouping().label}; plan again, or choose again on page 04_choose_a_grouping."
    )):  # fmt: skip
        summary_of(job, plan)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_whole_summary_of_an_example_fits_on_one_page_of_either_paper(name, tmp_path):
    job = write_example(tmp_path, name)
    plan = chosen_plan(job)
    made = steps(plan)
    sheets = replace(sheets_of(), plan=plan, steps=made, checks=checks_for(made), summary=summary_of(job, plan))
    for paper in PAPERS_PT:
        pages = pages_of(write_pdf(sheets, tmp_path / f"{paper}.pdf", paper))
        assert [page.split()[0] for page in pages[:3]] == ["Summary", "Drawing", "Steps"]
