"""What turns: its moment of inertia, measured or from mass and size."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Rotor:
    """All that turns with the shaft, as seen at the generator's shaft.

    Parameters
    ----------
    inertia_kgm2 : float
        Moment of inertia [kg·m²].
    assumed : bool
        Whether it is neither measured nor worked out from mass and size.
    how : str
        How it was found, in words.
    """

    inertia_kgm2: float
    assumed: bool = False
    how: str = ""
