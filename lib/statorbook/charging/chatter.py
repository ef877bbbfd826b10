"""Loads that chatter or get in each other's way: hysteresis against the step that a load makes in the bank's volts."""

from dataclasses import dataclass, replace

from statorbook.charging.control import ABOVE, BELOW, NOT, ON, OUTPUTS
from statorbook.charging.control_faults import outputs_at_work
from statorbook.charging.days import simulate
from statorbook.quantities import say

_VOLTS = ("bank_volts", "bank_volts_25")
_DAY_S = 86_400.0
_SHARES = (0.25, 0.5, 0.75, 1.0)  # of the strongest source


def amps_of(plan, output):
    """Amps that an output draws from the bank at its absorption volts, 0 where it draws none [A]."""
    volts = plan.points.absorption_volts
    for dump in plan.dumps:
        if dump.output == output:
            return volts / dump.ohm
    heater = {"water_heater": plan.cylinder, "air_heater": plan.room}.get(output)
    if heater is None or plan.inverter is None:
        return 0.0
    return heater.heater_watts / plan.inverter.efficiency / volts


def remarks_on(plan):
    """What of the rules switches too often or does less than it seems, as whole sentences."""
    rules = [rule for rule in plan.rules.rules if rule.action == ON and rule.output in outputs_at_work(plan)]
    loads = [rule for rule in rules if amps_of(plan, rule.output)]
    by_volts = [rule for rule in loads if rule.input in _VOLTS and rule.side == ABOVE]
    said = [_chatters(plan, rule) for rule in by_volts]
    said += [_drops(plan, rule, other) for rule in by_volts for other in by_volts if rule.output != other.output]
    said += [_never(plan, rule) for rule in by_volts]
    said += [_drains(plan, rule) for rule in loads if OUTPUTS[rule.output].kind == "heater"]
    return tuple(dict.fromkeys(filter(None, said)))


def _step_volts(plan, output):
    """By how much the bank's volts fall at once when a load comes on, with the most ohms of such a bank [V]."""
    return amps_of(plan, output) * plan.bank.internal_ohm_ends[1]


def _chatters(plan, rule):
    """A load whose own step carries the volts past where it lets go."""
    step, between = _step_volts(plan, rule.output), rule.on_at - rule.off_at
    if step < between:
        return ""
    scan_s = plan.rules.scan_ms / 1000.0
    cycle_s = max(scan_s, rule.on_delay_s) + max(scan_s, rule.off_delay_s, rule.least_on_s)
    return (
        f"Rule {rule.name}: the {OUTPUTS[rule.output].words} chatters, since the bank's volts fall by up to "
        f"{say(step, 'V', form='.2g')} as it comes on and it lets go {say(between, 'V', form='.2g')} below its limit; "
        f"its delays allow up to {_rounded(_DAY_S / cycle_s)} operations a day."
    )


def _drops(plan, rule, other):
    """A load whose coming on takes another one off that came before it."""
    after = rule.on_at - _step_volts(plan, rule.output)
    never_both = any(NOT + name in other.only_if for name in rule.only_if)
    never_both |= any(NOT + name in rule.only_if for name in other.only_if)
    if (
        never_both
        or other.on_at > rule.on_at
        or after > other.off_at
        or _step_volts(plan, rule.output) >= rule.on_at - rule.off_at
    ):
        return ""
    return (
        f"Rules {other.name} and {rule.name} take turns: when the {OUTPUTS[rule.output].words} comes on, the volts "
        f"fall to {say(after, 'V')}, where the {OUTPUTS[other.output].words} lets go; set that limit lower."
    )


def _never(plan, rule):
    """A load that comes on only when the bank is past its limit already."""
    if rule.on_at <= plan.points.most_volts:
        return ""
    return (
        f"Rule {rule.name} comes on at {say(rule.on_at, 'V')}, above the {say(plan.points.most_volts, 'V')} that the "
        "bank may ever have: it comes too late."
    )


def _drains(plan, rule):
    """A heater that draws on while the bank sinks to where the inverter gives up."""
    known = {each.name: each for each in plan.rules.rules}
    cut = [each.off_at for each in known.values() if each.output == "inverter_enable" and _is_high(each)]
    floor = max([plan.inverter.trips_below_volts, *cut])
    holding = [rule, *(known[name] for name in rule.only_if if name in known)]
    stops = [each.off_at for each in holding if _is_high(each) and each.output != "inverter_enable"]
    stops += [known[n.removeprefix(NOT)].on_at for n in rule.only_if if n.startswith(NOT) and _is_low(known, n)]
    if any(volts > floor for volts in stops):
        return ""
    return (
        f"Rule {rule.name}: the {OUTPUTS[rule.output].words} draws the bank down to {say(floor, 'V')}, where the "
        "inverter goes off, comes back and goes off again; let it go at higher volts."
    )


def _is_high(rule):
    return rule.input in _VOLTS and rule.side == ABOVE


def _is_low(known, name):
    rule = known.get(name.removeprefix(NOT))
    return rule is not None and rule.input in _VOLTS and rule.side == BELOW


def _rounded(count):
    return say(count, "", figures=2)


@dataclass(frozen=True, kw_only=True)
class Busiest:
    """The output that is switched most on days with a full bank."""

    output: str
    a_day: int
    share: float  # of the strongest source, on that day


def busiest_day(plan):
    """Find the output that is switched most while the bank is full and nothing is drawn.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.

    Returns
    -------
    Busiest
        Its operations on the worst of four simulated days.

    Notes
    -----
    Equation: a day each with a quarter, half, three quarters and all of the strongest setting; its highest count.
    Valid: nothing that fails; the steps of dump loads meet the source worst somewhere between two of these.
    Source: simulated days.
    """
    strongest, found = max(plan.course.settings), []
    for share in _SHARES:
        course = replace(plan.course, by_hour=(share * strongest,) * len(plan.course.by_hour))
        days = simulate(replace(plan, course=course, house=()), days=1, start_charge=1.0)
        works = {name: days.operations[name] for name in outputs_at_work(plan)}
        output = max(works, key=works.get)
        found.append(Busiest(output=output, a_day=works[output], share=share))
    return max(found, key=lambda each: each.a_day)
