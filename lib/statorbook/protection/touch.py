"""Volts and amps wherever a hand can reach, in every state of the plant, graded by how wet the place is."""

from dataclasses import dataclass
from math import ceil, sqrt

from statorbook.bank import short_circuit
from statorbook.errors import BadInput
from statorbook.operation import first_kept, operating_points, points_from
from statorbook.protection.cable_run import AT_BANK
from statorbook.protection.joined_leads import shorted_amps_rms
from statorbook.protection.site import DRY, PLACES
from statorbook.quantities import (
    DRY_AC_VOLTS,
    DRY_DC_VOLTS,
    ELV_AC_VOLTS,
    ELV_DC_VOLTS,
    LV_AC_VOLTS,
    LV_DC_VOLTS,
    WET_AC_VOLTS,
    WET_DC_VOLTS,
    Fact,
    require_number,
    say,
)

LEADS, RECTIFIER, CABLE, BANK = "the leads", "the rectifier", "the cable", "the bank"
SPOTS = (LEADS, RECTIFIER, CABLE, BANK)
CHARGING, BANK_LOST, RUN_AWAY = "charging", "bank lost at working speed", "bank lost and run away"
JOINED, STOPPED = "leads joined at speed", "stopped, bank on"
US_GUARD_VOLTS = Fact(
    value=50.0, unit="V, AC or DC", source="29 CFR 1910.303(g)(2)(i), from this on (read)", low=50, high=50
)
_FULL_BRIDGE = sqrt(2.0 / 3.0)  # line volts rms over those between plus and minus while three diodes conduct
_TOUCHABLE, _COVERED, _AS_MAINS = range(3)
_LIMITS = {
    fact.value
    for fact in (WET_AC_VOLTS, WET_DC_VOLTS, DRY_AC_VOLTS, DRY_DC_VOLTS)
    + (ELV_AC_VOLTS, ELV_DC_VOLTS, LV_AC_VOLTS, LV_DC_VOLTS)
}
_WORDS = ("touchable", "cover", "as mains", "beyond low voltage")
_ADVICE = (
    "By the volts alone nothing has to be covered; a short circuit still burns, and no limit makes a live part safe "
    "in water",
    "All of it has to be insulated or closed in, so that nobody touches it bare",
    "All of it has to be closed in, earthed and protected like a mains installation, by a licensed person where the "
    "law asks",
    "Do not build it",
)


@dataclass(frozen=True, kw_only=True)
class TouchGrade:
    """What volts ask for at a place, by IEC 60364-4-41."""

    level: int  # 0 touchable, 1 to be covered, 2 to be protected like mains, 3 beyond low voltage
    limit: str  # the one that decides, with its clause

    @property
    def word(self):
        """The grade in a word or two."""
        return _WORDS[self.level]

    @property
    def advice(self):
        """What follows, as a sentence without full stop."""
        return _ADVICE[self.level]


def touch_grade(place, line_volts_rms, dc_volts):
    """Grade line volts rms and DC volts, peak, by the place where a hand may meet them: the worse of both."""
    # The first step whose AC and DC limits both hold, all inclusive, as the standard says "does not exceed". Damp
    # counts as wet, since 414.4.5 knows dry and all other cases. DC by its peak, the safe side: the limits leave out
    # ripple of up to 10 % (from memory). Limits read in reproductions, clause 411 from memory.
    if place not in PLACES:
        raise BadInput(f"{place!r} was given", f"allowed are {', '.join(PLACES)}", "choose one of them", where="place")
    ac = require_number(line_volts_rms, "line volts", "V rms", at_least=0)
    dc = require_number(dc_volts, "DC volts", "V", at_least=0)
    bare = (DRY_AC_VOLTS, DRY_DC_VOLTS) if place == DRY else (WET_AC_VOLTS, WET_DC_VOLTS)
    level, broken = first_kept((bare, (ELV_AC_VOLTS, ELV_DC_VOLTS), (LV_AC_VOLTS, LV_DC_VOLTS)), ac, dc)
    if broken is None:
        limit = f"within {bare[0].value:g} V AC and {bare[1].value:g} V DC, {bare[0].source}"
    else:
        limit = f"above {broken.value:g} {broken.unit}, {broken.source}"
    return TouchGrade(level=level, limit=f"{limit}, clause 411" if level == _AS_MAINS else limit)


@dataclass(frozen=True, kw_only=True)
class Spot:
    """What a hand can meet at one place of the plant, graded by all that is joined to it."""

    where: str  # one of `SPOTS`
    line_volts_rms: float  # between two leads
    dc_volts: float  # peak: between plus and minus, or between a lead and either of them
    grade: TouchGrade

    @property
    def words(self):
        """Its volts, as in "193 V AC and 272 V DC"."""
        kinds = ((self.line_volts_rms, "AC"), (self.dc_volts, "DC"))
        return " and ".join(f"{_said(volts)} V {kind}" for volts, kind in kinds if volts >= 0.5) or "0 V"


def _said(volts):
    """Whole volts; a tenth more where rounding would hide that a limit is passed."""
    whole = f"{volts:.0f}"
    return f"{ceil(10.0 * volts) / 10.0:.1f}" if float(whole) in _LIMITS and volts > float(whole) else whole


@dataclass(frozen=True, kw_only=True)
class TouchState:
    """One state of the plant with its volts at every place and the amps that flow."""

    name: str
    speed_rpm: float
    spots: tuple  # of `Spot`, in the order of `SPOTS`
    lead_amps_rms: float = 0.0  # in one lead
    dc_amps: float = 0.0  # into the bank

    def at(self, where):
        """What a hand can meet at a place, a `Spot`."""
        return next(spot for spot in self.spots if spot.where == where)

    @property
    def worst(self):
        """The place that asks for most; of those alike the one with most volts, a `Spot`."""
        return max(self.spots, key=lambda spot: (spot.grade.level, spot.dc_volts, spot.line_volts_rms))


@dataclass(frozen=True, kw_only=True)
class Touch:
    """All states of a plant, by the place where it stands."""

    place: str  # one of `PLACES`
    spanner_amps: float  # the most that the bank drives through a spanner
    states: tuple  # of `TouchState`: charging, bank lost, run away, leads joined, stopped

    def state(self, name):
        """One of its states by name, a `TouchState`."""
        return next(state for state in self.states if state.name == name)

    @property
    def worst(self):
        """The state with the worst place, a `TouchState`."""
        return max(self.states, key=lambda state: (state.worst.grade.level, state.worst.dc_volts))

    def worst_at(self, where):
        """The worst that a hand can meet at a place in any state, a `Spot`; covers are built for it."""
        return max((state.at(where) for state in self.states), key=lambda spot: (spot.grade.level, spot.dc_volts))

    @property
    def guarded_at_us_work(self):
        """True when US workplaces ask for a guard round its live parts: from 50 V on, AC or DC."""
        volts = (max(spot.line_volts_rms, spot.dc_volts) for state in self.states for spot in state.spots)
        return max(volts) >= US_GUARD_VOLTS.value

    @property
    def sentence(self):
        """The worst first, what follows of it, then what is there day by day and at rest."""
        worst, spot = self.worst, self.worst.worst
        charging, joined, stopped = (self.state(name) for name in (CHARGING, JOINED, STOPPED))
        usual, held = charging.worst, stopped.at(BANK)
        return (
            f"{self.place[:1].upper()}{self.place[1:]}, at the worst ({worst.name}, {worst.speed_rpm:.0f} rpm): "
            f"{spot.words} at {spot.where}, {spot.grade.limit}. {spot.grade.advice}. "
            f"While it charges: {usual.words}, “{usual.grade.word}”. Stopped with the bank on, {held.words} stay on "
            f"bank, cable and rectifier, and on the leads when a diode is shorted. With the leads joined at "
            f"speed up to {say(joined.lead_amps_rms, 'A', figures=2)} flow in each; a joint that comes loose brings "
            "the worst back."
        )


def touch(plant):
    """The volts and amps that a hand can meet, in every state of the plant.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    Touch
        Five states with four places each.

    Notes
    -----
    Equation: charging: DC = the bank's highest volts + most amps × cable ohms, line rms = √(2/3) × (DC + two diode
        drops), the form of the bridge while three diodes conduct; bank lost: as `open_circuit_volts`; leads joined: the
        amps of `brake`, settled. With a converter, DC is the most that it holds at its input.
    Valid: the worst is taken everywhere: cold magnets, the drive's guard and the over-voltage load failed, the highest
        of the working speeds, a cable that still hangs on the bank, a diode shorted.
    Source: bridge as any power-electronics text; IEC 60364-4-41 for the grades.
    """
    working_rpm, top_rpm, behind = _working_rpm(plant), plant.runaway_rpm, plant.bank.highest_volts
    most, joined_amps = plant.most, shorted_amps_rms(plant.winding, top_rpm, plant.worst)
    drop = sqrt(3.0) * plant.conditions.ac_cable_ohm  # between two wires for each ampere in them
    charging = _charging_dc_volts(plant)
    bridged = _FULL_BRIDGE * (charging + 2.0 * plant.conditions.diode_drop_v)
    opened, run_away = plant.open_volts(working_rpm), plant.open_volts(top_rpm)
    # At the rectifier AC and DC, and what the leads have more than that when the run is AC.
    states = (
        (CHARGING, most.speed_rpm, (bridged, charging, drop * most.lead_amps_rms), (most.lead_amps_rms, most.dc_amps)),
        (BANK_LOST, working_rpm, (opened[0], max(opened[1], behind), 0.0), (0.0, 0.0)),
        (RUN_AWAY, top_rpm, (run_away[0], max(run_away[1], behind), 0.0), (0.0, 0.0)),
        (JOINED, top_rpm, (0.0, behind, drop * joined_amps), (joined_amps, 0.0)),
        (STOPPED, 0.0, (0.0, behind, 0.0), (0.0, 0.0)),
    )
    return Touch(
        place=plant.site.place,
        spanner_amps=short_circuit(plant.bank).most_amps,
        states=tuple(
            TouchState(
                name=name,
                speed_rpm=rpm,
                spots=_spots(plant, *volts, bank_on=name not in (BANK_LOST, RUN_AWAY)),
                lead_amps_rms=amps[0],
                dc_amps=amps[1],
            )
            for name, rpm, volts, amps in states
        ),
    )


def _working_rpm(plant):
    """The highest speed at which it settles, whatever the bank's state."""
    states = plant.bank.states
    found = operating_points(plant.drive, [plant.winding] * len(states), list(states), plant.conditions)
    return max(point.speed_rpm for point in points_from(plant.drive, found))


def _charging_dc_volts(plant):
    """The most between plus and minus of the rectifier while it charges."""
    converter = plant.conditions.converter
    if converter is None:
        return plant.bank.highest_volts + plant.most.dc_amps * plant.conditions.cable_ohm
    # Where it is at its limit it lets the volts rise, up to what the machine makes at all.
    return max(plant.bank.highest_volts, min(converter.survives_dc_volts, plant.open_volts(plant.runaway_rpm)[1]))


def _spots(plant, line_volts_rms, dc_volts, drop_volts_rms, *, bank_on):
    """The four places from what stands at the rectifier and what an AC run adds at the machine."""
    leads = line_volts_rms + drop_volts_rms, dc_volts + sqrt(2.0) * drop_volts_rms
    cable = leads if plant.run.rectifier_at == AT_BANK else (0.0, dc_volts)
    found = {LEADS: leads, RECTIFIER: (line_volts_rms, dc_volts), CABLE: cable, BANK: (0.0, plant.bank.highest_volts)}
    grades = {where: touch_grade(plant.site.place, *volts) for where, volts in found.items()}
    # What hangs together without a transformer is one circuit, and the standard's limits are those of a circuit.
    circuit = [where for where in found if bank_on or where != BANK]
    worst = max((grades[where] for where in circuit), key=lambda grade: grade.level)
    grades |= dict.fromkeys(circuit, worst)
    return tuple(
        Spot(where=where, line_volts_rms=ac, dc_volts=dc, grade=grades[where]) for where, (ac, dc) in found.items()
    )
