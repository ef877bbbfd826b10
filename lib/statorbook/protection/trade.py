"""Power against the volts with the bank gone, grouping by grouping, and what a guard buys."""

from dataclasses import dataclass, replace
from functools import lru_cache

from statorbook.choice import REJECTED
from statorbook.protection.guard_needs import OVER_EVERYDAY, everyday_volts
from statorbook.winding import Grouping

BARE, DRIVES, LOAD = "nothing guards", "the drive's own guard works", "an over-voltage load holds"
_ALIKE = 0.99  # no meter tells such watts apart, so the lower volts are taken


@dataclass(frozen=True, kw_only=True)
class TradePoint:
    """One grouping: what it gives, and its DC volts, peak, with the bank gone and run away, by what guards."""

    grouping: Grouping
    watts: float  # into the half-full bank at the one setting
    bare_dc_volts: float
    drives_guard_dc_volts: float
    held_dc_volts: float  # by an over-voltage load
    fault: str = ""  # why it is not built at all

    def dc_volts(self, guard):
        """Its volts with BARE, DRIVES or LOAD, peak [V]."""
        return {BARE: self.bare_dc_volts, DRIVES: self.drives_guard_dc_volts, LOAD: self.held_dc_volts}[guard]


@dataclass(frozen=True, kw_only=True)
class Trade:
    """All groupings, most watts first."""

    points: tuple
    own: TradePoint  # the grouping of the plant
    guard_words: str  # what guards the drive, empty without
    has_load: bool  # whether the set-point is that of a load that the plant has

    @property
    def sound(self):
        """The groupings that may be built and give anything."""
        return tuple(point for point in self.points if not point.fault and point.watts > 0.0)

    def most(self, limit_dc_volts, guard):
        """The grouping that gives most within some volts; None when none stays within."""
        inside = [point for point in self.sound if point.dc_volts(guard) <= limit_dc_volts]
        if not inside:
            return None
        least = _ALIKE * max(point.watts for point in inside)
        return min((point for point in inside if point.watts >= least), key=lambda point: point.bare_dc_volts)

    def steps(self, guard):
        """Volts from which more can be had, and the most watts from there on, rising."""
        volts, watts = [], []
        for point in sorted(self.sound, key=lambda point: (point.dc_volts(guard), -point.watts)):
            if not watts or point.watts > watts[-1]:
                volts.append(point.dc_volts(guard))
                watts.append(point.watts)
        return volts, watts

    def bought_watts(self, limit_dc_volts, guard=LOAD):
        """How much more a guard lets the reader have within some volts [W]."""
        without, with_it = self.most(limit_dc_volts, BARE), self.most(limit_dc_volts, guard)
        return (with_it.watts if with_it else 0.0) - (without.watts if without else 0.0)

    def sentence(self, limit_dc_volts):
        """What there is within some volts without a guard and with each, and what the own grouping gives."""
        bare, own = self.most(limit_dc_volts, BARE), self.own
        there = f"{_gives(bare)} ({bare.bare_dc_volts:.0f} V)" if bare else "nothing that charges"
        guards = [(DRIVES, f"With {self.guard_words} at work")] if self.guard_words else []
        guards.append((LOAD, f"With an over-voltage load that holds {own.held_dc_volts:.0f} V"))
        said = [f"Within {limit_dc_volts:.0f} V DC with the bank gone and run away, nothing guarding: {there}."]
        said += [f"{lead}: {self._bought(limit_dc_volts, guard)}." for guard, lead in guards]
        said += [
            f"Yours, {own.grouping.label}, gives {own.watts:.0f} W and makes {own.bare_dc_volts:.0f} V when all guards "
            "fail. A guard fails one day: covers, rectifier and cable are built for those volts all the same."
        ]
        return " ".join(said)

    def _bought(self, limit_dc_volts, guard):
        """What there is within some volts with a guard, and how much of it the guard buys."""
        found = self.most(limit_dc_volts, guard)
        if found is None:
            high = guard == LOAD and self.own.held_dc_volts > limit_dc_volts
            return "nothing, as it has to let the bank's own volts pass" if high else "nothing that charges"
        more = self.bought_watts(limit_dc_volts, guard)
        fails = f"{found.bare_dc_volts:.0f} V when it fails"
        return f"{_gives(found)}, {f'{more:.0f} W more' if more >= 0.5 else 'no more'} ({fails})"


def _gives(point):
    return f"{point.watts:.0f} W with {point.grouping.label}"


def trade(plant):
    """Weigh power against the volts with the bank gone.

    Parameters
    ----------
    plant : Plant
        The plant; all legal groupings of its stator are looked at, not only its own.

    Returns
    -------
    Trade
        One point for each grouping.

    Notes
    -----
    Equation: watts as `operating_points` into the half-full bank; volts as `open_circuit_volts` at the worst runaway
        speed, at that with the drive's guard acting, and the set-point of the over-voltage load where that is lower:
        the plant's own, else 3 % over the highest everyday volts.
    Valid: one setting of the source; a load that is quick and strong enough, which `guard_needs` tells.
    Source: those of `compare` and `guard_needs`.
    """
    # Place, heat and labels change nothing of it and would only make the memory miss.
    return _traded(replace(plant, site=type(plant.site)(), heat=type(plant.heat)(), rectifier=None, fuse=None))


@lru_cache(maxsize=8)
def _traded(plant):
    points = tuple(_point(row, replace(plant, grouping=row.grouping)) for row in plant.machine.compared().rows)
    return Trade(
        points=points,
        own=next(point for point in points if point.grouping == plant.grouping),
        guard_words=plant.drive.guard_words if plant.guarded_runaway_rpm < plant.runaway_rpm else "",
        has_load=plant.guard is not None,
    )


def _point(row, plant):
    """One row of a comparison, with the plant in its grouping."""
    bare = plant.open_volts(plant.runaway_rpm)[1]
    set_volts = plant.guard.set_dc_volts if plant.guard else (1.0 + OVER_EVERYDAY.value) * everyday_volts(plant)
    return TradePoint(
        grouping=row.grouping,
        watts=row.point.bank_watts,
        bare_dc_volts=bare,
        drives_guard_dc_volts=plant.open_volts(plant.guarded_runaway_rpm)[1],
        held_dc_volts=min(bare, set_volts),
        fault=row.reason if row.verdict == REJECTED else "",
    )
