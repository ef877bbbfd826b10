"""A winding: a stator whose coils have known constants and are joined in a known way, and the way back to one coil."""

from dataclasses import dataclass
from math import isfinite, sqrt

from statorbook.errors import BadInput
from statorbook.winding.coil import CoilConstants, StarEquivalent
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.temperature import magnet_factor, resistance_factor


@dataclass(frozen=True, kw_only=True)
class Winding:
    """A stator whose coils have known constants and are joined in a known way.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    coil : CoilConstants
        What one coil does.
    grouping : Grouping
        How the coils are joined.

    Raises
    ------
    BadInput
        When the stator cannot carry the grouping.

    Notes
    -----
    Equation: E = s kd e, R = (s / a) R_coil, L = (s / a) L_coil; delta ≡ star of E/√3, R/3, L/3.
    Valid: sinusoidal EMF, all coils alike, no saturation.
    Source: regrouping algebra; delta to star, Bird, Electrical Circuit Theory and Technology, ch. 34 (from memory).
    Derivation: `winding.regrouped`.
    """

    stator: Stator
    coil: CoilConstants
    grouping: Grouping

    def __post_init__(self):
        self.grouping.require_legal(self.stator)

    @property
    def phase_emf_v_per_rpm(self):
        """EMF of one phase, rms, per rpm, magnets at 20 °C [V/rpm]."""
        return self.grouping.series * self.stator.distribution_factor * self.coil.emf_v_per_rpm

    @property
    def phase_henry(self):
        """Synchronous inductance of one phase [H]."""
        return self.grouping.series / self.grouping.parallel * self.coil.henry

    def phase_ohm(self, copper_c=20.0):
        """Resistance of one phase.

        Parameters
        ----------
        copper_c : float or ndarray
            Winding temperature [°C].

        Returns
        -------
        float or ndarray
            Resistance of one phase, same shape [Ω].

        Notes
        -----
        Equation: R = (s / a) R_coil (k + θ) / (k + 20).
        Valid: −40 °C to 200 °C.
        Source: IEC 60034-1, resistance method (from memory).
        Derivation: `winding.regrouped`, `winding.warm_factors`.
        """
        cold = self.grouping.series / self.grouping.parallel * self.coil.ohm
        return cold * resistance_factor(copper_c, conductor=self.coil.conductor)

    def coil_amps(self, lead_amps):
        """Current in one coil for a current in a lead.

        Parameters
        ----------
        lead_amps : float or ndarray
            Current in one lead, rms or peak [A].

        Returns
        -------
        float or ndarray
            Current in one coil, same shape, rms or peak as given [A].

        Notes
        -----
        Equation: lead amps / paths, in delta / √3 besides.
        Valid: balanced currents without a third harmonic; paths alike.
        Source: star and delta, Bird, Electrical Circuit Theory and Technology, ch. 19 (from memory).
        Derivation: `winding.regrouped`.
        """
        return lead_amps / (3.0**0.5 if self.grouping.connection == "delta" else 1.0) / self.grouping.parallel

    def line_volts_rms(self, speed_rpm, magnet_c=20.0):
        """Open-circuit volts between two leads.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Rotor speed [rpm].
        magnet_c : float or ndarray
            Magnet temperature [°C].

        Returns
        -------
        float or ndarray
            Line volts, rms [V].

        Notes
        -----
        Equation: √3 E in star, E in delta.
        Valid: no load; sinusoidal EMF.
        Source: Bird, Electrical Circuit Theory and Technology, ch. 19 (from memory).
        Derivation: `winding.regrouped`.
        """
        ratio = sqrt(3.0) if self.grouping.connection == "star" else 1.0
        return ratio * self.phase_emf_v_per_rpm * speed_rpm * magnet_factor(magnet_c, magnet=self.coil.magnet)

    def star_equivalent(self, copper_c=20.0, magnet_c=20.0):
        """The star that behaves the same at the three leads.

        Parameters
        ----------
        copper_c : float or ndarray
            Winding temperature [°C].
        magnet_c : float or ndarray
            Magnet temperature [°C].

        Returns
        -------
        StarEquivalent
            EMF rms per rpm, ohms and henries of one star phase.

        Notes
        -----
        Equation: a delta of E, R, L is a star of E/√3, R/3, L/3.
        Valid: sinusoidal EMF; third harmonics circulate inside a delta and are not in it.
        Source: identity; Bird, Electrical Circuit Theory and Technology, ch. 34 (from memory).
        Derivation: `winding.regrouped`, `bridge.delta_as_star`.
        """
        delta = self.grouping.connection == "delta"
        emf = self.phase_emf_v_per_rpm * magnet_factor(magnet_c, magnet=self.coil.magnet)
        return StarEquivalent(
            emf_v_per_rpm=emf / sqrt(3.0) if delta else emf,
            ohm=self.phase_ohm(copper_c) / (3.0 if delta else 1.0),
            henry=self.phase_henry / (3.0 if delta else 1.0),
        )


def coil_from_star(stator, grouping, star, *, conductor="copper", magnet="ferrite"):
    """What one coil does, from what the leads show in the wiring as found.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    grouping : Grouping
        The wiring as found.
    star : StarEquivalent
        Star-equivalent phase EMF rms per rpm, ohms and henries at 20 °C.
    conductor : str
        "copper" or "aluminium".
    magnet : str
        "ferrite" or "neodymium".

    Returns
    -------
    CoilConstants
        One coil at 20 °C.

    Raises
    ------
    BadInput
        When the grouping is not legal or a constant is not above 0.

    Notes
    -----
    Equation: the inverse of `Winding.star_equivalent`.
    Valid: sinusoidal EMF, all coils alike.
    Source: regrouping algebra.
    Derivation: `winding.regrouped`.
    """
    grouping.require_legal(stator)
    delta = grouping.connection == "delta"
    emf_share = (sqrt(3.0) if delta else 1.0) / (grouping.series * stator.distribution_factor)
    share = (3.0 if delta else 1.0) * grouping.parallel / grouping.series
    henry = star.henry * share
    if not isfinite(henry):
        raise BadInput(
            "no inductance was given",
            "a number of henries of at least 0 is allowed",
            "log the shorted-lead amps, or take the assumed band",
            where="inductance",
        )
    return CoilConstants(
        emf_v_per_rpm=star.emf_v_per_rpm * emf_share,
        ohm=star.ohm * share,
        henry=henry,
        conductor=conductor,
        magnet=magnet,
    )
