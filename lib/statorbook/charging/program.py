"""The rules as a program for a small controller: Structured Text of IEC 61131-3 that every small one understands.

Whole numbers only, plain latches, TON as the only timer with each called once a scan, every start value said, every
parenthesis written, no name without a prefix, ASCII only.
"""

from dataclasses import dataclass
from itertools import groupby

from statorbook.charging.control import ABOVE, BELOW, CLOSED_AT_REST, MEASURED, NOT, ON, OUTPUT_NAMES, OUTPUTS, TRUE
from statorbook.charging.program_readings import Readings
from statorbook.charging.program_words import WIDTH, ascii_words, comment
from statorbook.charging.rule_words import rule_words

PROGRAM_NAME = "charge_and_dump"


@dataclass(frozen=True, kw_only=True)
class Program:
    """The controller's text, and what the controller must have for it.

    Parameters
    ----------
    text : str
        Lines ended by a line feed, ASCII.
    rules : int
        Rules in it [-].
    timers : int
        Instances of TON in it [-].
    relays : int
        Relays that it sets [-].
    """

    text: str
    rules: int
    timers: int
    relays: int


def write_program(rules, volts_input=None, about=()):
    """Write rules as Structured Text.

    Parameters
    ----------
    rules : RuleSet
        Rules that were checked.
    volts_input : VoltsInput or None
        The input for the bank's volts; None where the controller has millivolts already.
    about : sequence of str
        Lines for the comment at the top: whose rules, for which bank.

    Returns
    -------
    Program
        The text, and what it takes.
    """
    readings = Readings(rules, volts_input)
    timers = [name for rule in rules.rules for name in _timers(rule)]
    lines = [
        *(line for words in (*about, *_heading(rules, len(timers))) for line in comment(words)),
        f"PROGRAM {PROGRAM_NAME}",
        *_block("VAR_INPUT", readings.inputs()),
        *_block("VAR_OUTPUT", map(_coil_declared, _by_number(rules))),
        *_block("VAR CONSTANT", (*readings.constants(), *_limits(rules))),
        *_block("VAR", (*readings.values(), *_states(rules), *((f"{name} : TON", "") for name in timers))),
        *_section("1. Readings", readings.statements()),
        *_section("2. Rules, top to bottom", (line for rule in rules.rules for line in _rule(rule, readings))),
        *_section("3. What is on", (line for name in _outputs(rules) for line in _switched(rules, name))),
        *_section("4. Coils of the relays", map(_coil, _by_number(rules))),
        "END_PROGRAM",
    ]
    return Program(text="\n".join(lines) + "\n", rules=len(rules.rules), timers=len(timers), relays=len(rules.relays))


def relay_variable(relay):
    """The program's variable of a relay's coil, such as "out_relay_1"."""
    return f"out_relay_{relay.number}"


def _heading(rules, timers):
    return (
        f"{len(rules.rules)} rules, {timers} timers (TON), {len(rules.relays)} relays. Called once in a scan, at least "
        f"every {rules.scan_ms} ms. Readings are taken before it, relays are set after it.",
        "Whole numbers: mV, mA, 0.1 °C, rpm. Change a number in the workbook, not here: only there it is checked.",
        "Set the controller so that every relay falls off when the program stops. A normally closed contact then puts "
        "its load on.",
        "Computed, not certified. It replaces no fuse, no volts relay with wires of its own, no thermostat and no "
        "pressure valve. Local electrical codes and a licensed electrician decide.",
    )


def _held(name):
    return f"hold_{name}"


def _on(output):
    return f"on_{output}"


def _by_number(rules):
    return sorted(rules.relays, key=lambda relay: relay.number)


def _outputs(rules):
    """Outputs that a relay or a rule names, in the order of OUTPUTS."""
    named = {each.output for each in (*rules.rules, *rules.relays)}
    return [name for name in OUTPUT_NAMES if name in named]


def _coil_declared(relay):
    return f"{relay_variable(relay)} : BOOL := FALSE", f"coil, contact {relay.contact}: {OUTPUTS[relay.output].words}"


def _coil(relay):
    output = _on(relay.output)
    return f"{relay_variable(relay)} := {f'NOT {output}' if relay.contact == CLOSED_AT_REST else output};"


def _limits(rules):
    """The two limits of each rule that looks at a number."""
    for rule in (rule for rule in rules.rules if rule.side in (ABOVE, BELOW)):
        measured = MEASURED[rule.input]
        for word, says, value in (("on", "takes hold", rule.on_at), ("off", "lets go", rule.off_at)):
            said = f"{rule.name} {says} at {value:g} {measured.unit}"
            yield f"cfg_{word}_{rule.name} : DINT := {measured.code(value)}", said


def _states(rules):
    for rule in rules.rules:
        yield f"{_held(rule.name)} : BOOL := FALSE", rule.note
    for name in _outputs(rules):
        yield f"{_on(name)} : BOOL := FALSE", OUTPUTS[name].words


def _timers(rule):
    """The timers of a rule, milliseconds by name; none for a delay of zero."""
    delays = {"on": rule.on_delay_s, "off": rule.off_delay_s, "least": rule.least_on_s}
    return {f"tmr_{word}_{rule.name}": ms for word, delay in delays.items() if (ms := round(1000 * delay))}


def _rule(rule, readings):
    """The comment of a rule, its timers, its latch."""
    met, past = _sides(rule, readings)
    timers, held = _timers(rule), _held(rule.name)
    on, off, least = (f"tmr_{word}_{rule.name}" for word in ("on", "off", "least"))
    yield from comment(f"{rule.name}, priority {rule.priority}: {rule_words(rule)}")
    for name, counted in ((on, met), (off, past), (least, held)):
        if name in timers:
            yield f"{name}(IN := {counted}, PT := T#{timers[name]}ms);"
    takes, goes = (f"{name}.Q" if name in timers else side for name, side in ((on, met), (off, past)))
    goes = f"({goes} AND {least}.Q)" if least in timers else goes
    yield from _assigned(held, takes, f"OR ({held} AND (NOT {goes}))")
    if rule.only_if:
        yield from _assigned(held, held, *(f"AND {_guard(each, readings)}" for each in rule.only_if))


def _assigned(variable, first, *more):
    """A statement on one line, or with a line for each term where it would be too long."""
    line = f"{variable} := {' '.join((first, *more))};"
    if len(line) <= WIDTH:
        return [line]
    return [f"{variable} := {first}", *(f"    {term}" for term in more[:-1]), f"    {more[-1]};"]


def _guard(name, readings):
    bare = name.removeprefix(NOT)
    variable = readings.value(bare) if readings.is_reading(bare) else _held(bare)
    return f"(NOT {variable})" if name.startswith(NOT) else variable


def _sides(rule, readings):
    """When a rule's limit is met, and when the reading is at the other one or past it."""
    value = readings.value(rule.input)
    if rule.side in (ABOVE, BELOW):
        on, off = (">=", "<=") if rule.side == ABOVE else ("<=", ">=")
        return f"({value} {on} cfg_on_{rule.name})", f"({value} {off} cfg_off_{rule.name})"
    yes, no = value, f"(NOT {value})"
    return (yes, no) if rule.side == TRUE else (no, yes)


def _switched(rules, output):
    """Whether an output is on: of its rules that hold, the one of highest priority has the last word."""
    mine = sorted((rule for rule in rules.rules if rule.output == output), key=lambda rule: rule.priority)
    said = ""
    for action, group in groupby(mine, key=lambda rule: rule.action):
        any_of = " OR ".join(_held(rule.name) for rule in group)
        if action == ON:
            said = f"{any_of} OR {_whole(said)}" if said else any_of
        elif said:
            said = f"(NOT {_whole(any_of)}) AND {_whole(said)}"
    yield f"{_on(output)} := {said or 'FALSE'};"


def _whole(expression):
    return f"({expression})" if " " in expression else expression


def _block(kind, declared):
    """A block of declarations, one a line; none when nothing is declared."""
    lines = [line for words, said in declared for line in _declaration(words, ascii_words(said))]
    return [kind, *lines, "END_VAR"] if lines else []


def _declaration(words, said):
    """A declaration with its comment behind it, or above it where the line would be too long."""
    if said and len(words) + len(said) + len("    ; (*  *)") <= WIDTH:
        return [f"    {words}; (* {said} *)"]
    return [*(f"    {line}" for line in comment(said)), f"    {words};"]


def _section(title, statements):
    return ["", *comment(title), *statements]
