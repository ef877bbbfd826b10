"""Controller of a job."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.cautions import Exposure
from statorbook.charging import VoltsInput, usual_divider
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, field_facts, labelled

_COUNTS, _MILLIVOLTS = "counts", "millivolts"
_THERE, _NONE = "there", "none"
_DIVIDER, _CHECK = ("upper_ohm", "lower_ohm"), ("check_volts", "check_shown")
_WORKED_OUT = "Empty: worked out for your bank."
_AT_BANK = (Exposure.VOLTS, Exposure.BANK)


class ControlPart(AssumingPart):
    """Controller of a job."""

    part_title: ClassVar[str] = "controller"
    part_noun: ClassVar[str] = "volts input"
    needed_first: ClassVar[tuple] = ("scan_ms", "volts_relay", "volts_as", "check_volts", "check_shown")
    scan_ms: int = labelled(
        "Scan",
        "count",
        "Milliseconds in which the controller works once through all rules.",
        default=100,
        assumed=True,
        ge=1,
        le=1000,
        next_step="read it in the controller's manual",
    )
    volts_relay: Literal[_THERE, _NONE] = labelled(
        "A volts relay of its own",
        "",
        "Beside the controller, with its own wires and its own fuse to the bank: it acts when the controller does not.",
        default=_THERE,
        assumed=True,
    )
    volts_as: Literal[_COUNTS, _MILLIVOLTS] = labelled(
        "Volts input gives",
        "",
        "counts: the program scales them. millivolts: the controller was told to scale them itself.",
        default=_COUNTS,
        assumed=True,
    )
    check_volts: float | None = labelled(
        "Bank volts by the multimeter",
        "V",
        "At the bank's own poles. Empty while the input was not checked.",
        default=None,
        gt=1,
        le=200,
        exposes=_AT_BANK,
        next_step="read it again, with the controller's number at the same moment",
    )
    check_shown: int | None = labelled(
        "Shown by the controller then",
        "count",
        "Counts or millivolts of the volts input at that moment.",
        default=None,
        ge=1,
        le=2_000_000,
        next_step="read it again, with the multimeter at the same moment",
    )
    input_volts: float = labelled(
        "Volts input, up to",
        "V",
        "Its greatest volts, such as 10.",
        default=10.0,
        assumed=True,
        gt=0.1,
        le=100,
        next_step="read it in the controller's manual",
    )
    full_counts: int = labelled(
        "Number at these volts",
        "count",
        "Such as 4095 for 12 bits, or 1000.",
        default=4095,
        assumed=True,
        ge=100,
        le=65_535,
        next_step="read it in the controller's manual",
    )
    input_ohm: float = labelled(
        "Ohms of the input itself",
        "Ω",
        "They lie beside the lower resistor.",
        default=100_000.0,
        assumed=True,
        ge=1_000,
        le=100_000_000,
        next_step="read it in the controller's manual",
    )
    upper_ohm: float | None = labelled(
        "Upper resistor of the divider",
        "Ω",
        f"From the bank's plus to the input. {_WORKED_OUT}",
        default=None,
        gt=0,
        le=10_000_000,
        next_step="read its label, or leave both empty",
    )
    lower_ohm: float | None = labelled(
        "Lower resistor of the divider",
        "Ω",
        f"From the input to the bank's minus. {_WORKED_OUT}",
        default=None,
        gt=0,
        le=1_000_000,
        next_step="read its label, or leave both empty",
    )
    tolerance_percent: float = labelled(
        "Their tolerance, ±",
        "-",
        "In percent, on their label.",
        default=1.0,
        assumed=True,
        ge=0.01,
        le=20,
        next_step="read their label",
    )

    @model_validator(mode="after")
    def _check(self):
        for names in (_DIVIDER, _CHECK):
            self.require_whole(names)
        if self.volts_as == _COUNTS and self.check_shown is not None and self.check_shown > self.full_counts:
            facts = field_facts(type(self), "check_shown")
            raise BadField(
                f"{self.check_shown} was given",
                f"a count of at most {self.full_counts}, the number at the greatest volts, is allowed",
                facts.next_step,
                where=facts.title,
                field=facts.name,
            )
        return self

    @property
    def guard_there(self):
        """Whether a volts relay stands beside the controller."""
        return self.volts_relay == _THERE

    def to_volts_input(self, most_volts):
        """The input for the bank's volts, for the program and its tables.

        Parameters
        ----------
        most_volts : float
            The highest volts that it must read, DC [V].

        Returns
        -------
        VoltsInput
            With a divider worked out where none is typed.
        """
        upper, lower = self.upper_ohm, self.lower_ohm
        if upper is None:
            upper, lower = usual_divider(most_volts, self.input_volts, self.input_ohm)
        return VoltsInput(
            upper_ohm=upper,
            lower_ohm=lower,
            input_ohm=self.input_ohm,
            input_volts=self.input_volts,
            full_counts=self.full_counts,
            tolerance_share=self.tolerance_percent / 100.0,
            gives=self.volts_as,
            checked=None if self.check_volts is None else (self.check_volts, self.check_shown),
        )
