"""The ± of a promise: what the coil constants leave open, and what everything that is only assumed adds."""

from dataclasses import dataclass
from math import floor, hypot, log10

import numpy as np

from statorbook.choice.assumed_ranges import variations
from statorbook.operation import SETTLED, most_amps, open_circuit_volts, operating_points, settled_in, sweep
from statorbook.winding import Winding

_NOTHING = 1e-6  # stands for no speed at all in the search for an operating point
_UNITS = {"dc_amps": "A", "bank_watts": "W", "speed_rpm": "rpm", "runaway_dc_volts_peak": "V", "most_dc_amps": "A"}


@dataclass(frozen=True, kw_only=True)
class Spread:
    """A worked-out number with its ±, said in two parts.

    Parameters
    ----------
    value : float
        Best value [unit].
    constants : float
        95 % half-width that the ± of the coil constants leaves [unit].
    assumed : float
        Half-width that everything assumed or not measured leaves [unit].
    unit : str
        Of all three.
    """

    value: float
    constants: float
    assumed: float
    unit: str

    @property
    def plus_minus(self):
        """Half-width with everything in it, in the unit named [unit]."""
        return hypot(self.constants, self.assumed)

    def __str__(self):
        return f"{rounded(self.value, self.plus_minus)} ± {rounded(self.plus_minus, self.plus_minus)} {self.unit}"

    @property
    def in_parts(self):
        """The ± in words: the constants alone, and with what is assumed."""
        alone, whole = (rounded(width, width) for width in (self.constants, self.plus_minus))
        return f"± {alone} {self.unit} from the constants alone, ± {whole} {self.unit} with what is assumed"

    @property
    def both(self):
        """The two ± in short, as in a list that says once what they are: "9.0 and 81 W"."""
        alone, whole = (rounded(width, width) for width in (self.constants, self.plus_minus))
        return f"{alone} and {whole} {self.unit}"


def rounded(value, plus_minus):
    """A number with no more figures than its ± carries: two figures of the ±.

    Parameters
    ----------
    value : float
        The number, any unit [unit].
    plus_minus : float
        Its half-width, same unit; 0 rounds nothing but to four figures [unit].

    Returns
    -------
    str
        The number without unit.
    """
    if not plus_minus:
        return f"{value:.4g}" if abs(value) > _NOTHING else "0"
    places = 1 - floor(log10(plus_minus))
    return f"{round(value, places):.{max(places, 0)}f}"


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
        Seven: best; EMF low, high; ohms low, high; henries low, high; with EMF and ohms go the henries found from them.
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
    Valid: results nearly straight over each band; constants independent of each other once the henries go with the
        EMF and the ohms that they were worked out from, as `windings_at_ends` has them.
    Source: JCGM 100:2008 (GUM), 5.1.2 (from memory), with differences instead of derivatives.
    """
    values = np.asarray(values, dtype=float)
    return np.sqrt((((values[2::2] - values[1::2]) / 2.0) ** 2).sum(axis=0))


def reach(values):
    """How far assumptions move a result.

    Parameters
    ----------
    values : ndarray
        The best value, then low, high, low, high … along the first axis, shape (1 + 2 n, ...), any unit [-].

    Returns
    -------
    ndarray
        Half-width, shape (...), same unit [-].

    Notes
    -----
    Equation: √Σ d², d the larger of the two steps away from the best value, one term per assumption.
    Valid: assumptions independent of each other; a peak between the ends hides nothing, and a range that lies on one
        side counts as if it lay on both.
    Source: as `half_width`, with the larger step.
    """
    values = np.asarray(values, dtype=float)
    steps = np.maximum(np.abs(values[1::2] - values[0]), np.abs(values[2::2] - values[0]))
    return np.sqrt((steps**2).sum(axis=0))


def with_plus_minus(machine, grouping):
    """Amps, watts and speed at the half-full bank, runaway volts and most amps of one grouping, each with its ±.

    Parameters
    ----------
    machine : Machine
        Constants with ends, drive, bank, setting, what is assumed.
    grouping : Grouping
        How the coils are joined.

    Returns
    -------
    dict of str to Spread
        "dc_amps" [A], "bank_watts" [W], "speed_rpm" [rpm], "runaway_dc_volts_peak" [V], "most_dc_amps" [A].

    Notes
    -----
    Equation: `half_width` over the coil constants, `reach` over `choice.assumed_ranges.variations`.
    Valid: one thing at a time; faults and damage are not in it.
    Source: see `half_width`.
    """
    constants, assumed = at_all_ends(machine, grouping)
    return {
        name: Spread(
            value=float(constants[name][0]),
            constants=float(half_width(constants[name])),
            assumed=float(reach(assumed[name])),
            unit=unit,
        )
        for name, unit in _UNITS.items()
    }


def at_all_ends(machine, grouping):
    """All that `with_plus_minus` says: by name as `half_width` takes it (constants) and `reach` (what is assumed)."""
    windings = windings_at_ends(machine, grouping)
    found = operating_points(machine.drive, windings, machine.bank.states[1], machine.setting.conditions)
    constants = {name: getattr(found, name)[:, 0] for name in SETTLED} | _worst([machine] * len(windings), windings)
    machines = [machine, *(end for variation in variations(machine) for _, end in variation.ends)]
    assumed = {name: rows[:, 0] for name, rows in settled_in(machines, windings[:1]).items()}
    return constants, assumed | _worst(machines, windings[:1] * len(machines))


def _worst(machines, windings):
    """Runaway volts and most amps, one machine and one winding a row."""
    volts = [
        open_circuit_volts(winding, now.drive.runaway_speed_rpm, now.setting.cold_c)[1]
        for now, winding in zip(machines, windings, strict=True)
    ]
    cases = [(now.drive, winding, now.bank, now.setting.cold) for now, winding in zip(machines, windings, strict=True)]
    amps = [most.dc_amps for most in most_amps(cases)]
    return {"runaway_dc_volts_peak": np.array(volts), "most_dc_amps": np.array(amps)}


def amps_band(machine, grouping, speed_rpm, *, state=1):
    """Band of the amps into the bank against speed: constants and what is assumed of winding, magnets and bank.

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
    Equation: see `with_plus_minus`; at a given speed the source plays no part.
    Valid: see `with_plus_minus`.
    Source: see `with_plus_minus`.
    """
    windings = windings_at_ends(machine, grouping)
    asked = [variation for variation in variations(machine) if variation.low.drive == variation.high.drive]
    machines = [machine, *(end for variation in asked for _, end in variation.ends)]
    states, around = zip(*((now.bank.states[state], now.setting.conditions) for now in machines), strict=True)
    fixed = len(windings)
    amps = sweep(
        [*windings, *windings[:1] * len(machines)],
        speed_rpm,
        [*states[:1] * fixed, *states],
        [*around[:1] * fixed, *around],
    ).dc_amps
    width = np.hypot(half_width(amps[:fixed]), reach(amps[fixed:]))
    return np.maximum(amps[0] - width, 0.0), amps[0] + width


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
