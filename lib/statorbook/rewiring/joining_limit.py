"""How far a path may differ before it is joined in parallel, and the current that a difference drives round."""

from dataclasses import dataclass, replace
from math import pi, sqrt

from statorbook.quantities import Fact, require_number
from statorbook.rewiring.circuit import coil_values, finished
from statorbook.rewiring.plan import path_amps_rms
from statorbook.winding import PHASES

CIRCULATING_SHARE = Fact(
    value=0.10,
    unit="of the path's working amps, rms",
    source="at worst in step with them, then a fifth more heat in that path; common practice, no source",
    low=0.05,
    high=0.2,
)
MOST_SHARE = Fact(
    value=0.05,
    unit="of the path's volts",
    source="beyond it a coil is wrong, whatever the amps; common practice, no source",
    low=0.03,
    high=0.1,
)
_TRIED = 0.01
# Line amps rms for each amp DC into a bank, line current nearly sinusoidal: π / (3 √2).
_LINE_RMS_PER_DC = pi / (3.0 * sqrt(2.0))


@dataclass(frozen=True, kw_only=True)
class ParallelLimit:
    """How far the volts of a path may be off those of the others of its phase.

    Parameters
    ----------
    share : float
        The limit, as a share of the path's volts [-].
    reason : str
        How it was found, in a sentence.
    """

    share: float = MOST_SHARE.value
    reason: str = (
        "The limit of 5 % is taken because no working current is known; beyond it a coil is wrong, whatever the amps."
    )


def parallel_limit(wired, coil, *, speed_rpm, dc_amps, copper_c=20.0):
    """Share of a path's volts from which the circulating current at work is too much.

    Parameters
    ----------
    wired : Wiring
        The winding as it will be wired.
    coil : CoilConstants
        What one coil does.
    speed_rpm : float
        Working speed [rpm].
    dc_amps : float
        Current into the bank at that speed [A].
    copper_c : float
        Winding temperature [°C].

    Returns
    -------
    ParallelLimit
        The limit and its reason.

    Raises
    ------
    BadInput
        When a number is out of range.

    Notes
    -----
    Equation: the circuit is solved with one path 1 % low; current grows in proportion, so limit = 1 % × 10 % of the
        path amps / that current, at most 5 %; path amps rms = π/(3√2) × DC amps / paths, in delta / √3 more.
    Valid: leads open, line current nearly sinusoidal; each coil's synchronous reactance stands for that of the loop.
    Source: nodal analysis, Bird, ch. 31; bridge currents, Mohan, Undeland, Robbins, ch. 5 (from memory).
    """
    require_number(speed_rpm, "working speed", "rpm", at_least=0, at_most=20_000)
    require_number(dc_amps, "current into the bank", "A", at_least=0, at_most=10_000)
    if wired.grouping.parallel == 1 or not (speed_rpm and dc_amps):
        return ParallelLimit()
    coils = coil_values(wired.stator, coil, speed_rpm, copper_c)
    low = {tooth: 1.0 - _TRIED for tooth, _ in wired.paths[PHASES[0]][0]}
    amps = circulating_amps_of(wired, coils, emf_shares=low)
    working = path_amps_rms(wired.grouping, _LINE_RMS_PER_DC * dc_amps)
    share = _TRIED * CIRCULATING_SHARE.value * working / amps
    found = (
        f"a path {100 * share:.2g} % off sends a tenth of its {working:.2g} A at {speed_rpm:.0f} rpm round the others"
    )
    if share >= MOST_SHARE.value:
        reason = f"The limit is {100 * MOST_SHARE.value:g} %: beyond it a coil is wrong ({found} only)."
        return ParallelLimit(share=MOST_SHARE.value, reason=reason)
    return ParallelLimit(share=share, reason=f"The limit is {100 * share:.2g} %: {found}.")


def circulating_amps_of(wired, coils, *, emf_shares=None, ohm_shares=None):
    """Largest current that circulates in a coil, leads open, rms [A]; shares are over a typical coil, by tooth."""
    emf_shares, ohm_shares = emf_shares or {}, ohm_shares or {}
    real = {
        tooth: replace(coil, emf_v=coil.emf_v * emf_shares.get(tooth, 1.0), ohm=coil.ohm * ohm_shares.get(tooth, 1.0))
        for tooth, coil in coils.items()
    }
    circuit = finished(wired, real)
    return max(circuit.amps_rms(tooth) for tooth in real)
