"""Rules and relays as rows of their logs, and back; what is wrong with a row stands at its cell."""

import re
from dataclasses import dataclass, replace

from statorbook.bench import CONTROL_RELAYS_LOG, CONTROL_RULES_LOG, Reading, read_rows, require_usable
from statorbook.charging.control import (
    MEASURED,
    MEASURED_NAMES,
    ON,
    OPEN_AT_REST,
    OUTPUT_NAMES,
    OUTPUTS,
    VALID,
    YES_NO,
    Relay,
    Rule,
    RuleSet,
)
from statorbook.charging.rule_checks import RULE, complaints
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, holds_anything, typed_number

INPUT_WORDS = (*MEASURED, *YES_NO, *(name + VALID for name in MEASURED_NAMES))
_INPUTS, _OUTPUTS = ({word: word for word in words} for words in (INPUT_WORDS, OUTPUT_NAMES))
_BETWEEN = re.compile(r"\s*[,;]\s*|\s+and\s+")
_MOST = 99_999.0  # of a limit, in any unit: beyond it is a slip of the pen


@dataclass(frozen=True, kw_only=True)
class RuleReading(Reading):
    """A row of the rules."""

    rule: Rule | None = None


@dataclass(frozen=True, kw_only=True)
class RelayReading(Reading):
    """A row of the relays."""

    relay: Relay | None = None


@dataclass(frozen=True, kw_only=True)
class ReadControl:
    """Both logs read together; what is not typed is that of the ready set."""

    rules: tuple[RuleReading, ...]
    relays: tuple[RelayReading, ...]
    rule_set: RuleSet  # of the rows that can be read
    assumed: tuple[str, ...]  # what was taken from the ready set, in words


def read_control(rule_rows, relay_rows, ready):
    """Read the logs of rules and relays, each row judged by itself and among the others.

    Parameters
    ----------
    rule_rows : list of dict
        Raw cells as typed; the ready rules are taken while nothing is typed.
    relay_rows : list of dict
        Likewise; while nothing is typed each output that a rule switches gets a relay.
    ready : RuleSet
        The ready set of the plant: rules, contacts, sensors and compensation.

    Returns
    -------
    ReadControl
        Rows and rules.
    """
    rules = read_rows(CONTROL_RULES_LOG, RuleReading, rule_rows, _rule_in) if holds_anything(rule_rows) else ()
    relays = read_rows(CONTROL_RELAYS_LOG, RelayReading, relay_rows, _relay_in) if holds_anything(relay_rows) else ()
    made = tuple(reading.rule for reading in rules if reading.rule) or ready.rules
    joined = tuple(reading.relay for reading in relays if reading.relay) or _usual_relays(made, ready)
    rule_set = replace(ready, rules=made, relays=joined, words="" if rules else ready.words)
    rules, relays = _judged(rules, relays, rule_set)
    assumed = (() if rules else ("the rules, ready ones",)) + (() if relays else ("the relays",))
    return ReadControl(rules=rules, relays=relays, rule_set=rule_set, assumed=assumed)


def rules_of(rule_rows, relay_rows, ready):
    """The rules of a job by its logs.

    Parameters
    ----------
    rule_rows : list of dict
        As in `read_control`.
    relay_rows : list of dict
        Likewise.
    ready : RuleSet
        Likewise.

    Returns
    -------
    tuple of RuleSet and tuple of str
        The rules, and what of them is assumed, in words.

    Raises
    ------
    BadInput
        When a row cannot be used, or the set cannot work.
    """
    found = read_control(rule_rows, relay_rows, ready)
    require_usable((*found.rules, *found.relays))
    for *_, complaint in complaints(found.rule_set):
        raise BadInput(complaint.given, complaint.allowed, complaint.next_step, where=complaint.where)
    return found.rule_set, found.assumed


def rows_of_rules(rules):
    """The rules of a set as rows of their log.

    Parameters
    ----------
    rules : RuleSet
        Any set.

    Returns
    -------
    list of dict of str to str
        Cells by column.
    """
    return [
        {
            "rule": rule.name,
            "output": rule.output,
            "action": rule.action,
            "input": rule.input,
            "side": rule.side,
            "on_at": _number(rule.on_at),
            "off_at": _number(rule.off_at),
            "on_delay_s": _number(rule.on_delay_s or None),
            "off_delay_s": _number(rule.off_delay_s or None),
            "least_on_s": _number(rule.least_on_s or None),
            "only_if": ", ".join(rule.only_if),
            "priority": _number(rule.priority),
            "note": rule.note,
        }
        for rule in rules.rules
    ]


def rows_of_relays(rules):
    """The relays of a set as rows of their log, what stands on their contacts left empty.

    Parameters
    ----------
    rules : RuleSet
        Any set.

    Returns
    -------
    list of dict of str to str
        Cells by column.
    """
    empty = dict.fromkeys(CONTROL_RELAYS_LOG.names, "")
    return [
        empty | {"relay": _number(relay.number), "output": relay.output, "contact": relay.contact}
        for relay in rules.relays
    ]


def _number(value):
    return "" if value is None else f"{value:.10g}"


def _input_in(row, where):
    """What a rule looks at; its list is on the page, and all sixteen words would push the page down."""
    try:
        return CONTROL_RULES_LOG.word(row, "input", where, words=_INPUTS)
    except BadInput as refusal:
        allowed = "allowed are the words of its list, such as bank_volts, cell_c or inverter_healthy"
        raise BadInput(refusal.given, allowed, refusal.next_step, where=refusal.where) from None


def _rule_in(row, where):
    log = CONTROL_RULES_LOG
    name = _input_in(row, where)
    typed = [column for column in ("on_at", "off_at") if name in MEASURED or cell_text(row.get(column))]
    limits = {column: _limit(row, column, name, where) for column in typed}
    delays = {
        column: log.number(row, column, where).value
        for column in ("on_delay_s", "off_delay_s", "least_on_s")
        if cell_text(row.get(column))
    }
    made = Rule(
        name=cell_text(row.get("rule")),
        output=log.word(row, "output", where, words=_OUTPUTS),
        action=log.word(row, "action", where, otherwise=ON),
        input=name,
        side=log.word(row, "side", where),
        only_if=_names(row.get("only_if")),
        priority=_whole(log.number(row, "priority", where).value) if cell_text(row.get("priority")) else 1,
        note=cell_text(row.get("note")),
        **limits,
        **delays,
    )
    return {"rule": made}, ()


def _limit(row, column, name, where):
    log = CONTROL_RULES_LOG
    where = log.cell(where, column)
    if name not in MEASURED:
        raise BadInput("a limit was given", f"{name} is yes or no", "leave the cell empty", where=where)
    limits = {"at_least": -_MOST, "at_most": _MOST, "name": log.column(column).label}
    return typed_number(row.get(column), MEASURED[name].unit, **limits, where=where).value


def _names(cell):
    """Names between commas; blanks within one, such as after "not", count as one."""
    return tuple(" ".join(name.split()) for name in _BETWEEN.split(cell_text(cell)) if name.strip())


def _whole(value):
    return int(value) if value == int(value) else value


def _relay_in(row, where):
    log = CONTROL_RELAYS_LOG
    made = Relay(
        number=_whole(log.number(row, "relay", where).value),
        output=log.word(row, "output", where, words=_OUTPUTS),
        contact=log.word(row, "contact", where, otherwise=OPEN_AT_REST),
    )
    return {"relay": made}, ()


def _usual_relays(rules, ready):
    """A relay for each output that a rule switches, with the contact that the ready set has for it."""
    used = [name for name in OUTPUTS if any(rule.output == name for rule in rules)]
    contacts = {relay.output: relay.contact for relay in ready.relays}
    return tuple(
        Relay(number=number, output=name, contact=contacts.get(name, OPEN_AT_REST))
        for number, name in enumerate(used, start=1)
    )


def _judged(rules, relays, rule_set):
    """The readings with what is wrong among them; what only follows from a row that cannot be read is not said."""
    refused = {cell_text(reading.raw.get("rule")) for reading in rules if reading.refusal}
    found = {}
    for kind, at, column, complaint in complaints(rule_set):
        own, log = (rules, CONTROL_RULES_LOG) if kind == RULE else (relays, CONTROL_RELAYS_LOG)
        readable = [reading for reading in own if not reading.refusal]
        if at >= len(readable):
            continue
        reading = readable[at]
        if kind == RULE and (
            (column == "only_if" and any(name.removeprefix("not ") in refused for name in reading.rule.only_if))
            or (column == "output" and any(relay.refusal for relay in relays))
        ):
            continue
        where = log.cell(reading.where, column)
        said = BadInput(complaint.given, complaint.allowed, complaint.next_step, where=where)
        found.setdefault((reading.log, reading.row), said)

    def judged(reading):
        said = found.get((reading.log, reading.row))
        return replace(reading, refusal=str(said), complaint=said) if said else reading

    return tuple(map(judged, rules)), tuple(map(judged, relays))
