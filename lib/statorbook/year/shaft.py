"""What a source has at the shaft over a year, whatever machine hangs on it."""

import numpy as np

from statorbook.drives import shaft_watts


def shaft_kwh_by_month(source):
    """What the shaft could give at each setting's best speed.

    Parameters
    ----------
    source : SourceYear
        The year.

    Returns
    -------
    ndarray
        Shape (12,), January first; not finite where the drive's power is not known [kWh].

    Notes
    -----
    Equation: Σ hours × shaft watts at the best speed of the setting.
    Valid: a rotor held at its best speed, as no machine holds it all the time: more than any grouping gets.
    Source: definition.
    """
    return source.hours @ _best_watts(source) / 1000.0


def mean_and_share_above(source):
    """The mean setting of the hours that are known, and how much of the shaft's energy lies above it.

    Parameters
    ----------
    source : SourceYear
        The year.

    Returns
    -------
    tuple of float
        The mean in the setting's unit; the share, not a number where power is not known or there is none [-].

    Notes
    -----
    Equation: Σ h s / Σ h; Σ h W over s above that / Σ h W, W as in `shaft_kwh_by_month`.
    Valid: see there.
    Source: definition.
    """
    hours, watts = source.hours_by_setting, _best_watts(source)
    mean = float(hours @ source.setting / hours.sum())
    energy = hours * watts
    with np.errstate(invalid="ignore"):
        return mean, float(energy[source.setting > mean].sum() / energy.sum()) if energy.sum() else np.nan


def _best_watts(source):
    return np.array([float(shaft_watts(drive, drive.best_speed_rpm)) for drive in source.drives])
