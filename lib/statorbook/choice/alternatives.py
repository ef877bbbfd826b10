"""What would suit when no grouping does: a rewinding, another speed, another bank; all by the same comparison."""

from dataclasses import dataclass, replace
from math import ceil, floor, inf, isinf

import numpy as np

from statorbook.bank import cells_for
from statorbook.cautions import Exposure, Instruction, text_of
from statorbook.choice.comparison import Row
from statorbook.choice.machine import Machine
from statorbook.choice.rewinding import REWIND_IT, rewind_figures, rewound
from statorbook.choice.search import Trial, best_trial
from statorbook.choice.verdict import NEARLY_THE_MOST, describe
from statorbook.drives import pitch_diameter_for_speed_mm
from statorbook.errors import BadInput
from statorbook.operation import operating_points, settled, start_up, sweep_to_settle
from statorbook.quantities import Fact, say
from statorbook.winding import Winding

# The best grouping is good enough with this share of what another way gives; a decision of this workbook.
GOOD_ENOUGH = 0.80
BELT_STEP = Fact(value=5.0, unit="rpm per rpm", source="one belt at most, common practice, no source", low=3, high=8)
_TURNS_STEP = 32.0  # turns looked at, up and down; regrouping alone spans as much
# From the least work and money to the most.
_KINDS = {"speed": "another speed", "rewind": "a rewinding", "bank": "another bank"}
_SPEEDS = 400  # of the sweep in which another speed is looked for
_SLOWEST = 1e-3  # of the slowest free speed looked at
_STALLS = 0.7  # of its governed speed; an engine that is pulled further down sags, common practice, no source
_SPEED_WORDS = {  # field of a drive: what it is, its unit, what a new one costs
    "pitch_diameter_mm": ("a pitch diameter of", "mm", "a new runner, or its buckets set on another circle"),
    "gear_ratio": ("a gear ratio of", "", "other wheels for chain or belt; a loss counts only where the drive has one"),
    "pulley_ratio": ("a pulley ratio of", "", "other pulleys; the belt's loss is taken as it was"),
    "working_rpm": ("a speed of", "rpm", "a belt or chain with two wheels; what it loses is not in the watts"),
}


@dataclass(frozen=True, kw_only=True)
class OtherWay:
    """One thing that could be done instead of a regrouping alone."""

    kind: str  # "speed", "rewind" or "bank"
    words: str  # what it would give, with its numbers, in plain sentences
    change: str  # what is changed, in a few words
    row: Row  # the best sound grouping then; the one with most watts, rejected, when none is sound
    # watts into the half-full bank over those of the best grouping as it stands; what is rejected counts as 0 [W]
    gain_watts: float
    costs: Instruction  # what it takes, and what that exposes hands to
    factor: float  # new over present turns, speed or cells [-]
    machine: Machine

    @property
    def sound(self):
        """True when nothing speaks against its row."""
        return self.row.verdict != "rejected"

    @property
    def within(self):
        """True when its volts with the bank gone stay within what the reader accepts."""
        return self.row.runaway.dc_volts_peak <= self.machine.setting.limit_dc_volts


def _most_watts(found):
    """The sound row with most watts, or None when all are rejected."""
    return next((row for row in found.rows if row.verdict != "rejected"), None)


def other_ways(machine, found, *, turns=None):
    """What else would give most watts among what `choice.comparison.compare` does not reject, the most useful first.

    Parameters
    ----------
    machine : Machine
        As it stands.
    found : Comparison
        Its comparison.
    turns : int or None
        Turns counted in one coil; the new ones are whole then [-].

    Returns
    -------
    tuple of OtherWay
        One for the speed, one for a rewinding joined as found, one for each other usual bank voltage. The sound ones
        within the accepted volts, those above them, the rest; of each those with nearly the most watts first, least
        work before most, then the others by watts.

    Raises
    ------
    BadInput
        When the count of turns is out of range.
    """
    ways = [_speed(machine, found), _rewinding(machine, found, turns), *_banks(machine, found)]
    sound = [way for way in ways if way.sound]
    most = {way.within: max(each.row.point.bank_watts for each in sound if each.within == way.within) for way in sound}

    def place(way):
        watts = way.row.point.bank_watts
        near = way.sound and watts >= NEARLY_THE_MOST * most[way.within]
        return (
            not way.sound,
            way.sound and not way.within,
            not near,
            list(_KINDS).index(way.kind) if near else 0,
            -watts,
        )

    return tuple(sorted(ways, key=place))


def needs_another_way(found, ways=()):
    """Whether the other ways are worth showing: nothing is sound, or one of them gives far more.

    Parameters
    ----------
    found : Comparison
        The comparison as it stands.
    ways : sequence of OtherWay
        From `other_ways`; empty when they were not worked out. A drive that holds its speed whatever the load gives
        more at any higher speed, so its speed is no reason by itself.

    Returns
    -------
    tuple of bool and str
        The answer, and why in a sentence.
    """
    now = _most_watts(found)
    if now is None:
        return True, "No grouping suits this bank and drive as they stand, so another way is needed."
    watts = now.point.bank_watts
    given = f"Whatever the volts with the bank gone, the best grouping gives {watts:.0f} W"
    fair = [way for way in ways if way.sound and not (way.kind == "speed" and isinf(way.machine.drive.torque_nm(0.0)))]
    best = max(fair, key=lambda way: way.row.point.bank_watts, default=None)
    most = best.row.point.bank_watts if best else 0.0
    if watts < GOOD_ENOUGH * most:
        said = f"{given}, {watts / most:.0%} of the {most:.0f} W of {_KINDS[best.kind]}"
        return True, f"{said}: the other ways are worth a look."
    if not fair:
        return False, f"{now.grouping.label} works and gives {watts:.0f} W: cut and join first."
    return False, f"{given}, and no other way gives far more: just cut and join."


def _faster(drive, factor):
    """The drive with another runner, gear or speed, so that its best speed is multiplied."""
    field = _speed_field(drive)
    if field == "pitch_diameter_mm":
        return replace(drive, **{field: pitch_diameter_for_speed_mm(drive, factor * drive.best_speed_rpm)})
    return replace(drive, **{field: factor * getattr(drive, field)})


def _speed_field(drive):
    return next(field for field in _SPEED_WORDS if hasattr(drive, field))


def _tried(machine, factor, grouping=None):
    """Compare a changed machine; its row is that of the grouping, else the sound one with most watts."""
    rows = machine.compared()
    row = rows.find(grouping) if grouping else _most_watts(rows) or rows.rows[0]
    return Trial(factor, machine, row, row.point.bank_watts if row.verdict != "rejected" else 0.0, rows.chosen)


def _speed(machine, found):
    """Another runner, gear or speed, with whichever legal grouping is best there."""
    drive, at_work, half = machine.drive, machine.setting.conditions, machine.bank.states[1]
    speeds = np.geomspace(_SLOWEST / BELT_STEP.value, BELT_STEP.value, _SPEEDS) * drive.free_speed_rpm
    swept = sweep_to_settle([row.winding for row in found.rows], speeds, half, at_work)

    def watts_at(factors):
        return np.array([_settled_watts(getattr(drive, "jet", drive), factor, swept) for factor in factors])

    def tried(factor):
        return _tried(replace(machine, drive=_faster(drive, factor)), factor)

    trial = best_trial(1.0 / BELT_STEP.value, BELT_STEP.value, watts_at, tried)
    field, new = _speed_field(drive), trial.machine.drive
    name, unit, costs = _SPEED_WORDS[field]
    costs = Instruction(costs, (Exposure.STANDING, Exposure.BANK, Exposure.CHAIN))
    now, then = (say(getattr(source, field), unit).strip() for source in (new, drive))
    change = f"{name} {now} instead of {then}"
    lead = f"With {change}, {trial.factor:.2g} times as fast"
    start = start_up(new, trial.row.winding, half, at_work, start_nm=machine.start_nm)
    free = f"{new.unguarded_runaway_speed_rpm:.0f} rpm"
    mind = f" Unloaded it could reach {free}: a rotor can burst, so guard it and stay clear."
    mind += "" if start.starts else f" {start.in_words()}"
    return _way("speed", trial, found, lead, change, costs, mind)


def _settled_watts(drive, factor, swept):
    """Most watts over all groupings where a drive settles, straight between the speeds swept."""
    try:
        return float(settled(_faster(drive, factor), swept)["bank_watts"].max())
    except BadInput:
        return 0.0


def _rewinding(machine, found, turns):
    """Other turns, joined as found: turns times coils in series is what counts, so no other grouping gives more."""
    half, at_work, wire_mm = machine.bank.states[1], machine.setting.conditions, machine.setting.wire_diameter_mm or 0.0

    def watts_at(ratios):
        coils = [rewound(machine, ratio).coil for ratio in ratios]
        windings = [Winding(stator=machine.stator, coil=coil, grouping=machine.found) for coil in coils]
        return operating_points(machine.drive, windings, half, at_work).bank_watts[:, 0]

    def tried(ratio):
        return _tried(rewound(machine, ratio), ratio, machine.found)

    # A wire of 10 mm and more is refused by the comparison.
    trial = best_trial(max(1.0 / _TURNS_STEP, (wire_mm / 9.99) ** 2), _TURNS_STEP, watts_at, tried)
    if turns is not None:
        rewind_figures(machine, 1.0, turns)  # refuses what is no count of turns
        whole = {max(1, rounding(turns * trial.factor)) for rounding in (floor, ceil)}
        trial = max((tried(count / turns) for count in sorted(whole)), key=lambda way: way.watts)
    figures = rewind_figures(machine, trial.factor, turns)
    lead = f"Rewound with {figures.change} and joined as found"
    metal = f" and {say(figures.metal_kg, 'kg', figures=2)} of {figures.conductor}" if figures.metal_kg else ""
    costs = REWIND_IT.within("", f"{metal}; the old winding is lost")
    told = f" {text_of(figures.in_words(trial.row.coil_amps_rms))}"
    return _way("rewind", trial, found, lead, figures.change, costs, told)


def _banks(machine, found):
    """The other usual voltages of the same chemistry, with whichever legal grouping is best there."""
    bank, ways = machine.bank, []
    for volts in (12, 24, 48):
        if (cells := cells_for(bank.chemistry, volts)) == bank.cells:
            continue
        trial = _tried(replace(machine, bank=replace(bank, cells=cells)), cells / bank.cells)
        change = f"a {volts} V bank, {cells} cells of {bank.chemistry}"
        costs = Instruction("a bank of that voltage, with inverter and charge control to match", (Exposure.BANK,))
        ways.append(_way("bank", trial, found, f"With {change}, {bank.capacity_ah:g} Ah", change, costs))
    return ways


def _way(kind, trial, found, lead, change, costs, mind=""):
    before, row = _most_watts(found), trial.row
    gain = trial.watts - (before.point.bank_watts if before else 0.0)
    most = {"speed": BELT_STEP.value, "rewind": _TURNS_STEP}.get(kind, inf)
    lead += "" if 1.01 / most < trial.factor < 0.99 * most else ", as far as was looked"
    if trial.factor == 1.0:
        change, costs, mind = "nothing", Instruction("nothing", harmless="nothing to do"), ""
        lead = f"There is nothing to gain from {_KINDS[kind]}"
    if row.verdict == "rejected":
        words = f"{lead}: no grouping works; {row.grouping.label} comes nearest, but {row.reason}"
    else:
        than = f"{abs(gain):.0f} W {'more' if gain > 0.0 else 'less'} than" if abs(gain) >= 0.5 else "no more than"
        words = f"{lead}, by the same model: {describe(row)}"
        words += f" That is {than} the best grouping as it stands." if before else ""
        words += _above(trial)
        if hasattr(trial.machine.drive, "droop") and row.point.speed_over_best < _STALLS:
            words += f" The engine would be pulled down to {row.point.speed_over_best:.0%} of its speed and may stall."
        words += mind
    told = {"kind": kind, "words": words, "change": change, "costs": costs}
    return OtherWay(**told, row=row, gain_watts=gain, factor=trial.factor, machine=trial.machine)


def _above(trial):
    """Said of a trial above the accepted volts, with what it gives within them."""
    limit, inside = trial.machine.setting.limit_dc_volts, trial.inside
    if trial.row.runaway.dc_volts_peak <= limit:
        return ""
    within = "nothing that charges stays within them"
    if inside:
        within = f"within them {inside.grouping.label} gives {inside.point.bank_watts:.0f} W"
    return f" Its volts with the bank gone are above the {limit:.0f} V that you accept; {within}."
