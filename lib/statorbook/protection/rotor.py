"""What turns: its moment of inertia, measured or from mass and size."""

from dataclasses import dataclass

from statorbook.quantities import Fact, require_number

RING, DISC, BLADES = "magnet ring or rim", "plain disc", "blades"
SHAPES = (RING, DISC, BLADES)
# J over mass × diameter²: all at the rim; even thickness; falling in a line from the hub to nothing at the tip.
_SHARES = {RING: 1.0 / 4.0, DISC: 1.0 / 8.0, BLADES: 1.0 / 24.0}
LIGHT_KGM2 = Fact(
    value=0.05,
    unit="kg·m²",
    source="a magnet ring of 5 kg and 200 mm with nothing added, the light end; common practice, no source",
    low=0.01,
    high=1.0,
)


def inertia_from_size_kgm2(mass_kg, diameter_mm, shape=DISC):
    """Inertia about its shaft of something whose shape is known.

    Parameters
    ----------
    mass_kg : float
        Its mass [kg].
    diameter_mm : float
        Of the middle of the ring, of the disc, or of the circle that the blades' tips run [mm].
    shape : str
        "magnet ring or rim", "plain disc" or "blades".

    Returns
    -------
    float
        Moment of inertia [kg·m²].

    Raises
    ------
    BadInput
        When a number is out of range.

    Notes
    -----
    Equation: J = m d² / 4 for a ring, m d² / 8 for a disc, m d² / 24 for blades.
    Valid: blades whose mass falls in a line from the hub to nothing at the tip; heavier tips have more.
    Source: moments of inertia of hoop and solid cylinder, any text on mechanics; blades by hand.
    """
    require_number(mass_kg, "mass of what turns", "kg", above=0, at_most=5000)
    require_number(diameter_mm, "diameter of what turns", "mm", above=0, at_most=100_000)
    return _SHARES[shape] * mass_kg * (diameter_mm / 1000.0) ** 2


@dataclass(frozen=True, kw_only=True)
class Rotor:
    """All that turns with the shaft, as seen at the generator's shaft.

    Parameters
    ----------
    inertia_kgm2 : float
        Moment of inertia [kg·m²].
    assumed : bool
        Whether it is neither measured nor worked out from mass and size.

    Raises
    ------
    BadInput
        When the inertia is not above 0.
    """

    inertia_kgm2: float
    assumed: bool = False

    def __post_init__(self):
        hint = "work it out from mass and diameter"
        require_number(self.inertia_kgm2, "inertia of what turns", "kg·m²", above=0, at_most=10_000, next_step=hint)
