"""What turns the machine: one module a drive, one small interface.

Every drive has `torque_nm(speed_rpm)` (scalar or array), `best_speed_rpm`, `runaway_speed_rpm`,
`source_watts` and `limits`, a plain sentence that says when its model is not true. Torque is 0 at the runaway speed.
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
