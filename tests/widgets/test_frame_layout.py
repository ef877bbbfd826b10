"""How a panel is laid out: inputs beside the answer, folds that keep their state, what was before a move."""

import asyncio

import ipywidgets as W
import pytest

from samples.coroutines import run_apart
from statorbook.quantities.estimate import Estimate
from statorbook.quantities.unit_systems import say
from statorbook.widgets.answer import Answer
from statorbook.widgets.controls import slider
from statorbook.widgets.frame import Panel
from statorbook.widgets.table import Table

CURVES, TABLE = "Amps against speed", "Table: all rows"


class FoldedPanel(Panel):
    """A panel with inputs beside its answer, a folded picture and a folded table."""

    inputs_beside, picture_folds, table_fold = True, (CURVES, "Never shown"), TABLE

    def __init__(self):
        self.speed = slider("Speed", 100, 0, 1000, step=10, unit="rpm")
        self.drawn, self.fails = [], False
        super().__init__(inputs=[self.speed], actions={"Write it": lambda: None})

    def answer(self):
        if self.fails:
            raise ZeroDivisionError
        rpm = self.speed.value
        power = Estimate(value=2.0 * rpm, plus_minus=20.0, unit="W", how="test")
        return Answer(
            sentence=f"{power} at {rpm:.0f} rpm",
            headline={"power": power, "speed": f"{rpm:.0f} rpm", "head": say(30.0, "m"), "steps": "3"},
            pictures=("<svg>first</svg>",),
            folded={CURVES: lambda: self._draw(rpm)},
            table=Table(columns=("Speed",), rows=((rpm,),)),
            at=(rpm, 2.0 * rpm),
        )

    def _draw(self, rpm):
        self.drawn.append(rpm)
        return f"<svg>{rpm:.0f}</svg>"


@pytest.fixture
def panel():
    return FoldedPanel()


def within(box):
    """Every widget inside a box, in the order of the keyboard."""
    for child in box.children:
        yield child
        if isinstance(child, W.Box):
            yield from within(child)


def test_inputs_stand_before_the_answer_and_a_folded_table_under_both(panel):
    sides, table = panel.widget.children
    inputs, answer = sides.children
    assert inputs.children == (panel.speed,) and table is panel.table_box
    assert answer.children[:2] == (panel.sentence_box, panel.picture_box)
    assert panel.buttons["Write it"] in list(within(answer)) and panel.folds[CURVES] in answer.children


def test_without_it_everything_stands_below_each_other(panel):
    class Stacked(FoldedPanel):
        inputs_beside, table_fold = False, ""

    stacked = Stacked()
    assert stacked.widget.children[:4] == (stacked.speed, stacked.sentence_box, stacked.picture_box, stacked.table_box)


def test_a_folded_picture_is_drawn_only_while_it_is_open(panel):
    fold = panel.folds[CURVES]
    panel.speed.value = 200
    assert panel.drawn == [] and fold.value == "" and not fold.is_open
    fold.is_open = True
    assert panel.drawn == [200] and "<svg>200</svg>" in fold.value
    panel.speed.value = 300
    assert fold.is_open and "<svg>300</svg>" in fold.value
    fold.is_open = False
    panel.speed.value = 400
    assert panel.drawn == [200, 300]
    assert fold.name == CURVES and panel.folds["Never shown"].layout.display == "none"


def test_a_folded_table_is_named_and_keeps_its_state(panel):
    assert panel.table_box.name == TABLE and not panel.table_box.is_open
    panel.table_box.is_open = True
    panel.speed.value = 200
    assert panel.table_box.is_open and ">200<" in panel.table_box.value


def test_what_is_folded_is_greyed_with_the_rest_when_there_is_no_answer(panel):
    panel.folds[CURVES].is_open = panel.fails = True
    for _ in range(2):
        panel.redraw()
    assert panel.folds[CURVES].value.count("grayscale") == 1 and "<svg>100</svg>" in panel.folds[CURVES].value
    panel.folds[CURVES].is_open = False
    panel.folds[CURVES].is_open = True
    assert panel.folds[CURVES].value.count("grayscale") == panel.table_box.value.count("grayscale") == 1


def test_after_a_move_the_leading_numbers_that_moved_are_told_as_they_were(panel):
    assert "Before" not in panel.sentence_box.value
    panel.speed.value = 300
    for moved in ("power 200 ± 20 W", "speed 100 rpm"):
        assert moved in panel.sentence_box.value
    assert "30 m" not in panel.sentence_box.value
    assert panel.sentence.startswith("600 ")
    panel.redraw()
    assert "Before" not in panel.sentence_box.value


def test_in_other_units_nothing_counts_as_moved(panel):
    panel.in_units("US")
    assert "98" in panel.shown_answer.headline["head"] and "Before" not in panel.sentence_box.value


def test_a_line_is_kept_for_what_was_before(panel):
    """So that the caution under it does not jump."""
    before = panel.sentence_box.value.count("<div")
    panel.speed.value = 300
    assert panel.sentence_box.value.count("<div") == before


def test_while_a_slider_is_dragged_all_is_held_against_where_it_rested():
    async def dragged():
        panel = FoldedPanel()
        await asyncio.sleep(0.5)
        for rpm in (110, 120, 130):
            panel.speed.value = rpm
        said, place = panel.sentence_box.value, panel.rested.at
        await asyncio.sleep(0.5)
        return said, place, panel.rested.at

    said, place, rested = run_apart(dragged())
    assert "speed 100 rpm" in said and place == (100, 200.0) and rested == (130, 260.0)
