"""What the fault finder says to the readings of the meter checks, as a sentence and a table."""

from math import isnan

from statorbook.cautions import together
from statorbook.rewiring import LEAD_PAIRS, coil_values
from statorbook.rewiring.faults import Measured, find_faults
from statorbook.widgets import Answer, Table

_SHOWN = 6


def faults_answer(wired, coil, copper_c, hand_rpm, readings):
    """What the readings of the new winding say, in a sentence; the faults, or what is not ruled out, as a table."""
    apart = not any(reading.probe.name in LEAD_PAIRS or reading.probe.name.endswith("-star") for reading in readings)
    telling = readings if apart else [reading for reading in readings if reading.probe.name not in wired.named_paths]
    measured = [one for reading in telling for one in _measured(reading)]
    found = find_faults(
        wired,
        lambda speed_rpm: coil_values(wired.stator, coil, speed_rpm, copper_c=copper_c),
        measured,
        hand_rpm=hand_rpm,
        apart=apart,
    )
    if found.healthy or found.hidden:
        return Answer(sentence=found.sentence, table=_not_ruled_out(found))
    return Answer(sentence=together(found.sentence, found.next_words), table=_ranking(found))


def _measured(reading):
    """The one or two readings of a row."""
    name = reading.probe.name
    if not isnan(reading.ohms):
        yield Measured(name=name, kind="ohms", value=reading.ohms)
    if not isnan(reading.volts):
        yield Measured(name=name, kind="volts", value=reading.volts, speed_rpm=reading.speed_rpm)


def _not_ruled_out(found):
    """What could still be hidden, and the reading that would tell; None where nothing could."""
    if not (found.hidden or found.next_probe):
        return None
    heads = ("what these readings do not rule out", "what would tell")
    rows = ((f"That {found.hidden}." if found.hidden else "Faults that are far less likely.", found.next_words),)
    return Table(columns=heads, rows=rows, caption="What could still be hidden behind good readings.")


def _ranking(found):
    rows = tuple(
        (number, candidate.words, f"{100 * candidate.chance:.0f}", f"{candidate.misfit:.1f}")
        for number, candidate in enumerate(found.ranked[:_SHOWN], start=1)
    )
    heads = ("", "what it could be", "chance, if it is one fault at most [%]", "misfit")
    return Table(columns=heads, rows=rows, caption="What fits the readings of the new winding, best first.")
