"""What turns the machine: one module a drive, one small interface.

Every drive is a frozen dataclass and has

- `torque_nm(speed_rpm)`, scalar or array, at the generator's shaft;
- `best_speed_rpm`, where it gives most power, or the speed that it holds;
- `free_speed_rpm`, unloaded with the source as it stands: the torque is 0 there;
- `runaway_speed_rpm`, the worst that it can do unloaded, never below the free speed;
- `source_watts`, the power of the source, and `source_steps`, pairs of name and watts from the source down to what
  reaches the part that turns, losses negative; empty where the power is not known;
- `loss_name`, what is lost between the last of those steps and the shaft;
- `quantities`, what a reader may turn, see `quantity.Quantity`;
- `describe(system)`, what it does in one or two sentences, in metric or US units;
- `limits`, a plain sentence that says when its model is not true.
"""

from math import pi

RAD_S_PER_RPM = 2.0 * pi / 60.0  # definition


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
