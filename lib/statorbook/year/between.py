"""What a step-down converter makes of a year beside the bank straight on the bridge, grouping by grouping."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.operation import DESTROYED, Converter, Survival, survival
from statorbook.year.energy import GroupingYear, grouping_years

_AT_LIMIT = 0.999  # of a limit: what counts as held by it
_AT_EDGE = 1.001


@dataclass(frozen=True, kw_only=True)
class BetweenYear:
    """One grouping over a year, with the bank straight on the bridge and behind a converter."""

    straight: GroupingYear  # the bank straight on the bridge
    through: GroupingYear  # behind the converter, which seeks slowly
    converter: Converter
    bank_volts: float  # half full
    survival: Survival  # what becomes of the converter when the rotor runs away

    @property
    def grouping(self):
        """How its coils are joined, a `Grouping`."""
        return self.through.grouping

    @property
    def gain_kwh(self):
        """What the converter brings over a year; below 0 where it costs [kWh]."""
        return self.through.kwh - self.straight.kwh

    @property
    def destroyed(self):
        """True when the converter does not survive the rotor running away, or too nearly not."""
        return self.survival.outcome == DESTROYED

    @property
    def limited_h(self):
        """Hours in which a limit on amps or watts holds it, so that the rotor runs faster [h]."""
        watts, amps = self.through.bank_watts, self.through.dc_amps
        taken = (watts + self.converter.idle_watts) / self.converter.efficiency
        pairs = (
            (watts, self.converter.most_output_watts),
            (amps, self.converter.most_output_amps),
            (taken / self.through.held_dc_volts, self.converter.most_input_amps),
        )
        held = [value >= _AT_LIMIT * most for value, most in pairs if most is not None]
        return self.through.hours_where(np.any(held, axis=0)) if held else 0.0

    @property
    def edge_h(self):
        """Hours in which it works at the edge of its window and better volts lie outside [h]."""
        volts, works = self.through.held_dc_volts, self.through.phase_amps_rms > 0.0
        low = max(self.converter.low_volts, self.bank_volts)
        at_edge = (volts <= _AT_EDGE * low) | (np.abs(volts / self.converter.high_volts - 1.0) < _AT_EDGE - 1.0)
        return self.through.hours_where(works & at_edge)

    @property
    def over_h(self):
        """Hours in which a limit would raise its input above what it survives: it is destroyed at work [h]."""
        return self.through.hours_where(self.through.held_dc_volts > self.converter.survives_dc_volts)


def between_years(machine, source, converter, windings=None):
    """What a converter makes of a year for each grouping, beside the bank straight on the bridge.

    Parameters
    ----------
    machine : Machine
        Stator, coil, bank and setting; a converter of its own plays no part.
    source : SourceYear
        The year.
    converter : Converter
        The converter.
    windings : sequence of Winding or None
        Windings of the machine's stator; all its legal groupings when None.

    Returns
    -------
    list of BetweenYear
        One for each winding.

    Notes
    -----
    Equation: see `grouping_years` and `operation.settled_at`.
    Derivation: `operation.converter_optimum`.
    Valid: a converter that seeks more slowly than the rotor answers; the hours in which it has let go are not in it.
    Source: see `operation.Converter`.
    """
    # The worst that the source does is the drive as it is described, or its strongest setting of the year.
    drives = (machine.drive, source.strongest_setting)
    worst = max(drives, key=lambda drive: (drive.runaway_speed_rpm, drive.unguarded_runaway_speed_rpm))
    straight, through = (grouping_years(_between(machine, chosen), source, windings) for chosen in (None, converter))
    return [
        BetweenYear(
            straight=one,
            through=other,
            converter=converter,
            bank_volts=machine.bank.states[1].volts,
            survival=survival(one.winding, worst, converter, machine.setting.cold_c),
        )
        for one, other in zip(straight, through, strict=True)
    ]


def _between(machine, converter):
    setting = machine.setting
    return replace(machine, setting=replace(setting, conditions=replace(setting.conditions, converter=converter)))


def describe_between(years):
    """What the converter brings and what it would not survive, dangers first.

    Parameters
    ----------
    years : sequence of BetweenYear
        All groupings.

    Returns
    -------
    str
        A few sentences.
    """
    burnt, kept = [year for year in years if year.destroyed], [year for year in years if not year.destroyed]
    if not burnt:
        danger = "No grouping makes more running away than the converter survives, while its guard works."
    else:
        share = f"{len(burnt)} of {len(years)} groupings" if kept else "Every grouping"
        limit = f"{years[0].converter.survives_dc_volts:g} V"
        danger = f"{share} would destroy the converter, which survives {limit}, when the rotor runs away"
        danger += f"{_named(burnt, kept)}."
    straight = max((year.straight for year in years), key=lambda year: year.kwh)
    alone = f"The best with the bank straight on the bridge is {straight.grouping.label} with {straight.kwh:.0f} kWh."
    return " ".join((danger, _best_words(kept), alone))


def _named(burnt, kept):
    """The groupings that would, or, where these are fewer, those that would not."""
    few, lead = (burnt, ": ") if len(burnt) <= len(kept) else (kept, ", all but ")
    return f"{lead}{'; '.join(year.grouping.label for year in few)}" if kept else ""


def _best_words(kept):
    if not kept:
        return "With this converter nothing here is to be built without an over-voltage load at the rectifier."
    best = max(kept, key=lambda year: year.through.kwh)
    sign = "more" if best.gain_kwh >= 0.0 else "less"
    held = f", a limit holds it for {best.limited_h:.0f} h" if best.limited_h else ""
    return (
        f"Of the others {best.grouping.label} brings most through the converter: {best.through.kwh:.0f} kWh a year, "
        f"{abs(best.gain_kwh):.0f} kWh {sign} than the same grouping straight on the bank{held}. "
        f"{best.survival.sentence}"
    )
