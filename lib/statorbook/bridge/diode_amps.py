"""What one diode of a bridge carries, and what all six lose."""

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True, kw_only=True)
class DiodeAmps:
    """Current of one of the six diodes over an electrical period.

    Parameters
    ----------
    mean_amps : float
        Average, a third of the DC amps [A].
    amps_rms : float
        The same, rms [A].
    amps_peak : float
        Its highest moment [A].
    """

    mean_amps: float
    amps_rms: float
    amps_peak: float

    @property
    def dc_amps(self):
        """Mean of the whole bridge into the bank [A]."""
        return 3.0 * self.mean_amps

    def bridge_watts(self, drop_v, slope_ohm=0.0):
        """What the six diodes lose together.

        Parameters
        ----------
        drop_v : float
            Drop of one diode, where its straight line meets no amps [V].
        slope_ohm : float
            What the drop gains for each ampere [Ω].

        Returns
        -------
        float
            Loss [W].

        Notes
        -----
        Equation: P = 2 V I + 6 r I_rms², V drop, I mean DC amps, r slope, I_rms of one diode.
        Valid: drop a straight line of the amps; the loss of switching is left out.
        Source: energy, any power-electronics text.
        Derivation: `protection.diode_heat`.
        """
        return 2.0 * drop_v * self.dc_amps + 6.0 * slope_ohm * self.amps_rms**2


def diode_amps(waves):
    """Average, rms and peak of one diode from the waveform of its lead.

    Parameters
    ----------
    waves : Waveforms
        Of a healthy bridge, whole periods, both ends included.

    Returns
    -------
    DiodeAmps
        The same for all six.

    Notes
    -----
    Equation: the diode to plus carries its lead's current while that flows out of the lead, nothing else.
    Valid: exact but for the points that are looked at, 0.01 % with 721 of them.
    Source: Kirchhoff's current law.
    """
    amps = np.maximum(waves.phase_amps[:, 0], 0.0)
    turn = waves.angle_deg[-1] - waves.angle_deg[0]
    mean, square = (float(np.trapezoid(wave, waves.angle_deg) / turn) for wave in (amps, amps**2))
    return DiodeAmps(mean_amps=mean, amps_rms=square**0.5, amps_peak=float(amps.max()))
