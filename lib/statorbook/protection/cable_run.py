"""The cable between machine and bank: its ohms, and what it carries."""

from dataclasses import dataclass, replace

from statorbook.cable import (
    FINE,
    IN_CONDUIT,
    INSULATIONS,
    PVC,
    STRANDS,
    WARM_C,
    WAYS_LAID,
    cable_ohm,
    carried_amps,
    size_name,
    sold_mm2,
)
from statorbook.errors import BadInput
from statorbook.quantities import Fact, require_number, say

AT_MACHINE, AT_BANK = "at the machine", "at the bank"
ENDS = (AT_MACHINE, AT_BANK)
MOST_OHM = 10.0  # of a run: beyond it no charging is left
WISHED_DROP = Fact(
    value=3.0, unit="% of the volts that arrive", source="common practice, no source", low=1.0, high=10.0
)
_FIGURES = 3  # of the ohms: more are never worth it


@dataclass(frozen=True, kw_only=True)
class CableRun:
    """The cable between machine and bank.

    Parameters
    ----------
    length_m : float
        One way [m].
    area_mm2 : float
        Cross-section of each wire [mm²].
    rectifier_at : str
        "at the machine", so that the run is DC, or "at the bank", so that it is three wires of AC.
    laid : str
        "in conduit or trunking", "clipped to a wall, in free air" or "in a duct in the ground".
    insulation : str
        "PVC" or "XLPE".
    strands : str
        "fine, bends easily" or "coarse or solid".
    most_drop_percent : float
        Wished: no more than so much of the volts that arrive may be lost in it [%].

    Raises
    ------
    BadInput
        When a number is out of range, a word is unknown, or the run has more than 10 Ω.
    """

    length_m: float = 10.0
    area_mm2: float = 16.0
    rectifier_at: str = AT_MACHINE
    laid: str = IN_CONDUIT
    insulation: str = PVC
    strands: str = FINE
    most_drop_percent: float = WISHED_DROP.value

    def __post_init__(self):
        for value, name, unit, most in (
            (self.length_m, "length of the cable, one way", "m", 5000),
            (self.area_mm2, "cross-section of each wire", "mm²", 1000),
            (self.most_drop_percent, "wished drop", "%", 50),
        ):
            require_number(value, name, unit, above=0, at_most=most, next_step=f"type the {name} again")
        for name, allowed in (
            ("rectifier_at", ENDS),
            ("laid", WAYS_LAID),
            ("insulation", INSULATIONS),
            ("strands", STRANDS),
        ):
            if getattr(self, name) not in allowed:
                given = f"{getattr(self, name)!r} was given"
                raise BadInput(given, f"allowed are {', '.join(allowed)}", "choose one of them", where="cable run")
        self._require_few_ohms()

    def _require_few_ohms(self):
        if self.run_ohm > MOST_OHM:
            length, size = say(self.length_m, "m", form=".4g"), size_name(self.area_mm2)
            raise BadInput(
                f"{length} of {size} has {self.run_ohm:.0f} Ω",
                f"a run of up to {MOST_OHM:g} Ω is allowed",
                "type a thicker wire, or check the length",
                where="cable run",
            )

    @property
    def is_dc(self):
        """True when the rectifier stands at the machine, so that the run carries DC."""
        return self.rectifier_at == AT_MACHINE

    @property
    def wires(self):
        """How many wires it has [-]."""
        return 2 if self.is_dc else 3

    @property
    def run_ohm(self):
        """Of the whole loop of a DC run, or of one wire of an AC run, copper at 70 °C, three figures [Ω]."""
        return self.ohm_of(self.area_mm2)

    def ohm_of(self, area_mm2):
        """The same with another size.

        Parameters
        ----------
        area_mm2 : float
            Cross-section of each wire [mm²].

        Returns
        -------
        float
            Ohms of the loop, or of one wire of an AC run [Ω].

        Notes
        -----
        Equation: as `cable.cable_ohm`, three figures.
        Valid: copper at 70 °C.
        Source: as `cable.cable_ohm`.
        """
        in_series = 2 if self.is_dc else 1
        ohm = cable_ohm(self.length_m, area_mm2, wires=in_series, copper_c=WARM_C, strands=self.strands)
        return float(f"{ohm:.{_FIGURES}g}")

    @property
    def ohms(self):
        """The two fields of `Conditions` that it makes, by name, a dict of str to float [Ω]."""
        dc, ac = (self.run_ohm, 0.0) if self.is_dc else (0.0, self.run_ohm)
        return {"cable_ohm": dc, "ac_cable_ohm": ac}

    def in_sizes_sold(self):
        """The same run in each size that the reader can buy, rising, but for those too thin for its length."""
        return tuple(replace(self, area_mm2=area) for area in sold_mm2() if self.ohm_of(area) <= MOST_OHM)

    def carries_amps(self, around_c):
        """What each of its wires carries for hours.

        Parameters
        ----------
        around_c : float
            Hottest air, or ground, round it [°C].

        Returns
        -------
        float
            DC amps, or rms amps of an AC run [A].

        Notes
        -----
        Equation: as `cable.carried_amps`.
        Valid: one cable by itself.
        Source: as `cable.carried_amps`.
        """
        return carried_amps(
            self.area_mm2, laid=self.laid, insulation=self.insulation, wires=self.wires, around_c=around_c
        )
