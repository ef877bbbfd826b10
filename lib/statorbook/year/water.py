"""A stream over the year: the water and head of each month, and the nozzle that runs in it."""

from dataclasses import dataclass
from math import nan

from statorbook.bench import WATER_MONTHS_LOG, MonthReading, read_months
from statorbook.errors import BadInput
from statorbook.quantities import cell_text, holds_anything


@dataclass(frozen=True, kw_only=True)
class WaterMonth(MonthReading):
    """One month of a stream; nan or 0 for what was left empty."""

    flow_l_s: float = nan  # that the stream has for the machine; 0 when it is dry
    head_m: float = nan  # static or net, as the drive has it
    nozzle_mm: float = nan  # of each jet that runs
    jets_open: int = 0


def read_water_months(rows):
    """Read the log of a stream.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of WaterMonth
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    return read_months(WATER_MONTHS_LOG, WaterMonth, rows, _numbers) if holds_anything(rows) else ()


def _numbers(row, where, month):
    log = WATER_MONTHS_LOG
    found = {"flow_l_s": log.number(row, "flow_l_s", where).value}
    for name in ("head_m", "nozzle_mm", "jets_open"):
        if cell_text(row.get(name)):
            found[name] = log.number(row, name, where).value
    jets = found.get("jets_open", 0.0)
    if jets % 1.0:
        raise BadInput(
            f"{jets:g} jets were given",
            "a whole number of jets is allowed",
            "count the nozzles that are open",
            where=log.cell(where, "jets_open"),
        )
    return found | {"jets_open": int(jets)}, []
