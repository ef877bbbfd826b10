"""An over-voltage load at the rectifier that acts by itself."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class OverVoltageLoad:
    """A resistor that is switched across the rectifier when its volts rise too far.

    Parameters
    ----------
    set_dc_volts : float
        Volts at which it is switched on [V].
    ohm : float
        Its resistance [Ω].
    watts : float
        What it stands for hours [W].
    acts_within_s : float
        Longest time from those volts to its current [s].
    """

    set_dc_volts: float
    ohm: float
    watts: float
    acts_within_s: float
