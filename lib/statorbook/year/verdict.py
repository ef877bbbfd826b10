"""The verdict of a year: groupings ranked by their kilowatt-hours, beside the choice that one setting would make."""

from dataclasses import dataclass

from statorbook.choice import MOST_AMPS_PER_MM2, Comparison, Worth, source_words

KWH_A_YEAR = "kWh a year"
_NOTHING_KWH = 0.5  # less than this is said as none


@dataclass(frozen=True, kw_only=True)
class YearVerdict:
    """All groupings by the kilowatt-hours of a year, and by the watts of the one setting they were compared at."""

    by_year: Comparison  # ranked and judged by kilowatt-hours
    at_once: Comparison  # the same by the watts at the one setting
    years: tuple  # of `GroupingYear`, one for each grouping
    months_known: bool = True  # False when every month was taken alike

    def of(self, grouping):
        """The `GroupingYear` of a grouping."""
        return next(year for year in self.years if year.grouping == grouping)

    @property
    def differs(self):
        """Whether the year chooses another grouping than the one setting, or only one of them chooses any."""
        by_year, at_once = self.by_year.recommended, self.at_once.recommended
        if by_year is None or at_once is None:
            return by_year is not at_once
        return by_year.grouping != at_once.grouping

    @property
    def sentence(self):
        """Whether one setting would have chosen the same, and else what that choice costs."""
        source = self.at_once.drive.quantities[0]
        setting = f"At one setting of the source ({source_words(source, source.value)})"
        by_year, at_once = self.by_year.recommended, self.at_once.recommended
        if not self.differs:
            same = "no grouping suits either" if by_year is None else "the choice is the same as over the year"
            return f"{setting} {same}."
        if at_once is None:
            return f"{setting} no grouping suits; over the year {self._in_short(by_year.grouping)}."
        if by_year is None:
            return f"{setting} the choice would be {at_once.grouping.label}, but over the year no grouping suits."
        return (
            f"{setting} the choice would be {at_once.grouping.label}: over the year "
            f"{self._in_short(at_once.grouping, named=False)}. The year's choice, "
            f"{self._in_short(by_year.grouping)}: {self._difference(at_once.grouping, by_year.grouping)}.{self._wall()}"
        )

    def _wall(self):
        """Why the year's choice may give less: over the year something charges within the accepted volts."""
        if self.by_year.chosen is None or self.at_once.chosen is not None:
            return ""
        return " At that setting nothing that charges stays within the volts that you accept; over the year it does."

    def _in_short(self, grouping, *, named=True):
        row = self.by_year.find(grouping)
        name = f"{grouping.label}, " if named else "it "
        gone = f"{row.runaway.dc_volts_peak:.0f} V DC peak with the bank gone"
        return f"{name}gives {self.of(grouping).kwh:.0f} kWh and {gone}"

    def _difference(self, then, now):
        """What the second grouping gives more or less than the first, energy and volts."""
        kwh, before = (self.of(grouping).kwh for grouping in (now, then))
        volts = [self.by_year.find(grouping).runaway.dc_volts_peak for grouping in (now, then)]
        more, gap = kwh - before, volts[0] - volts[1]
        share = f" ({abs(more) / before:.0%})" if before > _NOTHING_KWH else ""
        energy = f"{abs(more):.0f} kWh{share} {'more' if more >= 0.0 else 'less'}"
        return f"{energy}, and {abs(gap):.0f} V {'more' if gap > 0.0 else 'less'}"


def year_verdict(found, years, *, months_known=True):
    """Rank and judge all groupings by the kilowatt-hours of a year.

    Parameters
    ----------
    found : Comparison
        At one setting of the source.
    years : sequence of GroupingYear
        Of the same machine, from `grouping_years` with the bank half full, one for each legal grouping.
    months_known : bool
        As the `SourceYear` says.

    Returns
    -------
    YearVerdict
        By the year, beside what the one setting says.

    Notes
    -----
    Equation: `Comparison.by_worth` with kWh less what may circulate in a delta.
    Valid: as `grouping_years`. Want of charge is judged over the year; coils too hot at the one setting stay rejected.
    Source: definition.
    """
    worths = {year.grouping: _worth(year, found.find(year.grouping)) for year in years}
    return YearVerdict(by_year=found.by_worth(worths), at_once=found, years=tuple(years), months_known=months_known)


def _worth(year, row):
    return Worth(
        value=year.net_kwh, given=year.kwh, unit=KWH_A_YEAR, fault=_fault(year, row), note=_hours_of_danger(year)
    )


def _fault(year, row):
    """Why it fills no bank in the whole year, in a sentence; empty when it does."""
    most_rpm = year.speed_rpm[year.hours.sum(axis=0) > 0.0].max(initial=0.0)
    if most_rpm == 0.0:
        return "the drive cannot turn it against its drag at any time of the year."
    if year.kwh <= 0.0:
        return f"it would charge only above {row.cut_in_rpm:.0f} rpm and never turns above {most_rpm:.0f} rpm."
    if not year.fills:
        return "it stops charging before the bank is full, at every setting of the year."
    return ""


def _hours_of_danger(year):
    if year.hot_h < 1.0:
        return ""
    return f"its coils carry more than {MOST_AMPS_PER_MM2:g} A/mm² for {year.hot_h:.0f} h of the year"
