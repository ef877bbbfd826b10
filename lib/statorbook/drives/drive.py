"""The interface of every drive, and the power at its shaft."""

from typing import TYPE_CHECKING, Protocol

from statorbook.quantities import RAD_S_PER_RPM

if TYPE_CHECKING:
    from statorbook.drives.quantity import Quantity


class Drive(Protocol):
    """What every drive has, and what holds for one that does not say otherwise: no guard, source at its strongest.

    A drive is a frozen dataclass on top of this class.
    """

    best_speed_rpm: float  # where it gives most power, or the speed that it holds
    free_speed_rpm: float  # unloaded with the source as it stands: the torque is 0 there
    runaway_speed_rpm: float  # the worst unloaded while the guard described acts, never below the free speed
    guard_words: str = ""  # the guard as a noun phrase in metric units, "furling from a wind of 8 m/s at the hub"
    strongest_words: str = "the source as it stands"  # what was taken for its strongest
    source_watts: float  # power of the source; nan when not known
    source_steps: "tuple[tuple[str, float], ...]"  # from the source to the part that turns, losses negative [W]
    loss_name: str  # what is lost between the last of those steps and the shaft
    quantities: "tuple[Quantity, ...]"  # what a reader may turn
    limits: str  # a plain sentence that says when its model is not true

    def torque_nm(self, speed_rpm):
        """Torque at the generator's shaft.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Shaft speed [rpm].

        Returns
        -------
        float or ndarray
            Torque, same shape; infinite below a speed that is held [N·m].

        Notes
        -----
        Equation: the drive's own.
        Valid: the drive's own `limits`.
        Source: the drive's own.
        """
        raise NotImplementedError

    def describe(self):
        """What it does in one or two sentences."""
        raise NotImplementedError

    def unguarded(self):
        """The same drive with its guard failed; itself when it has none."""
        return self

    @property
    def unguarded_runaway_speed_rpm(self):
        """The worst that it can do unloaded with its guard failed, or without one [rpm]."""
        return self.unguarded().runaway_speed_rpm

    # What is taken for the strongest is common practice, no source. Wind: any wind up to the strongest gust, or to
    # the gust that passes before it furls. Jet: all nozzles open, the largest that was named unless the pipe gives most
    # with a smaller one, at the head as described. Pedals: a sprint. Engine: throttle open and governor stuck. Known
    # speed: runaway, under load.
    def strongest(self):
        """The same drive with its source at its strongest, its guard still at work, to size parts by."""
        return self


def shaft_watts(drive, speed_rpm):
    """Power that a drive has at its shaft.

    Parameters
    ----------
    drive : Drive
        Any drive.
    speed_rpm : float or ndarray
        Shaft speed [rpm].

    Returns
    -------
    float or ndarray
        Power, same shape; infinite where the torque has no limit [W].

    Notes
    -----
    Equation: P = T Ω.
    Valid: as the drive's torque.
    Source: definition.
    Derivation: `drives.torque_of_power`.
    """
    return drive.torque_nm(speed_rpm) * speed_rpm * RAD_S_PER_RPM
