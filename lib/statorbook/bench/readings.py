"""The spin, shorted and ohms readings of a job, read together: what most rows say of the wiring holds for both."""

from dataclasses import dataclass
from functools import lru_cache

from statorbook.bench.logs import LOGS
from statorbook.bench.meters import Meters
from statorbook.bench.ohms import read_ohms
from statorbook.bench.rows import connections, filled, most_common
from statorbook.bench.shorted import SHORTED_LOG, read_shorted
from statorbook.bench.spin import SPIN_LOG, read_spin
from statorbook.quantities import units_now


@dataclass(frozen=True, kw_only=True)
class Logs:
    """The readings of one job, a tuple for each log; any may be empty."""

    spin: tuple  # of SpinReading
    shorted: tuple  # of ShortedReading
    ohms: tuple  # of OhmsReading

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
    kept = tuple(tuple(_items(row) for row in raw_rows.get(log, ())) for log in LOGS)
    # A page's panels read the same rows many times after each cell; what is said of a row is in the reader's units.
    return _read_once(kept, stator, found_connection, meters, units_now())


@lru_cache(maxsize=8)
def _read_once(kept, stator, found_connection, meters, units):
    spin, shorted, ohms = ([dict(items) for items in rows] for rows in kept)
    said = connections(SPIN_LOG, filled(spin)) + connections(SHORTED_LOG, filled(shorted))
    how = {"found_connection": found_connection or most_common(said), "meters": meters}
    return Logs(
        spin=read_spin(spin, stator, **how) if filled(spin) else (),
        shorted=read_shorted(shorted, stator, **how) if filled(shorted) else (),
        ohms=read_ohms(ohms, meters=meters) if filled(ohms) else (),
    )


def _items(row):
    """The cells of a row as they can be compared; those beyond the last column stand in a list."""
    return tuple((name, tuple(cell) if isinstance(cell, list) else cell) for name, cell in row.items())
