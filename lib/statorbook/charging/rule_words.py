"""What a rule does, in words."""

from statorbook.charging.control import ABOVE, BELOW, MEASURED, NOT, OFF, OUTPUTS, TRUE, VALID, YES_NO
from statorbook.quantities import say

_MORE = {ABOVE: "or more", BELOW: "or less"}
_OTHER = {ABOVE: BELOW, BELOW: ABOVE}


def rule_words(rule):
    """A rule in one sentence.

    Parameters
    ----------
    rule : Rule
        Any rule that can work.

    Returns
    -------
    str
        Such as "First dump load on at bank volts of 57 V or more, until 54.7 V or less.", in the reader's units.
    """
    output = OUTPUTS[rule.output].words
    done = "kept off" if rule.action == OFF else "on"
    parts = [f"{output[0].upper()}{output[1:]} {done} {_condition(rule)}"]
    if rule.least_on_s:
        parts.append(f"for {_time(rule.least_on_s)} at least")
    if rule.only_if:
        parts.append(f"only while {_listed([_guard_words(name) for name in rule.only_if])}")
    return f"{', '.join(parts)}."


def input_words(name, *, is_so=True):
    """What a yes or no says while it is so, or while it is not, as a clause; a rule's name stands for its holding."""
    if name in YES_NO:
        return YES_NO[name].words if is_so else YES_NO[name].not_words
    if name.removesuffix(VALID) in MEASURED and name not in MEASURED:
        words = MEASURED[name.removesuffix(VALID)].words
        return f"the {words} can be read" if is_so else f"the {words} cannot be read"
    return f"{name} holds" if is_so else f"{name} does not hold"


def _condition(rule):
    if rule.input not in MEASURED:
        is_so = rule.side == TRUE
        after = f", after {_time(rule.on_delay_s)} of it" if rule.on_delay_s else ""
        longer = f", and {_time(rule.off_delay_s)} longer" if rule.off_delay_s else ""
        return f"while {input_words(rule.input, is_so=is_so)}{after}{longer}"
    measured = MEASURED[rule.input]
    on, off = (
        f"{say(value, measured.unit, form=_form(value))} {_MORE[side]}{f' for {_time(delay)}' if delay else ''}"
        for value, side, delay in (
            (rule.on_at, rule.side, rule.on_delay_s),
            (rule.off_at, _OTHER[rule.side], rule.off_delay_s),
        )
    )
    return f"at {measured.words} of {on}, until {off}"


def _form(value):
    """As many decimals as were typed, two at most."""
    return next(form for form in (".0f", ".1f", ".2f") if form == ".2f" or float(format(value, form)) == value)


def _time(seconds):
    if seconds >= 120.0 and seconds % 60.0 == 0.0:
        return f"{seconds / 60.0:g} min"
    return f"{seconds:g} s"


def _guard_words(name):
    return input_words(name.removeprefix(NOT), is_so=not name.startswith(NOT))


def _listed(words):
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
