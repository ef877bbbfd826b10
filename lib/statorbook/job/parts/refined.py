"""The part of a job that keeps the constants as refined by a run, beside those of the bench and never over them."""

from typing import ClassVar

from statorbook.job.parts.base import DatedPart
from statorbook.job.parts.fields import labelled
from statorbook.quantities import Estimate


class RefinedPart(DatedPart):
    """What one coil does at 20 °C by bench and run together."""

    part_title: ClassVar[str] = "refined constants"
    emf_v_per_rpm: float = labelled("EMF of one coil, rms", "V/rpm", "By bench and run together.", gt=0, le=10)
    emf_plus_minus_v_per_rpm: float = labelled("EMF ±, 95 %", "V/rpm", "Half-width of its 95 % band.", ge=0, le=10)
    ohm: float = labelled("Resistance of one coil", "Ω", "By bench and run together.", gt=0, le=1000)
    ohm_plus_minus: float = labelled("Resistance ±, 95 %", "Ω", "Half-width of its 95 % band.", ge=0, le=1000)
    henry: float = labelled("Inductance of one coil", "H", "By bench and run together.", gt=0, le=10)
    henry_plus_minus: float = labelled("Inductance ±, 95 %", "H", "Half-width of its 95 % band.", ge=0, le=10)
    how: str = labelled("How", "", "What they were worked out from.", default="", max_length=500)

    @property
    def estimates(self):
        """EMF, resistance and inductance of one coil, as a dict of `Estimate` by the field's name."""
        return {
            "emf_v_per_rpm": Estimate(
                value=self.emf_v_per_rpm, plus_minus=self.emf_plus_minus_v_per_rpm, unit="V/rpm", how=self.how
            ),
            "ohm": Estimate(value=self.ohm, plus_minus=self.ohm_plus_minus, unit="Ω", how=self.how),
            "henry": Estimate(value=self.henry, plus_minus=self.henry_plus_minus, unit="H", how=self.how),
        }
