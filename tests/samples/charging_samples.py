"""The invented plant as a charging plan: cylinder, room, inverter, house and usual set-points, some things changed."""

from dataclasses import fields, replace

from samples import plant_samples
from statorbook.bank.battery import Bank
from statorbook.charging.dump_loads import usual_dumps, usual_guard
from statorbook.charging.plan import ChargingPlan, Course, Cylinder, HouseLoad, Inverter, Room, SetPoints
from statorbook.charging.ready_rules import ready_rules
from statorbook.charging.set_points import usual_points

LEAD_BANK = Bank(chemistry="flooded lead-acid", cells=12, capacity_ah=400.0)
CYLINDER = Cylinder(
    litres=120.0,
    heater_watts=800.0,
    inlet_c=10.0,
    thermostat_c=65.0,
    insulation_mm=50.0,
    litres_a_day=80.0,
    loss_w_per_k=1.6,
)
ROOM = Room(heater_watts=600.0, loss_w_per_k=60.0, heat_wh_per_k=1500.0, outside_c=8.0, outside_swing_k=5.0)
HOUSE = (
    HouseLoad(name="fridge", watts=90.0, surge_watts=500.0, from_hour=0, to_hour=24, minutes=20.0),
    HouseLoad(name="kettle", watts=1500.0, surge_watts=1500.0, from_hour=7, to_hour=8, minutes=6.0),
    HouseLoad(name="lamps", watts=60.0, surge_watts=60.0, from_hour=18, to_hour=23, minutes=60.0),
)


def inverter(bank, **changes):
    """An invented inverter for a bank, with fields changed."""
    made = Inverter(
        rated_watts=2000.0,
        surge_watts=4000.0,
        efficiency=0.9,
        idle_watts=15.0,
        trips_below_volts=0.5 * (bank.empty_volts + bank.lowest_volts),
        back_above_volts=bank.half_volts,
        trips_above_volts=bank.highest_volts,
    )
    return replace(made, **changes)


def steady(plant, hours=168):
    """The source as the plant's drive describes it, the same in every hour."""
    return Course(
        settings=(1.0,), drives=(plant.drive,), by_hour=(1.0,) * hours, name="source", unit="", words="Invented."
    )


def points(bank, **changes):
    """The usual set-points of a bank, with fields changed."""
    return replace(usual_points(bank), **changes)


def plan(**changes):
    """A plan with fields of plan, set-points or plant changed; what hangs on them follows.

    Without changes: water jet, 16 LiFePO4 cells, the ready rules, and a guard. `bank=LEAD_BANK` gives lead-acid;
    `cylinder=None`, `room=None`, `inverter=None` or `guard=None` takes one away; `rules=` any rule set.
    """
    own = {name: changes.pop(name) for name in _names(ChargingPlan) & changes.keys()}
    typed = {name: changes.pop(name) for name in _names(SetPoints) & changes.keys()}
    made = own.setdefault("plant", plant_samples.plant(**changes))
    own["points"] = replace(own.get("points") or usual_points(made.bank), **typed)
    for name, usual in (("cylinder", CYLINDER), ("room", ROOM), ("inverter", inverter(made.bank))):
        own.setdefault(name, usual)
    own.setdefault("dumps", usual_dumps(made, own["points"]))
    loads = {name: own[name] for name in ("cylinder", "room", "inverter")}
    if "rules" not in own:
        stops = own.get("stops_source", False)
        own["rules"] = ready_rules(made, own["points"], own["dumps"], **loads, stops_source=stops)
    return ChargingPlan(
        **{"course": steady(made), "house": HOUSE, "guard": usual_guard(own["points"])} | own  # a guard of None stays
    )


def _names(kind):
    return {field.name for field in fields(kind)}
