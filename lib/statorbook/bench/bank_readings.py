"""Bank volts as read: what a meter on the bank can show, and what cannot be a reading of it."""

from statorbook.bench.meters import METER_CLASS
from statorbook.errors import BadInput


def volts_shown(bank):
    """What a meter on the terminals of a bank can show, the error of a poor meter included.

    Parameters
    ----------
    bank : Bank
        The bank.

    Returns
    -------
    tuple of float
        Lowest and highest DC volts [V].
    """
    error = METER_CLASS["volts"].high
    return (1.0 - error) * bank.lowest_volts, (1.0 + error) * bank.highest_volts


def bank_shows_words(bank):
    """The same in words, such as "8 cells of LiFePO4 show 19.4 to 30.1 V"."""
    low, high = volts_shown(bank)
    return f"{bank.cells} cells of {bank.chemistry} show {low:.1f} to {high:.1f} V"


def require_bank_volts(bank, dc_volts, where):
    """Refuse volts that no meter on this bank can show.

    Parameters
    ----------
    bank : Bank
        The bank.
    dc_volts : float
        As read, DC [V].
    where : str
        Log, row and column, or field, for the sentence.

    Raises
    ------
    BadInput
        When they are outside `volts_shown`.
    """
    low, high = volts_shown(bank)
    if low <= dc_volts <= high:
        return
    if dc_volts > high:
        why = (
            "if the meter does show that, the bank is not joined, the volts run away and the rotor with them: stop "
            "the source before you touch anything"
        )
    else:
        why = "if the meter does show that, a cell is dead or the meter is not on the bank"
    raise BadInput(
        f"{dc_volts:g} V was given",
        f"{bank_shows_words(bank)}, from empty under load to equalising in the cold",
        f"{why}; else correct the reading, or the bank on page 04_choose_a_grouping",
        where=where,
    )
