"""Rows of the shorted-lead log against the model: EMF through ohms and inductance."""

from dataclasses import dataclass
from functools import cached_property
from math import pi

import numpy as np

from statorbook.fits.line import slope_through_origin
from statorbook.fits.shared_errors import all_shared
from statorbook.quantities import Estimate
from statorbook.winding import Stator, magnet_factor, resistance_factor


@dataclass(frozen=True, kw_only=True)
class ShortedRows:
    """Usable rows with the machine as warm as it was.

    Parameters
    ----------
    readings : list of ShortedReading
        Usable rows.
    stator : Stator
        Slots and poles.
    emf : Estimate
        Star-equivalent phase EMF, rms per rpm, magnets as warm as in the readings [V/rpm].
    ohm : Estimate
        Star-equivalent phase resistance, copper as warm as in the readings [Ω].
    """

    readings: list
    stator: Stator
    emf: Estimate
    ohm: Estimate

    @classmethod
    def at(cls, readings, emf, ohm, stator, *, machine_c=None, conductor="copper", magnet="ferrite"):
        """Rows of a machine that was so warm.

        Parameters
        ----------
        readings : list of ShortedReading
            Usable rows.
        emf : Estimate
            Star-equivalent phase EMF, rms per rpm, magnets at 20 °C [V/rpm].
        ohm : Estimate
            Star-equivalent phase resistance at 20 °C [Ω].
        stator : Stator
            Slots and poles.
        machine_c : float or None
            Temperature of magnets and copper during the readings; 20 °C when None [°C].
        conductor : str
            "copper" or "aluminium".
        magnet : str
            "ferrite" or "neodymium".

        Returns
        -------
        ShortedRows
            The rows.
        """
        at_c = 20.0 if machine_c is None else machine_c
        return cls(
            readings=readings,
            stator=stator,
            emf=emf.times(magnet_factor(at_c, magnet=magnet)),
            ohm=ohm.times(resistance_factor(at_c, conductor=conductor)),
        )

    @cached_property
    def amps(self):
        """Line currents, rms [A]."""
        return np.array([r.line_amps_rms for r in self.readings])

    @cached_property
    def sigma_share(self):
        """Likely error of each current, one sigma, as a share of it [-]."""
        return np.array([r.line_amps_sigma / r.line_amps_rms for r in self.readings])

    @cached_property
    def omega_squared(self):
        """Square of the electrical angular frequency of each row [1/s²]."""
        return (2.0 * pi * self.stator.electrical_hz(self.rpm)) ** 2

    @cached_property
    def rpm(self):
        """Rotor speeds [rpm]."""
        return np.array([r.speed_rpm for r in self.readings])

    @cached_property
    def shared_shifts(self):
        """What all rows share at the end of its ±, for `excess`: EMF with the amps' share by row [-], ohms [Ω]."""
        volts_and_amps = np.hypot(self.emf.plus_minus / self.emf.value, all_shared(self.readings))
        return {"emf_share": volts_and_amps}, {"shift_ohm": self.ohm.plus_minus}

    def excess(self, emf_share=0.0, shift_ohm=0.0):
        """(ωL)² of each row and its sigma, with EMF and ohms shifted to see what their ± does.

        Parameters
        ----------
        emf_share : float or ndarray
            Shift of the EMF, as a share of it; one for all rows or one for each [-].
        shift_ohm : float
            Shift of the ohms [Ω].

        Returns
        -------
        tuple of ndarray
            Square of the reactance and its likely error, one sigma [Ω²].
        """
        z_squared = (self.emf.value * (1.0 + emf_share) * self.rpm / self.amps) ** 2
        return z_squared - (self.ohm.value + shift_ohm) ** 2, 2.0 * z_squared * self.sigma_share

    def line(self, rows, emf_share=0.0, shift_ohm=0.0):
        """The line (ωL)² = L² ω² through some rows.

        Parameters
        ----------
        rows : sequence of int
            Places of the rows, from 0 [-].
        emf_share : float or ndarray
            Shift of the EMF, as a share of it; one for all rows or one for each [-].
        shift_ohm : float
            Shift of the ohms [Ω].

        Returns
        -------
        Slope
            Its value is the square of the inductance [H²].
        """
        rows = list(rows)
        excess, sigma = self.excess(emf_share, shift_ohm)
        return slope_through_origin(self.omega_squared[rows], excess[rows], sigma[rows])

    def share_off(self, henry_squared, emf_share=0.0, shift_ohm=0.0):
        """How far each current is off the model.

        Parameters
        ----------
        henry_squared : float
            Square of the inductance; below 0 taken as 0 [H²].
        emf_share : float or ndarray
            Shift of the EMF, as a share of it; one for all rows or one for each [-].
        shift_ohm : float
            Shift of the ohms [Ω].

        Returns
        -------
        ndarray
            As a share of what it should be [-].
        """
        impedance = np.sqrt((self.ohm.value + shift_ohm) ** 2 + max(henry_squared, 0.0) * self.omega_squared)
        return self.amps * impedance / (self.emf.value * (1.0 + emf_share) * self.rpm) - 1.0
