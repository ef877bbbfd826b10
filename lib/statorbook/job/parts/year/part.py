"""The source of a job over a year: what its kind of drive asks for, beside the logs of the year."""

from typing import ClassVar

from pydantic import model_validator

from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.drive.kind import own_fields
from statorbook.job.parts.fields import facts_of
from statorbook.job.parts.year.engine import EngineYear
from statorbook.job.parts.year.known_speed import KnownSpeedYear
from statorbook.job.parts.year.pedals import PedalsYear
from statorbook.job.parts.year.water import WaterYear
from statorbook.job.parts.year.wind import WindYear

# By the kind of drive, in the order of the form: the year follows the job's drive and has no kind of its own.
YEAR_KINDS = {kind.drive: kind for kind in (WaterYear(), WindYear(), PedalsYear(), EngineYear(), KnownSpeedYear())}


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

    def as_saved(self):
        """The fields as the job's file holds them; those of a kind of which nothing was given are left out."""
        saved, usual = super().as_saved(), {f.name: f for f in facts_of(type(self)) if f.name != "assumed"}
        untouched = [name for name, facts in usual.items() if self._is_usual(facts)]
        for kind in YEAR_KINDS.values():
            names = own_fields(kind.fields)
            if set(names) <= set(untouched):
                saved = {name: value for name, value in saved.items() if name not in names}
                saved["assumed"] = [name for name in saved["assumed"] if name not in names]
        return saved

    def _is_usual(self, facts):
        """Whether a field holds its default, and is marked as assumed where that is an assumption."""
        return getattr(self, facts.name) == facts.default and facts.assumed_default == (facts.name in self.assumed)

    def log_for(self, drive_kind):
        """The log in which the readings of a kind of drive are typed.

        Parameters
        ----------
        drive_kind : str
            As the job's drive names it.

        Returns
        -------
        str
            "" when its fields are enough.
        """
        return self.log_asked(drive_kind, vars(self))

    @classmethod
    def log_asked(cls, drive_kind, given):
        """The log that a kind of drive asks for.

        Parameters
        ----------
        drive_kind : str
            As the job's drive names it.
        given : dict
            Values by field name, as far as they are known.

        Returns
        -------
        str
            "" when its fields are enough.
        """
        return YEAR_KINDS[drive_kind].log(given) if drive_kind in YEAR_KINDS else ""

    @classmethod
    def fields_for(cls, drive_kind):
        """Names of the fields that a kind of drive may ask for, whichever way is chosen.

        Parameters
        ----------
        drive_kind : str
            As the job's drive names it.

        Returns
        -------
        tuple of str
            None for a kind whose log is enough.
        """
        return own_fields(YEAR_KINDS[drive_kind].fields) if drive_kind in YEAR_KINDS else ()

    def missing_for(self, drive_kind):
        """Fields without which a kind of drive has no year.

        Parameters
        ----------
        drive_kind : str
            As the job's drive names it.

        Returns
        -------
        tuple of str
            Their names; none when the log alone is enough, or all are there.
        """
        return tuple(name for name in YEAR_KINDS[drive_kind].missing(vars(self)) if getattr(self, name) is None)

    @classmethod
    def asked(cls, drive_kind, given):
        """Names of the fields that a kind of drive asks for.

        Parameters
        ----------
        drive_kind : str
            As the job's drive names it.
        given : dict
            Values by field name, as far as they are known.

        Returns
        -------
        tuple of str
            None for a kind that has no year.
        """
        return YEAR_KINDS[drive_kind].asks(given) if drive_kind in YEAR_KINDS else ()

    @classmethod
    def asked_first(cls, given):
        """What each kind cannot do without; a form shows those of one kind alone.

        Parameters
        ----------
        given : dict
            Values by field name, as far as they are known.

        Returns
        -------
        tuple of str
            Names of fields.
        """
        return tuple(name for kind in YEAR_KINDS.values() for name in kind.first(given))
