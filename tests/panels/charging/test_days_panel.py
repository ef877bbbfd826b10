"""Panel of the days: what is known is shown at once, the rest once worked out, and old days as old."""

import asyncio

import pytest

from samples.charging_samples import plan
from samples.coroutines import run_apart
from sentences import sentences_of
from statorbook.charging import DayRun, events
from statorbook.examples import jobs as example
from statorbook.job.parts.inverter import InverterPart
from statorbook.panels.charging import days as days_panel
from statorbook.panels.charging import known_days
from statorbook.panels.charging.days import CLEAR, DROP, DaysPanel
from statorbook.panels.charging.known_days import KnownDays
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


def drawn_until(panel):
    """Where the axis ends, and where what is drawn on it does [days]."""
    axes = panel.figure.axes[1]
    return axes.get_xlim()[1], max(line.get_xdata().max() for line in axes.lines if line.get_gid() == "charge")


async def at_rest(panel):
    """Wait until nothing is worked out any more."""
    while panel.slices.busy:
        await asyncio.sleep(0.01)


@pytest.fixture
def counted(monkeypatch):
    """The days that are simulated from here on, as the charge at their start and the day."""
    told, go_on = [], DayRun.go_on

    def counting(run):
        go_on(run)
        told.append((run.start_charge, run.days))

    monkeypatch.setattr(DayRun, "go_on", counting)
    return told


def test_a_move_shows_what_is_known_until_the_whole_is_there(page, monkeypatch, counted):
    monkeypatch.setattr(days_panel, "MOST_DAYS", 5)
    monkeypatch.setattr(days_panel, "AHEAD_DAYS", 0)

    async def moves():
        panel = DaysPanel(page)
        before = panel.shown_answer
        panel.days.value = 5.0
        more = panel.shown_answer
        assert panel.sentence.startswith(wording("so far").format(3)) and "In 3 days" in panel.sentence
        assert drawn_until(panel) == (5.0, pytest.approx(3.0, abs=0.02)) and more.busy and not more.aged
        panel.charge.value = 100.0
        panel.charge.value = 30.0
        other, shown = panel.shown_answer, panel.picture_box.value
        assert panel.sentence == f"{wording('worked out anew')}\n{before.sentence}" and other.busy and other.aged
        assert "grayscale" in shown and drawn_until(panel) == (5.0, pytest.approx(3.0, abs=0.02))
        assert panel.progress.value == 0.0 and panel.progress.layout.visibility == "visible"
        counted.clear()
        await at_rest(panel)
        assert {charge for charge, _ in counted} == {0.3}  # the charge that was moved over is not worked out
        assert "In 5 days" in panel.sentence and "from 30" in panel.sentence and not panel.shown_answer.aged
        assert "aria-busy" not in panel.sentence_box.value and not panel.shown_answer.busy
        assert "grayscale" not in panel.picture_box.value and panel.progress.layout.visibility == "hidden"
        assert panel.shown_answer.pictures[0] in panel.picture_box.value
        assert "lowest" in panel.shown_answer.before(before)

    run_apart(moves())


def test_the_next_moves_are_worked_out_while_the_hand_rests(page, monkeypatch, counted):
    monkeypatch.setattr(days_panel, "MOST_DAYS", 5)
    monkeypatch.setattr(days_panel, "AHEAD_DAYS", 9)  # three stops

    async def moves():
        panel = DaysPanel(page)
        await at_rest(panel)
        counted.clear()
        figure = panel.figure.svg
        panel.figure.svg = None  # nothing is drawn anew either
        for days in (5, 4, 1, 3):
            panel.days.value = days
            assert ("In one day" if days == 1 else f"In {days} days") in panel.sentence
        for charge in (75, 65, 60):
            panel.charge.value = charge
            assert f"from {charge}" in panel.sentence and not panel.shown_answer.aged
        assert counted == [] and panel.message.last_fault == ""
        assert {(run.start_charge, run.days) for run in panel.known.runs[:4]} == {
            (0.7, 5),
            (0.65, 3),
            (0.75, 3),
            (0.6, 3),
        }
        panel.figure.svg = figure

    run_apart(moves())


def test_one_more_move_like_the_last_is_ready_before_all_others(page, monkeypatch):
    monkeypatch.setattr(days_panel, "MOST_DAYS", 7)
    monkeypatch.setattr(days_panel, "AHEAD_DAYS", 0)

    async def moves():
        panel = DaysPanel(page)
        panel.days.value = 5
        await at_rest(panel)
        run = panel.known.of(panel.page.plan(), (), 0.7)
        assert list(run.answers) == [3, 5, 7, 4, 6, 2, 1]
        panel.charge.value = 75
        panel.charge.value = 80
        await at_rest(panel)
        assert {r.start_charge: list(r.answers) for r in panel.known.runs}[0.85] == [5]

    run_apart(moves())


def test_fewer_days_are_the_same_as_if_no_more_were_known(panel):
    panel.days.value = 3
    few = panel.shown_answer
    panel.charge.value = 55
    panel.days.value = 6
    panel.charge.value = 70
    panel.days.value = 3
    assert panel.sentence == few.sentence and panel.shown_answer.table == few.table


def test_the_oldest_runs_are_forgotten(monkeypatch):
    known, plans = KnownDays(1), [plan() for _ in range(50)]
    runs = [known.of(each, (), 0.5) for each in plans]
    assert known.of(plans[-1], (), 0.5) is runs[-1] and known.of(plans[-40], (), 0.5) is runs[-40]
    assert known.of(plans[-41], (), 0.5) is not runs[-41]
    monkeypatch.setattr(known_days, "MOST_DAYS_KEPT", 2)
    few = KnownDays(1)
    for charge in (0.1, 0.2, 0.3):
        while few.of(plans[0], (), charge).days < 1:
            few.of(plans[0], (), charge).go_on()
    assert [few.of(plans[0], (), charge).days for charge in (0.2, 0.3, 0.1)] == [1, 1, 0]


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
