"""What the house of a job needs, and what is lost on the way to it."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.fields import BadField, field_facts, labelled
from statorbook.quantities import INVERTER_EFFICIENCY, INVERTER_IDLE_WATTS

_ALIKE, _HOUSEHOLD, _LOG = "every month alike", "months of a usual household", "the log of months"


class NeedPart(AssumingPart):
    """What the house needs, and what is lost between bank and house."""

    part_title: ClassVar[str] = "need of the house"
    part_noun: ClassVar[str] = "inverter and bank"
    from_log: ClassVar[str] = _LOG
    needed_first: ClassVar[tuple] = ("need_kwh_a_day", "need_from")
    need_kwh_a_day: float | None = labelled(
        "Need, a day",
        "kWh",
        "Mean of the year, at the sockets of the house; for the log of months it may stay empty.",
        default=None,
        ge=0,
        le=1000,
        next_step="add up watts times hours of all that runs in a day, or read the meter a week apart",
    )
    need_from: Literal[_ALIKE, _HOUSEHOLD, _LOG] = labelled(
        "Over the year",
        "",
        "A usual household takes nearly half more in January than in July; the log says it for your own months.",
        default=_ALIKE,
        assumed=True,
    )
    inverter_efficiency: float = labelled(
        "Inverter efficiency",
        "-",
        "AC watts ÷ DC watts at work; 1 where the house runs on DC.",
        default=INVERTER_EFFICIENCY.value,
        assumed=True,
        gt=0.3,
        le=1,
        next_step="read it in the manual; it is at most 1, which is 100 %",
    )
    inverter_idle_watts: float = labelled(
        "Inverter, idle",
        "W",
        "Taken all day with nothing plugged in; 0 where it is switched off or there is none.",
        default=INVERTER_IDLE_WATTS.value,
        assumed=True,
        ge=0,
        le=1000,
        next_step="read it in the manual",
    )
    round_trip_share: float | None = labelled(
        "Bank: energy out ÷ energy in",
        "-",
        "Empty: usual for its chemistry.",
        default=None,
        gt=0.3,
        le=1,
        next_step="leave it empty, or read it in the maker's sheet; it is at most 1, which is 100 %",
    )
    usable_share: float | None = labelled(
        "Bank: share used day by day",
        "-",
        "Empty: half of a lead-acid bank, 0.9 of LiFePO4.",
        default=None,
        gt=0.05,
        le=1,
        next_step="leave it empty, or type what its maker allows; it is at most 1, which is 100 %",
    )

    @model_validator(mode="after")
    def _check(self):
        if self.need_kwh_a_day is None and not self.by_log:
            raise BadField.about(field_facts(type(self), "need_kwh_a_day"), "nothing was given")
        return self

    @property
    def by_log(self):
        """Whether the log of months says the need."""
        return self.need_from == self.from_log

    @property
    def like_a_household(self):
        """Whether the need is spread over the year as a usual household's."""
        return self.need_from == _HOUSEHOLD
