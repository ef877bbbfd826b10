"""The DC volts that take most from a winding, at given speeds and where a drive settles with it."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.operation.converter import Converter
from statorbook.operation.settling import settled_at
from statorbook.operation.speed_sweep import sweep

_MOST_VOLTS = 2000.0


@dataclass(frozen=True, kw_only=True)
class VoltsToHold:
    """Volts at the input of a converter, and what they give."""

    speed_rpm: np.ndarray  # shape (n,), as the next two
    dc_volts: np.ndarray  # to hold at each; not a number where the converter takes nothing at any volts
    bank_watts: np.ndarray  # into the bank with them


def best_dc_volts(winding, speed_rpm, bank_state, conditions):
    """Volts that take most from a winding at given speeds, whatever turns it.

    Parameters
    ----------
    winding : Winding
        The winding.
    speed_rpm : ndarray
        Speeds above 0, shape (n,) [rpm].
    bank_state : BankState
        The bank.
    conditions : Conditions
        Surroundings; without a converter a lossless one is taken that seeks from the bank's volts up.

    Returns
    -------
    VoltsToHold
        The most that the winding could give at each speed.

    Notes
    -----
    Equation: the greatest efficiency × V × I(V) − idle watts within the window.
    Valid: a source that holds the speed; a converter that seeks faster than the rotor answers finds these volts, takes
        more than the source gives, and stalls the rotor.
    Source: energy balance; behind a reactance alone V = 9 E / (2π√2), E the phase EMF, peak.
    Derivation: `operation.converter_optimum`, `bridge.best_ratios`.
    """
    found = sweep([winding], np.asarray(speed_rpm, dtype=float), bank_state, _with_converter(bank_state, conditions))
    return _held(found.speed_rpm[0], found.held_dc_volts[0], found.phase_amps_rms[0], found.bank_watts[0])


def volts_to_hold(drives, winding, bank_state, conditions):
    """Volts that give most where the drive settles, over the settings of a source: the curve for a turbine's converter.

    Parameters
    ----------
    drives : sequence of Drive
        k settings of the source.
    winding : Winding
        The winding.
    bank_state : BankState
        The bank.
    conditions : Conditions
        As in `best_dc_volts`.

    Returns
    -------
    VoltsToHold
        One point for each setting, in their order.

    Notes
    -----
    Equation: of all volts held those whose settled point gives most watts into the bank.
    Valid: a converter that seeks more slowly than the rotor answers, or that is told this curve.
    Source: mechanics of steady operation.
    """
    around = _with_converter(bank_state, conditions)
    at = {name: column[:, 0] for name, column in settled_at(drives, [winding], bank_state, around).items()}
    return _held(at["speed_rpm"], at["held_dc_volts"], at["phase_amps_rms"], at["bank_watts"])


def _held(speed_rpm, dc_volts, phase_amps_rms, bank_watts):
    volts = np.where(phase_amps_rms > 0.0, dc_volts, np.nan)
    return VoltsToHold(speed_rpm=speed_rpm, dc_volts=volts, bank_watts=bank_watts)


def _with_converter(bank_state, conditions):
    if conditions.converter is not None:
        return conditions
    ideal = Converter(
        low_volts=bank_state.volts,
        high_volts=_MOST_VOLTS,
        survives_dc_volts=_MOST_VOLTS,
        efficiency=1.0,
        idle_watts=0.0,
    )
    return replace(conditions, converter=ideal)
