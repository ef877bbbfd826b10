"""What page 04 knows of the year of a job: the comparison by kilowatt-hours, its ±, and what one setting costs."""

from functools import lru_cache

from statorbook.assembly import usable_year
from statorbook.choice import ONE_SETTING, compare, firmness_words, other_choices, with_plus_minus
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
        # A move of the grouping alone asks for nothing that another move has worked out.
        self.judged = lru_cache(maxsize=2)(self._judged)
        self.spreads = lru_cache(maxsize=_KEPT)(self._spreads)

    @property
    def known(self):
        """Whether a year is known."""
        return self._year is not None

    def _judged(self, now):
        """The comparison, and the verdict of the year; None without one."""
        found = compare(now.stator, now.coil, now.drive, now.bank, now.setting)
        if not self.known:
            return found, None
        source = self._source(now)
        verdict = year_verdict(found, grouping_years(now, source), months_known=source.months_known)
        return verdict.by_year, verdict

    def _source(self, now):
        """The year with what the sliders changed of its drive, its own settings left as they are."""
        return carried(self._year, self._drive, now.drive)

    def _spreads(self, now, grouping):
        """The ± of a grouping by name, that of its kilowatt-hours as "worth"."""
        spread = with_plus_minus(now, grouping)
        if not self.known:
            return spread
        kwh = self.judged(now)[1].of(grouping).kwh
        return spread | {"worth": kwh_spread(now, self._source(now), grouping, kwh=kwh)}

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
        return faster_words(now.drive, self._source(now)) if self.known else ""

    def firmness(self, now):
        """Whether the choice holds, in a sentence."""
        found, verdict = self.judged(now)
        if verdict is None:
            return firmness_words(found, other_choices(now, found))
        return firmness_words(found, firm_over_year(now, self._source(now), found))
