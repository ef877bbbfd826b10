"""From which distance on another bank voltage, or the rectifier at the other end, gives more."""

from dataclasses import dataclass, replace
from math import inf

import numpy as np

from statorbook.cable import WARM_C, cable_ohm
from statorbook.operation import settled_in
from statorbook.protection.cable_run import AT_BANK, AT_MACHINE, MOST_OHM
from statorbook.quantities import Fact
from statorbook.winding import Grouping, Winding

SEEN = Fact(value=0.01, unit="more watts, to count as more", source="common practice, no source", low=0.005, high=0.05)
_LENGTHS, _SHORTEST_M, _LOOKED_AT_M, _TIMES = 14, 1.0, 300.0, 4.0  # looked at: 300 m, or four times the run
_SPEEDS = 120
_HIGHEST_BANK_V = 60.0  # half full: that of a 48 V bank
_ALIKE = 0.12  # turns times volts may miss by so much


@dataclass(frozen=True, kw_only=True)
class WayAcross:
    """Another way to bridge the distance, beside the plant as it is."""

    words: str  # such as "rectifier at the bank"
    watts: np.ndarray  # into the bank at each length, shape (n,)
    wins_from_m: float  # one way, from there on it gives 1 % more; infinite where it does not within the lengths
    bank_volts: float | None = None  # half full, where that is what is other
    grouping: Grouping | None = None  # that its bank asks for


@dataclass(frozen=True, kw_only=True)
class Distances:
    """Watts into the bank by the length of the run, as it is and in other ways."""

    length_m: np.ndarray  # one way, rising, shape (n,)
    watts: np.ndarray  # as it is, shape (n,)
    others: tuple  # of WayAcross

    @property
    def winners(self):
        """The ways that win somewhere, nearest first, a list of `WayAcross`."""
        return sorted((way for way in self.others if way.wins_from_m < inf), key=lambda way: way.wins_from_m)


def cable_distances(plant):
    """From which distance on another bank voltage, or the rectifier at the other end, gives more.

    Parameters
    ----------
    plant : Plant
        The plant with its run.

    Returns
    -------
    Distances
        Lengths up to 300 m, or to four times the run where that is more.

    Notes
    -----
    Equation: watts into the half-full bank where the drive settles, by the length alone; the rectifier at the other end
        with the same copper in all wires together, a bank of more volts with the same cable, the same watt-hours, and
        the grouping whose volts rise as much.
    Valid: the one setting of the drive; straight on the bank, since a converter makes the bank's volts matter little.
    Source: Kirchhoff's laws.
    """
    lengths, converter = _lengths(plant.run), plant.conditions.converter
    if converter is not None:  # held where it comes to hold: to seek behind each cable takes most of the time
        plant = plant.with_conditions(converter=converter.held_at(plant.working.held_dc_volts))
    ways = [("", plant.winding, plant.bank, plant.run), *_ways(plant)]
    found = [_watts(plant, winding, bank, run, lengths) for _, winding, bank, run in ways]
    others = [
        WayAcross(
            words=words,
            watts=watts,
            wins_from_m=_wins_from_m(lengths, found[0], watts),
            bank_volts=None if bank is plant.bank else bank.half_volts,
            grouping=winding.grouping,
        )
        for (words, winding, bank, _), watts in zip(ways[1:], found[1:], strict=True)
    ]
    return Distances(length_m=lengths, watts=found[0], others=tuple(others))


def _lengths(run):
    """From a metre on, no further than the ohms of a run may go."""
    most_m = max(_LOOKED_AT_M, _TIMES * run.length_m)
    a_metre = cable_ohm(1.0, run.area_mm2, copper_c=WARM_C, strands=run.strands)
    return np.geomspace(_SHORTEST_M, max(min(most_m, MOST_OHM / a_metre), 2.0 * _SHORTEST_M), _LENGTHS)


def _watts(plant, winding, bank, run, lengths):
    """Watts into a half-full bank behind a run of each length, shape (n,)."""
    machine, in_series = replace(plant.machine, bank=bank), 2 if run.is_dc else 1
    machines = []
    for ohm in cable_ohm(lengths, run.area_mm2, wires=in_series, copper_c=WARM_C, strands=run.strands):
        ohms = {"cable_ohm": ohm if run.is_dc else 0.0, "ac_cable_ohm": 0.0 if run.is_dc else ohm}
        setting = replace(machine.setting, conditions=replace(plant.conditions, **ohms))
        machines.append(replace(machine, setting=setting))
    return settled_in(machines, [winding], speeds=_SPEEDS)["bank_watts"][:, 0]


def _ways(plant):
    """Words, winding, bank and run of each other way."""
    run = plant.run
    end = AT_BANK if run.is_dc else AT_MACHINE
    other = replace(run, rectifier_at=end)
    yield f"rectifier {end}", plant.winding, plant.bank, replace(other, area_mm2=run.area_mm2 * run.wires / other.wires)
    if plant.conditions.converter is not None:
        return
    times = 2
    while times * plant.bank.half_volts <= _HIGHEST_BANK_V:
        bank = _bank_of(plant.bank, times)
        winding = _winding_for(plant, bank)
        if winding is not None:
            yield f"a bank of {bank.half_volts:.0f} V", winding, bank, run
        times *= 2


def _bank_of(bank, times):
    """The same cells, more of them in series."""
    ohm = None if bank.inner_ohm is None else bank.inner_ohm * times**2
    return replace(bank, cells=bank.cells * times, capacity_ah=bank.capacity_ah / times, inner_ohm=ohm)


def _winding_for(plant, bank):
    """The grouping whose volts have risen as the bank's; None when no legal one comes near."""
    drop = 2.0 * plant.conditions.diode_drop_v
    asked = plant.winding.line_volts_rms(1.0) * (bank.half_volts + drop) / (plant.bank.half_volts + drop)
    machine = plant.machine
    made = [Winding(stator=machine.stator, coil=machine.coil, grouping=each) for each in machine.stator.groupings()]
    best = min(made, key=lambda each: abs(np.log(each.line_volts_rms(1.0) / asked)))
    return best if abs(np.log(best.line_volts_rms(1.0) / asked)) <= _ALIKE else None


def _wins_from_m(lengths, own, other):
    """From where on, to the end, the other gives so much more that it is seen; straight between the lengths."""
    ahead = other - (1.0 + SEEN.value) * own
    wins = ahead > 0.0
    if not wins[-1]:
        return inf
    last = np.flatnonzero(~wins)
    if not last.size:
        return float(lengths[0])
    at = last[-1]
    share = -ahead[at] / (ahead[at + 1] - ahead[at])
    return float(lengths[at] + share * (lengths[at + 1] - lengths[at]))
