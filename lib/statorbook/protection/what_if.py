"""What happens if …: every mishap of the chapter, reckoned from the plant."""

from functools import lru_cache

from statorbook.protection import bank_mishaps, bridge_mishaps, machine_mishaps
from statorbook.quantities import units_now

_ROWS = {
    "bank fuse opens at full flow": bank_mishaps.fuse_opens,
    "charge control sticks open": bank_mishaps.control_sticks,
    "dump element burns out": bank_mishaps.dump_burns_out,
    "inverter trips": bank_mishaps.inverter_trips,
    "leads joined at speed": machine_mishaps.leads_joined,
    "nozzle blocked, source gone and back": machine_mishaps.source_returns,
    "one diode open": bridge_mishaps.diode_open,
    "one diode shorted": bridge_mishaps.diode_shorted,
    "one lead off": bridge_mishaps.lead_off,
    "star point or delta corner loose": bridge_mishaps.phase_off,
    "bank nearly full in the cold": bank_mishaps.cold_and_full,
    "runner unloaded for an hour": machine_mishaps.runs_unloaded,
    "cable reversed at the bank": bank_mishaps.cable_reversed,
    "water in the box": machine_mishaps.water_inside,
}
MISHAPS = tuple(_ROWS)


def what_if(plant):
    """What happens if something goes wrong.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    tuple of Mishap
        One for each of `MISHAPS`, with volts, amps, seconds, who or what is hurt, and the guard.

    Notes
    -----
    Equation: those of `load_lost`, `faulted_bridge`, `brake_heat`, `short_circuit`, `ventilation` and `touch`; time
        to full = half the capacity over the amps.
    Valid: one mishap at a time, the source at its strongest and the drive's own guard failed where that is worse.
    Source: as those; IEC 62485-2 for hydrogen, IEC 60479-1 (from memory) for a wet body.
    """
    return _rows(plant, units_now())


@lru_cache(maxsize=16)
def _rows(plant, system):
    """By the units too, in which sentences are said."""
    return tuple(row(plant) for row in _ROWS.values())
