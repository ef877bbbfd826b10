"""What stands between the rectifier and the bank of a job."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, labelled
from statorbook.operation import Converter

STRAIGHT, STEP_DOWN = "bank straight on the bridge", "step-down converter"
_VOLTS = ("window_low_volts", "window_high_volts", "survives_volts")
# Common practice, no source: what step-down converters of a few hundred watts reach, and what they need for themselves.
_EFFICIENCY, _IDLE_WATTS = 0.95, 2.0


class ConverterPart(AssumingPart):
    """What stands between rectifier and bank: nothing, or a step-down converter that seeks the most power."""

    part_title: ClassVar[str] = "converter"
    part_noun: ClassVar[str] = "the converter"
    between: Literal[STRAIGHT, STEP_DOWN] = labelled(
        "Between rectifier and bank",
        "",
        "Nothing, or a converter that seeks the volts of most power.",
        default=STRAIGHT,
    )
    window_low_volts: float | None = labelled(
        "Lowest input volts at which it seeks, DC",
        "V",
        "On its label or in its manual: the lower end of its tracking range.",
        default=None,
        gt=0,
        le=2000,
        next_step="read its label or manual",
    )
    window_high_volts: float | None = labelled(
        "Highest input volts at which it seeks, DC",
        "V",
        "The upper end of its tracking range.",
        default=None,
        gt=0,
        le=2000,
        next_step="read its label or manual",
    )
    survives_volts: float | None = labelled(
        "Highest input volts that it survives, DC",
        "V",
        "Its absolute maximum: a moment above it destroys it.",
        default=None,
        gt=0,
        le=2000,
        next_step="read its label or manual; where it names one limit only, type that one for both",
    )
    most_input_amps: float | None = labelled(
        "Most input amps, DC",
        "A",
        "Empty when it names none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label, or leave it empty",
    )
    most_output_amps: float | None = labelled(
        "Most output amps, DC",
        "A",
        "Into the bank; empty when it names none.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read its label, or leave it empty",
    )
    most_output_watts: float | None = labelled(
        "Most output watts",
        "W",
        "Into the bank; empty when it names none.",
        default=None,
        gt=0,
        le=1_000_000,
        next_step="read its label, or leave it empty",
    )
    converter_efficiency: float = labelled(
        "Efficiency of the converter",
        "-",
        "Watts out over watts in at work; 0.95 is common practice, no source.",
        default=_EFFICIENCY,
        assumed=True,
        gt=0,
        le=1,
        next_step="read it in its manual, as a number such as 0.95",
    )
    converter_idle_watts: float = labelled(
        "What it needs for itself",
        "W",
        "Drawn at all hours, from the bank when nothing comes in; 2 W is common practice, no source.",
        default=_IDLE_WATTS,
        assumed=True,
        ge=0,
        le=1000,
        next_step="read it in its manual",
    )

    @model_validator(mode="after")
    def _check(self):
        if self.between == STRAIGHT:
            return self
        self.require_whole(_VOLTS, "a converter was chosen, but nothing was given", begun=True)
        if not self.window_low_volts < self.window_high_volts <= self.survives_volts:
            volts = ", ".join(f"{getattr(self, name):g}" for name in _VOLTS)
            raise BadField(
                f"{volts} V were given",
                "the lowest and the highest volts at which it seeks and those that it survives rise in this order",
                "read the three in its manual again",
                field="survives_volts",
                where="Input volts of the converter",
            )
        return self

    @property
    def says_nothing(self):
        """Whether a job with it is the same as a job without."""
        return self.between == STRAIGHT

    @property
    def assumed_in_use(self):
        """Names of the assumed fields that numbers hang on; none without a converter, a tuple of str."""
        return () if self.between == STRAIGHT else self.assumed

    def to_converter(self):
        """The converter, for the physics; None for the bank straight on the bridge."""
        if self.between == STRAIGHT:
            return None
        return Converter(
            low_volts=self.window_low_volts,
            high_volts=self.window_high_volts,
            survives_dc_volts=self.survives_volts,
            most_input_amps=self.most_input_amps,
            most_output_amps=self.most_output_amps,
            most_output_watts=self.most_output_watts,
            efficiency=self.converter_efficiency,
            idle_watts=self.converter_idle_watts,
        )
