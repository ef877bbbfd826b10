"""Amps, watts, speed and kilowatt-hours of groupings as promised, beside those of the machine as it truly is."""

import numpy as np

from judges.coverage.plants import as_it_is, promised
from judges.coverage.tried import Tried, tried
from statorbook.choice.machine import ends
from statorbook.choice.uncertainty import amps_band, with_plus_minus
from statorbook.operation.hazards import open_circuit_volts
from statorbook.operation.largest_amps import most_amps
from statorbook.operation.operating_point import operating_points
from statorbook.operation.speed_sweep import sweep
from statorbook.winding.coil import CoilConstants
from statorbook.winding.winding import Winding
from statorbook.year.energy import grouping_years
from statorbook.year.plus_minus import kwh_spread

SAID = {
    "dc_amps": "amps into the bank",
    "bank_watts": "watts into the bank",
    "speed_rpm": "speed",
    "runaway_dc_volts_peak": "volts with the bank gone",
    "most_dc_amps": "most amps",
}
_TRIES = 20  # of drive and bank, until some grouping charges the bank


def charging_plant(rng, planted, part):
    """A plant whose promise charges its bank, and its comparison; None when none does."""
    best = CoilConstants(emf_v_per_rpm=part.emf_v_per_rpm, ohm=part.ohm, henry=part.henry)
    bands = ends(part.emf, part.resistance, part.inductance)
    for _ in range(_TRIES):
        plant = promised(rng, planted.leads.stator, planted.found, best, bands)
        found = plant.machine.compared()
        if found.recommended is not None and found.recommended.point.charges:
            return plant, found
    return None


def of_groupings(rng, planted, plant, found):
    """The chosen grouping and the one with most watts."""
    true = as_it_is(rng, plant, planted.coil)
    for which, row in (("chosen", found.recommended), ("most watts", found.rows[0])):
        said, is_so = with_plus_minus(plant.machine, row.grouping), _truth(true.machine, row.grouping)
        for name, spread in said.items():
            yield tried(f"{SAID[name]}, {which}", spread, is_so[name])
    grouping = found.recommended.grouping
    yield tried("kWh a year, chosen", kwh_spread(plant.machine, plant.year, grouping), _kwh(true, grouping))
    yield _in_the_band(plant.machine, true.machine, found.recommended)


def _winding(machine, grouping):
    return Winding(stator=machine.stator, coil=machine.coil, grouping=grouping)


def _truth(machine, grouping):
    winding, around = _winding(machine, grouping), machine.setting.conditions
    at = operating_points(machine.drive, [winding], machine.bank.states[1], around)
    gone = open_circuit_volts(winding, machine.drive.runaway_speed_rpm, machine.setting.cold_c)[1]
    (most,) = most_amps([(machine.drive, winding, machine.bank, machine.setting.cold)])
    found = {name: float(getattr(at, name)[0, 0]) for name in ("dc_amps", "bank_watts", "speed_rpm")}
    return found | {"runaway_dc_volts_peak": float(gone), "most_dc_amps": most.dc_amps}


def _kwh(plant, grouping):
    (year,) = grouping_years(plant.machine, plant.year, [_winding(plant.machine, grouping)])
    return year.kwh


def _in_the_band(machine, true, row):
    """Amps against speed, at the speed where the chosen grouping settles."""
    speed = np.array([row.point.speed_rpm])
    low, high = amps_band(machine, row.grouping, speed)
    is_so = sweep([_winding(true, row.grouping)], speed, true.bank.states[1], true.setting.conditions).dc_amps[0, 0]
    return Tried(
        quantity="amps at a speed, the band drawn",
        value=row.point.dc_amps,
        plus_minus=float(high[0] - row.point.dc_amps),
        truth=float(is_so),
    )
