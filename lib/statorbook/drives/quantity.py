"""A quantity of a drive that a reader may turn, such as the nozzle or the wind."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, kw_only=True)
class Quantity:
    """What a slider needs to know about one field of a drive."""

    field: str  # the drive's own, so that `dataclasses.replace(drive, **{field: value})` changes it
    label: str  # what the reader calls it
    unit: str  # of all numbers below; "" for a plain number
    value: float  # where it stands
    low: float  # left end
    high: float  # right end
    step: float
    digits: int = 0  # decimals shown


def with_quantities(drive, values):
    """A drive with some of its quantities turned.

    Parameters
    ----------
    drive : Drive
        What turns it.
    values : dict of str to float
        By the field of a `Quantity`, in its unit [unit].

    Returns
    -------
    Drive
        The drive itself when nothing is turned; a nozzle that is turned takes the place of a measured flow.

    Raises
    ------
    BadInput
        When the drive refuses a value.

    Notes
    -----
    Equation: none.
    Valid: as the drive.
    Source: none.
    """
    if not values:
        return drive
    instead = {"flow_l_s": None} if "nozzle_mm" in values else {}
    return replace(drive, **{**instead, **values})
