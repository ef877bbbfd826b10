"""Third-harmonic current round a closed delta, from the volts across its one open corner."""

from dataclasses import dataclass

import numpy as np

from statorbook.cautions import STILL, Instruction
from statorbook.errors import BadInput
from statorbook.quantities import ZERO_SEQUENCE_SHARE, require_number
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.temperature import magnet_factor

# In phase EMFs: one phase reversed shows 2, three equal phases show 3 times the third harmonic's share, well below 1.
_REVERSED = 1.5
# A stator that hardly makes a third harmonic shows less than this across the corner, unless its phases are unlike.
_UNLIKE, _HARDLY_ANY = 0.1, 0.05


@dataclass(frozen=True, kw_only=True)
class OpenCorner:
    """Volts across the one open corner of a delta that turns without load.

    Parameters
    ----------
    stator : Stator
        The machine.
    grouping : Grouping
        The delta on which the reading was made.
    volts_rms : float
        AC across the open corner of the three phases in line, rms [V].
    speed_rpm : float
        Speed of the reading [rpm].

    Raises
    ------
    BadInput
        When the grouping is no legal delta of this stator or a number is out of range.

    Notes
    -----
    Equation: V = 3 s kd3 e3; the three third-harmonic phase EMFs are in phase and add up.
    Valid: magnets near 20 °C, a meter that is right at three times the electrical frequency, so turn slowly.
    Source: delta-connected windings, any text on electrical machines (from memory).
    Derivation: `winding.third_round_delta`.
    """

    stator: Stator
    grouping: Grouping
    volts_rms: float
    speed_rpm: float

    def __post_init__(self):
        self.grouping.require_legal(self.stator)
        if self.grouping.connection != "delta":
            raise BadInput(
                "a star was given",
                "a delta opened at one corner is allowed",
                Instruction("join the phases end to start first", STILL),
            )
        require_number(self.volts_rms, "open-corner volts", "V rms", at_least=0, at_most=10_000)
        require_number(self.speed_rpm, "speed of the open-corner reading", "rpm", above=0, at_most=20_000)

    @property
    def open_corner_v_per_rpm(self):
        """Open-corner volts of a delta with one coil in series, rms; s coils make s times as much [V/rpm]."""
        return self.volts_rms / (self.speed_rpm * self.grouping.series)

    @property
    def coil_third_emf_v_per_rpm(self):
        """Third-harmonic EMF of one coil, rms [V/rpm]."""
        return self.open_corner_v_per_rpm / (3.0 * self.stator.distribution_factor_third)

    def doubt(self, coil):
        """A sentence when the reading looks like something else than a third harmonic.

        Parameters
        ----------
        coil : CoilConstants
            What one coil does.

        Returns
        -------
        str
            The sentence, or an empty text.

        Raises
        ------
        BadInput
            When one phase must be joined the wrong way round.

        Notes
        -----
        Equation: V over the phase EMF s kd e n; 2 with one phase reversed, 0 to about 0.9 with all three right.
        Valid: phases alike.
        Source: sum of three phasors; limits are common practice, no source.
        """
        phase_volts = self.grouping.series * self.stator.distribution_factor * coil.emf_v_per_rpm * self.speed_rpm
        share = self.volts_rms / phase_volts
        if share > _REVERSED:
            raise BadInput(
                f"{self.volts_rms:g} V rms at {self.speed_rpm:g} rpm was given, {share:.1f} times the EMF of a phase",
                f"less than {_REVERSED:g} times is allowed",
                "one phase is joined the wrong way round: exchange its ends and never close this delta as it is",
                where="open delta corner",
            )
        if share > _UNLIKE and self.stator.third_harmonic_factor < _HARDLY_ANY:
            return (
                f"The open corner shows {share:.0%} of a phase's volts, yet coils of {self.stator.slots} slots and "
                f"{self.stator.poles} poles make next to no third harmonic: look for a phase that is unlike the others."
            )
        return ""


@dataclass(frozen=True, kw_only=True)
class Circulating:
    """What flows round a closed delta besides the load; zero in a star."""

    phase_amps_rms: np.ndarray  # third-harmonic current through the three phases in line, rms
    coil_amps_rms: np.ndarray  # its share in one coil, rms
    watts: np.ndarray  # its loss in the whole winding, taken from the shaft


def circulating(winding, open_corner_v_per_rpm, speed_rpm, *, copper_c=20.0, magnet_c=20.0, zero_sequence_share=0.0):
    """Third-harmonic current round the delta, and what it loses.

    Parameters
    ----------
    winding : Winding
        The winding; a star carries none.
    open_corner_v_per_rpm : float
        Open-corner volts of a delta with one coil in series, rms, from `OpenCorner` [V/rpm].
    speed_rpm : float or ndarray
        Rotor speed [rpm].
    copper_c : float
        Winding temperature [°C].
    magnet_c : float
        Magnet temperature [°C].
    zero_sequence_share : float
        Inductance against currents alike in all phases, over the synchronous one; at 0 the loss is an upper bound [-].

    Returns
    -------
    Circulating
        Amps and watts, of the shape of the speed.

    Raises
    ------
    BadInput
        When the volts or the share are out of range.

    Notes
    -----
    Equation: I = V / |3 (R + 3 jω L0)|, loss 3 R I²; L0 = share × L.
    Valid: third harmonic only; flows at no load too, and the volts grow with speed.
    Source: Kirchhoff's voltage law round the delta.
    Derivation: `winding.third_round_delta`.
    """
    volts = require_number(open_corner_v_per_rpm, "open-corner volts", "V/rpm", at_least=0)
    share = require_number(zero_sequence_share, "zero-sequence share", "", at_least=0, at_most=3)
    delta = winding.grouping.connection == "delta"
    gap = float(delta) * volts * winding.grouping.series * speed_rpm
    gap = gap * magnet_factor(magnet_c, magnet=winding.coil.magnet)
    ohm = winding.phase_ohm(copper_c)
    reactance = 3.0 * 2.0 * np.pi * winding.stator.electrical_hz(speed_rpm) * share * winding.phase_henry
    amps = gap / (3.0 * np.hypot(ohm, reactance))
    return Circulating(phase_amps_rms=amps, coil_amps_rms=amps / winding.grouping.parallel, watts=3.0 * ohm * amps**2)


def likely_circulating(winding, open_corner_v_per_rpm, speed_rpm, *, copper_c=20.0, magnet_c=20.0):
    """The same with an assumed zero-sequence inductance: what to expect rather than what to be safe from."""
    # An order of magnitude; the share may be anything from 0.05 to 1 (common practice, no source).
    return circulating(
        winding,
        open_corner_v_per_rpm,
        speed_rpm,
        copper_c=copper_c,
        magnet_c=magnet_c,
        zero_sequence_share=ZERO_SEQUENCE_SHARE.value,
    )
