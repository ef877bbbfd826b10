"""What a set of rules and relays may not be: each complaint by its rule or relay and its column."""

import re
from math import isfinite

from statorbook.charging.control import (
    ABOVE,
    BELOW,
    CLOSED_AT_REST,
    FALSE,
    MEASURED,
    NOT,
    OFF,
    ON,
    OPEN_AT_REST,
    OUTPUTS,
    TRUE,
    VALID,
    YES_NO,
)
from statorbook.charging.scan import SIGNAL_NAMES
from statorbook.errors import BadInput

RULE, RELAY = "rule", "relay"
MOST_RELAYS, MOST_PRIORITY, MOST_DELAY_S = 32, 99, 86_400.0
MOST_RULES = 60  # more than a small controller has room and timers for: common practice, no source
_MOST_LETTERS = 24  # of names, some controllers cut longer ones: common practice, no source
_NAME = re.compile(r"[A-Za-z](?:_?[A-Za-z0-9])*")
_DELAYS = {"on_delay_s": "Held for", "off_delay_s": "Let go after", "least_on_s": "At least on"}
# Words of the language (IEC 61131-3, from memory) and names at which readers of it stumbled when tried.
RESERVED = frozenset(
    """abs action add and any array at begin bool by byte case con configuration constant continue date day dint div do
    dt dword edge else elsif end end_action end_case end_for end_if end_program end_repeat end_var end_while en eno exit
    false for from function if in initial int interval le limit lint log lreal lword max min mod move mux name not of on
    or overlap private program public real repeat resource retain return rs shl shr sin sint sr step string struct sub
    task then time to tod ton tof tp transition true type udint uint ulint until usint var while with word xor
    """.split()
)


def complaints(rules):
    """Every complaint about a `RuleSet` as (RULE or RELAY, its place from 0, column, `BadInput`), rules first."""
    yield from _about_rules(rules)
    yield from _about_relays(rules)


def check_rules(rules):
    """The same rules, or the first complaint about them raised."""
    for *_, complaint in complaints(rules):
        raise BadInput(complaint.given, complaint.allowed, complaint.next_step, where=complaint.where)
    return rules


def _about_rules(rules):
    if not 0 < len(rules.rules) <= MOST_RULES:
        given = f"{len(rules.rules)} rules were given" if rules.rules else "no rule was given"
        yield RULE, 0, "rule", BadInput(given, f"1 to {MOST_RULES} are allowed", "copy the ready rules", where="rules")
    for at, rule in enumerate(rules.rules):
        above = rules.rules[:at]
        for column, (given, allowed, next_step) in (
            *_about_name(rule, above),
            *_about_words(rule, rules),
            *_about_limits(rule, rules),
            *_about_delays(rule, rules.scan_ms),
            *_about_guards(rule, above, rules),
            *_about_priority(rule, above),
        ):
            where = f"rule {rule.name}" if _NAME.fullmatch(str(rule.name)) else f"rule {at + 1}"
            yield RULE, at, column, BadInput(given, allowed, next_step, where=where)


def _about_name(rule, above):
    given = f'the name "{rule.name}" was given'
    if not _NAME.fullmatch(rule.name) or len(rule.name) > _MOST_LETTERS:
        allowed = f"a letter, then letters, digits and single underscores are allowed, {_MOST_LETTERS} at most"
        yield "rule", (given, allowed, 'type a word such as "fallback"')
    elif rule.name.lower() in RESERVED | {name.lower() for name in SIGNAL_NAMES}:
        yield "rule", (given, "a word of the program's language or an input's name is not allowed", "add a word to it")
    elif rule.name.lower() in {other.name.lower() for other in above}:
        yield "rule", (given, "each rule needs its own name, capitals or not", "give one of the two another name")


def _about_words(rule, rules):
    """Names of output and input, and the words beside them."""
    if rule.output not in OUTPUTS:
        yield "output", (f'the output "{rule.output}" was given', f"allowed are {', '.join(OUTPUTS)}", "choose one")
    elif rules.relay_of(rule.output) is None:
        yield "output", (f"{rule.output} has no relay", "each output that a rule switches needs one", "add its relay")
    if rule.action not in (ON, OFF):
        yield "action", (f'the action "{rule.action}" was given', "on or off is allowed", "choose one")
    sides = _sides(rule.input)
    if not sides:
        names = ", ".join((*MEASURED, *YES_NO))
        allowed = f"allowed are {names}, and a measured one with {VALID} behind it"
        yield "input", (f'the input "{rule.input}" was given', allowed, "choose one")
    elif rule.side not in sides:
        allowed = f"{rule.input} takes {' or '.join(sides)}"
        yield "side", (f'"{rule.side}" was given', allowed, "choose one of the two")
    yield from (("input", said) for said in _range_missing(rule.input, rules))


def _sides(name):
    """What a rule may say about an input; nothing where there is no such input."""
    if name in MEASURED:
        return ABOVE, BELOW
    return (TRUE, FALSE) if name in YES_NO or name.removesuffix(VALID) in MEASURED else ()


def _range_missing(name, rules):
    measured = name.removesuffix(VALID)
    if name != measured and measured in MEASURED and rules.said_range(measured) is None:
        given = f"nobody said what the sensor of {measured} can give"
        yield given, "without it each reading counts as good", f"leave {name} out"


def _about_limits(rule, rules):
    limits = {"on_at": rule.on_at, "off_at": rule.off_at}
    if rule.input not in MEASURED:
        for column, value in limits.items():
            if value is not None and rule.input in SIGNAL_NAMES:
                yield column, (f"a limit of {value:g} was given", f"{rule.input} is yes or no", "leave the cell empty")
        return
    measured = MEASURED[rule.input]
    least, most = (code / measured.per_unit for code in rules.range_codes(rule.input))
    for column, value in limits.items():
        if value is None or not isfinite(value):
            yield column, ("no limit was given", f"a number in {measured.unit} is needed", "type it")
            return
        if not least <= value <= most:
            allowed = f"the sensor gives {least:g} to {most:g} {measured.unit}"
            yield column, (f"a limit of {value:g} {measured.unit} was given", allowed, "type one between")
            return
    on, off = (measured.code(value) for value in limits.values())
    if rule.side in (ABOVE, BELOW) and not (on > off if rule.side == ABOVE else on < off):
        allowed = (
            f"a rule that takes hold {rule.side} its limit lets go {'below' if rule.side == ABOVE else 'above'} it"
        )
        given = f"{rule.on_at:g} {measured.unit} to take hold and {rule.off_at:g} {measured.unit} to let go were given"
        yield "off_at", (given, allowed, "type two limits that do not cross")


def _about_delays(rule, scan_ms):
    for column, label in _DELAYS.items():
        value = getattr(rule, column)
        if not isfinite(value) or value != 0.0 and not scan_ms / 1000.0 <= value <= MOST_DELAY_S:
            allowed = f"0 or one scan, {scan_ms / 1000.0:g} s, to {MOST_DELAY_S:g} s is allowed"
            yield column, (f'{value:g} s was given for "{label}"', allowed, "type another time")


def _about_guards(rule, above, rules):
    known = {*YES_NO, *(name for name in SIGNAL_NAMES if name.endswith(VALID)), *(other.name for other in above)}
    all_rules = {other.name for other in rules.rules}
    for word in rule.only_if:
        name = word.removeprefix(NOT)
        if name in known:
            yield from (("only_if", said) for said in _range_missing(name, rules) if name in SIGNAL_NAMES)
        elif name in all_rules:
            given, allowed = f'"{name}" was given', "a rule may name only rules above it"
            yield "only_if", (given, allowed, "move that rule up")
        elif name in MEASURED:
            allowed = f"a yes or no is needed, such as {name}{VALID}"
            yield "only_if", (f'"{name}" was given, a number', allowed, "make a rule of it and name that")
        else:
            allowed = f"allowed are {', '.join(YES_NO)}, a measured name with {VALID}, and rules above"
            yield "only_if", (f'"{name}" was given', allowed, "correct the name")


def _about_priority(rule, above):
    if not (rule.priority == int(rule.priority) and 1 <= rule.priority <= MOST_PRIORITY):
        allowed = f"a whole number from 1 to {MOST_PRIORITY} is allowed"
        yield "priority", (f"priority {rule.priority:g} was given", allowed, "type one")
    for other in above:
        if (other.output, other.priority) == (rule.output, rule.priority) and other.action != rule.action:
            given = f"{rule.name} and {other.name} ask for on and off with the same priority"
            yield "priority", (given, "one of the two has to win", "give one of them a higher priority")
            return


def _about_relays(rules):
    for at, relay in enumerate(rules.relays):
        earlier = rules.relays[:at]
        for column, said in _about_relay(relay, earlier):
            yield RELAY, at, column, BadInput(*said, where=f"relay {relay.number}")


def _about_relay(relay, earlier):
    if not (relay.number == int(relay.number) and 1 <= relay.number <= MOST_RELAYS):
        yield "relay", (f"{relay.number:g} was given", f"1 to {MOST_RELAYS} is allowed", "type its number")
    if relay.output not in OUTPUTS:
        yield "output", (f'the output "{relay.output}" was given', f"allowed are {', '.join(OUTPUTS)}", "choose one")
    if relay.contact not in (OPEN_AT_REST, CLOSED_AT_REST):
        allowed = f"{OPEN_AT_REST} or {CLOSED_AT_REST} is allowed"
        yield "contact", (f'the contact "{relay.contact}" was given', allowed, "choose one")
    for other in earlier:
        if other.number == relay.number:
            given = f"it is used twice, for {other.output} and {relay.output}"
            yield "relay", (given, "each relay switches one output", "give one of them another relay")
        elif other.output == relay.output:
            given = f"{relay.output} has relay {other.number} already"
            yield "output", (given, "each output has one relay", "take one of the two away")
