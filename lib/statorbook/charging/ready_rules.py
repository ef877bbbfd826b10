"""Ready rules for a plant, made of its set-points and loads."""

from statorbook.charging.control import ABOVE, Relay, Rule, RuleSet


def ready_rules(plant, points, dumps, *, cylinder=None, room=None, inverter=None, stops_source=False):
    """The rules that fit a plant."""
    top, step = points.absorption_volts, 0.01 * points.absorption_volts
    rules = tuple(
        Rule(name=dump.output, output=dump.output, input="bank_volts_25", side=ABOVE,
             on_at=round(top + step * at, 3), off_at=round(top + step * (at - 2), 3), on_delay_s=2.0, least_on_s=10.0)
        for at, dump in enumerate(dumps)
    )  # fmt: skip
    relays = tuple(Relay(number=at, output=rule.output) for at, rule in enumerate(rules, start=1))
    return RuleSet(rules=rules, relays=relays)
