"""How hot the winding gets: kelvins for each watt of copper loss, and the limit of its class."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class WindingHeat:
    """How the winding gets rid of its heat.

    Parameters
    ----------
    k_per_w : float
        Rise over the air for each watt lost in all coils together [K/W].
    thermal_class : str
        Letter of its insulation class.
    assumed : bool
        Whether the rise is assumed, not measured.
    """

    k_per_w: float = 1.0
    thermal_class: str = "B"
    assumed: bool = True
