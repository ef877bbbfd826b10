"""How hot the winding gets: kelvins for each watt of copper loss, measured or assumed, and the limits of its class."""

from dataclasses import dataclass

from statorbook.errors import BadInput
from statorbook.quantities import CONDUCTORS, Fact, require_number, say

CLASSES = ("A", "E", "B", "F", "H")
_SPOT, _MEAN = "IEC 60085, read in a reproduction", "IEC 60034-1, rise by resistance over 40 °C, read in a reproduction"
_EDGES_C = {"A": (105, 100), "E": (120, 115), "B": (130, 120), "F": (155, 145), "H": (180, 165)}
HOT_SPOT_C = {
    letter: Fact(value=float(spot), unit="°C", source=_SPOT, low=spot, high=spot)
    for letter, (spot, _) in _EDGES_C.items()
}
# What the ohms tell is a mean; its hottest spot is some 5 to 15 K hotter, so the limit for the mean is lower.
MEAN_LIMIT_C = {
    letter: Fact(value=float(mean), unit="°C", source=_MEAN, low=mean, high=mean)
    for letter, (_, mean) in _EDGES_C.items()
}
RISE_K_PER_W = Fact(
    value=1.0,
    unit="K/W",
    source="0.1 m² of an open stator at 10 W/(m²·K), air hardly moving; common practice, no source",
    low=0.3,
    high=2.5,
)
_HOTTEST_C = 220.0  # by the ohms; hotter, the enamel is gone, so that it is rather a wrong reading


@dataclass(frozen=True, kw_only=True)
class HeatRun:
    """Ohms of the winding cold and straight after a long run at steady amps.

    Parameters
    ----------
    cold_ohm : float
        Between two leads, cold [Ω].
    cold_c : float
        Temperature of the winding then [°C].
    hot_ohm : float
        Between the same leads, straight after the run [Ω].
    air_c : float
        Air round the machine at the end of the run [°C].
    dc_amps : float
        Into the bank during the run [A].

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    cold_ohm: float
    cold_c: float
    hot_ohm: float
    air_c: float
    dc_amps: float

    def __post_init__(self):
        require_number(self.cold_ohm, "cold ohms", "Ω", above=0)
        require_number(self.cold_c, "winding when cold", "°C", at_least=-30, at_most=60)
        require_number(self.hot_ohm, "hot ohms", "Ω", above=0)
        require_number(self.air_c, "air at the end", "°C", at_least=-30, at_most=70)
        require_number(self.dc_amps, "amps into the bank", "A", above=0)

    def hot_c(self, conductor):
        """Mean temperature of the winding at the end.

        Parameters
        ----------
        conductor : str
            "copper" or "aluminium".

        Returns
        -------
        float
            Temperature [°C].

        Raises
        ------
        BadInput
            When the ohms do not tell of a winding that is hotter than the air.

        Notes
        -----
        Equation: θ2 = (R2 / R1) (k + θ1) − k, k = 235 for copper, 225 for aluminium.
        Valid: the mean of the winding, read within seconds; each minute that passes first reads too cold.
        Source: IEC 60034-1, resistance method (from memory).
        """
        k = CONDUCTORS[conductor].value
        found = self.hot_ohm / self.cold_ohm * (k + self.cold_c) - k
        if not self.air_c < found <= _HOTTEST_C:
            cold, hot, air, most = (say(c, "°C", form=".0f") for c in (self.cold_c, found, self.air_c, _HOTTEST_C))
            raise BadInput(
                f"{self.cold_ohm:g} Ω at {cold} and {self.hot_ohm:g} Ω hot make a winding of {hot} in air of {air}",
                f"ohms of a winding hotter than its air and at most {most} are needed",
                "read the ohms between the same two leads cold, and hot straight after the run",
                where="hot ohms",
            )
        return found


@dataclass(frozen=True, kw_only=True)
class WindingHeat:
    """How the winding gets rid of its heat.

    Parameters
    ----------
    k_per_w : float
        Rise over the air for each watt lost in all coils together; a run that was measured counts instead [K/W].
    thermal_class : str
        Letter of its insulation class.
    assumed : bool
        Whether the rise is assumed, not measured.
    run : HeatRun or None
        A run that was measured.
    time_constant_min : float or None
        Time in which the whole machine takes 63 % of its rise; None for the copper alone, on the safe side [min].

    Raises
    ------
    BadInput
        When a number is out of range or the class is unknown.
    """

    k_per_w: float = RISE_K_PER_W.value
    thermal_class: str = "A"
    assumed: bool = True
    run: HeatRun | None = None
    time_constant_min: float | None = None

    def __post_init__(self):
        require_number(self.k_per_w, "rise for each watt", "K/W", above=0, at_most=100)
        if self.thermal_class not in CLASSES:
            raise BadInput(
                f"{self.thermal_class!r} was given",
                f"allowed are {', '.join(CLASSES)}",
                "choose one of them",
                where="insulation class",
            )
        if self.time_constant_min is not None:
            require_number(self.time_constant_min, "time constant", "min", above=0, at_most=1000)

    @property
    def hot_spot_c(self):
        """What its class allows at the hottest spot [°C]."""
        return HOT_SPOT_C[self.thermal_class].value

    @property
    def limit_c(self):
        """What its class allows for the mean that the ohms tell, itself still allowed [°C]."""
        return MEAN_LIMIT_C[self.thermal_class].value
