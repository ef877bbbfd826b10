"""What an over-voltage load has to be: set-point, ohms, watts, how fast it must act, and with which capacitor."""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf

from statorbook.operation import operating_points, points_from
from statorbook.protection.drive_pull import pull_of
from statorbook.protection.load_lost import bare, load_lost
from statorbook.protection.over_voltage_load import loaded_curve
from statorbook.quantities import Fact, rounded_down, rounded_up

OVER_EVERYDAY = Fact(
    value=0.03,
    unit="of the highest everyday volts",
    source="ripple, a set-point that is off; common practice, no source",
    low=0.01,
    high=0.05,
)
WATTS_SPARE = Fact(
    value=1.5, unit="-", source="150 % for diversion loads, NEC 690.72(B) (from memory)", low=1.25, high=2.0
)
SWITCH_S = Fact(value=0.001, unit="s", source="transistor switch; common practice, no source", low=1e-4, high=0.005)
CONTACTOR_S = Fact(
    value=0.03, unit="s", source="contactor that pulls in; common practice, no source", low=0.01, high=0.1
)
MOST_UF = 100_000  # beyond it the bank's own spark into it is the greater danger; common practice, no source
_STEP = 1.5  # factor in which ohms are tried until they are too many
_CLOSE = 0.01


@dataclass(frozen=True, kw_only=True)
class GuardNeeds:
    """What an over-voltage load has to be; with no room for a set-point, or with no need, it has no ohms."""

    is_needed: bool  # whether the volts without it ever pass the limit
    limit_dc_volts: float  # that it has to keep
    limit_words: str  # whose limit that is
    everyday_dc_volts: float  # the highest at the rectifier in everyday work
    set_dc_volts: float  # from which it is switched on: the lowest that stays off in everyday work
    within_s: float  # from there to the limit with no capacitor: 0 when the volts leap past both; inf: never
    most_amps: float  # that flow into a capacitor before the load acts, DC
    before_dc_volts: float  # the most at the rectifier just before the bank comes off, from which a capacitor starts
    ohm: float | None = None  # the most with which it holds the volts at its set-point
    held_watts: float = 0.0  # in it while it holds the strongest source
    held_rpm: float = 0.0  # at which it then turns

    @property
    def has_room(self):
        """Whether a set-point fits between everyday volts and limit."""
        return self.set_dc_volts < self.limit_dc_volts

    @property
    def watts(self):
        """Watts that it has to stand for hours, rounded up [W]."""
        return rounded_up(WATTS_SPARE.value * self.held_watts) if self.ohm else 0.0

    @property
    def amps(self):
        """The most amps that its switch and wires see, at the limit, rounded up [A]."""
        return rounded_up(self.limit_dc_volts / self.ohm) if self.ohm else 0.0

    def capacitor_uf(self, acts_within_s):
        """Capacitor that keeps the limit until a load acts, rounded up; 0 without need, inf without room [µF]."""
        if acts_within_s <= self.within_s:
            return 0.0
        room = self.limit_dc_volts - max(self.set_dc_volts, self.before_dc_volts)
        return rounded_up(1e6 * self.most_amps * acts_within_s / room) if room > 0.0 else inf

    @property
    def comes_too_late(self):
        """Whether even a transistor switch lets the volts pass the limit, whatever the capacitor."""
        return self.capacitor_uf(SWITCH_S.value) > MOST_UF


def guard_needs(plant, *, drives_guard=False):
    """What an over-voltage load at the rectifier has to be.

    Parameters
    ----------
    plant : Plant
        The plant; its own `guard` is not looked at.
    drives_guard : bool
        Whether the drive's own guard, such as furling, works; it does not, to be safe.

    Returns
    -------
    GuardNeeds
        Set-point, ohms, watts, time, and the capacitor that buys time.

    Notes
    -----
    Equation: set-point 3 % over the highest volts at the rectifier in everyday work, the bank at its charging limit;
        the most ohms with which the strongest source, met at its runaway speed, is held at that set-point, rounded
        down; watts half as much again as it then takes; C = I t / (limit − volts) for a load that acts within t,
        from the set-point on or from the volts just before, where they are higher.
    Valid: a load that stays on once it is on; ohms hot; copper that stands those amps for as long.
    Source: as `load_lost`; spare watts as NEC 690.72(B) asks of a diversion load (from memory).
    Derivation: `protection.capacitor_at_rectifier`.
    """
    return _needs(bare(plant), drives_guard)


def dump_watts(plant):
    """What the load of a full bank has to stand for hours.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    float
        Half as much again as the source can drive into the bank at its highest volts [W].
    """
    return WATTS_SPARE.value * plant.most.dc_amps * plant.bank.highest_volts


def limit_of(plant):
    """The volts that have to be kept, and whose they are."""
    setting = plant.machine.setting
    if (stands := setting.exposed["device_max_volts"]) is not None:
        return float(stands), f"what the {setting.exposed['device']} stands"
    return float(setting.limit_dc_volts), "the most that you accept with the bank gone"


def everyday_volts(plant):
    """The highest volts at the rectifier while all is well: bank at its charging limit, strongest source, guard on."""
    if plant.conditions.converter is not None:
        return float(plant.conditions.converter.high_volts)
    charging = plant.bank.states[2]
    drive = plant.drive.strongest()
    at = points_from(drive, operating_points(drive, [plant.winding], charging, plant.cold))[0]
    return charging.volts + at.dc_amps * plant.conditions.cable_ohm


@lru_cache(maxsize=32)
def _needs(plant, drives_guard):
    free, (limit, words), everyday = load_lost(plant, drives_guard=drives_guard), limit_of(plant), everyday_volts(plant)
    set_volts = (1.0 + OVER_EVERYDAY.value) * everyday
    reached = free.seconds_to(limit)
    needs = GuardNeeds(
        is_needed=free.ends_dc_volts > limit,
        limit_dc_volts=limit,
        limit_words=words,
        everyday_dc_volts=everyday,
        set_dc_volts=set_volts,
        within_s=inf if reached == inf else reached - free.seconds_to(min(set_volts, limit)),
        most_amps=plant.most.dc_amps,
        before_dc_volts=free.bank_dc_volts,
    )
    if not (needs.is_needed and needs.has_room):
        return needs
    pull = pull_of(plant.drive, guarded=drives_guard, strongest=True)
    held = _held_at(plant, pull, set_volts)
    return replace(needs, ohm=held.ohm, held_watts=held.watts, held_rpm=held.speed_rpm)


def _held_at(plant, pull, dc_volts):
    """The most ohms that hold it at some volts from its worst speed on, rounded down, and how."""
    from scipy.optimize import brentq

    def held(ohm):
        return loaded_curve(plant, ohm, pull.top_rpm).held(pull, pull.top_rpm)

    # No more amps than the most flow, so that fewer ohms than this cannot reach the volts.
    low = high = 0.9 * dc_volts / max(plant.most.dc_amps, _CLOSE)
    while held(high).dc_volts < dc_volts:
        low, high = high, _STEP * high
    found = brentq(lambda ohm: held(ohm).dc_volts - dc_volts, low, high, rtol=_CLOSE) if high > low else low
    ohm = rounded_down(found)
    while held(ohm).dc_volts > dc_volts:
        ohm = rounded_down(0.95 * ohm)
    return held(ohm)
