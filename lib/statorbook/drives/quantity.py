"""A quantity of a drive that a reader may turn, such as the nozzle or the wind."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, kw_only=True)
class Quantity:
    """What a slider needs to know about one field of a drive.

    Parameters
    ----------
    field : str
        The drive's own field, so that `dataclasses.replace(drive, **{field: value})` turns it.
    label : str
        What the reader calls it.
    unit : str
        The field's unit; "" for a plain number.
    value : float
        Where it stands, in the unit named.
    low : float
        Left end, in the unit named.
    high : float
        Right end, in the unit named.
    step : float
        One step, in the unit named.
    digits : int
        Decimals shown [-].
    """

    field: str
    label: str
    unit: str
    value: float
    low: float
    high: float
    step: float
    digits: int = 0


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
