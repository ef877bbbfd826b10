"""A job's parts and logs put together into the charging plan: plant, set-points, loads, house, course and rules."""

from statorbook.assembly.plant import plant_from
from statorbook.charging import ChargingPlan, Course, ready_rules, usual_dumps, usual_guard, usual_house, usual_points


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
        "control".

    Returns
    -------
    ChargingPlan
        What is not filled in is assumed.

    Raises
    ------
    BadInput
        When a part or a row is missing or cannot be used.
    """
    plant = plant or plant_from(job)
    now = job.read()
    typed_points, dump, water = (typed.get(name) or getattr(now, name) for name in ("set_points", "dump", "water"))
    points = typed_points.to_points(plant.bank) if typed_points else usual_points(plant.bank)
    dumps = (dump and dump.to_dumps()) or usual_dumps(plant, points)
    return ChargingPlan(
        plant=plant,
        points=points,
        dumps=dumps,
        cylinder=water and water.to_cylinder(),
        room=water and water.to_room(),
        rules=ready_rules(plant, points, dumps),
        course=_as_it_stands(plant),
        house=usual_house(),
        guard=usual_guard(points),
    )


def _as_it_stands(plant):
    """A week of the source as the drive describes it."""
    return Course(
        settings=(1.0,), drives=(plant.drive,), by_hour=(1.0,) * 168, name="source", unit="", words="as it stands"
    )
