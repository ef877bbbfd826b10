"""A job's rules: those of its logs where they were typed, the ready ones of its plan where not."""

from dataclasses import replace

from statorbook.charging import ready_rules, rules_of


def ready_for(plan, scan_ms):
    """The ready rules of a plan whose own rules do not count yet."""
    loads = {"cylinder": plan.cylinder, "room": plan.room, "inverter": plan.inverter}
    ready = ready_rules(plan.plant, plan.points, plan.dumps, **loads, stops_source=plan.stops_source)
    return replace(ready, scan_ms=scan_ms)


def with_rules(plan, job, scan_ms, *, ready=False):
    """The plan with the rules of the job's logs, or with the ready ones whatever the logs hold."""
    usual = ready_for(plan, scan_ms)
    if ready:
        return replace(plan, rules=usual)
    rules, assumed = rules_of(job.read_log("control_rules"), job.read_log("control_relays"), usual)
    return replace(plan, rules=rules, assumed=(*plan.assumed, *assumed))
