"""What a reader is told of contacts, steps and pulse-width control."""

from statorbook.bank import bank_table, rest_volts_of
from statorbook.cautions import together
from statorbook.charging.contacts import FITS, MISFIT, UNKNOWN, typical_dc_amps
from statorbook.charging.control import OUTPUTS
from statorbook.charging.dump_loads import dump_needs
from statorbook.charging.dump_steps import OPERATIONS, YEAR_CYCLE_S
from statorbook.protection import two_figures
from statorbook.quantities import rounded_down, say

_YEAR_DAYS = 365.0
_LONG_YEARS = 20.0  # by then it has aged in other ways


def contact_words(plan, judged, steps, *, ac_amps, operations=None):
    """What the contacts of a plan come to, and what steps do.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.
    judged : sequence of JudgedContact
        From `judged_contacts`.
    steps : sequence of DumpStep
        From `dump_steps`.
    ac_amps : float
        On the label of a contact for 250 V AC that somebody may mean to take [A].
    operations : dict of str to int or None
        How often each output came on in a simulated week; None before one was [-].

    Returns
    -------
    str
        A line for labels, for such a contact, for steps, and for the other way.
    """
    lines = (
        _labels_words(judged),
        _guide_words(plan, ac_amps),
        _steps_words(plan, steps),
        _week_words(steps, operations),
        _pulse_words(steps),
    )
    return "\n".join(filter(None, lines))


def _labels_words(judged):
    relays = [j for j in judged if j.relay]
    found = {verdict: [j for j in relays if j.verdict == verdict] for verdict in (FITS, MISFIT, UNKNOWN)}
    if not relays:
        return "There is no relay in the rules."
    wrong = [f"{j.need.words} ({j.why})" for j in found[MISFIT]]
    lines = [f"Of {len(relays)} relays {len(found[FITS])} fit by their labels, {len(found[UNKNOWN])} are not known."]
    if wrong:
        lines.append(f"{'Does' if len(wrong) == 1 else 'Do'} not fit: {'; '.join(wrong)}.")
    guards = [f"{j.need.said} in {j.need.words}" for j in judged if not j.relay]
    if guards:
        lines.append(f"The guard's own contactors have to break {' and '.join(guards)}.")
    return " ".join(lines)


def _guide_words(plan, ac_amps):
    volts = dump_needs(plan.plant, plan.points).top_volts
    breaks = say(rounded_down(typical_dc_amps(ac_amps, volts)), "A")
    return (
        f"A contact labelled for {say(ac_amps, 'A', form='.0f')} at 250 V AC may break about {breaks} at your "
        f"{say(volts, 'V', form='.0f')} DC, as a guide: ask for the DC label."
    )


def _steps_words(plan, steps):
    if not steps:
        return ""
    worst = max(steps, key=lambda step: step.most_volts)
    old = f", {two_figures(worst.most_volts, 'V')} with an old bank" if worst.most_volts > worst.volts else ""
    rest = say(float(rest_volts_of(1.0, bank_table(plan.bank))), "V", form=".0f")
    said = (
        f"In steps the bank's volts jump: the {OUTPUTS[worst.output].words} pulls them down by "
        f"{two_figures(worst.volts, 'V')} at once{old}, and within minutes towards the {rest} of a full bank at "
        "rest when it takes more than comes. So delays and least time on say how often the relay works"
    )
    return together(f"{said}: {_often_words(max(steps, key=lambda step: step.worst_a_day))}", _chatter_words(steps))


def _often_words(step):
    if not step.worst_a_day:
        return f"no rule switches the {OUTPUTS[step.output].words} on."
    count, days = float(f"{step.worst_a_day:.2g}"), step.least_days
    more = (
        ""
        if days >= _YEAR_DAYS
        else (f" With {two_figures(YEAR_CYCLE_S / 60.0, 'min')} from one switching on to the next it lasts a year.")
    )
    lasts = f"a relay made for {OPERATIONS.value:,.0f} of them then lasts {_days(days)}."
    return f"up to {count:,.0f} times a day at the worst, and {lasts}{more}"


def _week_words(steps, operations):
    """How often the dump loads came on in the simulated week; empty before there was one."""
    if not (steps and operations):
        return ""
    counts = [f"the {OUTPUTS[step.output].words} {operations[step.output]:,} times" for step in steps]
    most = max(operations[step.output] for step in steps)
    if not most:
        return "In a simulated week without a fault no dump load came on."
    lasts = _days(7.0 * OPERATIONS.value / most)
    return f"In a simulated week without a fault {' and '.join(counts)} came on; at that a relay lasts {lasts}."


def _chatter_words(steps):
    chattering = [step for step in steps if step.may_chatter]
    if not chattering:
        return ""
    names = " and ".join(OUTPUTS[step.output].words for step in chattering)
    return f"The step at once may already pass where the rule of the {names} lets go: widen the gap between its limits."


def _pulse_words(steps):
    if not steps:
        return ""
    amps = max(step.amps for step in steps)
    return (
        "A transistor that switches some hundred times a second (pulse-width) wears nothing and holds the volts "
        f"smoothly, but the bank then carries a ripple of up to {two_figures(0.5 * amps, 'A')} rms, and a "
        "transistor fails shut: the load stays on until the guard's contactor opens."
    )


def _days(days):
    years = days / _YEAR_DAYS
    if years > _LONG_YEARS:
        return f"over {_LONG_YEARS:g} years"
    return two_figures(years, "years") if years >= 2.0 else two_figures(days, "days")
