"""A full bank: what it still takes for ever, and to which volts it leaps when nothing else takes the amps."""

from statorbook.bank import bank_amps, bank_table, rest_volts_of

_MOST_CHARGE = 1.1  # where the curves of a bank end
_HALVINGS = 50


def charge_at(bank, volts):
    """The charge at which a bank rests at these volts, at most where its curves end [-]."""
    table, low, high = bank_table(bank), 0.0, _MOST_CHARGE
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if rest_volts_of(middle, table) < volts else (low, middle)
    return low


def gas_amps(bank, volts, cell_c):
    """Amps that a bank takes for ever at these volts, and makes gas of: none for LiFePO4 [A]."""
    table, charge = bank_table(bank), charge_at(bank, volts)
    return max(0.0, bank_amps(min(volts, rest_volts_of(charge, table)), charge, cell_c, table))


def leaps_to(bank, amps, cell_c, *, from_volts, seconds):
    """Volts of a bank that rested at `from_volts` once all these amps have gone into it for some seconds [V]."""
    table = bank_table(bank)
    charge = min(_MOST_CHARGE, charge_at(bank, from_volts) + amps * seconds / (3600.0 * bank.capacity_ah))
    low, high = rest_volts_of(charge, table), 4.0 * bank.highest_volts
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if bank_amps(middle, charge, cell_c, table) < amps else (low, middle)
    return high
