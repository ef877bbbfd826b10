"""The interface of every drive.

Every drive is a frozen dataclass on top of `Drive` and has

- `torque_nm(speed_rpm)`, scalar or array, at the generator's shaft;
- `best_speed_rpm`, where it gives most power, or the speed that it holds;
- `free_speed_rpm`, unloaded with the source as it stands: the torque is 0 there;
- `runaway_speed_rpm`, the worst that it can do unloaded while the guard that was described acts, never below the free
  speed;
- `guard_words`, that guard as a noun phrase in metric units, such as "furling from a wind of 8 m/s at the hub"; empty
  without one;
- `unguarded()`, the same drive with its guard failed, and `unguarded_runaway_speed_rpm`, the worst that it then does;
- `strongest()`, the same drive with its source at its strongest, and `strongest_words`, what was taken for it;
- `source_watts`, the power of the source, and `source_steps`, pairs of name and watts from the source down to what
  reaches the part that turns, losses negative; empty where the power is not known;
- `loss_name`, what is lost between the last of those steps and the shaft;
- `quantities`, what a reader may turn, see `quantity.Quantity`;
- `describe(system)`, what it does in one or two sentences, in metric or US units;
- `limits`, a plain sentence that says when its model is not true.
"""

from statorbook.quantities import RAD_S_PER_RPM


class Drive:
    """What holds for every drive that does not say otherwise: no guard, and a source that is at its strongest."""

    guard_words = ""
    strongest_words = "the source as it stands"

    def unguarded(self):
        """The drive with its guard failed.

        Returns
        -------
        Drive
            Of the same kind; the drive itself when it has none.

        Notes
        -----
        Equation: none.
        Valid: any drive.
        Source: none.
        """
        return self

    @property
    def unguarded_runaway_speed_rpm(self):
        """The worst that it can do unloaded with its guard failed, or without one [rpm]."""
        return self.unguarded().runaway_speed_rpm

    def strongest(self):
        """The drive with its source at its strongest, its guard still at work, to size parts by.

        Returns
        -------
        Drive
            Of the same kind, with at least as much power.

        Notes
        -----
        Equation: none; what is taken for the strongest stands in `strongest_words`.
        Valid: wind: any wind up to the strongest gust, or to the gust that passes before it furls. Jet: all nozzles
            open, the largest that was named unless the pipe gives most with a smaller one, at the head as
            described. Pedals: a sprint. Engine: throttle open and governor stuck. Known speed: runaway, under load.
        Source: common practice, no source.
        """
        return self


def shaft_watts(drive, speed_rpm):
    """Power that a drive has at its shaft.

    Parameters
    ----------
    drive : object
        Any drive of this package.
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
    """
    return drive.torque_nm(speed_rpm) * speed_rpm * RAD_S_PER_RPM
