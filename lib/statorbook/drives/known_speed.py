"""A drive whose speed is known and does not give way: a bench, a drill, a machine that already runs."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.drives.drive import Drive
from statorbook.drives.quantity import Quantity
from statorbook.quantities import require_number

_HIGHEST_RPM = 20_000.0


@dataclass(frozen=True, kw_only=True)
class KnownSpeed(Drive):
    """A speed that holds whatever the load.

    Parameters
    ----------
    working_rpm : float
        Speed under load [rpm].
    runaway_ratio : float
        Speed with the load gone, over the speed under load [-].
    runs_away : bool
        True when it holds its runaway speed, under load too.

    Raises
    ------
    BadInput
        When the speed is not above 0 or the ratio is outside 1 to 5.

    Notes
    -----
    Equation: torque without limit below the speed, none above.
    Valid: as long as the source really holds its speed.
    Source: definition.
    """

    working_rpm: float
    runaway_ratio: float = 1.8
    runs_away: bool = False
    strongest_words = "its runaway speed, held under load"
    loss_name = "source"
    source_steps = ()

    def __post_init__(self):
        require_number(self.working_rpm, "working speed", "rpm", above=0, at_most=_HIGHEST_RPM)
        require_number(self.runaway_ratio, "runaway ratio", "", at_least=1, at_most=5)

    @property
    def best_speed_rpm(self):
        """The known speed [rpm]."""
        return self.runaway_speed_rpm if self.runs_away else float(self.working_rpm)

    @property
    def free_speed_rpm(self):
        """The known speed, which it holds unloaded too while the source is looked after [rpm]."""
        return self.best_speed_rpm

    @property
    def runaway_speed_rpm(self):
        """Speed with the load gone [rpm]."""
        return self.working_rpm * self.runaway_ratio

    def strongest(self):
        """Held at its runaway speed, under load too."""
        return replace(self, runs_away=True)

    @property
    def source_watts(self):
        """Power behind the shaft; unknown, so not a number [W]."""
        return float("nan")

    @property
    def quantities(self):
        """The speed, a tuple of `Quantity`."""
        speed = {"value": self.working_rpm, "low": 20.0, "high": 1500.0, "step": 10.0}
        return (Quantity(field="working_rpm", label="Working speed", unit="rpm", **speed),)

    def describe(self):
        """What it does, in a sentence."""
        return f"It holds {self.best_speed_rpm:.0f} rpm and would run away to {self.runaway_speed_rpm:.0f} rpm."

    @property
    def limits(self):
        """When the model is not true, as a sentence."""
        return "The speed is taken as given: a real source slows down under load, so check it with the load on."

    def torque_nm(self, speed_rpm):
        """Torque at a speed.

        Parameters
        ----------
        speed_rpm : float or ndarray
            Shaft speed [rpm].

        Returns
        -------
        float or ndarray
            Without limit up to the known speed, 0 above it [N·m].

        Notes
        -----
        Equation: see the class.
        Valid: see the class.
        Source: definition.
        """
        torque = np.where(np.asarray(speed_rpm, dtype=float) <= self.best_speed_rpm, np.inf, 0.0)
        return torque if torque.ndim else float(torque)
