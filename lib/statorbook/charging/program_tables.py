"""What is wired to the controller, as tables: inputs with their scaling, outputs with their contacts."""

from dataclasses import dataclass

from statorbook.charging.control import ABOVE, BELOW, CLOSED_AT_REST, MEASURED, NOT, ON, OUTPUTS, TRUE, VALID, YES_NO
from statorbook.charging.program import relay_variable
from statorbook.charging.program_readings import input_variable
from statorbook.quantities import say

_VOLTS, _VOLTS_25 = "bank_volts", "bank_volts_25"
_COLDEST_C = -20.0  # of cells that are charged, at which the compensated volts lie highest: assumed
_NOT_CHECKED = (
    "Not checked: a multimeter at the bank's poles and the controller's number at the same moment, typed on page 07, "
    "make the scale right."
)
_SHARES = (0.0, 0.25, 0.5, 0.7, 0.8, 0.9, 1.0)  # of the volts at which the input ends
_SENSORS = {
    _VOLTS: "divider of two resistors, by wires of its own from the bank's own poles, a small fuse at the plus",
    "bank_amps": "shunt in the bank's minus with its amplifier, plus while the bank is charged",
    "cell_c": "sensor on the side of a cell in the middle of the bank, insulated",
    "water_c": "sensor in the cylinder's pocket, above the heater",
    "air_c": "sensor in the room, away from the heater",
    "speed_rpm": "pickup at the shaft, or the frequency of one phase behind a transformer",
    "inverter_healthy": "the inverter's own signal contact, closed while it is well",
    "control_power": "contact of a relay across the controller's supply",
}
_DEVICES = {
    _VOLTS: "volts relay",
    _VOLTS_25: "volts relay",
    "bank_amps": "amps relay with shunt",
    "cell_c": "thermostat on a cell",
    "water_c": "thermostat in the water",
    "air_c": "room thermostat",
    "speed_rpm": "speed relay",
    "inverter_healthy": "the inverter's signal contact",
    "control_power": "relay across the supply",
}


@dataclass(frozen=True, kw_only=True)
class ControlInput:
    """What the controller reads.

    Parameters
    ----------
    name : str
        A name of `MEASURED` or `YES_NO`.
    variable : str
        Of the program.
    words : str
        What it is.
    number : str
        What the number in the program means.
    range_words : str
        What a sound sensor gives.
    sensor : str
        What it is wired to.
    """

    name: str
    variable: str
    words: str
    number: str
    range_words: str
    sensor: str


@dataclass(frozen=True, kw_only=True)
class ControlOutput:
    """A relay of the controller.

    Parameters
    ----------
    number : int
        On the controller, from 1 [-].
    variable : str
        Of the program.
    output : str
        A name of `OUTPUTS`.
    words : str
        What it switches.
    contact : str
        Normally open or normally closed.
    dead_words : str
        "on" or "off": the load while the coil has no current.
    """

    number: int
    variable: str
    output: str
    words: str
    contact: str
    dead_words: str


@dataclass(frozen=True, kw_only=True)
class RelayStep:
    """A rule built of relays, without a processor."""

    rule: str
    device: str
    closes: str
    opens: str
    times: str
    in_series: str
    switches: str


def control_inputs(rules, volts_input):
    """What is read, with the scaling of the bank's volts.

    Parameters
    ----------
    rules : RuleSet
        The rules.
    volts_input : VoltsInput
        The input for the bank's volts.

    Returns
    -------
    tuple of ControlInput
        In the order of the program.
    """
    return tuple(_input(name, rules, volts_input) for name in rules.inputs_used)


def _input(name, rules, volts_input):
    if name in YES_NO:
        words, number, limits = YES_NO[name].words, "yes while the contact is closed", "yes or no"
    else:
        measured = MEASURED[name]
        words, number = measured.words, f"whole {measured.code_unit}"
        limits = _range(rules, name)
        if name == _VOLTS:
            number = _scaling(volts_input)
    counts = volts_input.gives_counts
    return ControlInput(
        name=name,
        variable=input_variable(name, counts=counts),
        words=words,
        number=number,
        range_words=limits,
        sensor=_SENSORS[name],
    )


def _range(rules, name):
    said = rules.said_range(name)
    return f"{said[0]:g} to {said[1]:g} {MEASURED[name].unit}" if said else "all that it gives"


def _scaling(volts_input):
    if not volts_input.gives_counts:
        full = f"{volts_input.input_volts:g} V at the input is {1000 * volts_input.divided_volts:.0f} mV of the bank"
        return f"whole mV, scaled by the controller itself: {full}"
    top, bottom = volts_input.scale
    return f"counts, 0 to {volts_input.full_counts}: mV = counts × {top} ÷ {bottom}"


def control_outputs(rules):
    """What is switched.

    Parameters
    ----------
    rules : RuleSet
        The rules.

    Returns
    -------
    tuple of ControlOutput
        By the numbers of the relays.
    """
    return tuple(
        ControlOutput(
            number=relay.number,
            variable=relay_variable(relay),
            output=relay.output,
            words=OUTPUTS[relay.output].words,
            contact=relay.contact,
            dead_words="on" if relay.contact == CLOSED_AT_REST else "off",
        )
        for relay in sorted(rules.relays, key=lambda relay: relay.number)
    )


def scaling_words(volts_input):
    """How the bank's volts are divided and scaled, how far off they may be, and what makes them right.

    Parameters
    ----------
    volts_input : VoltsInput
        The input for the bank's volts.

    Returns
    -------
    str
        Sentences.
    """
    full, off = volts_input.full_volts, volts_input.error_share
    checked = "Checked by the multimeter." if volts_input.checked else _NOT_CHECKED
    milliwatts = float(f"{1000.0 * volts_input.watts:.2g}")
    return (
        f"Divider {volts_input.divider_words}, {milliwatts:g} mW at most. The input ends at "
        f"{say(full, 'V', form='.1f')} of the bank; one count is {1000.0 * volts_input.step_volts:.2g} mV. It may be "
        f"off by {100.0 * off:.1g} %, {say(off * full, 'V', form='.1g')} at the end. {checked}"
    )


def scaling_rows(volts_input):
    """Bank volts with what the input has to show, to compare while it is tried.

    Parameters
    ----------
    volts_input : VoltsInput
        The input for the bank's volts.

    Returns
    -------
    tuple of tuple of str
        Bank volts, volts at the input, the number that it shows, and the program's millivolts.
    """
    volts = [share * volts_input.full_volts for share in _SHARES]
    return tuple((f"{bank:.1f} V", f"{share * volts_input.input_volts:.2f} V", *_shown(volts_input, bank))
                 for share, bank in zip(_SHARES, volts, strict=True))  # fmt: skip


def _shown(volts_input, bank_volts):
    if not volts_input.gives_counts:
        return (f"{1000.0 * bank_volts:.0f}",) * 2
    counts = volts_input.counts_at(bank_volts)
    return f"{counts}", f"{volts_input.millivolts(counts)}"


def most_read_volts(plan):
    """The highest volts that the controller has to read.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.

    Returns
    -------
    float
        Of the bank: the limits of its rules and what the bank may come to, also with cold cells, DC [V].
    """
    volts_rules = [rule for rule in plan.rules.rules if rule.input in (_VOLTS, _VOLTS_25)]
    highest = max((plan.points.most_volts, *(max(rule.on_at, rule.off_at) for rule in volts_rules)))
    return highest + max(0.0, plan.rules.compensation_mv_per_k * (_COLDEST_C - 25.0) / 1000.0)


def without_processor(rules):
    """The same rules with relays and volt-sensing modules, without a processor.

    Parameters
    ----------
    rules : RuleSet
        The rules.

    Returns
    -------
    tuple of RelayStep
        A row for each rule that can be built so.
    tuple of str
        What cannot be built so, a sentence each.
    """
    built = [rule for rule in rules.rules if not rule.input.endswith(VALID)]
    return tuple(map(_step, built)), tuple(_lost(rules, built))


def _step(rule):
    times = [f"closes {rule.on_delay_s:g} s late" if rule.on_delay_s else ""]
    times += [f"opens {rule.off_delay_s:g} s late" if rule.off_delay_s else ""]
    times += [f"stays {rule.least_on_s:g} s at least" if rule.least_on_s else ""]
    kind = "closes" if rule.action == ON else "opens (normally closed contact in series)"
    return RelayStep(
        rule=rule.name,
        device=_DEVICES[rule.input],
        closes=_at(rule, rule.side, rule.on_at),
        opens=_at(rule, {ABOVE: BELOW, BELOW: ABOVE}.get(rule.side, ""), rule.off_at),
        times=", ".join(filter(None, times)) or "at once",
        in_series="; ".join(_contact(name) for name in rule.only_if if not name.endswith(VALID)) or "nothing",
        switches=f"{kind}: {OUTPUTS[rule.output].words}",
    )


def _at(rule, side, value):
    if value is None:
        there = (rule.side == TRUE) == bool(side)
        return "signal there" if there else "signal gone"
    return f"{side} {say(value, MEASURED[rule.input].unit, form='g')}"


def _contact(name):
    """A guard as a contact in series: of a rule's relay, or of a signal."""
    bare = name.removeprefix(NOT)
    noun = YES_NO[bare].words if bare in YES_NO else f"relay of {bare}"
    return f"{noun}, {'normally closed' if name.startswith(NOT) else 'normally open'}"


def _lost(rules, built):
    """What such a panel cannot do."""
    if rules.compensation_code and any(rule.input == _VOLTS_25 for rule in rules.rules):
        shift = abs(rules.compensation_mv_per_k) * 25.0 / 1000.0
        cold, right, hot = (say(celsius, "°C", form=".0f") for celsius in (0.0, 25.0, 50.0))
        yield (
            f"It does not follow the temperature of the cells: its volts are right at {right}, {shift:.2g} V too low "
            f"at {cold} and as much too high at {hot}."
        )
    left_out = [rule.name for rule in rules.rules if rule not in built]
    if left_out or any(name.endswith(VALID) for rule in rules.rules for name in rule.only_if):
        rows = f"; left out: {', '.join(left_out)}" if left_out else ""
        yield f"It does not notice that a sensor's wire is off or that a reading cannot be{rows}."
    timers = sum(bool(each) for rule in built for each in (rule.on_delay_s, rule.off_delay_s, rule.least_on_s))
    yield f"Each delay takes a time relay or a module that has it: {timers} here."
    if any(rule.least_on_s for rule in built):
        yield "A least time on takes a relay that holds itself through its own time relay."
    if any(rule.action != ON for rule in built):
        yield "Which rule has the last word is a matter of wires: a contact in series that opens always wins."
    yield "Each relay needs as many contacts as rows name it, and a change takes a screwdriver, not a key."
    yield "A module holds its volts to a few tenths of a volt: keep at least that between two rows."
