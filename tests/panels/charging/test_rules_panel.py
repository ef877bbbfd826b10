"""Panel of the rules: tried by hand they remember, a copy is edited, nonsense is one sentence at its cell."""

import pytest

from samples.pages import refused
from statorbook.assembly.charging import charging_from
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.panels.charging.page import ChargingPage
from statorbook.panels.charging.rules import RELAYS, RULES, RulesPanel


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    for log in (RULES, RELAYS):
        made.save_log(log, [])
    return made


@pytest.fixture
def panel(job):
    return RulesPanel(ChargingPage(job))


def holding(panel):
    """Rules that hold now."""
    return [row[0] for row in panel.shown_answer.table.rows if row[1]]


def on(panel):
    """What is on now, in words."""
    return panel.shown_answer.headline["on"]


def test_each_rule_stands_in_words_and_the_bench_is_quiet_at_first(panel):
    rows = panel.shown_answer.table.rows
    assert len(rows) == len(panel.page.plan().rules.rules)
    assert all(row[2].endswith(".") for row in rows)
    assert holding(panel) == ["house_on"]
    assert on(panel) == "inverter"


def test_the_bench_remembers_until_it_is_switched_off(panel):
    rule = next(rule for rule in panel.page.plan().rules.rules if rule.name == "dump_1_full")
    volts = panel.bench.fields["bank_volts"]
    volts.value = str(rule.on_at)
    assert "dump_1_full" in holding(panel)
    volts.value = str(round(0.5 * (rule.on_at + rule.off_at), 2))
    panel.again()
    assert "dump_1_full" in holding(panel)
    panel.restart()
    assert "dump_1_full" not in holding(panel)
    assert on(panel) == "inverter"


def test_time_passes_only_by_the_bench(panel):
    volts = panel.bench.fields["bank_volts"]
    with panel.together():
        panel.bench.lasting.value = 1.0
        volts.value = "10"
        panel.restart()
    assert "bank_low" not in holding(panel)
    for _ in range(40):
        panel.redraw()
    assert "bank_low" not in holding(panel)
    for _ in range(40):
        panel.again()
    assert "bank_low" in holding(panel)


@pytest.mark.parametrize(("field", "text"), [("bank_volts", "full"), ("cell_c", "1e9"), ("speed_rpm", "")])
def test_nonsense_on_the_bench_keeps_the_last_answer(panel, field, text):
    good = panel.shown_answer
    panel.bench.fields[field].value = text
    assert refused(panel)
    assert panel.shown_answer is good and panel.message.last_fault == ""


def test_a_copy_is_edited_and_counts_for_the_page(panel, job):
    panel.copy_ready()
    assert len(job.read_log(RULES)) == len(panel.shown_answer.table.rows)
    assert charging_from(job.read()).rules.words == ""
    names = [row["rule"] for row in panel.grids[RULES].rows()]
    cell = panel.grids[RULES].row(names.index("dump_1_full") + 1).cells["least_on_s"]
    cell.value = "300"
    rules = {rule.name: rule for rule in panel.page.plan().rules.rules}
    assert rules["dump_1_full"].least_on_s == 300.0
    cell.value = "0.01"
    assert "one scan" in refused(panel)
    assert "one scan" in panel.grids[RULES].row(names.index("dump_1_full") + 1).sentence.value
    panel.grids[RULES].undo()
    assert "one scan" not in panel.sentence


def test_a_relay_taken_away_is_told_at_the_rules_that_need_it(panel):
    panel.copy_ready()
    before = panel.grids[RELAYS].rows()
    panel.grids[RELAYS].remove_row(1)
    names = [row["rule"] for row in panel.grids[RULES].rows()]
    at = names.index("dump_1_full") + 1
    assert "has no relay" in panel.grids[RULES].row(at).sentence.value
    panel.grids[RELAYS].undo()
    assert panel.grids[RELAYS].rows() == before
    assert "has no relay" not in panel.grids[RULES].row(at).sentence.value


def test_it_speaks_us(panel):
    panel.in_units("US")
    assert "68 °F" in panel.sentence
    assert panel.bench.fields["cell_c"].value == "68"
    panel.bench.fields["cell_c"].value = "30"
    assert "too_cold" in holding(panel)


def test_the_example_s_rules_are_not_copied_into_another_job(job, panel):
    panel.page.shown.notice = "This page shows the example."
    with pytest.raises(BadInput, match="not your own"):
        panel.copy_ready()
    assert job.read_log(RULES) == []
    panel.redraw()
    assert panel.sentence.startswith(f"Job {job.name}, not your own: ")
