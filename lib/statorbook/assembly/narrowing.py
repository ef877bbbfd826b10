"""Which one measurement would narrow an answer most, by how much, and how to take it."""

from dataclasses import dataclass
from math import sqrt

from statorbook.assembly.numbers_given import ASSUMED, MEASURED
from statorbook.assembly.stands_on import ANSWERS, Input
from statorbook.assembly.ways_to_measure import AT_WORK, NO_WAY, WAYS
from statorbook.cautions import Instruction, together
from statorbook.choice import rounded

_LEAST_SHARE = 0.02  # what makes less of a ± is not worth a measurement
_TOLD = 3


@dataclass(frozen=True, kw_only=True)
class Narrowing:
    """The measurement that narrows an answer most."""

    of: Input  # what is measured
    way: Instruction  # how
    plus_minus: float  # ± of the answer then, at best [unit of the answer]

    def narrowed(self, spread):
        """The ± then, with the unit of the answer, in words."""
        return f"± {rounded(self.plus_minus, self.plus_minus)} {spread.unit}"


def best_measurement(sure, answer):
    """The one measurement that would narrow an answer most; None when none takes a fiftieth of the square of its ±."""
    now = sure.answers[answer].plus_minus
    gains = [
        (each.shares[answer] * (1.0 - WAYS[each.name].left ** 2), each)
        for each in sure.inputs
        if each.name in WAYS and not (each.known == MEASURED and each.name in AT_WORK)
    ]
    gain, best = max(gains, key=lambda pair: pair[0])
    if gain < _LEAST_SHARE:
        return None
    return Narrowing(of=best, way=WAYS[best.name].instruction, plus_minus=now * sqrt(max(1.0 - gain, 0.0)))


def answers_words(sure):
    """All answers with their ±.

    Parameters
    ----------
    sure : HowSure
        What the answers stand on.

    Returns
    -------
    str
        Sentences; what is not known yet stands at the end.
    """
    said = (f"{ANSWERS[name][:1].lower()}{ANSWERS[name][1:]} {spread}" for name, spread in sure.answers.items())
    lacks = "".join(f" Not in it: {words}." for words in sure.missing)
    return f"With {sure.grouping.label}: {'; '.join(said)}.{lacks}"


def deciding_words(sure, answer):
    """What decides how sure an answer is: what is assumed first, each with its share in the square of the ±.

    Parameters
    ----------
    sure : HowSure
        What the answer stands on.
    answer : str
        A name of `ANSWERS`.

    Returns
    -------
    str
        Sentences.
    """
    ranked = [each for each in sure.ranked(answer) if each.shares[answer] >= _LEAST_SHARE]
    said = f"{ANSWERS[answer]}, {sure.answers[answer]}."
    if not ranked:
        return f"{said} Nothing here moves it."
    assumed = _listed([each for each in ranked if each.known == ASSUMED], answer)
    others = _listed([each for each in ranked if each.known != ASSUMED], answer)
    told = [f"Assumed and decisive: {assumed}."] if assumed else ["Nothing that is assumed decides."]
    told += [f"Not assumed: {others}."] if others else []
    return " ".join((said, *told))


def _listed(inputs, answer):
    each = [
        f"{one.words} {one.said} ({one.shares[answer]:.0%}{f', {one.known}' if one.known != ASSUMED else ''})"
        for one in inputs[:_TOLD]
    ]
    return "; ".join(each)


def narrowing_words(sure, answer):
    """Which one measurement would narrow an answer most, by how much, and how to take it.

    Parameters
    ----------
    sure : HowSure
        What the answer stands on.
    answer : str
        A name of `ANSWERS`.

    Returns
    -------
    str or Instruction
        Sentences, with what the measurement exposes hands to.
    """
    spread, found, first = sure.answers[answer], best_measurement(sure, answer), sure.ranked(answer)[0]
    why = f"Nothing narrows the {first.words}: {NO_WAY[first.name]}." if first.name in NO_WAY else ""
    if found is None:
        return f"{why} Nothing that can be measured makes much of this ±.".strip()
    before = rounded(spread.plus_minus, spread.plus_minus)
    best = found.way.within(
        f"One measurement would narrow it most, that of the {found.of.words}: {found.narrowed(spread)} at best instead "
        f"of ± {before}. How: ",
        ".",
    )
    return together(why, best)


def narrowed_words(sure, answer):
    """An answer as it is, and what its ± would be after the one best measurement.

    Parameters
    ----------
    sure : HowSure
        What the answer stands on.
    answer : str
        A name of `ANSWERS`.

    Returns
    -------
    str
        A sentence.

    Notes
    -----
    Equation: ± √(1 − s (1 − r²)), s the share of the input in the square of the ±, r what is left of its own ±.
    Valid: at best: a typed value is reckoned with as if it were exact; value and other inputs stay as they are.
    Source: contributions to a variance, JCGM 100:2008 (GUM), 5.1.3 (from memory).
    """
    spread, best = sure.answers[answer], best_measurement(sure, answer)
    after = f"at best {best.narrowed(spread)}, with the {best.of.words}" if best else "no measurement narrows it much"
    return f"{ANSWERS[answer]}: {spread}; {after}."
