"""The source of a job over a year: what its kind of drive asks for, beside the logs of the year."""

from typing import ClassVar

from pydantic import model_validator

from statorbook.job.parts.base import AssumingPart

# By the kind of drive, in the order of the form: the year follows the job's drive and has no kind of its own.
YEAR_KINDS = {kind.drive: kind for kind in ()}


# Pydantic lists the fields of the last base first.
class YearPart(*(kind.fields for kind in reversed(YEAR_KINDS.values())), AssumingPart):
    """The source over a year; fields of another kind of drive may stay filled in and are not used."""

    part_title: ClassVar[str] = "year"
    part_noun: ClassVar[str] = "the year"

    @model_validator(mode="after")
    def _check(self):
        for kind in YEAR_KINDS.values():
            kind.complain(self)
        return self
