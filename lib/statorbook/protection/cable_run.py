"""The cable between machine and bank."""

from dataclasses import dataclass

AT_MACHINE, AT_BANK = "at the machine", "at the bank"


@dataclass(frozen=True, kw_only=True)
class CableRun:
    """The cable between machine and bank.

    Parameters
    ----------
    length_m : float
        One way [m].
    area_mm2 : float
        Cross-section of each wire [mm²].
    rectifier_at : str
        "at the machine", so that the run is DC, or "at the bank", so that it is three wires of AC.
    """

    length_m: float = 10.0
    area_mm2: float = 16.0
    rectifier_at: str = AT_MACHINE
