"""A job's parts and logs put together into the charging plan: plant, set-points, loads, house, course and rules."""

from statorbook.assembly.charging_course import course_from
from statorbook.assembly.charging_house import house_and_inverter
from statorbook.assembly.control_rules import with_rules
from statorbook.assembly.plant import plant_from
from statorbook.charging import ChargingPlan, RuleSet, usual_dumps, usual_guard
from statorbook.job.parts import InverterPart, SetPointsPart


def charging_from(job, plant=None, **typed):
    """Put a job's parts together into a charging plan.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    plant : Plant or None
        Its plant where it is made already.
    **typed : dict
        Parts by name that are typed and not saved, in place of the job's: "set_points", "dump", "water", "inverter" or
        "control". And "ready": True, for the ready rules whatever the logs hold.

    Returns
    -------
    ChargingPlan
        What is not filled in is assumed.

    Raises
    ------
    BadInput
        When a part or a row is missing or cannot be used.
    """
    now = job.read()
    plant = plant or plant_from(now)
    parts = (typed.get(name) or getattr(now, name) for name in ("set_points", "dump", "water", "inverter"))
    typed_points, dump, water, fed = parts
    typed_points = typed_points or SetPointsPart()
    points = typed_points.to_points(plant.bank)
    dumps = (dump and dump.to_dumps()) or usual_dumps(plant, points)
    cylinder, room, fed = water and water.to_cylinder(), water and water.to_room(), fed or InverterPart()
    house, inverter, house_assumed = house_and_inverter(now, points, fed, [cylinder, room])
    control = typed.get("control") or now.control
    made = ChargingPlan(
        plant=plant,
        points=points,
        dumps=dumps,
        cylinder=cylinder,
        room=room,
        rules=RuleSet(rules=(), relays=()),  # made below, of all the rest
        course=course_from(now, plant, fed.month_at),
        inverter=inverter,
        house=house,
        guard=None if control and not control.guard_there else usual_guard(points, cell_c=plant.bank.temperature_c),
        stops_source=bool(dump and dump.stops_source),
        assumed=(*(("the set-points, usual ones",) if typed_points.left_usual else ()), *house_assumed),
    )
    return with_rules(made, now, control.scan_ms if control else 100, ready=typed.get("ready", False))
