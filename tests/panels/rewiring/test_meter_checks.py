"""The panel of the meter checks, without a browser."""

import re
from html import unescape

import pytest

from samples.job_samples import sample
from samples.pages import cells, refused
from sentences import sentences_of
from statorbook.cautions import exposures_of
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.panels.rewiring.meter_checks import CAUTION, NO_COIL, NO_PLAN, MeterChecks
from statorbook.rewiring.checks.groups import check_groups
from statorbook.rewiring.plan import cut_and_join
from statorbook.widgets.answer import Answer
from statorbook.widgets.table import Table
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import found_wiring

wording = sentences_of("panels_rewiring")

FOUND = found_wiring(Stator(slots=36, poles=48), Grouping(series=12, parallel=1))
PLAN = cut_and_join(FOUND, Grouping(series=4, parallel=3))
LIMIT = wording("The limit of 5 %")


@pytest.fixture
def job(tmp_path):
    made = Job.create("mine", tmp_path)
    made.save_part("stator", sample("stator"))
    made.save_part("coil", sample("coil"))
    return made


def type_row(panel, number, **texts):
    for name, text in texts.items():
        panel.grid.row(number).cells[name].value = text


def sign(panel, number):
    return panel.grid.row(number).sign.value


def words_under(panel, number):
    return panel.grid.row(number).sentence.value


def on_disk(panel):
    return Job.open(panel.job.name, panel.job.folder.parent).read_log("checks")


def test_without_a_plan_it_says_where_to_go_and_keeps_readings(job):
    panel = MeterChecks(job)
    assert panel.sentence == NO_PLAN and panel.plan_table.value == "" and panel.message.text == ""
    assert not (job.folder / "checks.csv").exists()
    type_row(panel, 1, between="A-B")
    assert on_disk(panel)[0]["between"] == "A-B"
    panel.show(PLAN)
    assert panel.sentence.startswith(wording("0 of 43 checks are"))
    assert any(row[4:6] == ["1S", "25S"] for row in cells(panel.plan_table.value))
    panel.show(None)
    assert panel.sentence == NO_PLAN and panel.plan_table.value == ""


def test_without_constants_it_says_which_page(tmp_path):
    bare = Job.create("bare", tmp_path)
    assert MeterChecks(bare, PLAN).sentence == NO_COIL


# By hand: 3 pairs as found, 6 cuts, 9 paths in ohms and in volts, 6 gaps, then 3 pairs and 3 legs in ohms, insulation,
# 3 pairs in volts.
def test_a_new_log_names_the_first_check(job):
    panel = MeterChecks(job, PLAN)
    asked = [each for each in panel.checks if each.kind != "look"]
    assert len(asked) == 3 + 6 + 18 + 6 + 6 + 1 + 3
    assert panel.sentence == (
        f"0 of {len(asked)} checks are read, 0 agree. Nothing read so far speaks against going on. Next, "
        "before the first cut: A-B, 11.6 to 12.4 Ω."
    )
    assert LIMIT in unescape(panel.plan_table.value)
    assert panel.shown_answer.caution == CAUTION


def test_rows_are_kept_and_judged_one_by_one(job):
    panel = MeterChecks(job, PLAN)
    type_row(panel, 1, between="A-B", ohms="12.0")
    assert "✓ good" in sign(panel, 1) and panel.grid.row(1).sentence.layout.display == "none"
    type_row(panel, 2, between="A1", ohms="2.9")
    assert "! odd" in sign(panel, 2) and wording("A1 after step 9: 2.9") in words_under(panel, 2)
    type_row(panel, 3, between="A9", ohms="2")
    assert "✗ bad" in sign(panel, 3) and "checks log, row 3, Between" in words_under(panel, 3)
    assert wording("2 of 43 checks are") in panel.sentence
    assert wording("1 row cannot be used") in panel.sentence
    assert panel.sentence.endswith(wording("Find the reason before the"))
    assert [row["ohms"] for row in on_disk(panel)] == ["12.0", "2.9", "2"]


def test_a_path_that_differs_stops_the_work(job):
    panel = MeterChecks(job, PLAN)
    for number, (name, volts) in enumerate([("A1", "4.80"), ("A2", "4.78"), ("A3", "2.41")], 1):
        type_row(panel, number, between=name, speed_rpm="60", volts=volts)
    assert panel.sentence.endswith(wording("Stop: read the warning below"))
    assert panel.shown_answer.caution.startswith(wording("Do not join path A3"))
    type_row(panel, 3, volts="4.81")
    assert panel.shown_answer.caution == CAUTION and wording("Nothing read so far speaks") in panel.sentence


def test_a_counted_speed_leaves_a_doubt_that_hertz_settles(job):
    panel = MeterChecks(job, PLAN)
    type_row(panel, 1, between="A1", speed_rpm="60", volts="4.80")
    type_row(panel, 2, between="A2", volts="4.45")
    assert panel.sentence.endswith(wording("Settle the doubt below before"))
    assert wording("read again with the meter's") in panel.shown_answer.caution
    type_row(panel, 1, speed_rpm="24 Hz")
    assert panel.sentence.endswith(wording("Stop: read the warning below"))


@pytest.mark.outside(
    "copper's ohms at 40 °C over those at 20 °C",
    source="IEC 60034-1, resistance method",
    number="275/255: 12.94 for 12.0 Ω",
    tolerance="the band 12.5 to 13.4 Ω",
    seen="from memory",
)
def test_temperature_and_speed_move_the_bands(job):
    panel = MeterChecks(job, PLAN)
    panel.copper.value, panel.speed.value = "40", "120"
    assert "A-B, 12.5 to 13.4 Ω." in panel.sentence
    assert "at 120 rpm" in panel.plan_table.value
    panel.copper.value = "warm"
    assert refused(panel).startswith("Winding temperature today: ")
    panel.copper.value = "20"
    assert "A-B, 11.6 to 12.4 Ω." in panel.sentence


def test_the_plans_own_conditions_come_first(job):
    job.save_part("plan", sample("plan", copper_c=5.0, hand_rpm=90.0))
    panel = MeterChecks(job, PLAN)
    assert (panel.copper.read(), panel.speed.read()) == (5.0, 90.0)


def test_the_limit_comes_from_the_choice(job):
    job.save_part("choice", sample("choice", series=4, parallel=3, speed_rpm=600.0, dc_amps=3.0))
    assert wording("The limit is 4.2 %") in unescape(MeterChecks(job, PLAN).plan_table.value)


# By hand: 43 checks; three lead pairs as found, six cuts, nine paths in ohms, the same nine in volts, six joints before
# they close, three lead pairs and three legs, insulation, three lead pairs in volts, and the first spin with no row.
def test_each_group_says_once_what_to_do_and_then_has_a_row_for_each_check(job):
    table = MeterChecks(job, PLAN).plan_table.value
    bodies = [len(cells(body)) for body in table.split("<tbody>")[1:]]
    assert bodies == [3, 6, 9, 9, 6, 3, 3, 1, 3, 0]
    rows = cells(table)
    assert [row[1] for row in rows] == [str(number) for number in range(1, 44)]
    assert rows[0] == ["", "1", "before", "", "lead A", "lead B", "11.6 to 12.4 Ω", ""]
    path = next(row for row in rows if row[3] == "A1")
    assert path[4:6] == ["1S", "10F"]
    said = unescape(re.sub(r"<[^>]+>", "", table))
    for words in ("Cut ends bent apart", "Each path from end to end", "Put the rotor back", "insulation tester."):
        assert said.count(words) == 1, words


def test_every_group_has_its_cautions_the_first_time_in_whole_sentences(job):
    panel = MeterChecks(job, PLAN)
    heads = [unescape(re.sub(r"<[^>]+>", "", head)) for head in re.findall(r'<th scope="rowgroup".*?</th>',
                                                                          panel.plan_table.value)]  # fmt: skip
    told = set()
    for group, head in zip(check_groups(panel.checks, PLAN.wired), heads, strict=True):
        exposed = exposures_of([*(look.words for look in group.looks), *(row.check.words for row in group.rows)])
        assert exposed
        for exposure in exposed:
            assert (exposure.tag if exposure in told else exposure.sentence) in head, (group.title, exposure)
        told |= set(exposed)


def test_the_verdict_stands_first_in_its_row_and_words_only_below_what_is_odd(job):
    panel = MeterChecks(job, PLAN)
    type_row(panel, 1, between="A-B", ohms="12.0")
    type_row(panel, 2, between="B-C", ohms="15")
    rows = cells(panel.plan_table.value)
    assert rows[0][0] == "✓ good" and rows[0][-1] == "12 Ω"
    assert rows[1][0] == "! odd" and rows[1][-1] == "15 Ω"
    table = panel.plan_table.value
    below = re.findall(r'<tr><td style="[^"]*" colspan="8">(.*?)</td></tr>', table)
    assert len(below) == 1 and wording("B-C as found: 15 Ω") in below[0]
    assert table.index(">B-C as found") > table.index("lead C")


def test_the_finder_gets_only_readings_of_the_new_winding(job):
    seen = []

    def finder(readings):
        seen.append([each.probe.name for each in readings])
        return Answer(sentence="Fault: none.", table=Table(columns=("fault",), rows=(("none",),)))

    panel = MeterChecks(job, PLAN, finder=finder)
    assert seen == [] and "Fault" not in panel.sentence
    names = ["A-B", "10F-13S", "A1", "A-iron", "B-C"]
    for number, (name, ohms) in enumerate(zip(names, ["12.0", "OL", "2.0", "OL", "1.3"], strict=True), 1):
        type_row(panel, number, between=name, ohms=ohms)
    assert seen[-1] == ["A1", "B-C"] and panel.sentence.endswith("Fault: none.") and ">none<" in panel.table_box.value


def test_the_shipped_jobs_have_no_such_log_yet(tmp_path):
    job = example.write(tmp_path)
    assert "0 of 43 checks are read" in MeterChecks(job, PLAN).sentence
    assert not list(tmp_path.rglob("checks.csv"))


@pytest.mark.parametrize("junk", ["1,234", "<img src=x>", "١٢", '"', "a\nq", "999999999999", "1e309"])
def test_nonsense_is_kept_and_said(job, junk):
    panel = MeterChecks(job, PLAN)
    for name in ("between", "ohms", "volts", "speed_rpm"):
        type_row(panel, 1, between="A1", ohms="2.0", volts="4.8", speed_rpm="60")
        type_row(panel, 1, **{name: junk})
        assert on_disk(panel)[0][name] == junk and "✗ bad" in sign(panel, 1)
        assert "<img" not in words_under(panel, 1) and panel.message.last_fault == panel.grid.message.last_fault == ""
