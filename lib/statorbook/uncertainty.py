"""The ± of the coil constants carried through to amps, watts, speed and runaway volts, by linear propagation."""

import numpy as np

from statorbook.estimate import Estimate
from statorbook.grouping import Winding
from statorbook.hazards import open_circuit_volts
from statorbook.operating_point import operating_points
from statorbook.sweep import sweep

_HOW = "linear propagation of the ± of EMF, resistance and inductance"


def windings_at_ends(machine, grouping):
    """The winding at the best values, then with each constant alone at the ends of its band.

    Parameters
    ----------
    machine : Machine
        Best coil constants and their ends.
    grouping : Grouping
        How the coils are joined.

    Returns
    -------
    list of Winding
        Seven: best; EMF low, high; ohms low, high; henries low, high.
    """
    coils = [machine.coil, *machine.ends]
    return [Winding(stator=machine.stator, coil=coil, grouping=grouping) for coil in coils]


def half_width(values):
    """Half-width of a result from its values at the best constants and at the ends of their bands.

    Parameters
    ----------
    values : ndarray
        As `windings_at_ends` orders them along the first axis, shape (7, ...), any unit [-].

    Returns
    -------
    ndarray
        95 % half-width, shape (...), same unit [-].

    Notes
    -----
    Equation: √Σ ((high − low) / 2)², one term per constant.
    Valid: results nearly straight over each band, constants independent of each other.
    Source: JCGM 100:2008 (GUM), 5.1.2 (from memory), with differences instead of derivatives.
    """
    values = np.asarray(values, dtype=float)
    return np.sqrt(sum(((values[high] - values[high - 1]) / 2.0) ** 2 for high in (2, 4, 6)))


def with_plus_minus(machine, grouping, *, state=1):
    """Amps, watts, speed and runaway volts of one grouping, each with its ±.

    Parameters
    ----------
    machine : Machine
        Constants with ends, drive, bank, setting.
    grouping : Grouping
        How the coils are joined.
    state : int
        Which of the bank's states: 0 empty, 1 half full, 2 charging [-].

    Returns
    -------
    dict of str to Estimate
        "dc_amps" [A], "bank_watts" [W], "speed_rpm" [rpm], "runaway_dc_volts_peak" [V].

    Notes
    -----
    Equation: see `half_width`.
    Valid: the ± of the coil constants only; drag, head and temperatures are taken as they stand.
    Source: see `half_width`.
    """
    windings = windings_at_ends(machine, grouping)
    found = operating_points(machine.drive, windings, machine.bank.states[state], machine.setting.conditions)
    top, cold = machine.drive.runaway_speed_rpm, machine.setting.cold_c
    volts = np.array([open_circuit_volts(winding, top, cold)[1] for winding in windings])
    results = {
        "dc_amps": (found.dc_amps[:, 0], "A"),
        "bank_watts": (found.bank_watts[:, 0], "W"),
        "speed_rpm": (found.speed_rpm[:, 0], "rpm"),
        "runaway_dc_volts_peak": (volts, "V"),
    }
    return {
        name: Estimate(value=float(values[0]), plus_minus=float(half_width(values)), unit=unit, how=_HOW)
        for name, (values, unit) in results.items()
    }


def watts_range(machine, grouping):
    """Least and most watts with all constants at the ends of their bands, for bands too wide for a ±.

    Parameters
    ----------
    machine : Machine
        Constants with corners, drive, bank, setting.
    grouping : Grouping
        How the coils are joined.

    Returns
    -------
    tuple of float
        Least and most power into the half-full bank [W].

    Notes
    -----
    Equation: extremes over the corners.
    Valid: watts without a peak inside the band; the best values are looked at as well.
    Source: interval estimate.
    """
    coils = [machine.coil, *machine.corners]
    windings = [Winding(stator=machine.stator, coil=coil, grouping=grouping) for coil in coils]
    found = operating_points(machine.drive, windings, machine.bank.states[1], machine.setting.conditions)
    return float(found.bank_watts.min()), float(found.bank_watts.max())


def amps_band(machine, grouping, speed_rpm, *, state=1):
    """Band of the amps into the bank against speed.

    Parameters
    ----------
    machine : Machine
        Constants with ends, bank, setting.
    grouping : Grouping
        How the coils are joined.
    speed_rpm : ndarray
        Speeds above 0, shape (n,) [rpm].
    state : int
        Which of the bank's states: 0 empty, 1 half full, 2 charging [-].

    Returns
    -------
    tuple of ndarray
        Lower and upper edge, shape (n,) each [A].

    Notes
    -----
    Equation: see `half_width`.
    Valid: see `half_width`.
    Source: see `half_width`.
    """
    windings = windings_at_ends(machine, grouping)
    amps = sweep(windings, speed_rpm, machine.bank.states[state], machine.setting.conditions).dc_amps
    width = half_width(amps)
    return np.maximum(amps[0] - width, 0.0), amps[0] + width
