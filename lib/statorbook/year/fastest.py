"""A year that runs away faster than the drive at its one setting, by which the volts were judged."""

import numpy as np

_ALIKE = 1.005


def fastest_of(source):
    """The drive of a year that runs away fastest among those that it has for any time."""
    there = np.flatnonzero(source.hours_by_setting > 0.0)
    return max((source.drives[at] for at in there), key=lambda drive: drive.runaway_speed_rpm)


def faster_words(drive, source):
    """What a year adds to the volts with the bank gone.

    Parameters
    ----------
    drive : Drive
        The drive at its one setting.
    source : SourceYear
        The year.

    Returns
    -------
    str
        Two sentences; empty when no setting of the year runs away faster.

    Notes
    -----
    Equation: volts with the bank gone go with the runaway speed.
    Valid: the same machine, magnets as cold.
    Source: Faraday's law.
    """
    fastest, known = fastest_of(source).runaway_speed_rpm, drive.runaway_speed_rpm
    if fastest <= _ALIKE * known:
        return ""
    return (
        f"This year has a setting that runs away to {fastest:.0f} rpm, faster than the {known:.0f} rpm of the drive "
        f"on page 03: with the bank gone expect {fastest / known - 1.0:.0%} more volts than are given here and on page "
        "04. "
        "Type that setting on page 03 before you choose, cut or buy anything by those volts and amps."
    )
