"""The base of every panel: order, guard, escaping, the last good answer."""

import asyncio
import re
from dataclasses import replace
from html import unescape

import ipywidgets as W
import pytest

from samples.coroutines import run_apart
from sentences import sentences_of
from statorbook.cautions import Exposure, Instruction
from statorbook.choice import Spread
from statorbook.errors import BadInput
from statorbook.quantities.unit_systems import say
from statorbook.widgets.answer import Answer
from statorbook.widgets.controls import NumberField, choice, slider, tick
from statorbook.widgets.frame import Panel
from statorbook.widgets.guard import MessageLine, in_plain_words
from statorbook.widgets.table import Table

wording = sentences_of("widgets")

PICTURE = '<svg role="img" aria-label="volts"></svg>'


class VoltsPanel(Panel):
    """A panel as small as can be."""

    def __init__(self):
        self.speed = slider("Working speed", 100, 0, 1000, step=10, unit="rpm")
        self.head = NumberField("Net head", "m", "30", above=0, at_most=300)
        self.note = W.Text(value="spring")
        self.written, self.calls = [], 0
        super().__init__(inputs=[[self.speed, self.head], self.note], picture_px=400, actions={"Write it": self.write})

    def write(self):
        if self.note.value == "full":
            raise OSError(28, "No space left on device")
        self.written.append(self.speed.value)
        self.message.say("Written.")

    def answer(self):
        self.calls += 1
        if self.speed.value == 500:
            raise ZeroDivisionError("float division by zero")
        volts = self.head.read() * self.speed.value / 100
        return Answer(
            sentence=f"{self.note.value}: {volts:.1f} V DC.",
            pictures=(PICTURE,),
            caution="Live parts.",
            table=Table(columns=("Note", "Volts [V]"), rows=((self.note.value, volts),)),
        )


@pytest.fixture
def panel():
    return VoltsPanel()


def shown(panel):
    return [getattr(child, "value", "") for child in panel.widget.children]


def test_the_order_is_inputs_sentence_picture_table_message(panel):
    inputs, note, sentence, picture, table, actions, message = panel.widget.children
    assert panel.speed in inputs.children and note is panel.note
    assert "spring: 30.0 V DC." in sentence.value and "Live parts." in sentence.value
    assert PICTURE in picture.value and "<table" in table.value
    assert [b.description for b in actions.children if isinstance(b, W.Button)] == ["Write it"]
    assert message is panel.message.widget


def test_a_move_redraws(panel):
    panel.speed.value = 200
    assert panel.sentence == "spring: 60.0 V DC."
    assert "60.0 V DC." in shown(panel)[2]


def test_the_picture_keeps_its_height(panel):
    assert panel.widget.children[3].layout.height == "408px"


def test_bad_input_is_one_sentence_and_the_last_good_answer_stays_marked(panel):
    panel.head.value = "12 V"
    _, _, sentence, picture, table, _, message = shown(panel)
    assert wording("Not usable – Net head: “12 V” was typed (voltage)") in message
    assert "Traceback" not in message
    assert "spring: 30.0 V DC." in sentence and wording("for the values before the") in sentence
    assert PICTURE in picture and "grayscale" in picture and "grayscale" in table
    # The reason stands above the picture too, before the old answer.
    assert sentence.index(wording("Not usable – Net head: “12 V” was typed")) < sentence.index("spring: 30.0 V DC.")
    assert panel.head.value == "12 V"
    assert panel.sentence.startswith("Not usable – Net head")


def test_a_good_value_takes_the_mark_away(panel):
    panel.head.value = "nonsense"
    panel.head.value = "20"
    _, _, sentence, picture, _, _, message = shown(panel)
    assert "before the last change" not in sentence and "grayscale" not in picture
    assert "Not usable" not in message
    assert panel.sentence == "spring: 20.0 V DC."


def test_a_fault_of_the_workbook_is_said_as_such(panel):
    panel.speed.value = 500
    assert panel.message.text == wording("This is a fault of the workbook, not of your input: float")
    assert "spring: 30.0 V DC." in shown(panel)[2]
    assert "ZeroDivisionError" in panel.message.last_fault


def test_a_panel_that_cannot_start_says_why():
    class Empty(Panel):
        def answer(self):
            raise BadInput("no reading is logged", "three are needed", "log them first", where="spin log")

    panel = Empty(inputs=[])
    assert "No result yet" in panel.widget.children[0].value
    assert panel.sentence == wording("Not usable – spin log")


def test_what_the_reader_types_is_escaped(panel):
    panel.note.value = "<script>alert(1)</script>"
    panel.head.value = "<img src=x onerror=alert(2)>"
    page = "".join(str(part) for part in shown(panel)[2:])
    assert "<script" not in page and "<img" not in page
    assert "&lt;script&gt;" in page and "&lt;img" in page


def test_a_picture_must_be_svg(panel):
    class Wrong(Panel):
        def answer(self):
            return Answer(sentence="x", pictures=("<script>alert(1)</script>",))

    assert wording("a picture of a panel") in Wrong(inputs=[]).message.text


def test_buttons_run_inside_the_guard(panel):
    panel.buttons["Write it"].click()
    assert panel.written == [100] and panel.message.text == "Written."
    panel.note.value = "full"
    panel.buttons["Write it"].click()
    assert "No space left on device" in panel.message.text
    assert wording("what you typed is still") in panel.message.text
    assert "before the last change" not in shown(panel)[2]


def test_several_changes_redraw_once(panel):
    before = panel.calls
    with panel.together():
        panel.speed.value = 300
        panel.note.value = "pipe"
    assert panel.calls == before + 1
    assert panel.sentence == "pipe: 90.0 V DC."


def test_a_static_page_shows_the_sentence(panel):
    bundle = panel._repr_mimebundle_()
    assert bundle["text/plain"] == "spring: 30.0 V DC."
    assert "application/vnd.jupyter.widget-view+json" in bundle


def test_words_and_ticks_redraw_too():
    class Words(Panel):
        def __init__(self):
            self.bank = choice("Bank", [("24", 24), ("48", 48)], 48, unit="V")
            self.hot = tick("Hot")
            super().__init__(inputs=[self.bank, self.hot])

        def answer(self):
            return Answer(sentence=f"{self.bank.value} {self.hot.value}")

    panel = Words()
    panel.bank.value, panel.hot.value = 24, True
    assert panel.sentence == "24 True"


def test_labels_carry_units_and_controls_are_calm(panel):
    assert panel.speed.description == "Working speed [rpm]"
    assert panel.head.description == "Net head [m]"
    assert panel.head.continuous_update is False
    assert float(panel.head.style.description_width.removesuffix("ch")) > len(panel.head.description)


def test_a_choice_without_a_value_asks_for_one():
    empty = choice("Connection", ["star", "delta"])
    assert empty.options[empty.index] == ("choose …", None) and empty.value is None
    assert choice("Connection", ["star", "delta"], "star").options == (("star", "star"), ("delta", "delta"))


def test_a_number_field_says_which_units_it_takes():
    assert "gpm (US gallons)" in NumberField("Flow", "L/s").tooltip
    assert NumberField("Slots", whole=True, value=36, at_least=3).read() == 36


@pytest.mark.parametrize(
    "error, sentence",
    [
        (BadInput("x was given", "y is allowed", "type y", where="field"), wording("^Not usable – field: x")),
        (PermissionError(13, "Permission denied"), wording("^A file could not be")),
        (KeyError("volts"), wording("This is a fault of the workbook, not of your input: 'volts'")),
        (ValueError(), "not of your input: ValueError;"),
        (RuntimeError("a\nb " + "x" * 999), wording("a b x+…; your readings")),
    ],
)
def test_every_error_is_one_sentence(error, sentence):
    assert re.search(sentence, in_plain_words(error))
    assert "\n" not in in_plain_words(error) and len(in_plain_words(error)) < 400


def test_the_guard_returns_what_the_callback_returns():
    assert MessageLine().guarded(lambda: 7)() == 7


def test_table_cells_are_escaped_and_numbers_stand_right():
    page = Table(
        columns=("A <b>", "Volts [V]"),
        rows=(("<i>x</i>", 12.3456), ("y", 3)),
        marks=("chosen", "quiet"),
        caption="All & sundry",
    ).html()
    assert "<i>" not in page and "&lt;i&gt;" in page and "A &lt;b&gt;" in page and "All &amp; sundry" in page
    assert "12.35" in page and page.count("text-align:right") == 2


@pytest.mark.parametrize(
    "rows, marks, sentence",
    [
        ((("a",),), (), wording("table row 1: 1 cells")),
        ((("a", 1),), ("good",), "the marks"),
        ((("a", 1),), ("chosen", "quiet"), "one of them for each row"),
    ],
)
def test_a_crooked_table_is_refused(rows, marks, sentence):
    with pytest.raises(BadInput, match=sentence):
        Table(columns=("A", "B"), rows=rows, marks=marks)


class HandsPanel(Panel):
    """A panel whose sentence and table tell hands what to do."""

    def __init__(self):
        super().__init__(inputs=[])

    def answer(self):
        turn = Instruction("Turn it at 61 °F", (Exposure.TURNING, Exposure.VOLTS))
        solder = Instruction(f"solder <at> {say(350, '°C')}", (Exposure.SOLDER, Exposure.TURNING))
        table = Table(columns=("what",), rows=((solder,), ("look",)))
        exposures = (Exposure.BANK,)
        return Answer(sentence=turn.within("Now: ", "."), table=table, caution="Live parts.", exposures=exposures)


def test_an_instruction_in_sentence_or_table_brings_its_caution_once():
    panel = HandsPanel()
    words, _, table = shown(panel)[:3]
    wanted = (Exposure.BANK, Exposure.TURNING, Exposure.VOLTS, Exposure.SOLDER)
    assert "Now: Turn it at 61 °F." in words and "Live parts." in words
    read = unescape(re.sub("<[^>]+>", "", words))
    assert [exposure for exposure in Exposure if exposure.sentence in read] == [
        exposure for exposure in Exposure if exposure in wanted
    ]
    assert all(read.count(exposure.sentence) == 1 for exposure in wanted)
    assert "solder &lt;at&gt; 350 °C" in table and f"⚠</b> {Exposure.SOLDER.tag}; {Exposure.TURNING.tag}" in table
    assert Exposure.SOLDER.sentence not in table
    panel.in_units("US")
    assert "662 °F" in shown(panel)[2]


def test_what_was_worked_out_later_never_overwrites_a_newer_answer():
    class Slow(VoltsPanel):
        def answer(self):
            return Answer(sentence=f"{self.speed.value:.0f} rpm.", later=self.move)

        def move(self):
            stood = self.speed.value
            if stood == 100:  # somebody moves the slider while it is worked out
                self.speed.value = 200
            return f"At {stood:.0f} rpm."

    async def at_rest():
        panel = Slow()
        await asyncio.sleep(1.0)
        said = panel.sentence
        panel.speed.value = 300
        return panel, said

    panel, said = run_apart(at_rest())
    assert said == "200 rpm.\nAt 200 rpm."
    # What stands below stays where it is until the next is worked out.
    assert panel.sentence == "300 rpm." and 'visibility:hidden">At 200 rpm.</div>' in panel.sentence_box.value
    assert "100 rpm" not in shown(panel)[2]


class Heavy(Panel):
    """A panel whose ± and table take longer than its number."""

    def __init__(self):
        self.speed, self.wholes = slider("Working speed", 100, 0, 1000, step=10, unit="rpm"), []
        super().__init__(inputs=[self.speed])

    def answer(self):
        rpm = self.speed.value
        slow = rpm if rpm != 300 else 200  # at 300 rpm it gives what it gave at 200
        quick = Answer(
            sentence=f"{rpm:.0f} rpm.",
            headline={"power": self.as_before("power", slow, f"{slow:.0f} W"), "at": f"{rpm:.0f} rpm"},
            pictures=(PICTURE,),
        )
        return replace(quick, whole=lambda: self.whole(quick, rpm, slow))

    def whole(self, quick, rpm, watts):
        self.wholes.append(rpm)
        table = Table(columns=("Speed",), rows=((f"{rpm:.0f}",),))
        spread = Spread(value=watts, constants=5.0, assumed=0.0, unit="W")
        return replace(
            quick,
            sentence=f"{rpm:.0f} ± 5 rpm.\nSo much for {rpm:.0f}.",
            headline=quick.headline | {"power": spread},
            table=table,
            whole=None,
        )


def is_busy(panel):
    """Told to a screen reader, and to whoever waits for the page: there is more to come."""
    return "aria-busy" in panel.sentence_box.value


def shown_in(panel, cell):
    return cell in re.findall(r">([^<]+)</t[dh]>", panel.table_box.value)


def test_what_takes_longer_is_shown_when_the_hand_rests_and_only_for_the_last_move():
    async def moved():
        panel = Heavy()
        first = panel.sentence, shown_in(panel, "100")
        await asyncio.sleep(0.5)
        panel.speed.value = 150
        panel.speed.value = 200
        at_once = panel.sentence, shown_in(panel, "100"), shown_in(panel, "200")
        said, busy = panel.sentence_box.value, is_busy(panel)
        await asyncio.sleep(0.5)
        return panel, first, at_once, said, (busy, is_busy(panel))

    panel, first, at_once, said, busy = run_apart(moved())
    assert busy == (True, False)
    assert first == ("100 ± 5 rpm.\nSo much for 100.", True)  # a page that is opened has all of it
    assert at_once[0] == "200 rpm." and at_once[1:] == (True, False)
    assert wording("Before: power 100.0") in said
    # The caution below stays where it is: the line that is not said yet keeps its place.
    assert 'visibility:hidden">So much for 100.</div>' in said and "hidden" not in panel.sentence_box.value
    assert panel.sentence == "200 ± 5 rpm.\nSo much for 200." and shown_in(panel, "200") and not shown_in(panel, "100")
    assert panel.wholes == [100, 200]
    assert wording("Before: power 100.0") in panel.sentence_box.value


def test_a_number_that_did_not_move_is_not_told_as_before_while_its_plus_minus_is_worked_out():
    async def moved():
        panel = Heavy()
        panel.speed.value = 200
        await asyncio.sleep(0.5)
        panel.speed.value = 300
        said = panel.sentence_box.value
        await asyncio.sleep(0.5)
        return said, panel.sentence_box.value

    for said in run_apart(moved()):
        assert "Before: at 200 rpm." in said


def test_what_is_in_an_open_fold_waits_for_the_hand_to_rest():
    drawn = []

    class Folded(VoltsPanel):
        picture_folds = ("More",)

        def answer(self):
            return replace(super().answer(), folded={"More": lambda: drawn.append(self.speed.value) or PICTURE})

    async def moved():
        panel = Folded()
        panel.folds["More"].is_open = True
        opened = list(drawn)
        panel.speed.value = 200
        panel.speed.value = 300
        at_once = list(drawn), panel.sentence
        await asyncio.sleep(0.5)
        return opened, at_once, panel

    opened, at_once, panel = run_apart(moved())
    assert opened == [100] and at_once[0] == [100] and drawn == [100, 300]
    assert at_once[1] == panel.sentence and panel.folds["More"].value


def test_a_failure_of_what_takes_longer_leaves_a_reason_and_greys_the_table():
    class Failing(Heavy):
        picture_folds = ("More",)

        def answer(self):
            return replace(super().answer(), folded={"More": lambda: PICTURE})

        def whole(self, quick, rpm, watts):
            if rpm == 200:
                raise BadInput("200 rpm was given", "less is allowed", "move it back", where="speed")
            return replace(super().whole(quick, rpm, watts), folded={"More": lambda: PICTURE})

    panel = Failing()
    panel.folds["More"].is_open = True
    assert PICTURE in panel.folds["More"].value and "grayscale" not in panel.folds["More"].value
    panel.speed.value = 200
    assert "200 rpm was given" in panel.message.text and panel.sentence == "200 rpm." and not is_busy(panel)
    assert shown_in(panel, "100") and "grayscale" in panel.table_box.value
    assert PICTURE in panel.folds["More"].value and "grayscale" in panel.folds["More"].value
