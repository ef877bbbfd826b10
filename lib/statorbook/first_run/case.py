"""The rows of a run log that can be held against the promise, with the machine that made it."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from statorbook.choice import Machine
from statorbook.errors import BadInput
from statorbook.first_run.rows import RunReading, first_quantity
from statorbook.winding import Grouping


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

    machine: Machine
    grouping: Grouping
    readings: tuple[RunReading, ...]

    @cached_property
    def _kept(self):
        return {}

    def kept(self, name, work_out):
        """Something that hangs on the case and on what its name says besides, worked out once.

        Parameters
        ----------
        name : str or tuple
            What it is called, and all else that it hangs on.
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
        return tuple(row for row in self.readings if row.charging)

    @cached_property
    def open_leads(self):
        """Rows with line volts and no current, as a tuple."""
        return tuple(row for row in self.readings if row.open_leads)

    @cached_property
    def is_driven(self):
        """Which charging rows have a speed that the drive should have found from the source as read, as an ndarray."""
        first = first_quantity(self.machine.drive)
        told = first is not None and first.unit != "rpm"  # a drive that holds its speed tells nothing of its source
        return np.array([told and row.source > 0 for row in self.charging], dtype=bool)

    @cached_property
    def driven(self):
        """Those charging rows, as a tuple."""
        return tuple(row for row, known in zip(self.charging, self.is_driven, strict=True) if known)

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
        return self.kept(name, lambda case: np.array([getattr(row, name) for row in case.charging]))

    def without(self, rows):
        """The same case with some rows left out.

        Parameters
        ----------
        rows : collection of int
            Row numbers [-].

        Returns
        -------
        RunCase
            With the other rows; this very case, with what it has kept, when none is left out.
        """
        others = tuple(reading for reading in self.readings if reading.row not in rows)
        return self if len(others) == len(self.readings) else replace(self, readings=others)


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
    # Behind a converter the rows hold volts and amps at its input: there the bridge ends, as it does at a bank.
    setting = machine.setting
    bare = replace(machine, setting=replace(setting, conditions=replace(setting.conditions, converter=None)))
    made = RunCase(machine=bare, grouping=grouping, readings=tuple(row for row in readings if row.usable))
    if not made.charging and not made.open_leads:
        raise BadInput(
            "no row can be compared" if readings else "no reading is in it",
            "speed with amps and volts of the bank, or with line volts at open leads, is needed",
            "run the machine and log one row for each setting",
            where="run log",
        )
    return made
