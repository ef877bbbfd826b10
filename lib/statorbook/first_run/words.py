"""A run beside its promise, in words."""

from statorbook.cautions import together
from statorbook.errors import count_of
from statorbook.first_run.causes import OHMS, WARMTH
from statorbook.first_run.tells import OHMS_TWICE

_SHOWN_RIVALS = 2


def headline(case, promise):
    """How far the run is off its promise.

    Parameters
    ----------
    case : RunCase
        The rows that belong.
    promise : Promise or None
        From `promise_of`.

    Returns
    -------
    str
        Sentences.
    """
    rows = case.charging
    if not rows:
        return f"{count_of(len(case.open_leads), 'row')} at open leads, none with current into the bank yet."
    best = max(rows, key=lambda row: row.dc_amps * row.dc_volts)
    promised, read = (
        100.0 * float((width / amps).mean())
        for width, amps in (
            (promise.promised_half_width_amps, promise.amps.clip(1e-9)),
            (promise.read_half_width_amps, promise.case.readings_of("dc_amps")),
        )
    )
    return (
        f"At most {best.dc_amps * best.dc_volts:.0f} W were read ({best.dc_amps:.1f} A at {best.speed_rpm:.0f} rpm). "
        f"At the speeds and bank volts read, the amps are {100 * promise.off_share:+.1f} % off the promise "
        f"({count_of(len(rows), 'row')}, the middle one; the promise ± {promised:.0f} %, a reading ± {read:.0f} %)."
    ).replace(" -", " −")


def verdict_words(found):
    """What explains the difference, in words.

    Parameters
    ----------
    found : Verdict or None
        From `verdict_on`.

    Returns
    -------
    str or Instruction
        Sentences with the reading that settles it, and what that exposes hands to.
    """
    if found is None:
        return "The rows used differ from the promise by no more than the errors of both: all is as promised."
    if not found.ranked:
        return "The rows used differ from the promise by more than their errors and cannot tell why: log more settings."
    best, others = found.same[0], found.same[1:]
    if found.takes_two:
        return _two_words(found, best)
    if not found.explained:
        return together(
            f"No cause explains it, alone or two together: the best, {best.words}, leaves {best.misfit:.0f} "
            f"unexplained; chance alone stays below {best.luck:.0f}. Look at the rows furthest off.",
            best.tell.within("Then: ", "."),
        )
    if others:
        said = f"These readings cannot tell apart: {', or '.join(cause.words for cause in found.same)}."
    else:
        said = f"It is best explained by the {best.words}."
    return together(said, _rival_words(found), _settle_words(found))


def _two_words(found, best):
    single = found.ranked[0]
    said = (
        f"No single cause explains it: the best, {single.words}, leaves {single.misfit:.0f} unexplained; chance alone "
        f"stays below {single.luck:.0f}. Two causes together fit best: {best.words}."
    )
    if len(found.same) > 1:
        others = len(found.same) - 1
        said += f" {count_of(others, 'other pair')} {'fits' if others == 1 else 'fit'} as well (see the table)."
    doubt = "" if found.explained else f" Even so {best.misfit:.0f} is left over, more than chance ({best.luck:.0f})."
    hint = best.tell.within("Take this as a hint, not a finding, until you have done this: ", ".")
    return together(f"{said}{doubt}", hint)


def _rival_words(found):
    rivals = found.rivals[:_SHOWN_RIVALS]
    return f"Two causes at once would fit as well: {', or '.join(pair.words for pair in rivals)}." if rivals else ""


def _settle_words(found):
    names = {name for cause in found.same for name in cause.names}
    if names == {WARMTH, OHMS} or names >= {WARMTH, OHMS} and found.same[0].names[0] in (WARMTH, OHMS):
        why = "The winding's temperature was not read, so warm copper and a bad joint look alike here:"
        return OHMS_TWICE.within(f"{why} ", "; warm copper falls back, a bad joint does not.")
    return found.same[0].tell.within("To prove it: " if found.sure else "To settle it: ", ".")
