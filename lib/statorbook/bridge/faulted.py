"""A six-diode bridge with something wrong: volts, amps and watts of a machine, its leads and each diode."""

from dataclasses import dataclass

import numpy as np

from statorbook.bridge.circuit import integral_of_products
from statorbook.bridge.faulted_circuit import Legs
from statorbook.bridge.faulted_solver import settled_pieces
from statorbook.bridge.faults import SHORTED, SOUND, BridgeFault, source_of
from statorbook.bridge.rectifier import physical
from statorbook.errors import BadInput

_PERIOD = 2.0 * np.pi
_LEAST_RATIO = 1e-4  # a source without inductance is solved with this ωL/R, as in `rectifier`
_SAMPLES = 33  # points of a stretch at which peaks are looked for


@dataclass(frozen=True, kw_only=True)
class FaultedBridge:
    """What a bridge with a fault does; floats and rows of three or six for numbers, else one row for each input."""

    # Leads and phases stand in the order A, B, C, diodes as in `DIODES`: three to plus, then three to minus.
    dc_amps: np.ndarray  # mean, into the bank
    dc_amps_rms: np.ndarray
    dc_amps_peak: np.ndarray
    dc_volts_mean: np.ndarray  # between the rails
    dc_volts_peak: np.ndarray
    lead_amps_mean: np.ndarray  # out of each lead: what flows on one way only
    lead_amps_rms: np.ndarray
    lead_amps_peak: np.ndarray
    phase_amps_rms: np.ndarray  # in each phase as it is wound
    diode_amps_mean: np.ndarray
    diode_amps_rms: np.ndarray
    diode_amps_peak: np.ndarray
    reverse_volts_peak: np.ndarray  # over each diode that blocks, at most: while nothing conducts the rails float
    loose_volts_peak: np.ndarray  # of a loose lead against the others, of a loose end over its gap; 0 without
    dc_watts: np.ndarray  # into the stiff DC voltage
    cable_watts: np.ndarray  # lost in the DC-side resistance
    lead_watts: np.ndarray  # lost in the ohms of the three leads
    copper_watts: np.ndarray  # lost in the winding
    diode_watts: np.ndarray
    emf_watts: np.ndarray  # mean power of the EMFs, the sum of all of these
    emf_watts_least: np.ndarray  # at the weakest moment of a period
    emf_watts_peak: np.ndarray

    @property
    def torque_ripple(self):
        """Peak to peak of the torque over its mean [-]."""
        return (self.emf_watts_peak - self.emf_watts_least) / self.emf_watts


def faulted_bridge(
    fault,
    emf_peak_v,
    resistance_ohm,
    reactance_ohm,
    dc_volts,
    *,
    diode_drop_v,
    dc_resistance_ohm=0.0,
    diode_slope_ohm=0.0,
    lead_ohm=0.0,
    connection="star",
):
    """Currents, volts and powers of a bridge with diodes open or shorted, a lead off or a phase off.

    Parameters
    ----------
    fault : BridgeFault or sequence of BridgeFault
        What is wrong, one for all or one for each row; `BridgeFault()` is a sound bridge.
    emf_peak_v : float or ndarray
        EMF of one star phase of the sound machine, peak; of a delta that of the star that is alike [V].
    resistance_ohm : float or ndarray
        Resistance of that star phase [Ω].
    reactance_ohm : float or ndarray
        Reactance ωL of that star phase [Ω].
    dc_volts : float or ndarray
        Volts of the bank, behind the DC-side resistance [V].
    diode_drop_v : float or ndarray
        Constant drop of one diode; a shorted one has none [V].
    dc_resistance_ohm : float or ndarray
        Resistance of cable and bank [Ω].
    diode_slope_ohm : float or ndarray
        Slope resistance of one diode [Ω].
    lead_ohm : float or ndarray
        Resistance of one wire between machine and bridge [Ω].
    connection : str
        "star" or "delta": how the phases are joined.

    Returns
    -------
    FaultedBridge
        Floats and rows of three or six for numbers; arrays of shape (n,) or (n, 3), (n, 6) for n values.

    Raises
    ------
    BadInput
        When a value is below what is physical, or not a number, or the connection is unknown.

    Notes
    -----
    Equation: Kirchhoff for three EMFs with R and L and the diodes that conduct, solved in closed form from switching to
        switching; the currents after a period are those at its start. A delta with a corner off is two phases.
    Valid: sinusoidal EMF, L not saturating and without a zero-sequence part, R > 0, stiff DC volts, a shorted diode
        without ohms, whole phases: one of several parallel paths off is another fault.
    Source: Kirchhoff's laws; checked against a circuit simulator's table in the tests.
    """
    if connection not in ("star", "delta"):
        raise BadInput(f"{connection!r} was given", "star or delta is allowed", "choose one of them", where="wiring")
    names = ("EMF", "phase resistance", "reactance", "bank volts", "diode drop", "DC-side resistance", "diode slope")
    given = (emf_peak_v, resistance_ohm, reactance_ohm, dc_volts, diode_drop_v, dc_resistance_ohm, diode_slope_ohm)
    values = [physical(name, number) for name, number in zip(names, given, strict=True)]
    values.append(physical("lead resistance", lead_ohm))
    faults = [fault] if isinstance(fault, BridgeFault) else list(fault)
    alone = isinstance(fault, BridgeFault) and not any(np.ndim(number) for number in values)
    columns = np.broadcast_arrays(np.zeros(len(faults)), *(np.atleast_1d(number) for number in values))[1:]
    found = _solved([faults[k % len(faults)] for k in range(len(columns[0]))], connection, *columns)
    return FaultedBridge(**({name: _single(number) for name, number in found.items()} if alone else found))


def _single(numbers):
    return numbers[0] if numbers.ndim > 1 else float(numbers[0])


def _solved(faults, connection, emf, ohm, x, volts, drop, rdc, slope, lead_ohm):
    """The fields of `FaultedBridge`, each with a row for every fault."""
    sources = [source_of(fault, connection) for fault in faults]
    stack = {name: np.array([getattr(source, name) for source in sources]) for name in vars(sources[0])}
    x, unit = np.maximum(x, _LEAST_RATIO * ohm), np.maximum(emf, 1e-9)
    size, slots = np.hypot(ohm, x), np.array([fault.slots for fault in faults])
    live = stack["live"][:, None, :]
    legs = Legs(
        **{name: stack[name] for name in ("emf", "loose", "gap")},
        resistance=(stack["share"] * ohm[:, None] + lead_ohm[:, None]) / size[:, None],
        reactance=stack["share"] * (x / size)[:, None],
        slots=slots * live,
        blocking=live & (slots != SHORTED),
        slope=slope / size,
        drop=drop / unit,
        dc_ratio=volts / unit,
        dc_resistance=rdc / size,
    )
    units = {"volts": unit, "amps": unit / size, "watts": unit**2 / size}
    flows = {
        name: values * next(unit for word, unit in units.items() if word in name).reshape(-1, *[1] * (values.ndim - 1))
        for name, values in _summed(legs, stack["phases"]).items()
    }
    sound = legs.slots.reshape(-1, 6) == SOUND
    return flows | _losses(flows, sound, stack["phase_share"] * ohm, volts, drop, rdc, slope, lead_ohm)


def _losses(flows, sound, phase_ohm, volts, drop, rdc, slope, lead_ohm):
    """Where the power of the EMFs goes, each of shape (n,)."""
    diode = drop[:, None] * flows["diode_amps_mean"] + slope[:, None] * flows["diode_amps_rms"] ** 2
    return {
        "dc_watts": volts * flows["dc_amps"],
        "cable_watts": rdc * flows["dc_amps_rms"] ** 2,
        "lead_watts": lead_ohm * (flows["lead_amps_rms"] ** 2).sum(axis=1),
        "copper_watts": phase_ohm * (flows["phase_amps_rms"] ** 2).sum(axis=1),
        "diode_watts": (diode * sound).sum(axis=1),
    }


def _summed(legs, phases):
    """Means, rms values and peaks over one period, in units of E and E/|Z|."""
    count = len(legs.drop)
    sums = {"dc": np.zeros(count), "dc_square": np.zeros(count), "emf": np.zeros(count)}
    sums |= {name: np.zeros((count, width)) for name, width in _WIDTHS.items()}
    peaks = {name: np.zeros((count, width)) for name, width in _PEAKS.items()}
    least, most = np.full(count, np.inf), np.full(count, -np.inf)
    for _, length, piece, rows in settled_pieces(legs):
        signals = _signals(piece, phases[rows])
        for name, total in _integrals(piece, signals, length).items():
            sums[name][rows] += total / _PERIOD
        samples, watts = _sampled(legs.pick(rows), piece, signals, length)
        for name, high in samples.items():
            peaks[name][rows] = np.maximum(peaks[name][rows], high)
        least[rows], most[rows] = np.minimum(least[rows], watts.min(axis=0)), np.maximum(most[rows], watts.max(axis=0))
    return {
        "dc_amps": sums["dc"],
        "dc_amps_rms": np.sqrt(np.maximum(sums["dc_square"], 0.0)),
        "dc_amps_peak": peaks["dc"][:, 0],
        "dc_volts_mean": legs.dc_ratio + legs.dc_resistance * sums["dc"],
        "dc_volts_peak": legs.dc_ratio + legs.dc_resistance * peaks["dc"][:, 0],
        "lead_amps_mean": sums["lead"],
        **{f"{of}_amps_rms": np.sqrt(np.maximum(sums[f"{of}_square"], 0.0)) for of in ("lead", "phase", "diode")},
        "lead_amps_peak": peaks["lead"],
        "diode_amps_mean": sums["diode"],
        "diode_amps_peak": peaks["diode"],
        "reverse_volts_peak": peaks["reverse"],
        "loose_volts_peak": peaks["loose"][:, 0],
        "emf_watts": sums["emf"],
        "emf_watts_least": least,
        "emf_watts_peak": most,
    }


_WIDTHS = {"lead": 3, "lead_square": 3, "phase_square": 3, "diode": 6, "diode_square": 6}
_PEAKS = {"dc": 1, "lead": 3, "diode": 6, "reverse": 6, "loose": 1}


def _signals(piece, phases):
    """Coefficients of the currents of leads, phases and diodes."""
    upper, lower = (piece.signs > 0.0)[:, :, None], (piece.signs < 0.0)[:, :, None]
    return {
        "lead": piece.currents,
        "phase": phases @ piece.currents,
        "diode": np.concatenate([upper * piece.currents, lower * -piece.currents], axis=1),
    }


def _integrals(piece, signals, length):
    """What the sums over a period gain in one stretch."""

    def over(first, second):
        return integral_of_products(first, second, piece.rates, length)

    dc, one = piece.dc_amps[:, None, :], np.zeros((1, 1, 5))
    one[:, :, 0] = 1.0
    found = {"dc": over(dc, one)[:, 0], "dc_square": over(dc, dc)[:, 0]}
    found["emf"] = over(piece.emf, piece.currents).sum(axis=1)
    for name, signal in signals.items():
        found[f"{name}_square"] = over(signal, signal)
        if name != "phase":
            found[name] = over(signal, one)
    return found


def _sampled(legs, piece, signals, length):
    """Peaks in one stretch, each of shape (n, width), and the power of the EMFs at its samples."""
    steps = np.linspace(0.0, 1.0, _SAMPLES)[:, None] * length

    def at(coefficients):
        growth = np.exp(piece.rates * steps[:, :, None])
        return np.einsum("n...m,snm->sn...", coefficients, growth).real

    leads, plus, dc_volts = at(piece.leads), at(piece.plus)[..., None], at(piece.dc_volts)[..., None]
    blocked = np.concatenate([plus - leads, leads - plus + dc_volts], axis=2)
    idle = ~piece.signs.any(axis=1)[:, None]
    blocked = np.where(idle, _most_while_idle(legs, leads), blocked)
    blocks = legs.blocking.reshape(-1, 6) & (np.concatenate([piece.signs <= 0, piece.signs >= 0], axis=1))
    loose = np.einsum("nk,snk->sn", legs.loose, at(piece.emf))[..., None]
    gap = np.abs(loose - np.einsum("ngk,snk->sng", legs.gap, leads)).max(axis=2, keepdims=True)
    found = {"dc": at(piece.dc_amps)[..., None], "lead": at(signals["lead"]), "diode": at(signals["diode"])}
    found |= {"reverse": blocked * blocks, "loose": gap}
    power = (at(piece.emf) * found["lead"]).sum(axis=2)
    return {name: np.abs(samples).max(axis=0) for name, samples in found.items()}, power


def _most_while_idle(legs, leads):
    """Reverse volts while nothing conducts: the rails float, and the worst place that the sound diodes allow counts."""
    sound, between = legs.slots == SOUND, (legs.dc_ratio + legs.drop)[:, None]
    lowest = np.where(sound[:, 1], leads, np.inf).min(axis=2, keepdims=True)
    highest = np.where(sound[:, 0], leads, -np.inf).max(axis=2, keepdims=True)
    most = np.concatenate([lowest - leads, leads - highest], axis=2) + between
    return np.where(np.isfinite(most), most, 0.0)
