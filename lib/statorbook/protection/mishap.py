"""One row of "What happens if …": volts, amps, how soon, who or what is hurt, and the guard."""

from dataclasses import dataclass
from math import isinf, isnan

from statorbook.cautions import Instruction, text_of
from statorbook.protection.heat_at_work import degrees, duration_words, two_figures
from statorbook.quantities import say


@dataclass(frozen=True, kw_only=True)
class Mishap:
    """What happens if something goes wrong."""

    name: str  # what goes wrong, after "What happens if …"
    then: str  # what happens then, in sentences
    volts: float  # the most that it brings
    volts_where: str
    amps: float
    amps_where: str
    seconds: float  # 0 at once, infinite where nothing ends it, nan when not known
    until: str  # what those seconds are up to; what is said instead of them when they are infinite
    hurt: str  # who or what is hurt
    guard: str | Instruction

    @property
    def volts_words(self):
        """Its volts with their place."""
        return f"{whole_volts(self.volts)} {self.volts_where}"

    @property
    def amps_words(self):
        """Its amps with their place."""
        return f"{amps_said(self.amps)} {self.amps_where}".strip()

    @property
    def soon_words(self):
        """How soon, with what the time is up to."""
        if isinf(self.seconds):
            return self.until
        return ", ".join(filter(None, (soon(self.seconds), self.until)))

    @property
    def sentence(self):
        """All of it in a few lines."""
        figures = f"{self.volts_words}; {self.amps_words}; {self.soon_words}."
        return (
            f"If {self.name}: {self.then}\n{figures[:1].upper()}{figures[1:]}\n"
            f"Hurt: {self.hurt}. The guard: {text_of(self.guard)}."
        )


def whole_volts(volts):
    """Volts in words, to the volt from 10 V up."""
    return say(volts, "V", form=".0f" if volts >= 10.0 else ".1f")


def amps_said(amps):
    """Amps in words, to two figures, below 1 A as milliamps."""
    if amps == 0.0:
        return "none"
    return f"{float(f'{1000.0 * amps:.1g}'):.0f} mA" if amps < 1.0 else two_figures(amps, "A")


def soon(seconds):
    """A time in words, milliseconds too; "at once" for 0."""
    if isnan(seconds) or seconds >= 0.1:
        return duration_words(seconds)
    return "at once" if seconds < 0.0005 else f"{float(f'{1000.0 * seconds:.2g}'):g} ms"


def until_too_hot(seconds, limit_c):
    """What the seconds of a winding under too many amps are up to."""
    if isinf(seconds):
        return f"the winding stays below {degrees(limit_c)}"
    return "until the winding is too hot" if seconds != 0.0 else "for the winding is at its limit at work already"
