"""Rows of the run log: what the finished machine did at one setting of its source."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from math import hypot, nan

import numpy as np

from statorbook.cells import cell_text, holds_anything
from statorbook.conversions import parse_quantity
from statorbook.drag_rows import speed_sigma_rpm
from statorbook.drives.quantity import turned
from statorbook.errors import BadInput
from statorbook.estimate import NORMAL_95
from statorbook.log_columns import HEADINGS, number_in
from statorbook.meters import Meters
from statorbook.readings import Reading, read_rows
from statorbook.row_numbers import speed_of
from statorbook.sessions import day_in

# Unit, lowest and highest number; beyond them it is a slip of the pen.
_LIMITS = {
    "line_volts": ("V", 0, 2_000),
    "dc_volts": ("V", 0.5, 1_000),
    "dc_amps": ("A", 0, 1_000),
    "copper_c": ("°C", -40, 200),
}


@dataclass(frozen=True, kw_only=True)
class RunReading(Reading):
    """The machine at one setting.

    Parameters
    ----------
    day : date or None
        When; None when not typed.
    speed_rpm : float
        Rotor speed [rpm].
    speed_sigma_rpm : float
        Its likely error, one sigma [rpm].
    line_volts : float
        Between two leads, AC rms; nan when not read [V].
    line_volts_sigma : float
        Their likely error, one sigma of the line rms [V].
    dc_volts : float
        At the bank's terminals, DC; nan when not read [V].
    dc_amps : float
        Into the bank, DC mean; nan when not read [A].
    dc_amps_sigma : float
        Its likely error, one sigma [A].
    source : float
        What the source gave, in the unit of the drive's first quantity; nan when not read.
    copper_c : float
        Winding temperature; nan when not read [°C].
    """

    day: date | None = None
    speed_rpm: float = nan
    speed_sigma_rpm: float = nan
    line_volts: float = nan
    line_volts_sigma: float = nan
    dc_volts: float = nan
    dc_amps: float = nan
    dc_amps_sigma: float = nan
    source: float = nan
    copper_c: float = nan

    @property
    def charging(self):
        """True when amps and volts of the bank were read and current flowed."""
        return self.usable and self.dc_amps > 0 and self.dc_volts > 0

    @property
    def open_leads(self):
        """True when line volts were read and no current flowed."""
        return self.usable and self.line_volts > 0 and not self.dc_amps > 0


@dataclass(frozen=True, kw_only=True)
class RunCase:
    """A machine with the grouping that was built, and the usable rows of its run log.

    Parameters
    ----------
    machine : Machine
        As promised.
    grouping : Grouping
        As built.
    readings : tuple of RunReading
        Usable rows.
    """

    machine: object
    grouping: object
    readings: tuple

    @cached_property
    def _kept(self):
        return {}

    def kept(self, name, work_out):
        """Something that hangs on the case alone, worked out once.

        Parameters
        ----------
        name : str
            What it is called.
        work_out : callable
            Takes the case and works it out.

        Returns
        -------
        object
            What it gave.
        """
        if name not in self._kept:
            self._kept[name] = work_out(self)
        return self._kept[name]

    @cached_property
    def charging(self):
        """Rows with current into the bank, as a tuple."""
        return tuple(each for each in self.readings if each.charging)

    @cached_property
    def open_leads(self):
        """Rows with line volts and no current, as a tuple."""
        return tuple(each for each in self.readings if each.open_leads)

    @cached_property
    def is_driven(self):
        """Which charging rows have a speed that the drive should have found from the source as read, as an ndarray."""
        first = _first_quantity(self.machine.drive)
        told = first is not None and first.unit != "rpm"  # a drive that holds its speed tells nothing of its source
        return np.array([told and each.source > 0 for each in self.charging], dtype=bool)

    @cached_property
    def driven(self):
        """Those charging rows, as a tuple."""
        return tuple(each for each, known in zip(self.charging, self.is_driven, strict=True) if known)

    def readings_of(self, name):
        """One column of the charging rows.

        Parameters
        ----------
        name : str
            Field of `RunReading`.

        Returns
        -------
        ndarray
            Its values, shape (rows,), in the field's unit [unit].
        """
        return self.kept(name, lambda case: np.array([getattr(each, name) for each in case.charging]))

    def without(self, rows):
        """The same case with some rows left out.

        Parameters
        ----------
        rows : collection of int
            Row numbers [-].

        Returns
        -------
        RunCase
            With the other rows.
        """
        left = tuple(each for each in self.readings if each.row not in rows)
        return RunCase(machine=self.machine, grouping=self.grouping, readings=left)


def run_case(machine, grouping, readings):
    """The rows of a run log that can be held against the promise.

    Parameters
    ----------
    machine : Machine
        As promised.
    grouping : Grouping
        As built.
    readings : sequence of RunReading
        The run log.

    Returns
    -------
    RunCase
        Machine, grouping and usable rows.

    Raises
    ------
    BadInput
        When no row can be compared.
    """
    made = RunCase(machine=machine, grouping=grouping, readings=tuple(each for each in readings if each.usable))
    if not made.charging and not made.open_leads:
        raise BadInput(
            "no row can be compared" if readings else "no reading is in it",
            "speed with amps and volts of the bank, or with line volts at open leads, is needed",
            "run the machine and log one row for each setting",
            where="run log",
        )
    return made


def read_run(rows, stator, drive, *, meters=Meters()):
    """Read the run log.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.
    stator : Stator
        Slots and poles, for a speed in Hz.
    drive : object
        The drive, whose first quantity the column of the source holds.
    meters : Meters
        What the rows were read with.

    Returns
    -------
    tuple of RunReading
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    if not holds_anything(rows):
        return ()
    return read_rows("run", RunReading, rows, lambda row, where: _numbers(row, where, stator, drive, meters))


def source_heading(drive):
    """What the column of the source holds for this drive.

    Parameters
    ----------
    drive : object
        A drive, see `drives`.

    Returns
    -------
    str
        Such as "Net head [m]"; empty when the drive has nothing to read.
    """
    first = _first_quantity(drive)
    return f"{first.label} [{first.unit or '-'}]" if first else ""


def _first_quantity(drive):
    return next((each for each in drive.quantities if each.field != "working_rpm"), None)


def _numbers(row, where, stator, drive, meters):
    speed, warnings = speed_of(row, where, stator)
    found = {
        "day": day_in(row, where),
        "speed_rpm": speed.value,
        "speed_sigma_rpm": speed_sigma_rpm(row, speed),
    }
    for name in _LIMITS:
        if cell_text(row.get(name)):
            typed = number_in(row, name, _LIMITS, where)
            found[name] = typed.value
            if name == "dc_amps":
                found["dc_amps_sigma"] = _sigma(meters.amps, typed)
            if name == "line_volts":
                found["line_volts_sigma"] = _sigma(meters.volts, typed, stator.electrical_hz(speed.value))
    found["source"] = _source(row, where, drive)
    return found, [*warnings, *_gaps(found, where)]


def _sigma(meter, typed, hz=0.0):
    share = hypot(meter.class_share, meter.band_share(hz, meter.kind)) / NORMAL_95
    return hypot(share * typed.value, meter.digits_sigma(typed.step))


def _source(row, where, drive):
    typed, first = cell_text(row.get("drive_reading")), _first_quantity(drive)
    if not typed:
        return nan
    if first is None:
        raise BadInput(
            f'"{typed[:40]}" was given',
            "a drive of known speed has no source to read",
            "leave this cell empty, or describe the drive on page 03_what_turns_it",
            where=f"{where}, {HEADINGS['drive_reading']}",
        )
    name = f"{where}, {HEADINGS['drive_reading']}, {first.label}"
    value = parse_quantity(typed, first.unit, name, above=0, at_most=100_000)
    try:
        turned(drive, {first.field: value})
    except BadInput as refusal:  # the drive's own limits, said at the row that oversteps them
        raise BadInput(refusal.given, refusal.allowed, refusal.next_step, where=name) from None
    return value


def _gaps(found, where):
    amps, volts, line = (found.get(name, nan) for name in ("dc_amps", "dc_volts", "line_volts"))
    if amps > 0 and not volts > 0:
        yield f"{where}: amps without the bank's volts cannot be held against the promise: type both."
    elif not amps >= 0 and not line > 0:
        yield f"{where}: nothing to compare yet: type amps and volts of the bank, or line volts at open leads."
