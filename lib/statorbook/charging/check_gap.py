"""A gap of a plan: what fails, what the controller then reads, what the bank does, and days that show it."""

from dataclasses import dataclass, replace
from math import isnan

from statorbook.charging.check_cases import EMPTY, FORBIDDEN, FULL, HeldCase, house_watts, most_volts
from statorbook.charging.control import MEASURED, YES_NO
from statorbook.charging.control_faults import NOTHING, ControlFault
from statorbook.charging.days import simulate
from statorbook.charging.events import COLD, NO_CONTROL_POWER, TRIP, Event
from statorbook.charging.full_bank import charge_at
from statorbook.charging.plan import ChargingPlan, HouseLoad
from statorbook.quantities import say

_FROZEN_FROM_S = 60.0  # so that a sound reading was there before
_COLD_FROM_S = 120.0
_READ_AFTER_S = 2.0  # volts of a second are read in the next, and a reading freezes after it was read
_DAYS = 2
_SPREAD_K = 0.5
_NEARLY_EMPTY = 0.03
_BEYOND = 2.0e6  # a reading this far off comes from a sensor whose range was not typed


@dataclass(frozen=True, kw_only=True)
class Gap:
    """One fault that lets the bank leave its limits."""

    fault: ControlFault
    side: str  # "full", "empty" or "too cold or too hot"
    held: HeldCase  # the plainest case that shows it
    amps: float  # that nothing takes, or, with the bank empty, that nothing gives
    is_late: bool  # whether it is only for as long as the rules' delays run
    readings: dict  # what the controller reads, by name, in the units of MEASURED
    on: tuple  # outputs
    shown: ChargingPlan  # with source, house and room as that case has them
    start_charge: float  # of the days that show it
    from_s: float = 0.0  # second of those days in which it fails

    @property
    def course(self):
        """The source on the simulated day, a `Course`."""
        return self.shown.course

    @property
    def events(self):
        """What goes wrong on the simulated day, a tuple of `Event`."""
        found = self.fault.events(self.from_s)
        colder = self.shown.bank.temperature_c - self.held.cell_c
        if colder > 0.0:
            found += (Event(kind=COLD, amount=colder + _SPREAD_K, from_s=_COLD_FROM_S),)
        return found + (Event(kind=TRIP),) * self.held.tripped

    def simulated(self, on_progress=None):
        """Let the days run that show it, a `Days` with the bank outside its limits."""
        return simulate(self.shown, self.events, days=_DAYS, start_charge=self.start_charge, on_progress=on_progress)

    @property
    def sentence(self):
        """What fails, what the controller reads, and what the bank does."""
        return f"{self._begins} {self._then}: {self._reads}."

    @property
    def _begins(self):
        if self.fault.kind == NOTHING:
            return f"Also while nothing fails{self._beside},"
        return f"If {self.fault.words}{self._beside},"

    @property
    def _beside(self):
        said = [" while the inverter is out"] * self.held.tripped
        if not isnan(self.held.water_c) and not self.held.thermostat_closed:
            said.append(" and the water is hot" if said else " while the water is hot")
        return "".join(said) if self.side != EMPTY else ""

    @property
    def _then(self):
        amps = say(abs(self.amps), "A", form=".2g")
        limit = self.shown.points.least_volts if self.side == EMPTY else most_volts(self.shown, self.held.cell_c)
        volts = say(limit, "V", form=".3g")
        if self.side == EMPTY:
            return f"the empty bank still gives {amps} and falls below its {volts}"
        if self.side == FORBIDDEN:
            return f"{amps} go into cells of {say(self.held.cell_c, '°C', form='.2g')}, which must not be charged"
        if self.is_late:
            return f"the full bank passes its {volts} before the rules have waited long enough, {amps} too much"
        return f"{amps} have nowhere to go and the full bank rises past its {volts}"

    @property
    def _reads(self):
        """What the controller reads of what its rules look at."""
        used = self.shown.rules.inputs_used
        if self.fault.kind == NO_CONTROL_POWER:
            return "the controller reads nothing"
        return "the controller reads " + ", ".join(reading_words(name, self.readings[name]) for name in used)


def reading_words(name, value):
    """A reading in words."""
    if name in YES_NO:
        return f"{'yes' if value else 'no'} to “{YES_NO[name].words}”"
    measured = MEASURED[name]
    if abs(value) * measured.per_unit > 1000.0 * _BEYOND:
        return f"{measured.words} beyond every limit"
    return f"{say(value, measured.unit)} {measured.words}"


def shown_plan(plan, side, held, fault):
    """The plan with source, house, water and room so that days come to a case, and its charge at the start."""
    by_hour, frozen_full = [held.setting] * len(plan.course.by_hour), side == EMPTY and fault.is_unseen
    if frozen_full:  # it was full when the reading froze, and is emptied since
        by_hour[0] = max(plan.course.settings)
    changes = {"course": replace(plan.course, by_hour=tuple(by_hour), words="As the fault is shown."), "house": ()}
    if side == EMPTY and not frozen_full:
        changes["house"] = _all_at_once(plan)
    if plan.cylinder is not None:
        # Hot water that nobody draws stays hot; much that is drawn keeps it cold.
        drawn, lost = (
            (10.0 * plan.cylinder.litres, plan.cylinder.loss_w_per_k) if held.thermostat_closed else (0.0, 0.0)
        )
        changes["cylinder"] = replace(plan.cylinder, litres_a_day=drawn, loss_w_per_k=lost)
    if plan.room is not None:
        changes["room"] = replace(plan.room, outside_c=held.room_c, outside_swing_k=0.0)
    charge = {FULL: 1.0, EMPTY: 1.0 if frozen_full else _NEARLY_EMPTY}.get(side)
    if charge is None:
        charge = min(1.0, max(_NEARLY_EMPTY, charge_at(plan.bank, held.volts)))
    return replace(plan, **changes), charge


def fails_from_s(plan, charge, fault, side):
    """The second in which a fault has to begin: a reading that empties the bank freezes when it is highest."""
    if not fault.is_unseen or side != EMPTY:
        return _FROZEN_FROM_S if fault.is_unseen else 0.0
    return simulate(plan, days=1, start_charge=charge).tallies["most_volts_s"] + _READ_AFTER_S


def _all_at_once(plan):
    watts = house_watts(plan)
    if not watts:
        return ()
    return (HouseLoad(name="all", watts=watts, surge_watts=watts, from_hour=0, to_hour=24, minutes=60.0),)
