"""What dump loads in steps do to the bank's volts and to their relays."""

from dataclasses import dataclass
from math import inf

from statorbook.charging.control import ON
from statorbook.quantities import Fact

OPERATIONS = Fact(
    value=100_000,
    unit="operations under load that a relay is made for",
    source="data sheets of power relays; common practice, no source",
    low=30_000,
    high=300_000,
)
_DAY_S = 86_400.0
YEAR_CYCLE_S = 365 * _DAY_S / OPERATIONS.value  # on and off in this time, a usual relay lasts a year
_VOLTS = ("bank_volts", "bank_volts_25")


@dataclass(frozen=True, kw_only=True)
class DumpStep:
    """One dump load that is switched as a whole."""

    output: str
    amps: float  # at the absorption volts
    volts: float  # by which the bank's volts fall at once when it comes on
    most_volts: float  # the same with the most ohms that such a bank has
    between_volts: float | None  # from the limit of its rule to where it lets go; None without a rule on volts
    worst_a_day: float  # operations that the delays of its rules on volts allow at the most

    @property
    def may_chatter(self):
        """Whether its own step in volts may carry it past where it lets go."""
        return self.between_volts is not None and self.most_volts >= self.between_volts

    @property
    def least_days(self):
        """Days that a usual relay lasts at the worst, inf when it never switches [d]."""
        return OPERATIONS.value / self.worst_a_day if self.worst_a_day else inf


def dump_steps(plan):
    """Tell what each dump load does to volts and relay.

    Parameters
    ----------
    plan : ChargingPlan
        The plan.

    Returns
    -------
    tuple of DumpStep
        One for each load.

    Notes
    -----
    Equation: step = V / R × ohms inside the bank; most operations a day = 86 400 s over delays and least time on.
    Valid: the first moment, by r / R too high, r the ohms inside; volts of a bank that took its charge sink further
        within minutes.
    Source: Ohm's law; semantics of `Rule`.
    Derivation: `charging.dump_step_volts`.
    """
    likely, most = plan.bank.internal_ohm, plan.bank.internal_ohm_ends[1]
    return tuple(_step(plan, dump, likely, most) for dump in plan.dumps)


def _step(plan, dump, likely_ohm, most_ohm):
    on_volts = _rules_on_volts(plan, dump.output)
    amps = plan.points.absorption_volts / dump.ohm
    between = min((abs(rule.on_at - rule.off_at) for rule in on_volts), default=None)
    return DumpStep(
        output=dump.output,
        amps=amps,
        volts=amps * likely_ohm,
        most_volts=amps * most_ohm,
        between_volts=between,
        worst_a_day=worst_a_day(plan, dump.output),
    )


def _rules_on_volts(plan, output):
    """Those that switch an output on by the bank's volts; the others wait for a fault, for cold or for heat."""
    rules = [rule for rule in plan.rules.rules if rule.output == output and rule.action == ON]
    return [rule for rule in rules if rule.input in _VOLTS]


def worst_a_day(plan, output):
    """The most operations a day that the delays of an output's rules on volts allow; 0 without such a rule [-]."""
    cycles = [_cycle_s(rule, plan.rules.scan_ms) for rule in _rules_on_volts(plan, output)]
    return _DAY_S / min(cycles) if cycles else 0.0


def _cycle_s(rule, scan_ms):
    """The shortest time from one switching on to the next [s]."""
    scan_s = scan_ms / 1000.0
    return max(scan_s, rule.on_delay_s) + max(scan_s, rule.off_delay_s, rule.least_on_s)
