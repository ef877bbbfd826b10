"""How the winding of a job gets rid of its heat, and how warm it is at work."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.cautions import Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, labelled
from statorbook.operation import Conditions
from statorbook.protection import HeatRun, WindingHeat

_RUN = ("cold_ohm", "cold_c", "hot_ohm", "hot_air_c", "run_dc_amps")
_COPPER_C = Conditions().copper_c
_AT_REST, _HOT_AT_REST = (Exposure.STANDING, Exposure.BANK), (Exposure.STANDING, Exposure.BANK, Exposure.HEAT)
_CHARGING = (Exposure.TURNING, Exposure.VOLTS)
_AGAIN = "measure once more, cold and straight after a long run"


class HeatPart(AssumingPart):
    """Heat of the winding of a job, and the temperature that all pages reckon with."""

    part_title: ClassVar[str] = "heat of the winding"
    part_noun: ClassVar[str] = "the winding's heat"
    needed_first: ClassVar[tuple] = ("thermal_class", "copper_c")
    compared: ClassVar[tuple] = ("copper_c", "magnet_c")
    thermal_class: Literal["A", "E", "B", "F", "H"] = labelled(
        "Insulation class",
        "",
        "The letter on its plate; A, the lowest, where there is none.",
        default="A",
        assumed=True,
    )
    copper_c: float = labelled(
        "Winding at work",
        "°C",
        "What page 04 and all others reckon with.",
        default=_COPPER_C,
        assumed=True,
        ge=-20,
        le=200,
        next_step="take over what is found here",
    )
    k_per_w: float = labelled(
        "Rise for each watt of copper loss",
        "K/W",
        "All coils together; 1 K/W is common practice, no source. A measured run counts instead.",
        default=WindingHeat().k_per_w,
        assumed=True,
        gt=0,
        le=100,
        next_step="leave it at 1 K/W until a run was measured",
    )
    cold_ohm: float | None = labelled(
        "Cold: ohms between two leads",
        "Ω",
        "After a night at rest, rectifier off; below 1 Ω by a known current, as on page 01.",
        default=None,
        gt=0,
        le=1000,
        next_step=_AGAIN,
        exposes=_AT_REST,
    )
    cold_c: float | None = labelled(
        "Cold: its temperature",
        "°C",
        "The air after that night.",
        default=None,
        ge=-30,
        le=60,
        next_step="read a thermometer beside it",
        exposes=_AT_REST,
    )
    hot_ohm: float | None = labelled(
        "Hot: ohms between the same leads",
        "Ω",
        "Within half a minute after hours at steady amps, rotor tied, rectifier off again.",
        default=None,
        gt=0,
        le=1000,
        next_step=_AGAIN,
        exposes=_HOT_AT_REST,
    )
    hot_air_c: float | None = labelled(
        "Hot: air round the machine",
        "°C",
        "At the end of the run.",
        default=None,
        ge=-30,
        le=70,
        next_step="read a thermometer a step away from it",
        exposes=_CHARGING,
    )
    run_dc_amps: float | None = labelled(
        "Amps into the bank during the run, DC",
        "A",
        "As steady as they come.",
        default=None,
        gt=0,
        le=10_000,
        next_step="read them once more",
        exposes=_CHARGING,
    )
    magnet_c: float | None = labelled(
        "Magnets at work",
        "°C",
        "A thermometer's tip on the ring beside a magnet, straight after such a run; empty: {50 °C} are assumed.",
        default=None,
        ge=-40,
        le=100,
        next_step="measure once more, straight after a long run",
        exposes=(*_HOT_AT_REST, Exposure.MAGNETS),
    )
    time_constant_min: float | None = labelled(
        "Time constant",
        "min",
        "Minutes until 63 % of the last rise; empty for the copper alone, which is on the safe side.",
        default=None,
        gt=0,
        le=1000,
        next_step="leave it empty when it was not measured",
    )

    @model_validator(mode="after")
    def _check(self):
        self.require_whole(_RUN)
        run = self.to_run()
        if run is not None:
            try:
                run.hot_c("copper")
            except BadInput as refusal:
                raise BadField.mended_in("hot_ohm", refusal, where="Hot: ohms between the same leads") from None
        return self

    @property
    def says_nothing(self):
        """Whether a choice of grouping with it is the same as without."""
        return self.copper_c == _COPPER_C and self.magnet_c is None

    @property
    def assumed_in_use(self):
        """Names of the assumed fields that numbers hang on: a measured run counts before a rise, a tuple of str."""
        return tuple(name for name in self.assumed if name != "k_per_w" or self.cold_ohm is None)

    @property
    def copper_assumed(self):
        """Whether the temperature at work rests on an assumption: its own, or that of the rise for each watt."""
        return self.assumes("copper_c") or (self.cold_ohm is None and self.assumes("k_per_w"))

    @property
    def measured(self):
        """Names of the temperatures at work that a run has shown, a frozenset of str."""
        shown = {
            "copper_c": self.cold_ohm is not None and not self.copper_assumed,
            "magnet_c": self.magnet_c is not None,
        }
        return frozenset(name for name, is_measured in shown.items() if is_measured)

    def to_run(self):
        """The run that was measured, for the physics; None before it was."""
        if self.cold_ohm is None:
            return None
        return HeatRun(
            cold_ohm=self.cold_ohm,
            cold_c=self.cold_c,
            hot_ohm=self.hot_ohm,
            air_c=self.hot_air_c,
            dc_amps=self.run_dc_amps,
        )

    def to_heat(self):
        """The winding's heat, for the physics."""
        run = self.to_run()
        return WindingHeat(
            k_per_w=self.k_per_w,
            thermal_class=self.thermal_class,
            assumed=run is None and self.assumes("k_per_w"),
            run=run,
            time_constant_min=self.time_constant_min,
        )
