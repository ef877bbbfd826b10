"""Rows of the run log: what the finished machine did at one setting of its source."""

from dataclasses import dataclass
from math import hypot, nan

from statorbook.bench import (
    RUN_LOG,
    Meters,
    Reading,
    read_rows,
    require_bank_volts,
    require_meter_volts,
    speed_of,
    speed_sigma_rpm,
)
from statorbook.drives import with_quantities
from statorbook.errors import BadInput
from statorbook.quantities import NORMAL_95, cell_text, holds_anything, parse_quantity


@dataclass(frozen=True, kw_only=True)
class RunReading(Reading):
    """The machine at one setting."""

    speed_rpm: float = nan  # rotor speed
    speed_sigma_rpm: float = nan  # its likely error, one sigma
    line_volts: float = nan  # between two leads, AC rms; nan when not read
    line_volts_sigma: float = nan  # their likely error, one sigma of the line rms
    line_volts_shared: float = 0.0  # the part of it that is the meter's, the same share in all rows
    dc_volts: float = nan  # at the bank's terminals, DC; nan when not read
    dc_amps: float = nan  # into the bank, DC mean; nan when not read
    dc_amps_sigma: float = nan  # its likely error, one sigma
    dc_amps_shared: float = 0.0  # the part of it that is the meter's, the same share in all rows
    source: float = nan  # what the source gave, in the unit of the drive's first quantity; nan when not read
    copper_c: float = nan  # winding temperature; nan when not read

    @property
    def charging(self):
        """True when amps and volts of the bank were read and current flowed."""
        return self.usable and self.dc_amps > 0 and self.dc_volts > 0

    @property
    def open_leads(self):
        """True when line volts were read and no current flowed."""
        return self.usable and self.line_volts > 0 and not self.dc_amps > 0


def read_run(rows, stator, drive, *, bank=None, meters=Meters()):
    """Read the run log.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.
    stator : Stator
        Slots and poles, for a speed in Hz.
    drive : Drive
        The drive, whose first quantity the column of the source holds.
    bank : Bank or None
        The bank that was charged; None leaves its volts unchecked.
    meters : Meters
        What the rows were read with.

    Returns
    -------
    tuple of RunReading
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    if not holds_anything(rows):
        return ()
    return read_rows(RUN_LOG, RunReading, rows, lambda row, where: _numbers(row, where, stator, drive, bank, meters))


def source_heading(drive):
    """What the column of the source holds for this drive.

    Parameters
    ----------
    drive : Drive
        What turns it.

    Returns
    -------
    str
        Such as "Net head [m]"; empty when the drive has nothing to read.
    """
    first = first_quantity(drive)
    return f"{first.label} [{first.unit or '-'}]" if first else ""


def first_quantity(drive):
    """The quantity of a drive that the run log reads."""
    return next((quantity for quantity in drive.quantities if quantity.field != "working_rpm"), None)


def _numbers(row, where, stator, drive, bank, meters):
    speed, warnings = speed_of(RUN_LOG, row, where, stator)
    found = {"speed_rpm": speed.value, "speed_sigma_rpm": speed_sigma_rpm(row, speed)}
    for name in ("line_volts", "dc_volts", "dc_amps", "copper_c"):
        if cell_text(row.get(name)):
            typed = RUN_LOG.number(row, name, where)
            found[name] = typed.value
            if name == "dc_amps":
                found |= _errors(name, meters.amps, typed)
            if name == "line_volts":
                found |= _errors(name, meters.volts, typed, stator.electrical_hz(speed.value))
            if name in ("line_volts", "dc_volts"):
                require_meter_volts(typed.value, speed.value, stator, meters.volts, RUN_LOG.cell(where, name))
            if name == "dc_volts" and bank is not None:
                require_bank_volts(bank, typed.value, RUN_LOG.cell(where, name))
    found["source"] = _source(row, where, drive)
    return found, [*warnings, *_gaps(found, where)]


def _errors(name, meter, typed, hz=0.0):
    shared = hypot(meter.class_share, meter.band_share(hz, meter.kind)) / NORMAL_95 * typed.value
    return {f"{name}_sigma": hypot(shared, meter.digits_sigma(typed.step)), f"{name}_shared": shared}


def _source(row, where, drive):
    typed, first = cell_text(row.get("drive_reading")), first_quantity(drive)
    if not typed:
        return nan
    if first is None:
        raise BadInput(
            f'"{typed[:40]}" was given',
            "a drive of known speed has no source to read",
            "leave this cell empty, or describe the drive on page 03_what_turns_it",
            where=RUN_LOG.cell(where, "drive_reading"),
        )
    name = f"{RUN_LOG.cell(where, 'drive_reading')}, {first.label}"
    value = parse_quantity(typed, first.unit, name, above=0, at_most=100_000)
    try:
        with_quantities(drive, {first.field: value})
    except BadInput as refusal:  # the drive's own limits, said at the row that oversteps them
        raise BadInput(refusal.given, refusal.allowed, refusal.next_step, where=name) from None
    return value


def _gaps(found, where):
    amps, volts, line = (found.get(name, nan) for name in ("dc_amps", "dc_volts", "line_volts"))
    if amps > 0 and not volts > 0:
        yield f"{where}: amps without the bank's volts cannot be compared with the promise: type both."
    elif not amps >= 0 and not line > 0:
        yield f"{where}: nothing to compare yet: type amps and volts of the bank, or line volts at open leads."
