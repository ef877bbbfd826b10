"""The rectifier by its label."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Rectifier:
    """A three-phase bridge, or diodes, as the reader's label says.

    Parameters
    ----------
    label_amps : float
        DC amps on its label [A].
    reverse_volts : float
        Reverse volts on its label, DC peak [V].
    """

    label_amps: float
    reverse_volts: float
