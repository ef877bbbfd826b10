"""What one coil does, and what a whole winding looks like from its three leads."""

from dataclasses import dataclass

from statorbook.quantities import CONDUCTORS, MAGNETS, require_number
from statorbook.winding.temperature import one_of


@dataclass(frozen=True, kw_only=True)
class CoilConstants:
    """What one coil does, at 20 °C.

    Parameters
    ----------
    emf_v_per_rpm : float
        EMF of one coil, rms, per rpm [V/rpm].
    ohm : float
        Resistance of one coil [Ω].
    henry : float
        Synchronous inductance, per coil share, mutual included [H].
    conductor : str
        "copper" or "aluminium".
    magnet : str
        "ferrite" or "neodymium".

    Raises
    ------
    BadInput
        When a constant is not above 0.
    """

    emf_v_per_rpm: float
    ohm: float
    henry: float
    conductor: str = "copper"
    magnet: str = "ferrite"

    def __post_init__(self):
        require_number(self.emf_v_per_rpm, "coil EMF", "V/rpm", above=0)
        require_number(self.ohm, "coil resistance", "Ω", above=0)
        require_number(self.henry, "coil inductance", "H", at_least=0)
        one_of(CONDUCTORS, self.conductor, "conductor")
        one_of(MAGNETS, self.magnet, "magnet")


@dataclass(frozen=True, kw_only=True)
class StarEquivalent:
    """One phase of a star, as seen from the leads.

    Parameters
    ----------
    emf_v_per_rpm : float
        Phase EMF, rms, per rpm [V/rpm].
    ohm : float
        Phase resistance [Ω].
    henry : float
        Phase synchronous inductance [H].
    """

    emf_v_per_rpm: float
    ohm: float
    henry: float
