"""A bank: amps at its terminals' volts, at once and after minutes, what of them is stored, its rest volts and energy.

Scalars over one array, so that numba can compile each function as it stands; it then cannot call another one of ours,
so the place in the array is found anew in each.
"""

import numpy as np

from statorbook.bank.tables import column_of, rows_of

# The curves are kept every hundredth of the capacity, from a tenth below empty to a tenth above full.
_LEAST, _PER_UNIT, _LAST = -0.1, 100.0, 119
_CHARGES = np.arange(_LAST + 2) / _PER_UNIT + _LEAST
_CURVE = _CHARGES.size
_REFERENCE_C = 25.0
# Gassing is given at 2.23 V a cell and 20 °C: Schiffer and others, 2007 (from memory).
_GAS_VOLTS, _GAS_C, _MOST_EXPONENT = 2.23, 20.0, 40.0
# Beyond empty and full; steep, so that the volts soon leave the bank's limits: assumed.
_STEEP_V = {"LiFePO4": 20.0}
_STEEP_LEAD_V = 10.0
# Where the ohms of a full or empty cell stop growing: assumed, small against a hundredth of the capacity.
_LEAST_SHARE = 0.01
# Places in the array: numbers of the bank, then its curves.
_GAS_AMPS, _GAS_PER_VOLT, _GAS_PER_K, _TAKING_PER_K, _GIVING_PER_K, _COLD_SHARE, _STORED, _CELLS, _QUICK, _FARAD = (
    range(10)
)
_REST, _TAKING, _GIVING, _WH = (10 + at * _CURVE for at in range(4))
# Least ohms that act at once, and least that act slowly: so that a second stays a small step.
_LEAST_QUICK_OHM_AH, _LEAST_SLOW_OHM = 0.03, 1e-6


def bank_table(bank):
    """A bank as one array, for the functions below.

    Parameters
    ----------
    bank : Bank
        The bank.

    Returns
    -------
    ndarray
        Numbers and curves of the whole bank, in an order that only this module knows [-].

    Notes
    -----
    Equation: taking, ohms = inside + a / (1 − q)^n; giving, ohms = inside + b / q^m; q is the charge.
    Valid: amps of minutes to hours; the inner resistance is the bank's own where it was measured.
    Source: beside each value in tables/bank_rest.csv and tables/bank_cell.csv.
    """
    cell = column_of("bank_cell")[bank.chemistry]
    rest = bank.cells * _rest_volts(bank.chemistry)
    wh = np.concatenate(([0.0], np.cumsum(0.5 * (rest[1:] + rest[:-1])))) * bank.capacity_ah / _PER_UNIT
    empty = round(-_LEAST * _PER_UNIT)
    numbers = (
        1e-3 * cell["gas_ma_per_ah"] * bank.capacity_ah,
        cell["gas_per_volt"],
        cell["gas_per_k"],
        cell["taking_per_k"],
        cell["giving_per_k"],
        cell["cold_share_per_k"],
        cell["stored_share"],
        bank.cells,
        1.0 / max(bank.internal_ohm, bank.cells * _LEAST_QUICK_OHM_AH / bank.capacity_ah),
        cell["farad_per_ah"] * bank.capacity_ah / bank.cells,
    )
    taking = _siemens(bank, cell["taking_ohm_ah"], 1.0 - _CHARGES, cell["taking_power"])
    giving = _siemens(bank, cell["giving_ohm_ah"], _CHARGES, cell["giving_power"])
    return np.concatenate((numbers, rest, taking, giving, wh - wh[empty]))


def _rest_volts(chemistry):
    """Rest volts of a cell at each charge of the curves, steep beyond the table's ends."""
    rows = [row for row in rows_of("bank_rest") if row["chemistry"] == chemistry]
    charges, volts = (np.array([float(row[name]) for row in rows]) for name in ("charge", "value"))
    beyond = _CHARGES - np.clip(_CHARGES, 0.0, 1.0)
    return np.interp(_CHARGES, charges, volts) + _STEEP_V.get(chemistry, _STEEP_LEAD_V) * beyond


def _siemens(bank, ohm_ah, share, power):
    """Conductance of the bank where a share of a cell is left to fill or to empty."""
    return 1.0 / (bank.internal_ohm + bank.cells * ohm_ah / bank.capacity_ah / np.maximum(share, _LEAST_SHARE) ** power)


def bank_amps(volts, charge, cell_c, table):
    """Amps into a bank at the volts of its terminals.

    Parameters
    ----------
    volts : float
        At its terminals, DC [V].
    charge : float
        Share of its capacity that is in it [-].
    cell_c : float
        Temperature of its cells [°C].
    table : ndarray
        The bank, from `bank_table` [-].

    Returns
    -------
    float
        Into the bank; negative while it gives [A].

    Notes
    -----
    Equation: (U − rest) / ohms + gas, ohms × e^(k (25 − T)), gas = g e^(11 (U/cells − 2.23) + 0.06 (T − 20)).
    Valid: what flows after minutes at those volts, see `amps_at_once`; rises with the volts always.
    Source: Copetti and others, 1993, without its small term of the amps; Schiffer and others, 2007 (both from memory).
    """
    place = (charge - _LEAST) * _PER_UNIT
    at = min(max(int(place), 0), _LAST)
    part = place - at
    over = volts - table[_REST + at] - part * (table[_REST + at + 1] - table[_REST + at])
    colder = _REFERENCE_C - cell_c
    exponent = table[_GAS_PER_VOLT] * (volts / table[_CELLS] - _GAS_VOLTS) + table[_GAS_PER_K] * (cell_c - _GAS_C)
    gas = table[_GAS_AMPS] * np.exp(min(exponent, _MOST_EXPONENT))
    if over >= 0.0:
        curve, per_k = _TAKING, table[_TAKING_PER_K]
    else:
        curve, per_k = _GIVING, table[_GIVING_PER_K]
        place -= table[_COLD_SHARE] * max(colder, 0.0) * _PER_UNIT
        at = min(max(int(place), 0), _LAST)
    part = min(max(place - at, 0.0), 1.0)
    siemens = table[curve + at] + part * (table[curve + at + 1] - table[curve + at])
    return over * siemens * np.exp(-per_k * colder) + gas


def amps_at_once(volts, slow_volts, charge, cell_c, table):
    """Amps into a bank at the volts of its terminals, before its cells have followed.

    Parameters
    ----------
    volts : float
        At its terminals, DC [V].
    slow_volts : float
        DC, what the amps of the last minutes left in its cells, see `next_slow_volts` [V].
    charge : float
        Share of its capacity that is in it [-].
    cell_c : float
        Temperature of its cells [°C].
    table : ndarray
        The bank, from `bank_table` [-].

    Returns
    -------
    float
        Into the bank; negative while it gives [A].

    Notes
    -----
    Equation: (U − rest − slow) / inner resistance + gas, as `bank_amps`.
    Valid: seconds; held for long at the same volts it becomes `bank_amps`.
    Source: a resistance in series with another one beside a capacitor, the usual second-order model.
    """
    place = (charge - _LEAST) * _PER_UNIT
    at = min(max(int(place), 0), _LAST)
    rest = table[_REST + at] + (place - at) * (table[_REST + at + 1] - table[_REST + at])
    exponent = table[_GAS_PER_VOLT] * (volts / table[_CELLS] - _GAS_VOLTS) + table[_GAS_PER_K] * (cell_c - _GAS_C)
    gas = table[_GAS_AMPS] * np.exp(min(exponent, _MOST_EXPONENT))
    return (volts - rest - slow_volts) * table[_QUICK] + gas


def stored_at_once(volts, slow_volts, charge, table):
    """What is stored of the amps into a bank before its cells have followed.

    Parameters
    ----------
    volts : float
        At its terminals, DC [V].
    slow_volts : float
        DC, what the amps of the last minutes left in its cells [V].
    charge : float
        Share of its capacity that is in it [-].
    table : ndarray
        The bank, from `bank_table` [-].

    Returns
    -------
    float
        Negative while the charge falls; never more than `amps_at_once` [A].

    Notes
    -----
    Equation: (U − rest − slow) / inner resistance, when taking times the share that is stored.
    Valid: as `amps_at_once`.
    Source: as `amps_at_once`.
    """
    place = (charge - _LEAST) * _PER_UNIT
    at = min(max(int(place), 0), _LAST)
    rest = table[_REST + at] + (place - at) * (table[_REST + at + 1] - table[_REST + at])
    amps = (volts - rest - slow_volts) * table[_QUICK]
    return amps * (table[_STORED] if amps > 0.0 else 1.0)


def next_slow_volts(volts, slow_volts, charge, cell_c, table):
    """Volts that the amps of the last minutes left in the cells, a second later.

    Parameters
    ----------
    volts : float
        At its terminals in this second, DC [V].
    slow_volts : float
        DC, what they are now; 0 after hours at rest [V].
    charge : float
        Share of its capacity that is in it [-].
    cell_c : float
        Temperature of its cells [°C].
    table : ndarray
        The bank, from `bank_table` [-].

    Returns
    -------
    float
        DC, above 0 while it was charged, below while it gave [V].

    Notes
    -----
    Equation: amps × (ohms of `bank_amps` − inner resistance), reached as e^(−t / R C).
    Valid: steps of a second; the capacitor is what makes the minutes, its size is assumed.
    Source: as `amps_at_once`; polarization of IEC 60050-482.
    """
    place = (charge - _LEAST) * _PER_UNIT
    at = min(max(int(place), 0), _LAST)
    rest = table[_REST + at] + (place - at) * (table[_REST + at + 1] - table[_REST + at])
    amps = (volts - rest - slow_volts) * table[_QUICK]
    colder = _REFERENCE_C - cell_c
    if slow_volts > 0.0 or (slow_volts == 0.0 and amps > 0.0):
        curve, per_k = _TAKING, table[_TAKING_PER_K]
    else:
        curve, per_k = _GIVING, table[_GIVING_PER_K]
        place -= table[_COLD_SHARE] * max(colder, 0.0) * _PER_UNIT
        at = min(max(int(place), 0), _LAST)
    part = min(max(place - at, 0.0), 1.0)
    siemens = table[curve + at] + part * (table[curve + at + 1] - table[curve + at])
    ohm = max(np.exp(per_k * colder) / siemens - 1.0 / table[_QUICK], _LEAST_SLOW_OHM)
    left = amps * ohm
    return left + (slow_volts - left) * np.exp(-1.0 / (ohm * table[_FARAD]))


def rest_volts_of(charge, table):
    """Rest volts of a bank.

    Parameters
    ----------
    charge : float
        Share of its capacity that is in it [-].
    table : ndarray
        The bank, from `bank_table` [-].

    Returns
    -------
    float
        DC, after hours without amps [V].

    Notes
    -----
    Equation: straight lines between the points of the table; steep below 0 and above 1.
    Valid: 10 to 30 °C; LiFePO4 is so flat that its rest volts do not tell its charge.
    Source: beside each value in tables/bank_rest.csv; the steep ends are assumed.
    """
    place = (charge - _LEAST) * _PER_UNIT
    at = min(max(int(place), 0), _LAST)
    return table[_REST + at] + (place - at) * (table[_REST + at + 1] - table[_REST + at])


def stored_wh(charge, table):
    """Energy in a bank, from empty.

    Parameters
    ----------
    charge : float
        Share of its capacity that is in it [-].
    table : ndarray
        The bank, from `bank_table` [-].

    Returns
    -------
    float
        At its rest volts; negative below empty [Wh].

    Notes
    -----
    Equation: capacity × ∫ rest volts dq from 0, exact for `rest_volts_of`.
    Valid: as `rest_volts_of`.
    Source: definition.
    """
    place = (charge - _LEAST) * _PER_UNIT
    at = min(max(int(place), 0), _LAST)
    part, low, high = place - at, table[_REST + at], table[_REST + at + 1]
    ah = (table[_WH + at + 1] - table[_WH + at]) / (0.5 * (low + high))
    return table[_WH + at] + part * ah * (low + 0.5 * part * (high - low))


def slow_wh(slow_volts, table):
    """Energy in what the amps of the last minutes left in the cells.

    Parameters
    ----------
    slow_volts : float
        DC, from `next_slow_volts` [V].
    table : ndarray
        The bank, from `bank_table` [-].

    Returns
    -------
    float
        Comes out again within minutes, beside `stored_wh` [Wh].

    Notes
    -----
    Equation: C U² / 2.
    Valid: as `next_slow_volts`.
    Source: a capacitor's energy.
    """
    return table[_FARAD] * slow_volts**2 / 7200.0
