"""The slider of chapter 04: stops in the order of u, the wall between the right ones, and it stays where it was put."""

from dataclasses import replace

import numpy as np
import pytest

from samples.job_samples import sample, without_year
from statorbook.assembly.machine import machine_from
from statorbook.choice.comparison import compare
from statorbook.job.parts.registry import BankPart
from statorbook.panels.choice.choose import ChoosePanel
from statorbook.panels.choice.grouping_slider import GroupingSlider
from statorbook.winding.stator import Stator

EXAMPLES = ("spring_pipe", "ridge_rotor", "shed_pedals")
BACK, MOST = "Back to the recommended one", "Show the most watts, whatever the volts"


@pytest.fixture(scope="module")
def machines(tmp_path_factory):
    """The machines of the three examples."""
    folder = tmp_path_factory.mktemp("data")
    return {name: machine_from(without_year(folder, name)) for name in EXAMPLES}


@pytest.fixture
def panel(tmp_path):
    return ChoosePanel(without_year(tmp_path))


def compared(machine, **setting):
    """Comparison of a machine, with another setting where one is given."""
    setting = replace(machine.setting, **setting)
    return compare(machine.stator, machine.coil, machine.drive, machine.bank, setting)


def shown(machine, **setting):
    """The slider after it has shown a comparison, and that comparison."""
    slider, found = GroupingSlider(machine), compared(machine, **setting)
    slider.show(found)
    return slider, found


def ratio(grouping, bank_volts=12.0, coil_v_per_rpm=0.05, speed_rpm=300.0):
    """u by hand: DC volts over the peak of the volts between two leads; delta 1, star √3 times a phase's."""
    phase = grouping.series * coil_v_per_rpm * speed_rpm
    line = phase * (np.sqrt(3.0) if grouping.connection == "star" else 1.0)
    return bank_volts / (np.sqrt(2.0) * line)


@pytest.mark.outside(
    "line volts over phase volts of star and delta",
    source="IEC 60050-141-03-08 and 141-03-10",
    number="√3, 1",
    tolerance="the order of all groupings",
    seen="from memory",
)
@pytest.mark.parametrize("slots, poles", [(36, 48), (42, 56), (12, 10), (3, 2), (72, 96)])
def test_every_legal_grouping_is_a_stop_in_the_order_of_u(machines, slots, poles):
    stator = Stator(slots=slots, poles=poles)
    slider = GroupingSlider(replace(machines["spring_pipe"], stator=stator))
    along = [ratio(grouping) for grouping in slider.groupings]
    assert along == sorted(along) and len(set(along)) == len(along)
    assert set(slider.groupings) == set(stator.groupings()) and len(slider.groupings) == len(stator.groupings())
    assert slider.stops == [grouping.label for grouping in slider.groupings]


@pytest.mark.outside(
    "volts of a lead pair of twelve groupings, in those of a coil",
    source="exact: coils in series, times √3 in star",
    number="20.8, 12, 10.4, 6.9, 6, 5.2, 4, 3.5, 3, 2, 1.7, 1",
    tolerance="the order",
    seen="derived",
)
def test_star_and_delta_stand_in_their_true_order(machines):
    wanted = "12 star, 12 delta, 6 star, 4 star, 6 delta, 3 star, 4 delta, 2 star, 3 delta, 2 delta, 1 star, 1 delta"
    slider = GroupingSlider(machines["spring_pipe"])
    assert ", ".join(f"{each.series} {each.connection}" for each in slider.groupings) == wanted


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_stands_at_the_recommended_one_and_marks_it(machines, name):
    slider, found = shown(machines[name])
    assert slider.groupings[slider.marked] == found.recommended.grouping == slider.grouping
    assert "recommended" in slider.remarks[slider.marked] and slider.mark_words == "recommended"
    assert sum("recommended" in remark for remark in slider.remarks) == 1


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("accepted", [None, 40.0, 100.0, 150.0])
def test_the_wall_stands_between_the_last_above_the_accepted_volts_and_the_first_within(machines, name, accepted):
    machine = machines[name]
    slider, found = shown(machine, **({"accepted_dc_volts": accepted} if accepted else {}))
    limit = accepted or machine.setting.limit_dc_volts
    volts = [found.find(grouping).runaway.dc_volts_peak for grouping in slider.groupings]
    assert all(value > limit for value in volts[: slider.beyond])
    assert all(value <= limit for value in volts[slider.beyond :])
    assert [("above the volts you accept" in remark) for remark in slider.remarks] == [value > limit for value in volts]
    said = "left of the double line: above" if slider.beyond < len(volts) else "all of them are above"
    assert slider.note.startswith(f"Hatched, {said}" if "left" in said else f"Hatched: {said}")
    assert f"{said} the {limit:.0f} V DC that you accept with the bank gone." in slider.note


@pytest.mark.parametrize("accepted, all_above", [(5000.0, False), (1.0, True)])
def test_a_wall_before_all_or_behind_all_is_said(machines, accepted, all_above):
    slider, _ = shown(machines["spring_pipe"], accepted_dc_volts=accepted)
    assert slider.beyond == (12 if all_above else 0)
    said = "Hatched: all of them are above" if all_above else "All of them stay within"
    assert slider.note.startswith(f"{said} the {accepted:.0f} V DC that you accept with the bank gone.")


def test_where_nothing_suits_nothing_is_marked_and_every_stop_is_crossed_out(machines):
    machine = machines["spring_pipe"]
    stuck = replace(machine.setting.conditions, drag_nm=50.0)
    slider, found = shown(machine, conditions=stuck)
    assert (slider.marked, slider.crossed) == (-1, list(range(12)))
    assert slider.grouping == found.rows[0].grouping and slider.note.endswith("× rejected.")


def test_the_smallest_stator_has_its_two_stops(machines):
    slider, found = shown(replace(machines["shed_pedals"], stator=Stator(slots=3, poles=2)))
    assert len(slider.stops) == len(found.rows) == 2 and 0 <= slider.value < 2


def test_it_follows_the_recommended_one_until_it_is_moved(panel):
    first = panel.grouping.value
    panel.accepted.value = 600.0
    followed = panel.grouping.value
    # With 600 V accepted nothing stands in the way of the most watts, which here need more volts.
    assert followed < first and panel.grouping.marked == followed
    panel.grouping.value = 8
    panel.accepted.value = 64.0
    panel.drive.sliders["nozzle_mm"].value = 10.0
    panel.bank.value = panel.bank.options[1][1]
    assert panel.grouping.value == 8 and panel.grouping.stops[8] in panel.sentence
    assert panel.grouping.marked != 8


def test_moved_away_and_back_by_hand_it_stays(panel):
    first = panel.grouping.value
    panel.grouping.value = first + 1
    panel.grouping.value = first
    panel.accepted.value = 600.0
    assert panel.grouping.value == first != panel.grouping.marked


def test_one_press_leads_back_and_then_it_follows_again(panel):
    panel.grouping.value = 0
    panel.moves[BACK].click()
    assert (
        panel.grouping.value == panel.grouping.marked and panel.grouping.stops[panel.grouping.marked] in panel.sentence
    )
    panel.accepted.value = 600.0
    assert panel.grouping.value == panel.grouping.marked


def test_the_most_watts_are_one_press_away_and_there_it_stays(panel):
    panel.moves[MOST].click()
    most = panel.compared()[1].without_limit
    assert panel.grouping.grouping == most.grouping and most.grouping.label in panel.sentence
    at = panel.grouping.value
    panel.accepted.value = 100.0
    assert panel.grouping.value == at


def test_after_a_move_the_old_numbers_and_the_old_place_stay_in_sight(panel, monkeypatch):
    monkeypatch.setattr("statorbook.widgets.frame.when_at_rest", lambda call: call())
    panel.redraw()
    assert "Before:" not in panel.sentence_box.value
    old, place = panel.compared()[1].shown, panel.shown_answer.at
    panel.grouping.value -= 2
    said = panel.sentence_box.value
    assert f"Before: grouping {old.grouping.label}, power " in said
    assert f"bank gone {old.runaway.dc_volts_peak:.0f} V DC peak." in said
    ring = next(line for line in panel.curve.axes[0].lines if line.get_gid() == "before")
    assert ring.get_xydata().tolist() == [list(place)]
    new = next(line for line in panel.curve.axes[0].lines if line.get_gid() == "picked")
    assert new.get_xydata().tolist() == [list(panel.shown_answer.at)] != [list(place)]


def test_the_strip_follows_limit_and_drive(panel):
    before = panel.grouping.beyond, panel.grouping.crossed
    panel.accepted.value = 150.0
    assert panel.grouping.beyond < before[0]
    panel.drive.sliders["head_m"].value = 6.0  # slower water: fewer groupings charge at all
    assert len(panel.grouping.crossed) > len(before[1])


def test_while_the_drive_is_refused_the_slider_moves_and_the_sentence_says_why(panel):
    panel.drive.sliders["nozzle_mm"].value = 2.0
    assert panel.message.text.startswith("Not usable – runner and jet")
    panel.grouping.value = 3
    panel.moves[BACK].click()
    assert panel.message.text.startswith("Not usable – runner and jet") and panel.message.last_fault == ""
    panel.drive.sliders["nozzle_mm"].value = 14.0
    assert panel.message.text == "" and panel.grouping.stops[3] in panel.sentence and panel.grouping.value == 3


def test_a_move_of_the_grouping_alone_compares_nothing_again(tmp_path, monkeypatch):
    times = []

    def counted(*given):
        times.append(given)
        return compare(*given)

    monkeypatch.setattr("statorbook.choice.machine.compare", counted)
    monkeypatch.setattr("statorbook.panels.choice.by_year.other_choices", lambda *given: ())  # those at rest count not
    panel = ChoosePanel(without_year(tmp_path))
    for stop in (0, 5, 11, 5):
        panel.grouping.value = stop
    assert len(times) == 1
    panel.cold.value = panel.cold.value + 5.0
    assert len(times) == 2


@pytest.mark.outside(
    "paths of 42 slots with 56 poles",
    source="Bianchi and Dai Prè, Use of the star of slots, IEE Proc. Electric Power Applications 153(3), 2006",
    number="1, 2, 7 or 14, each in star and delta: 8",
    tolerance="exact",
    seen="from memory",
)
def test_a_24_v_wind_job_of_42_slots_and_56_poles(tmp_path):
    job = without_year(tmp_path, "ridge_rotor")
    job.save_part("stator", job.stator.model_copy(update={"slots": 42, "poles": 56}))
    job.save_part("coil", sample("coil"))
    job.save_part("bank", BankPart(nominal_volts=24.0, chemistry="AGM", capacity_ah=200.0))
    panel = ChoosePanel(job)
    assert len(panel.grouping.stops) == 8 and panel.message.text == ""
    for stop in range(8):
        panel.grouping.value = stop
        assert panel.grouping.stops[stop] in panel.sentence and panel.message.text == ""
