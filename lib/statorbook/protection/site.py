"""Where the plant stands: how wet it is within a hand's reach, and how hot and cold the air gets."""

from dataclasses import dataclass

from statorbook.errors import BadInput
from statorbook.quantities import require_number

DRY, DAMP, WET = "dry indoors", "damp", "wet outdoors"
PLACES = (DRY, DAMP, WET)


@dataclass(frozen=True, kw_only=True)
class Site:
    """Where the plant stands.

    Parameters
    ----------
    place : str
        "dry indoors", "damp" or "wet outdoors", by the wettest spot within reach of a live part.
    hottest_c : float
        Hottest air round machine, rectifier and cable [°C].

    Raises
    ------
    BadInput
        When the place is unknown or the air is out of range.
    """

    place: str = WET
    hottest_c: float = 40.0

    def __post_init__(self):
        if self.place not in PLACES:
            raise BadInput(
                f"{self.place!r} was given", f"allowed are {', '.join(PLACES)}", "choose one of them", where="place"
            )
        require_number(self.hottest_c, "hottest air", "°C", at_least=-20, at_most=70)
