"""The six-diode bridge from a three-phase source into a battery bank."""

from dataclasses import dataclass

import numpy as np

from statorbook.bridge import chart as bridge_chart
from statorbook.cautions import STILL, Instruction
from statorbook.errors import BadInput

_DC_STEPS = 40  # secant steps at most for the volts lost in the DC-side resistance
_DC_CLOSE = 1e-9  # in units of the line EMF peak
_DAMPED = 0.85  # weight of that ripple; fitted to the exact solver
_FADE = 0.07  # radians of conduction half-angle; fitted to the exact solver
_MOST_DC_RATIO = 2.0  # above this DC-side over phase resistance the chart hands over
_LEAST_RATIO = 1e-4  # a source without inductance is solved with this ωL/R


@dataclass(frozen=True, kw_only=True)
class BridgeResult:
    """What a bridge delivers and loses; every field has the broadcast shape of the inputs, floats for numbers."""

    dc_amps: np.ndarray  # mean, into the bank
    phase_amps_rms: np.ndarray  # in one lead
    dc_watts: np.ndarray  # into the stiff DC voltage
    cable_watts: np.ndarray  # lost in the DC-side resistance
    copper_watts: np.ndarray  # lost in the three phase resistances
    diode_watts: np.ndarray
    voltage_ratio: np.ndarray  # u, (DC volts + two diode drops) over line EMF peak; no current at 1 or more
    reactance_ratio: np.ndarray  # q, reactance over resistance

    @property
    def emf_watts(self):
        """Power that the EMFs give, the sum of all the others [W]."""
        return self.dc_watts + self.cable_watts + self.copper_watts + self.diode_watts


def bridge(
    emf_peak_v,
    resistance_ohm,
    reactance_ohm,
    dc_volts,
    *,
    diode_drop_v,
    dc_resistance_ohm=0.0,
    diode_slope_ohm=0.0,
    method="chart",
):
    """Currents and powers of a six-diode bridge into a stiff DC voltage.

    Parameters
    ----------
    emf_peak_v : float or ndarray
        EMF of one star phase, peak [V].
    resistance_ohm : float or ndarray
        Resistance of one star phase [Ω].
    reactance_ohm : float or ndarray
        Reactance ωL of one star phase [Ω].
    dc_volts : float or ndarray
        Volts of the bank, behind the DC-side resistance [V].
    diode_drop_v : float or ndarray
        Constant drop of one diode [V].
    dc_resistance_ohm : float or ndarray
        Resistance of cable and bank [Ω].
    diode_slope_ohm : float or ndarray
        Slope resistance of one diode [Ω].
    method : str
        "chart" interpolates the stored chart, "exact" solves every point.

    Returns
    -------
    BridgeResult
        Arrays of the broadcast shape, or floats when all inputs are numbers.

    Raises
    ------
    BadInput
        When a value is below what is physical, or not a number.

    Notes
    -----
    Equation: one surface in u = (V + 2 Vd)/(√3 E) and q = ωL/R, in units of E/|Z|; see `bridge.solver`.
    Valid: balanced sinusoidal EMF, L not saturating, R > 0, stiff DC volts. Chart: 0.1 % of the short-circuit
    current, and it hands over to the exact solver outside its edges.
    Source: Kirchhoff's laws; checked against textbook bridges and a circuit simulator's table in the tests.
    Derivation: `bridge.six_pulse_mean`, `bridge.commutation_drop`, `bridge.lossless_current`, `bridge.resistive_gaps`,
        `bridge.resistive_overlap`, `bridge.shorted_current`, `bridge.scaling`, `bridge.best_ratios`.
    """
    names = ("EMF", "phase resistance", "reactance", "bank volts", "diode drop", "DC-side resistance", "diode slope")
    given = (emf_peak_v, resistance_ohm, reactance_ohm, dc_volts, diode_drop_v, dc_resistance_ohm, diode_slope_ohm)
    if method not in ("chart", "exact"):
        raise BadInput(f"{method!r} was given", "chart or exact is allowed", "choose one of them", where="method")
    emf, copper_ohm, x, volts, drop, rdc, slope = np.broadcast_arrays(*map(physical, names, given))
    r = copper_ohm + slope
    x = np.maximum(x, _LEAST_RATIO * r)
    reach = np.sqrt(3.0) * emf
    u = np.divide(volts + 2.0 * drop, reach, out=np.full(emf.shape, np.inf), where=reach > 0.0)
    found = _currents(u, x / r, rdc, r, exact=method == "exact")
    scale = emf / np.hypot(r, x)
    dc, dc_rms, phase = (found[name] * scale for name in ("dc", "dc_rms", "phase_rms"))
    flows = {
        "dc_amps": dc,
        "phase_amps_rms": phase,
        "dc_watts": volts * dc,
        "cable_watts": rdc * dc_rms**2,
        "copper_watts": 3.0 * copper_ohm * phase**2,
        "diode_watts": 2.0 * drop * dc + 3.0 * slope * phase**2,
        "voltage_ratio": u,
        "reactance_ratio": x / r,
    }
    # Whoever gave numbers gets numbers back.
    return BridgeResult(**(flows if dc.ndim else {name: float(flow) for name, flow in flows.items()}))


def _currents(u, q, dc_ohm, phase_ohm, *, exact):
    """Mean DC, DC rms and phase rms in units of E/|Z|, by chart where allowed."""
    found = {name: np.zeros(u.shape) for name in ("dc", "dc_rms", "phase_rms")}
    live = u < 1.0
    charted = live & bridge_chart.covers(u, q / (1.0 + 0.5 * dc_ohm / phase_ohm)) & bridge_chart.covers(u, q)
    charted &= (dc_ohm <= _MOST_DC_RATIO * phase_ohm) & (not exact)
    for rows, source in ((charted, _by_chart), (live & ~charted, bridge_chart.currents)):
        if rows.any():
            part = source(u[rows], q[rows], (dc_ohm / phase_ohm)[rows])
            for name in found:
                found[name][rows] = part[name]
    return found


def _by_chart(u, q, dc_ratio):
    """Chart currents; the DC-side resistance is met half as phase resistance, half by its mean volts."""
    # While the current has gaps only two diodes conduct, and half the DC resistance in each phase is exactly the same.
    # Far from there the DC current is smooth and its mean volts are what counts; the share fades from one to the other.
    if not dc_ratio.any():
        return bridge_chart.look_up(u, q)
    beyond = bridge_chart.beyond_crease(u, q / (1.0 + 0.5 * dc_ratio))
    share = np.exp(-np.maximum(beyond, 0.0) / _FADE)
    ohm = 1.0 + 0.5 * share * dc_ratio
    found = _by_mean_volts(u, q / ohm, (1.0 - share) * dc_ratio / ohm)
    change = np.hypot(1.0, q) / np.hypot(ohm, q)
    return _with_damped_ripple({name: current * change for name, current in found.items()}, u, q, dc_ratio)


def _with_damped_ripple(found, u, q, dc_ratio):
    """Lower the rms values by the ripple that the DC-side resistance takes out of the current."""
    # The ripple is nearly that of a source with half the DC resistance in each phase; with two diodes conducting, the
    # squared phase current is 2/3 of the squared DC current.
    alike = bridge_chart.look_up(u, q / (1.0 + 0.5 * dc_ratio), ("dc", "dc_rms"))
    form = np.divide(alike["dc_rms"], alike["dc"], out=np.ones_like(u), where=alike["dc"] > 0.0)
    dc_rms = _DAMPED * form * found["dc"] + (1.0 - _DAMPED) * found["dc_rms"]
    phase_square = found["phase_rms"] ** 2 - 2.0 / 3.0 * (found["dc_rms"] ** 2 - dc_rms**2)
    return {"dc": found["dc"], "dc_rms": dc_rms, "phase_rms": np.sqrt(np.maximum(phase_square, 0.0))}


def _by_mean_volts(u, q, dc_ratio):
    """The DC-side resistance met by its mean volts, a fixed point found by secants."""
    # By hand: with scipy's find_root a comparison takes 2.5 times as long (median of five runs), one point 3.8 times.
    # DC-side volts lost per unit of dimensionless current, in units of the line EMF peak.
    loss = dc_ratio / (np.hypot(1.0, q) * np.sqrt(3.0))
    trial, old, miss_old = u, u, np.zeros_like(u)
    crease = np.arccos(u) - bridge_chart.beyond_crease(u, q)
    for _ in range(_DC_STEPS):
        miss = trial - u - loss * bridge_chart.look_up(trial, q, ("dc",), crease=crease)["dc"]
        # Amps fall with volts, so that what is missed rises by 1 a unit at least: no bracket is needed.
        rise = np.divide(miss - miss_old, trial - old, out=np.ones_like(u), where=trial != old)
        old, miss_old = trial, miss
        trial = trial - miss / np.maximum(rise, 1.0)
        if np.abs(trial - old).max() < _DC_CLOSE:
            break
    return bridge_chart.look_up(trial, q, crease=crease)


def physical(name, value):
    """The value as an array, or a refusal by name."""
    try:
        numbers = np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        raise BadInput(
            f"{value!r} is not a number", "numbers are allowed", f"type the {name} again", where=name
        ) from None
    if not np.isfinite(numbers).all() or (numbers < 0.0).any():
        raise BadInput(
            "a value below 0 or not a number was given",
            "numbers of at least 0 are allowed",
            f"check the {name}",
            where=name,
        )
    if name == "phase resistance" and (numbers <= 0.0).any():
        raise BadInput(
            "0 Ω was given",
            "a resistance above 0 Ω is allowed",
            Instruction("measure the winding ohms again", STILL),
            where=name,
        )
    return numbers
