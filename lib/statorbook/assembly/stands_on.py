"""What the answer of a job stands on: each number with its ±, how it is known, and its share in the ± of the answer."""

from dataclasses import dataclass, field, replace

from statorbook.assembly.judged import usable_year
from statorbook.assembly.machine import machine_from
from statorbook.assembly.numbers_given import ASSUMED, MEASURED, TABLE, TYPED, Given, numbers_given
from statorbook.assembly.plan import choice_of
from statorbook.assembly.year import NO_YEAR
from statorbook.choice import CONSTANTS, rounded, shares_of, variations, with_plus_minus
from statorbook.job.parts import SitePart
from statorbook.quantities import shown_unit, to_shown
from statorbook.winding import Grouping
from statorbook.year import RAYLEIGH_SHAPE, kwh_shares, kwh_spread

# By name: the answer in words.
ANSWERS = {
    "kwh": "Energy of the year",
    "bank_watts": "Watts into the half-full bank",
    "dc_amps": "Amps into the half-full bank",
    "speed_rpm": "Speed",
    "runaway_dc_volts_peak": "Volts with the bank gone, DC peak",
    "most_dc_amps": "Most amps, for sizing parts",
}
# In the order of `choice.CONSTANTS`: in words, and the estimate of the coil part.
_COIL = (("EMF of a coil", "emf"), ("ohms of a coil", "resistance"), ("henries of a coil", "inductance"))
_EVEN = 0.02  # ends that are as far off as this share of the ± count as even
_HOURS = "hours"  # as `year.kwh_shares` calls what is assumed of the hours


@dataclass(frozen=True, kw_only=True)
class Input:
    """A number that the answer hangs on and that is not known exactly."""

    name: str  # of the field that holds it
    words: str  # what it is
    unit: str  # of the three numbers
    value: float
    low: float  # lower end of its ±
    high: float
    known: str  # "measured", "typed", "assumed" or "from a table"
    how: str  # where value and ± come from; quantities in it are marked as `quantities.filled` takes them
    shares: dict = field(default_factory=dict)  # answer to its share in the square of that answer's ± [-]

    @property
    def said(self):
        """Value with its ±, or with both ends where one is further off, in the reader's units."""
        now, low, high = (to_shown(number, self.unit, name=self._kind) for number in (self.value, self.low, self.high))
        unit = "" if self.unit == "-" else f" {shown_unit(self.unit, name=self._kind)}"
        half = (high - low) / 2.0
        if abs((high + low) / 2.0 - now) <= _EVEN * half:
            return f"{rounded(now, half)} ± {rounded(half, half)}{unit}"
        now, low, high = (f"{float(rounded(number, half)):g}" for number in (now, low, high))
        return f"{now}{unit}, from {low} to {high}{unit}"

    @property
    def _kind(self):
        """What its unit goes by: the speeds here are those of wind."""
        return "wind" if self.unit == "m/s" else self.words


@dataclass(frozen=True, kw_only=True)
class HowSure:
    """What the answer of a job stands on."""

    grouping: Grouping  # that the answer is for: the one written to the job, before that the recommended one
    answers: dict  # by the names of `ANSWERS`: a `Spread` each; kilowatt-hours only where a year is known
    inputs: tuple[Input, ...]  # what is not known exactly
    given: tuple[Given, ...]  # what is taken as exactly so
    missing: tuple[str, ...]  # what the job does not hold yet, in words with its page

    def ranked(self, answer):
        """The inputs, the one with the largest share in an answer's ± first, a list."""
        return sorted(self.inputs, key=lambda each: -each.shares[answer])

    def share_of(self, known, answer):
        """Share of all inputs that are known in one way in the square of an answer's ± [-]."""
        return sum(each.shares[answer] for each in self.inputs if each.known == known)


def how_sure(job):
    """Find out what the answer of a job stands on.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.

    Returns
    -------
    HowSure
        For the grouping written to the job, before that for the recommended one.

    Raises
    ------
    BadInput
        When a part is missing or out of date.
    """
    now = job.read()
    machine, grouping = machine_from(now), choice_of(now).to_grouping()
    source, fault = usable_year(now)
    answers, shares = with_plus_minus(machine, grouping), shares_of(machine, grouping)
    if source is not None:
        answers = {"kwh": kwh_spread(machine, source, grouping), **answers}
        shares = {"kwh": kwh_shares(machine, source, grouping), **shares}
    inputs = (*_of_coil(now.coil), *_of_machine(now, machine), *_of_hours(now, source))
    missing = () if source is not None else (fault or f"{NO_YEAR} (page 04b_add_up_the_year)",)
    return HowSure(
        grouping=grouping,
        answers={name: answers[name] for name in ANSWERS if name in answers},
        inputs=tuple(_with_shares(each, shares) for each in inputs),
        given=numbers_given(now, machine, {each.name for each in inputs}),
        missing=missing,
    )


def _of_coil(coil):
    for name, (words, estimate) in zip(CONSTANTS, _COIL, strict=True):
        found = getattr(coil, estimate)
        yield Input(
            name=name,
            words=words,
            unit=found.unit,
            value=found.value,
            low=found.low,
            high=found.high,
            known=ASSUMED if found.assumed else MEASURED,
            how=found.how or "as written to the job",
        )


def _of_machine(job, machine):
    for variation in variations(machine):
        known, how = _known(job, machine, variation.name)
        low, high = variation.ends_at
        yield Input(
            name=variation.name,
            words=variation.words,
            unit=variation.unit,
            value=variation.value,
            low=low,
            high=high,
            known=known,
            how=f"{how}{', ' if how else ''}its ends: {variation.source}",
        )


def _known(job, machine, name):
    """How a thing that the ± counts is known, and where from."""
    if name == "source":
        return TYPED, "read on page 03_what_turns_it"
    if name == "inner_ohm":
        return TABLE, "of usual banks of its chemistry"
    if name in machine.measured:
        return MEASURED, "a long run on page 06_protect_it"
    typed = (name == "copper_c" and job.heat and not job.heat.copper_assumed) or (
        name == "cold_c" and not (job.site or SitePart()).assumes("coldest_c")
    )
    return (TYPED, "on page 06_protect_it") if typed else (ASSUMED, "")


def _of_hours(job, source):
    """The spread of the wind's hours, where nobody measured it."""
    if source is None or not source.other_hours:
        return
    shape = job.year.weibull_shape
    yield Input(
        name=_HOURS,
        words="shape of the wind's spread",
        unit="-",
        value=shape,
        low=min(shape, RAYLEIGH_SHAPE.low),
        high=max(shape, RAYLEIGH_SHAPE.high),
        known=ASSUMED,
        how=f"its ends: {RAYLEIGH_SHAPE.source}",
    )


def _with_shares(each, shares):
    """With its share in every answer; hours play a part in the year alone."""
    return replace(each, shares={answer: of.get(each.name, 0.0) for answer, of in shares.items()})
