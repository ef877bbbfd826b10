"""Invented rules that use everything that a rule can, and readings that stand at and beside each of their limits."""

from statorbook.charging.control import (
    ABOVE,
    BELOW,
    CLOSED_AT_REST,
    FALSE,
    MEASURED,
    NOT,
    OFF,
    ON,
    TRUE,
    VALID,
    YES_NO,
    Relay,
    Rule,
    RuleSet,
)

RULES = (
    Rule(name="cold", output="source_stop", input="cell_c", side=BELOW, on_at=1.0, off_at=3.5, on_delay_s=0.2),
    Rule(name="blind", output="alarm_low", input="cell_c" + VALID, side=FALSE, on_delay_s=0.3, priority=2),
    Rule(name="first", output="dump_1", input="bank_volts_25", side=ABOVE, on_at=28.4, off_at=27.6, on_delay_s=0.5,
         off_delay_s=0.3, least_on_s=0.7, only_if=("control_power",), note="the first step"),
    Rule(name="second", output="dump_2", input="bank_volts_25", side=ABOVE, on_at=28.8, off_at=28.0, off_delay_s=0.2,
         least_on_s=0.4, only_if=("first", "bank_volts_25" + VALID)),
    Rule(name="high", output="dump_1", input="bank_volts", side=ABOVE, on_at=30.0, off_at=27.0, priority=3),
    Rule(name="hot", output="dump_1", action=OFF, input="air_c", side=ABOVE, on_at=60.0, off_at=50.0,
         off_delay_s=0.4, priority=2),
    Rule(name="water", output="water_heater", input="water_c", side=BELOW, on_at=55.0, off_at=62.0,
         only_if=("first", "inverter_healthy", "not hot")),
    Rule(name="room", output="air_heater", input="bank_amps", side=ABOVE, on_at=4.0, off_at=-1.5,
         only_if=("not water", "inverter_healthy")),
    Rule(name="inverter", output="inverter_enable", input="inverter_healthy", side=TRUE, on_delay_s=0.2,
         off_delay_s=0.2, least_on_s=0.5),
    Rule(name="inverter_low", output="inverter_enable", action=OFF, input="bank_volts", side=BELOW, on_at=22.5,
         off_at=25.0, on_delay_s=0.6, priority=5),
    Rule(name="fast", output="alarm_high", input="speed_rpm", side=ABOVE, on_at=900.0, off_at=700.0),
    Rule(name="dark", output="alarm_low", input="control_power", side=FALSE),
    Rule(name="quiet", output="alarm_high", action=OFF, input="air_c", side=ABOVE, on_at=40.0, off_at=35.0, priority=2),
)  # fmt: skip
RELAYS = tuple(
    Relay(number=number, output=output, **({"contact": CLOSED_AT_REST} if output in ("dump_1", "source_stop") else {}))
    for number, output in (
        *((3, "dump_1"), (1, "dump_2"), (2, "water_heater"), (4, "air_heater")),
        *((5, "inverter_enable"), (6, "source_stop"), (7, "alarm_high"), (8, "alarm_low")),
    )
)
EVERYTHING = RuleSet(
    rules=RULES,
    relays=RELAYS,
    compensation_mv_per_k=-36.0,
    valid={
        "bank_volts": (10.0, 40.0),
        "cell_c": (-30.0, 80.0),
        "water_c": (-10.0, 110.0),
        "air_c": (-40.0, 70.0),
        "bank_amps": (-100.0, 100.0),
    },
    words="Invented: everything that a rule can be.",
)


CELLS_DC = (1, 123, 250, 333)  # cells at which what the compensation adds is cut toward zero, and not [0.1 °C]


def telling_codes(rules):
    """By input: the numbers at each limit of a rule, one step to either side, both ends of its sensor and beyond."""
    found = {name: {0} if name in MEASURED else {0, 1} for name in rules.inputs_used}
    for rule in rules.rules:
        for cell in CELLS_DC if rule.input == "bank_volts_25" else (250,):
            if rule.side in (ABOVE, BELOW):
                found[_sensor(rule)] |= {code + step for code in _limits(rules, rule, cell) for step in (-1, 0, 1)}
    if rules.compensation_code:
        found["cell_c"] |= set(CELLS_DC)
    for name in found.keys() & rules.valid.keys():
        least, most = rules.range_codes(name)
        found[name] |= {least - 1, least, most, most + 1}
    return {name: sorted(codes) for name, codes in found.items()}


def random_rows(rules, random, count):
    """Rows of readings: each input stays for some scans at one of its telling numbers."""
    codes = telling_codes(rules)
    row = {name: random.choice(values) for name, values in codes.items()}
    for _ in range(count):
        for name in row:
            if random.random() < 0.12:
                row[name] = random.choice(codes[name])
        yield dict(row)


def limit_runs(rules, scan_ms):
    """By rule: a run from switch-on, all else quiet, through its limits up and down, then to what no sensor gives.

    At each number, exactly at a limit, one step below and above, it stays a scan longer than its output's delays.
    """
    codes, lead = telling_codes(rules), round(1000 * _longest_s(*rules.rules) / scan_ms) + 2
    runs = {}
    for rule in rules.rules:
        sensor, background = _sensor(rule), _quiet(rules, rule)
        beside = (each for each in rules.rules if each.output == rule.output)
        dwell = round(1000 * _longest_s(*beside) / scan_ms) + 2
        if rule.side in (ABOVE, BELOW):
            on, off = _limits(rules, rule, background.get("cell_c", 250))
            up = 1 if on > off else -1
            middle = (on + off) // 2
            walk = [middle, off, on - up, on, on + up, off + up, middle, off, off - up]
            jumps = [each for code in _ends(rules, sensor) for each in (on + up, code)]
        else:
            middle, walk, jumps = codes[sensor][-1], [*codes[sensor], *reversed(codes[sensor])], []
        steps = [middle] * lead + [code for code in (*walk, *jumps) for _ in range(dwell)]
        runs[rule.name] = [{**background, sensor: code} for code in steps]
    return runs


def cell_run(rules, scan_ms):
    """Volts below and at each compensated limit with cells cold to warm, then as before without the cells' sensor."""
    lead = round(1000 * _longest_s(*rules.rules) / scan_ms) + 2
    absent, rows = {"cell_c": rules.range_codes("cell_c")[0] - 1}, []
    for rule in (each for each in rules.rules if each.input == "bank_volts_25"):
        quiet = _quiet(rules, rule)
        for cell in CELLS_DC:
            limits = _limits(rules, rule, cell)
            for code in (*limits, limits[0] - 1, limits[0], limits[1] + 1, limits[1]):
                rows += [quiet | {"cell_c": cell, "bank_volts": code}] * lead
        for step in (-1, 0):
            volts = {"bank_volts": _limits(rules, rule, 250)[0] + step}
            rows += [quiet | {"cell_c": CELLS_DC[0]} | volts] * 2 + [quiet | absent | volts] * lead
    return rows


def _longest_s(*rules):
    return max(max(rule.on_delay_s, rule.off_delay_s, rule.least_on_s) for rule in rules)


def _ends(rules, sensor):
    """The last number that a sensor gives at each end, and one beyond."""
    least, most = rules.range_codes(sensor)
    return (least - 1, least, most, most + 1) if rules.said_range(sensor) else ()


def _sensor(rule):
    """The input that a rule looks at in the end."""
    name = rule.input.removesuffix(VALID)
    return "bank_volts" if name == "bank_volts_25" else name


def _limits(rules, rule, cell_dc):
    """A rule's two limits as its sensor gives them, with cells at a temperature [0.1 °C]."""
    shift = int(rules.compensation_code * (cell_dc - 250) / 10) if rule.input == "bank_volts_25" else 0
    return [MEASURED[rule.input].code(value) + shift for value in (rule.on_at, rule.off_at)]


def _quiet(rules, wanted):
    """Readings at which only those rules hold that a rule asks for, or of which it keeps the output off."""
    row = {name: 1 if name in YES_NO else 250 for name in rules.inputs_used}
    for rule in rules.rules:
        if rule.side in (ABOVE, BELOW):
            row[_sensor(rule)] = _limits(rules, rule, 250)[1]
        elif rule.input in YES_NO:
            row[rule.input] = int(rule.side == FALSE)
    row |= {"cell_c": 250} if rules.compensation_code else {}
    for rule in (each for each in rules.rules if each.output == wanted.output and each is not wanted):
        row |= {name.removeprefix(NOT): int(name.startswith(NOT)) for name in rule.only_if if name in YES_NO}
    kept_off = [each for each in rules.rules if each.output == wanted.output and each.action == ON]
    for rule in kept_off[:1] if wanted.action == OFF else ():
        row |= _holding(rules, rule)
    return row | _asked(rules, wanted)


def _asked(rules, rule):
    """Readings at which the guards of a rule are as it wants them."""
    named, row = {each.name: each for each in rules.rules}, {}
    for name in rule.only_if:
        bare = name.removeprefix(NOT)
        if bare in YES_NO:
            row[bare] = int(bare == name)
        elif bare in named and bare == name:
            row |= _holding(rules, named[bare])
    return row


def _holding(rules, rule):
    """Readings at which a rule holds."""
    own = _limits(rules, rule, 250)[0] if rule.side in (ABOVE, BELOW) else int(rule.side == TRUE)
    return _asked(rules, rule) | {_sensor(rule): own}
