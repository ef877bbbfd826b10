"""The cable of a job between machine and bank."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.cable import FINE, IN_CONDUIT, INSULATIONS, PVC, STRANDS, WAYS_LAID
from statorbook.cautions import Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, labelled
from statorbook.protection import AT_BANK, AT_MACHINE, WISHED_DROP, CableRun

_ON_ITS_SKIN = (Exposure.STANDING, Exposure.BANK)


class CablePart(AssumingPart):
    """Cable run of a job."""

    part_title: ClassVar[str] = "cable run"
    part_noun: ClassVar[str] = "the cable"
    needed_first: ClassVar[tuple] = ("length_m", "area_mm2", "rectifier_at", "laid")
    length_m: float = labelled(
        "Cable from machine to bank, one way",
        "m",
        "The run, as the cable lies; the way back is counted by itself.",
        default=10.0,
        assumed=True,
        gt=0,
        le=5000,
        next_step="pace or measure the run again",
    )
    area_mm2: float = labelled(
        "Cross-section of each wire",
        "mm²",
        "As its name says, in mm² or AWG.",
        default=16.0,
        assumed=True,
        gt=0,
        le=1000,
        next_step="read what is printed on the cable",
        exposes=_ON_ITS_SKIN,
    )
    rectifier_at: Literal[AT_MACHINE, AT_BANK] = labelled(
        "Rectifier",
        "",
        "At the machine the run is DC, two wires; at the bank it is AC, three wires.",
        default=AT_MACHINE,
    )
    laid: Literal[WAYS_LAID] = labelled(
        "Laid", "", "Conduit holds the heat, so it is taken until you say otherwise.", default=IN_CONDUIT, assumed=True
    )
    insulation: Literal[INSULATIONS] = labelled(
        "Insulation",
        "",
        "PVC stands 70 °C, XLPE, as of solar cable, 90 °C; PVC until you say otherwise.",
        default=PVC,
        assumed=True,
    )
    strands: Literal[STRANDS] = labelled(
        "Strands", "", "Fine ones, as of welding cable and cords, have a little more ohms.", default=FINE, assumed=True
    )
    most_drop_percent: float = labelled(
        "Wished: lose at most",
        "%",
        "Of the volts that arrive. A wish, no rule: what is lost in the cable is lost for good.",
        default=WISHED_DROP.value,
        gt=0,
        le=50,
        next_step="type a few per cent",
    )

    @model_validator(mode="after")
    def _check(self):
        try:
            self.to_run()
        except BadInput as refusal:
            raise BadField.mended_in("area_mm2", refusal) from None
        return self

    def put_into(self, bank):
        """The bank part with the ohms of this run, which all pages reckon with.

        Parameters
        ----------
        bank : BankPart
            As it is.

        Returns
        -------
        BankPart
            With other ohms of the cable, marked as assumed while length or size is.
        """
        ohms = self.to_run().ohms
        fields = bank.model_dump() | {"cable_ohm": ohms["cable_ohm"], "ac_cable_ohm": ohms["ac_cable_ohm"] or None}
        ours = ("cable_ohm", "ac_cable_ohm")
        guessed = self.assumes("length_m") or self.assumes("area_mm2")
        marked = [name for name in ours if guessed and ohms[name]]
        return type(bank)(**fields | {"assumed": (*(name for name in bank.assumed if name not in ours), *marked)})

    def to_run(self):
        """The cable, for the physics."""
        return CableRun(**{name: getattr(self, name) for name in type(self).model_fields if name != "assumed"})
