"""Panel of the days: worked out anew at rest, what is dropped in counts, and old days are shown as old."""

import pytest

from sentences import sentences_of
from statorbook.charging import events
from statorbook.examples import jobs as example
from statorbook.job.parts.inverter import InverterPart
from statorbook.panels.charging import days as days_panel
from statorbook.panels.charging.days import CLEAR, DROP, DaysPanel
from statorbook.panels.charging.page import ChargingPage

wording = sentences_of("charging_days")


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return example.write(tmp_path_factory.mktemp("jobs"))


@pytest.fixture(scope="module")
def page(job):
    return ChargingPage(job)


@pytest.fixture
def panel(page):
    made = DaysPanel(page)
    made.days.value = 1
    return made


def drop(panel, kind, target="", *, day=1, hour=14.0, lasts=2.0):
    panel.kind.value = kind
    if target:
        panel.target.value = target
    panel.day.value, panel.hour.value, panel.lasts.value = day, hour, lasts
    panel.buttons[DROP].click()


def test_it_opens_on_days_with_a_verdict_and_a_closed_sum(panel):
    assert "In one day the bank" in panel.sentence and panel.message.last_fault == ""
    assert panel.shown_answer.pictures[0].startswith("<svg")
    rows = {row[0]: row[2] for row in panel.shown_answer.table.rows}
    assert rows["in all: the source"] == "100 %"
    shares = [int(share.split()[0]) for share in rows.values() if share != "–"]
    assert sum(shares) == pytest.approx(200, abs=5)  # parts, and all of them


def test_what_is_dropped_in_is_told_and_taken_out_again(panel):
    calm = panel.shown_answer
    drop(panel, events.TRIP, hour=14.0)
    assert wording("dropped in") in panel.sentence
    assert "The house goes without" in panel.sentence and panel.message.last_fault == ""
    drop(panel, events.TRIP, hour=14.0)
    assert panel.sentence.count("14:00") == 1
    panel.buttons[CLEAR].click()
    assert panel.sentence == calm.sentence


def test_the_second_list_follows_the_first(panel):
    for kind in events.KINDS:
        drop(panel, kind, hour=1.0, lasts=0.5)
    assert panel.message.last_fault == "" and panel.sentence.count("day 1, 1:00") == len(events.KINDS)
    panel.kind.value = events.WELDED
    assert "dump_1" in {value for _, value in panel.target.options}
    panel.kind.value = events.INPUT_HIGH
    assert panel.target.value == "bank_volts" and panel.target.layout.display is None
    panel.kind.value = events.FUSE
    assert panel.target.value == "" and panel.target.layout.display == "none"


def test_a_day_that_is_not_yet_there_makes_more_days(panel):
    drop(panel, events.NO_SOURCE, day=2, hour=0.0, lasts=24.0)
    assert panel.days.value == 2.0 and "In 2 days" in panel.sentence and "day 2, 0:00" in panel.sentence


def test_a_move_shows_the_old_days_as_old_until_the_new_ones_are_there(panel, monkeypatch):
    waiting = []
    panel.days.value = 4.0
    monkeypatch.setattr(days_panel, "when_at_rest", waiting.append)
    old = panel.shown_answer
    panel.charge.value = 100.0
    panel.charge.value = 30.0
    assert "worked out anew" in panel.sentence and old.sentence in panel.sentence
    assert panel.shown_answer.pictures == old.pictures and panel.progress.value == 0.0
    for call in waiting:  # the first is for a charge that nobody wants any more
        call()
    assert "from 30" in panel.sentence and "worked out anew" not in panel.sentence
    assert panel.progress.value == 1.0 and "lowest" in panel.shown_answer.before(old)


def test_what_another_panel_saves_counts(job, panel):
    kept = job.read().inverter
    job.save_part("inverter", InverterPart(house_on="nothing"))
    panel.page.tell()
    assert "The house" not in panel.sentence
    job.save_part("inverter", kept)
    panel.page.tell()
    assert "The house" in panel.sentence


def test_a_part_that_cannot_be_used_keeps_the_last_answer(job, panel):
    kept, good = job.read().set_points, panel.shown_answer
    job.save_part("set_points", type(kept)(absorption_volts=50.0, float_volts=57.0))
    panel.page.tell()
    assert panel.shown_answer is good and panel.sentence.startswith("Not usable – ")
    assert "\n" not in panel.sentence and panel.message.last_fault == ""
    job.save_part("set_points", kept)
    panel.page.tell()
    assert panel.sentence == good.sentence


def test_it_speaks_us(panel):
    drop(panel, events.COLD, hour=3.0)
    assert "air 20 K colder" in panel.sentence
    panel.in_units("US")
    assert "°C" not in panel.sentence and "air 36 °F colder" in panel.sentence and "gal" in panel.sentence
    assert any("36 °F colder" in words for words, _ in panel.kind.options) and panel.kind.value == events.COLD
