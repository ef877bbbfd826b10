"""The part of a job that keeps which sessions of readings the reader wants in each fit."""

from typing import ClassVar

from pydantic import field_validator

from statorbook.bench import ALL_SESSIONS, require_choice
from statorbook.errors import BadInput
from statorbook.job.parts.base import Part
from statorbook.job.parts.fields import BadField, labelled

_NEXT = "choose again on the page of that log"


_MEANS = "all, a day, without a day, or all but one of these."
_SAME = {"default": ALL_SESSIONS, "max_length": 40, "next_step": _NEXT}


class SessionsPart(Part):
    """Which sessions of readings go into the fits; the readings of the others are kept."""

    part_title: ClassVar[str] = "sessions used"
    spin: str = labelled("Sessions used, spin log", "", _MEANS, **_SAME)
    shorted: str = labelled("Sessions used, shorted log", "", _MEANS, **_SAME)
    ohms: str = labelled("Sessions used, ohms log", "", _MEANS, **_SAME)
    coast: str = labelled("Sessions used, coast log", "", _MEANS, **_SAME)
    drill: str = labelled("Sessions used, drill log", "", _MEANS, **_SAME)

    @field_validator("*")
    @classmethod
    def _check(cls, chosen, info):
        try:
            return require_choice(chosen, cls.model_fields[info.field_name].title)
        except BadInput as refusal:
            raise BadField.mended_in(info.field_name, refusal, next_step=_NEXT) from None
