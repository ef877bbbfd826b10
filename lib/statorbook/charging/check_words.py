"""What the check of a plan says: in a sentence, and for each fault in a few words a side."""

from statorbook.charging.check import SIDES, Covered
from statorbook.charging.check_cases import EMPTY, FULL
from statorbook.charging.check_gap import Gap
from statorbook.charging.control_faults import NOTHING, output_words
from statorbook.errors import count_of
from statorbook.quantities import say

_HEADS = {FULL: "bank full, nothing drawn", EMPTY: "bank empty, all drawn", SIDES[2]: "too cold or too hot to charge"}
SIDE_HEADS = tuple(_HEADS[side] for side in SIDES)


def check_words(checked):
    """Say what came of a check.

    Parameters
    ----------
    checked : Checked
        What came of it.

    Returns
    -------
    str
        How many faults are covered, by what, and how many leave a gap.
    """
    faults = [each for each in checked.faults if each.fault.kind != NOTHING]
    open_gaps, unseen = checked.open_gaps, [gap for gap in checked.gaps if gap.fault.is_unseen]
    relay = sum(any(isinstance(s, Covered) and not s.by_rules for s in each.sides.values()) for each in faults)
    if open_gaps:
        names = dict.fromkeys(gap.fault.words for gap in open_gaps)
        said = f"Not complete: {count_of(len(names), 'case')} of {len(faults) + 1} can take the bank out of its limits."
    else:
        said = f"Complete: whatever of {count_of(len(faults), 'single fault')} comes, the bank stays within its limits"
        said += f", but for {count_of(len(unseen), 'frozen reading')} that no rule can see." if unseen else "."
    return f"{said} In {count_of(relay, 'case')} it is only the volts relay that holds it." if relay else said


def fault_words(checked, each):
    """Say what becomes of the bank with one fault.

    Parameters
    ----------
    checked : Checked
        The check that it is from.
    each : CheckedFault
        The fault.

    Returns
    -------
    str
        The gaps in whole sentences, or that there is none.
    """
    if each.gaps:
        return "\n".join(gap.sentence for gap in each.gaps)
    begin = "While nothing fails" if each.fault.kind == NOTHING else f"If {each.fault.words}"
    sides = [f"{head}: {side_words(checked, each, side)}" for side, head in _HEADS.items() if each.sides[side]]
    return f"{begin}, the bank stays within its limits ({'; '.join(sides)})."


def side_words(checked, each, side):
    """Say what one side comes to, in a cell of a table.

    Parameters
    ----------
    checked : Checked
        The check that it is from.
    each : CheckedFault
        The fault.
    side : str
        One of `check.SIDES`.

    Returns
    -------
    str
        A few words.
    """
    found = each.sides[side]
    if found is None:
        return "does not come up"
    if isinstance(found, Gap):
        sound = checked.faults[0].sides[side]
        if isinstance(sound, Gap) and each is not checked.faults[0]:
            return "gap, as while nothing fails"
        return f"gap: {say(abs(found.amps), 'A', form='.2g')} {'from the bank' if side == EMPTY else 'too much'}"
    if not found.by_rules:
        return "only the volts relay"
    if side == EMPTY:
        return "all that draws is off"
    takes = [output_words(name) for name in found.takes if name != "inverter_enable"]
    return f"rules: {', '.join(takes)}" if takes else "nothing has to be done"
