"""The bench logs: raw rows of text in, numbers with a verdict for every row out."""

from dataclasses import dataclass, field
from datetime import date
from math import nan

from statorbook.bench.columns import DATED_LOGS, LOGS, columns_of, require_columns
from statorbook.bench.meters import Meters
from statorbook.bench.row_connection import most_common_connection, require_connection
from statorbook.bench.row_numbers import ohms_numbers, shorted_numbers, spin_numbers
from statorbook.bench.sessions import day_in, day_questions
from statorbook.errors import BadInput
from statorbook.quantities import cell_text


@dataclass(frozen=True, kw_only=True)
class Reading:
    """One row of a log with its verdict; the row itself is kept as typed.

    Parameters
    ----------
    log : str
        Its name, such as "spin".
    row : int
        Row number as the reader sees it, 1 below the units row [-].
    raw : dict
        The cells as typed.
    refusal : str
        One sentence when the row cannot be used, else empty.
    warnings : tuple of str
        Sentences about a row that is used all the same.
    taken_on : date or None
        Day of the reading; None when not said.
    left_out : str
        One sentence when the reader left its session out, else empty.
    own_share : float
        Likely error of the row by itself, one sigma over the reading [-].
    shared : dict of str to float
        By its cause, an error that all rows of that cause share, 95 % over the reading [-].
    """

    log: str
    row: int
    raw: dict
    refusal: str = ""
    warnings: tuple = ()
    taken_on: date | None = None
    left_out: str = ""
    own_share: float = nan
    shared: dict = field(default_factory=dict)

    @property
    def usable(self):
        """True when the row goes into the fit."""
        return not self.refusal and not self.left_out

    @property
    def where(self):
        """The row's name in sentences, such as "spin log, row 3"."""
        return f"{self.log} log, row {self.row}"


@dataclass(frozen=True, kw_only=True)
class SpinReading(Reading):
    """Volts at a known speed, nothing connected.

    Parameters
    ----------
    speed_rpm : float
        Rotor speed [rpm].
    terminals : str
        Where the meter was: AB, BC, CA, AN, BN, CN, or ABC after the bridge.
    star_emf_v_rms : float
        EMF of one phase of the equivalent star, rms [V].
    star_emf_sigma_v : float
        Its likely error, one sigma: its own and what rows of its evidence share, meter's class left out [V].
    """

    speed_rpm: float = nan
    terminals: str = ""
    star_emf_v_rms: float = nan
    star_emf_sigma_v: float = nan


@dataclass(frozen=True, kw_only=True)
class ShortedReading(Reading):
    """Amps at a known speed, all three leads joined.

    Parameters
    ----------
    speed_rpm : float
        Rotor speed [rpm].
    lead : str
        "A", "B" or "C".
    line_amps_rms : float
        Line current, rms [A].
    line_amps_sigma : float
        Its likely error, one sigma: its own and what rows above the band share, meter's class left out [A].
    """

    speed_rpm: float = nan
    lead: str = ""
    line_amps_rms: float = nan
    line_amps_sigma: float = nan


@dataclass(frozen=True, kw_only=True)
class OhmsReading(Reading):
    """Ohms between two leads, machine at rest.

    Parameters
    ----------
    terminals : str
        "AB", "BC" or "CA".
    star_ohm : float
        Ohms of one phase of the equivalent star at the copper's own temperature, probes' share taken off [Ω].
    star_ohm_sigma : float
        Its likely error, one sigma, from meter and last digits [Ω].
    rounding_ohm : float
        The part of it that comes from the last digits, the same in every row [Ω].
    copper_c : float
        Copper temperature, nan when not logged [°C].
    """

    terminals: str = ""
    star_ohm: float = nan
    star_ohm_sigma: float = nan
    rounding_ohm: float = nan
    copper_c: float = nan


def read_spin(rows, stator, *, found_connection=None, meters=Meters()):
    """Read the spin log: open-circuit volts at known speed.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row.
    stator : Stator
        Slots and poles, to turn Hz into rpm.
    found_connection : str or None
        "star" or "delta" as found; what most rows say when None.
    meters : Meters
        What the rows were read with.

    Returns
    -------
    tuple of SpinReading
        One for every row that holds anything, bad rows included; see `read_rows` for what is refused.
    """
    return read_rows("spin", SpinReading, rows, lambda *cells: spin_numbers(*cells, stator, meters), found_connection)


def read_shorted(rows, stator, *, found_connection=None, meters=Meters()):
    """Read the shorted-lead log: line amps with all three leads joined.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row.
    stator : Stator
        Slots and poles, to turn Hz into rpm.
    found_connection : str or None
        "star" or "delta" as found; what most rows say when None.
    meters : Meters
        What the rows were read with.

    Returns
    -------
    tuple of ShortedReading
        One for every row that holds anything, bad rows included; see `read_rows` for what is refused.
    """
    return read_rows(
        "shorted", ShortedReading, rows, lambda *cells: shorted_numbers(*cells, stator, meters), found_connection
    )


def read_ohms(rows, *, meters=Meters()):
    """Read the ohms log: resistance between two leads.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed, one dict per row.
    meters : Meters
        What the rows were read with.

    Returns
    -------
    tuple of OhmsReading
        One for every row that holds anything, bad rows included; see `read_rows` for what is refused.
    """
    return read_rows("ohms", OhmsReading, rows, lambda *cells: ohms_numbers(*cells, meters), None)


@dataclass(frozen=True, kw_only=True)
class Logs:
    """The readings of one job.

    Parameters
    ----------
    spin : tuple of SpinReading
        Open-circuit volts.
    shorted : tuple of ShortedReading
        Shorted-lead amps; may be empty.
    ohms : tuple of OhmsReading
        Winding ohms.
    """

    spin: tuple
    shorted: tuple
    ohms: tuple

    @property
    def sentences(self):
        """Every refusal and warning, in the order of the logs."""
        readings = [r for r in (*self.spin, *self.shorted, *self.ohms) if not r.left_out]
        return tuple(said for r in readings for said in ((r.refusal,) if r.refusal else r.warnings))


def read_logs(raw_rows, stator, *, found_connection=None, meters=Meters()):
    """Read the spin, shorted and ohms logs of a job; a log without rows gives no readings and no complaint yet.

    Parameters
    ----------
    raw_rows : dict of str to list of dict
        Raw rows under "spin", "shorted" and "ohms".
    stator : Stator
        Slots and poles.
    found_connection : str or None
        "star" or "delta" as found; what most rows say when None.
    meters : Meters
        What the rows were read with.

    Returns
    -------
    Logs
        The readings; see `read_rows` for what is refused.
    """
    spin, shorted, ohms = (raw_rows.get(log, ()) for log in LOGS)
    found = found_connection or most_common_connection(_filled(spin) + _filled(shorted))
    said = {"found_connection": found, "meters": meters}
    return Logs(
        spin=read_spin(spin, stator, **said) if _filled(spin) else (),
        shorted=read_shorted(shorted, stator, **said) if _filled(shorted) else (),
        ohms=read_ohms(ohms, meters=meters) if _filled(ohms) else (),
    )


def read_rows(log, kind, rows, numbers_of, connection=None):
    """Read any log, row by row.

    Parameters
    ----------
    log : str
        Its name.
    kind : type
        The kind of `Reading` that a row becomes.
    rows : list of dict
        Raw cells as typed.
    numbers_of : callable
        From a row and its name in sentences to fields of that kind and warnings.
    connection : str or None
        "star" or "delta", for a log with that column; what most rows say when None.

    Returns
    -------
    tuple of Reading
        One for every row that holds anything, bad rows included.

    Raises
    ------
    BadInput
        When the log is empty or its columns are not its own.
    """
    if not (filled := _filled(rows)):
        raise BadInput("no reading is in it", "at least one filled row is needed", "log one first", where=f"{log} log")
    for _, row in filled:
        require_columns(log, row)
    if "connection" in columns_of(log):
        connection = connection or most_common_connection(filled)
    return tuple(_verdict(log, kind, number, row, numbers_of, connection) for number, row in filled)


def _filled(rows):
    return [(number, row) for number, row in enumerate(rows, 1) if any(cell_text(cell) for cell in row.values())]


def _verdict(log, kind, number, row, numbers_of, connection):
    where, same = f"{log} log, row {number}", dict(log=log, row=number, raw=dict(row))
    try:
        if None in row:
            raise BadInput(
                "the row has more cells than the log has columns",
                "one cell per column is allowed",
                "write decimals with a point, a bare comma splits the cell",
                where=where,
            )
        if log in DATED_LOGS:
            same["taken_on"] = day_in(row, where)
        if connection:
            require_connection(row, where, connection)
        found, warnings = numbers_of(row, where)
        return kind(**same, warnings=(*warnings, *day_questions(same.get("taken_on"), where)), **found)
    except BadInput as complaint:
        return kind(**same, refusal=str(complaint))
