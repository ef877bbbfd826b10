"""The fuse at the bank, by its label."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Fuse:
    """The fuse in the bank's lead.

    Parameters
    ----------
    amps : float
        Rated amps [A].
    dc_volts : float
        Rated DC volts [V].
    breaking_amps : float
        Breaking capacity [A].
    """

    amps: float
    dc_volts: float
    breaking_amps: float
