"""From rows to a fit: which rows can be used, what one log says, and how many rows it took."""

from dataclasses import dataclass, field

from statorbook.errors import BadInput, count_of
from statorbook.fits.odd_rows import OddRow
from statorbook.quantities import Estimate, Fact, read_only

_SHARE, _TRADE = "of the value, 95 %", "common practice, no source"
ONE_READING_SHARE = Fact(value=0.05, unit=_SHARE, source=f"hand-held speed and meter, {_TRADE}", low=0.03, high=0.1)
UNKNOWN_ROOM_K = Fact(value=10.0, unit="K, 95 %", source=f"room or yard, {_TRADE}", low=5, high=20)


@dataclass(frozen=True, kw_only=True)
class Fit:
    """What one log says, and how.

    Parameters
    ----------
    estimate : Estimate
        The constant with its 95 % ±, from the rows used.
    estimate_all_rows : Estimate
        The same from every usable row, odd ones included.
    used_rows : tuple of int
        Row numbers used [-].
    odd_rows : tuple of OddRow
        Rows set aside.
    residual_percent : dict of int to float
        By row number, how far each usable reading is off the fit [%].
    pair_ratios : dict of str to Estimate
        By pair of leads, its constant over the mean of all pairs.
    warnings : tuple of str
        Sentences about the fit as a whole.
    shared_share : float
        The part of the ± that no further row would make smaller, such as the meter's class, over the value [-].
    """

    estimate: Estimate
    estimate_all_rows: Estimate
    used_rows: tuple[int, ...]
    odd_rows: tuple[OddRow, ...] = ()
    residual_percent: dict = field(default_factory=dict, hash=False)
    pair_ratios: dict = field(default_factory=dict, hash=False)
    warnings: tuple[str, ...] = ()
    shared_share: float = 0.0

    def __post_init__(self):
        read_only(self)

    @property
    def sentences(self):
        """Odd rows first, with what they would change, then the warnings."""
        change = f"The fit says {self.estimate} without the rows set aside, {self.estimate_all_rows} with them."
        return (*(odd.sentence for odd in self.odd_rows), *((change,) if self.odd_rows else ()), *self.warnings)


def usable_rows(readings, log, next_step):
    """The usable ones of a log's readings; when there is none, `next_step` says what to log."""
    usable = [reading for reading in readings if reading.usable]
    if not usable:
        given = f"none of its {count_of(len(readings), 'row')} can be used" if readings else "no reading is in it"
        raise BadInput(given, "at least one usable row is needed", next_step, where=f"{log} log")
    return usable


def random_half_width(slope):
    """95 % half-width of a `Slope` from its scatter, or the share assumed for a single reading."""
    return slope.half_width_95 if slope.freedom else ONE_READING_SHARE.value * abs(slope.value)


def unusable_words(readings, log):
    """Say that a log holds no usable row, and whether it holds any.

    Parameters
    ----------
    readings : sequence of Reading
        Every row that holds anything.
    log : str
        What the log is called in the sentence.

    Returns
    -------
    str
        A clause; empty when a row can be used.
    """
    if any(reading.usable for reading in readings):
        return ""
    if not readings:
        return f"no row is in {log} yet"
    if len(readings) == 1:
        return f"the only row of {log} cannot be used (the words below it say why)"
    return f"none of the {count_of(len(readings), 'row')} of {log} can be used (the words below each say why)"
