"""The invented machine of a comparison as a plant: what stands round it, with some things changed."""

from dataclasses import fields, replace

from samples.year_samples import machine
from statorbook.choice.setting import Setting
from statorbook.operation.speed_sweep import Conditions
from statorbook.protection.plant import Plant
from statorbook.protection.rotor import Rotor
from statorbook.winding.grouping import Grouping

GROUPING = Grouping(series=4, parallel=3)
ROTOR = Rotor(inertia_kgm2=0.05)


def plant(**changes):
    """The plant in 4 in series and 3 paths in star, with fields of plant, setting, conditions or machine changed."""
    around = {name: changes.pop(name) for name in _names(Plant) & changes.keys()}
    conditions = {name: changes.pop(name) for name in _names(Conditions) & changes.keys()}
    setting = {name: changes.pop(name) for name in _names(Setting) & changes.keys()}
    made = machine(**changes)
    setting.setdefault("conditions", replace(made.setting.conditions, **conditions))
    made = replace(made, setting=replace(made.setting, **setting))
    return Plant(**{"machine": made, "grouping": GROUPING, "rotor": ROTOR} | around)


def _names(kind):
    return {field.name for field in fields(kind)}
