"""What page 04 knows of the year of a job: the comparison by kilowatt-hours, its ±, and what one setting costs."""

from dataclasses import replace
from functools import lru_cache

from statorbook.assembly import usable_year
from statorbook.choice import ONE_SETTING, firmness_words, other_choices, with_plus_minus
from statorbook.year import (
    carried,
    faster_words,
    firm_over_year,
    grouping_years,
    kwh_spread,
    single_years_words,
    year_verdict,
)

_KEPT = 64  # groupings worked out and kept: those of one comparison, walked along to and fro


class YearOfPage:
    """The comparison of a job's machine as its sliders stand: by its year where it is known, else by one setting."""

    def __init__(self, job, machine):
        self._year, self._fault = usable_year(job)
        self._drive = machine.drive
        # A move of the grouping or of the accepted volts alone asks for nothing that another move has worked out.
        self._worked_out = lru_cache(maxsize=2)(self._work_out)
        self.judged = lru_cache(maxsize=2)(self._judged)
        self._kept_spreads = lru_cache(maxsize=_KEPT)(self._spreads)

    @property
    def known(self):
        """Whether a year is known."""
        return self._year is not None

    def _work_out(self, plain):
        """The comparison and the year of every grouping; None without one."""
        return plain.compared(), grouping_years(plain, self.source(plain)) if self.known else None

    def _judged(self, now):
        """The comparison, and the verdict of the year; None without one."""
        found, years = self._worked_out(_whatever_is_accepted(now))
        found = found.accepting(now.setting.accepted_dc_volts)
        if years is None:
            return found, None
        verdict = year_verdict(found, years, months_known=self._year.months_known)
        return verdict.by_year, verdict

    def source(self, now):
        """The year with what the sliders changed of its drive, its own settings left as they are."""
        return carried(self._year, self._drive, now.drive)

    def spreads(self, now, grouping):
        """The ± of a grouping by name, that of its kilowatt-hours as "worth"."""
        return self._kept_spreads(_whatever_is_accepted(now), grouping)

    def _spreads(self, plain, grouping):
        spread, years = with_plus_minus(plain, grouping), self._worked_out(plain)[1]
        if years is None:
            return spread
        kwh = next(year.kwh for year in years if year.grouping == grouping)
        return spread | {"worth": kwh_spread(plain, self.source(plain), grouping, kwh=kwh)}

    def sentence(self, now):
        """What one setting would have chosen and what that costs; without a year, that it is one setting."""
        verdict = self.judged(now)[1]
        if verdict is not None:
            return verdict.sentence
        return f"The year of this job cannot be added up: {self._fault}" if self._fault else ONE_SETTING

    @property
    def years_words(self):
        """How single years differ, a sentence after a space; empty without a year."""
        said = single_years_words(self._year) if self.known else ""
        return f" {said[:1].upper()}{said[1:]}." if said else ""

    def caution(self, now):
        """What the year adds to the volts with the bank gone; empty for most."""
        return faster_words(now.drive, self.source(now)) if self.known else ""

    def firmness(self, now):
        """Whether the choice holds, in a sentence."""
        found, verdict = self.judged(now)
        if verdict is None:
            return firmness_words(found, other_choices(now, found))
        return firmness_words(found, firm_over_year(now, self.source(now), found))


def _whatever_is_accepted(now):
    """The machine with no word on the accepted volts, on which nothing hangs but the verdicts."""
    return replace(now, setting=replace(now.setting, accepted_dc_volts=None))
