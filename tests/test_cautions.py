"""An instruction to hands never comes without what it exposes them to."""

import pytest

from sentences import sentences_of
from statorbook.cautions import (
    Exposure,
    Instruction,
    caution_of,
    exposures_of,
    require_instruction,
    shared_by,
    text_of,
    together,
)
from statorbook.errors import BadInput

wording = sentences_of("cautions")

SPIN = Instruction("Turn the rotor by hand", (Exposure.TURNING, Exposure.VOLTS))
COUNT = Instruction("Count the teeth.", harmless="looking")


@pytest.mark.parametrize("exposures, harmless", [((), ""), ((), "  "), ((Exposure.HEAT,), "looking"), (("heat",), "")])
def test_an_instruction_without_its_exposure_is_refused(exposures, harmless):
    with pytest.raises(BadInput, match=wording("at least one, or a")):
        Instruction("Solder it", exposures, harmless=harmless)


def test_text_never_leaves_its_caution_behind():
    assert f"First: {SPIN}" == f"First: Turn the rotor by hand. {Exposure.TURNING.sentence} {Exposure.VOLTS.sentence}"
    assert str(COUNT) == "Count the teeth."


def test_an_exposure_is_said_once_however_many_parts_share_it():
    both = together("It hums.", SPIN.within("Now: ", "."), "", COUNT, SPIN.within("Again: ", "."))
    assert both.text == wording("It hums. Now: Turn the")
    assert both.exposures == (Exposure.TURNING, Exposure.VOLTS)
    assert str(both).count(Exposure.VOLTS.sentence) == 1
    assert together("It hums.", "") == "It hums."
    assert together("Note:", COUNT) == Instruction("Note: Count the teeth.", harmless="looking")


def test_a_list_knows_all_that_it_exposes_to():
    hot = Instruction("Solder it.", (Exposure.SOLDER, Exposure.TURNING))
    assert exposures_of(["words", SPIN, COUNT, hot, 3]) == (Exposure.TURNING, Exposure.VOLTS, Exposure.SOLDER)
    assert SPIN.told(str.upper).text == "TURN THE ROTOR BY HAND" and SPIN.told(str.upper).exposures == SPIN.exposures
    assert text_of(SPIN) == "Turn the rotor by hand" and text_of("words") == "words"


@pytest.mark.parametrize(
    "rows, shared",
    [
        (
            [(Exposure.TURNING, Exposure.VOLTS, Exposure.HEAT), (Exposure.HEAT, Exposure.TURNING)],
            (Exposure.TURNING, Exposure.HEAT),
        ),
        ([(Exposure.TURNING, Exposure.VOLTS), (Exposure.VOLTS, Exposure.HEAT)], (Exposure.VOLTS,)),
        ([(Exposure.TURNING,), (Exposure.HEAT,)], ()),
        ([(Exposure.TURNING, Exposure.VOLTS)], ()),
        ([], ()),
    ],
)
def test_the_key_above_a_list_holds_what_all_rows_share(rows, shared):
    told = [Instruction("Do it.", row) for row in rows]
    assert shared_by(["words", COUNT, *told]) == shared


def test_words_to_hands_that_are_no_instruction_are_refused_in_few_letters():
    require_instruction(SPIN, "step 1")
    with pytest.raises(BadInput) as refused:
        require_instruction("x" * 60, "step 1")
    assert str(refused.value).startswith("step 1: ") and repr("x" * 40) in str(refused.value)
    with pytest.raises(BadInput) as refused:
        Instruction("x" * 60)
    assert repr("x" * 40) in str(refused.value)


@pytest.mark.parametrize("exposure", Exposure)
def test_every_exposure_has_a_short_tag_and_a_whole_caution(exposure):
    assert 0 < len(exposure.tag) <= 50 and not exposure.tag.endswith(".")
    assert exposure.sentence.endswith(".") and exposure.sentence[0].isupper()
    assert exposure.sentence.lower().startswith(f"{exposure.short}: ") and len(exposure.short) <= 24
    assert caution_of([exposure, exposure]) == exposure.sentence
    assert len({each.tag for each in Exposure}) == len({each.sentence for each in Exposure}) == len(Exposure)


def test_a_refusal_whose_next_step_is_for_hands_ends_with_its_caution():
    step = Instruction("turn it by a drill", (Exposure.TURNING,))
    refusal = BadInput("nothing was read", "volts are needed", step, where="spin log")
    said = f"spin log: nothing was read; volts are needed; turn it by a drill. Caution: {Exposure.TURNING.tag}."
    assert str(refusal) == said and refusal.next_step is step
