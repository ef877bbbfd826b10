"""What a short circuit does to a cable before the fuse opens: the adiabatic equation."""

from math import log, sqrt

from statorbook.errors import BadInput
from statorbook.quantities import require_number

# Heat of a volume [J/(K·mm³)], reciprocal of the temperature coefficient at 0 °C [°C], ohms at 20 °C [Ω·mm]:
# IEC 60364-5-54, annex A (read in a reproduction).
_METALS = {"copper": (3.45e-3, 234.5, 17.241e-6), "aluminium": (2.5e-3, 228.0, 28.264e-6)}
# Hottest at work and after a short circuit [°C]: the same standard (read in a reproduction).
SHORT_CIRCUIT_C = {"PVC": (70.0, 160.0), "XLPE": (90.0, 250.0), "rubber": (60.0, 200.0)}


def adiabatic_constant(start_c, end_c, *, metal="copper"):
    """How much short-circuit current a wire stands for its cross-section.

    Parameters
    ----------
    start_c : float
        Wire before the short circuit [°C].
    end_c : float
        The most that its insulation stands after it [°C].
    metal : str
        "copper" or "aluminium".

    Returns
    -------
    float
        The factor k [A·√s/mm²].

    Raises
    ------
    BadInput
        When the metal is unknown or the wire does not get hotter.

    Notes
    -----
    Equation: k = √(Qc (β + 20) / ρ20 × ln(1 + (θf − θi) / (β + θi))).
    Valid: short circuits of up to 5 s, in which no heat leaves the wire.
    Source: IEC 60364-5-54, annex A (read in a reproduction).
    Derivation: `cable.short_circuit_heating`.
    """
    if metal not in _METALS:
        raise BadInput(f"{metal!r} was given", f"allowed are {', '.join(_METALS)}", "choose one of them", where="metal")
    require_number(start_c, "wire before the short circuit", "°C", at_least=-60)
    require_number(end_c, "wire after the short circuit", "°C", above=start_c, at_most=500)
    heat, beta_c, ohm_mm = _METALS[metal]
    return sqrt(heat * (beta_c + 20.0) / ohm_mm * log(1.0 + (end_c - start_c) / (beta_c + start_c)))


def short_circuit_area_mm2(amps, seconds, k):
    """Thinnest wire that stands a short circuit.

    Parameters
    ----------
    amps : float or ndarray
        Short-circuit current, rms or DC [A].
    seconds : float or ndarray
        How long it flows [s].
    k : float
        From `adiabatic_constant` [A·√s/mm²].

    Returns
    -------
    float or ndarray
        Cross-section [mm²].

    Notes
    -----
    Equation: S = √(I² t) / k.
    Valid: up to 5 s; for a fuse that opens within a hundredth of a second √(I² t) is that of its let-through.
    Source: IEC 60364-5-54, 543.1.2 (read in a reproduction).
    Derivation: `cable.short_circuit_heating`.
    """
    return amps * seconds**0.5 / k
