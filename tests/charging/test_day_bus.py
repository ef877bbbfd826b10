"""Inverter, bus and bank in single seconds, by hand and by the bank's own amps."""

import numpy as np
import pytest
from scipy.optimize import brentq

from charging.uncompiled import Moment, changed, uncompile
from samples.charging_samples import LEAD_BANK, plan
from statorbook.bank import amps_at_once, next_slow_volts, rest_volts_of, slow_wh, stored_at_once
from statorbook.charging import day_arrays as at
from statorbook.charging import day_bus
from statorbook.charging.control import OUTPUT_NAMES
from statorbook.charging.events import FUSE, TRIP, Event
from statorbook.charging.supply import supply_of


@pytest.fixture(autouse=True)
def plainly(monkeypatch):
    uncompile(monkeypatch)


# Rated and surge watts, efficiency, idle watts, trips below, back above, trips above.
INVERTER = np.array([1000.0, 1500.0, 0.8, 20.0, 44.0, 50.0, 58.0])
LIMITS_BETWEEN = 52.0  # volts at which this inverter does what it likes


def fed(house=0.0, surge=0.0, volts=LIMITS_BETWEEN, on=("inverter_enable",), **changes):
    """A moment with an inverter in round numbers that is on."""
    given = {"inverter": INVERTER.copy(), "house": np.full(1440, house), "surge": np.full(1440, surge)}
    made = Moment(**given | changes)
    made.now[[at.VOLTS, at.BANK]] = volts
    for name in on:
        made.state.on[OUTPUT_NAMES.index(name)] = 1
    return made


def served(made, second=1):
    """Whether the inverter runs after a second."""
    day_bus.sockets(made.plan, made.faults, made.state, made.record, second)
    return bool(made.mode[at.INVERTING])


def test_a_table_is_read_along_straight_lines_and_held_at_its_ends():
    grid, row = np.array([0.0, 10.0, 30.0]), np.array([4.0, 2.0, -2.0])
    wanted = {-5.0: 4.0, 0.0: 4.0, 5.0: 3.0, 10.0: 2.0, 15.0: 1.0, 25.0: -1.0, 30.0: -2.0, 31.0: -2.0}
    assert {volts: day_bus.along(volts, grid, row) for volts in wanted} == pytest.approx(wanted)
    raised = np.array([2.0, 4.0])
    assert day_bus.along(2.0, raised, row[:2]) == 4.0 and day_bus.along(1.0, raised, row[:2]) == 4.0


# House 300 W, heaters of cylinder 800 W and room 600 W, each while its relay is on; the cylinder's thermostat closed.
@pytest.mark.parametrize(
    ("on", "closed", "hot", "air"),
    [
        (("water_heater", "air_heater"), 1, 800.0, 600.0),
        (("water_heater",), 1, 800.0, 0.0),
        (("water_heater",), 0, 0.0, 0.0),
        (("air_heater",), 1, 0.0, 600.0),
        ((), 1, 0.0, 0.0),
    ],
)
def test_sockets_give_what_house_and_heaters_ask_for(on, closed, hot, air):
    made = fed(300.0, on=("inverter_enable", *on), inverter=INVERTER * [9.0, 9.0, 1, 1, 1, 1, 1])
    made.mode[at.THERMOSTAT] = closed
    assert served(made)
    assert made.watts[[at.HOUSE, at.HOT, at.AIR, at.UNSERVED]].tolist() == [300.0, hot, air, 0.0]
    made.state.on[OUTPUT_NAMES.index("inverter_enable")] = 0
    assert not served(made)
    assert made.watts[[at.HOUSE, at.HOT, at.AIR, at.UNSERVED]].tolist() == [0.0, 0.0, 0.0, 300.0]
    assert made.record.trips.sum() == 0


def test_a_house_without_inverter_or_cylinder_is_not_served():
    made = Moment(plan(inverter=None, cylinder=None), house=np.full(1440, 300.0))
    made.state.on[:] = 1
    made.mode[at.THERMOSTAT] = 1
    assert not served(made) and made.watts[at.UNSERVED] == 300.0 and made.watts[at.HOT] == 0.0


def test_each_minute_of_the_day_has_its_watts():
    by_minute = np.arange(1440.0) / 10.0
    made = fed(house=0.0)
    made.plan = changed(made.plan, house=by_minute)
    for second, watts in ((0, 0.0), (59, 0.0), (60, 0.1), (86_399, 143.9), (86_400, 0.0), (86_400 + 3_725, 6.2)):
        assert served(made, second)
        assert made.watts[at.HOUSE] == pytest.approx(watts)


# Rated 1000 W and 1500 W for its first second: what is just as much is carried.
@pytest.mark.parametrize(
    ("house", "surge", "second", "runs"),
    [
        (1000.0, 0.0, 1, True),
        (1000.1, 0.0, 1, False),
        (500.0, 1000.0, 60, True),
        (500.0, 1000.1, 60, False),
        (500.0, 1000.1, 61, True),
    ],
)
def test_too_many_watts_trip_an_inverter(house, surge, second, runs):
    made = fed(house, surge)
    assert served(made, second) == runs
    assert made.record.trips.tolist() == [0, 0, 0 if runs else 1, 0]
    assert made.mode[at.TRIPPED] == (-1 if runs else 0)
    assert made.watts[at.UNSERVED] == (0.0 if runs else house)


# 300 W of the house, 800 W of the water and 600 W of the room; by hand 1700 W over 80 % and 20 W idle are 2145 W.
def test_house_and_heaters_are_carried_together():
    for rated, runs in ((1700.0, True), (1699.9, False)):
        made = fed(300.0, on=("inverter_enable", "water_heater", "air_heater"))
        made.plan.inverter[:2], made.mode[at.THERMOSTAT] = rated, 1
        assert served(made) == runs
        dc_watts = day_bus.taken_at_bus(made.plan, made.state)[1]
        assert dc_watts == pytest.approx(2145.0 if runs else 0.0)
        assert made.watts[at.INVERTER] == pytest.approx(445.0 if runs else 0.0)


def test_an_inverter_that_is_off_is_not_tripped_by_watts():
    made = fed(2000.0, on=())
    assert not served(made) and made.record.trips.sum() == 0 and made.mode[at.TRIPPED] == -1


# Half a minute after what tripped it an inverter tries again (common practice, no source): in the 31st second.
@pytest.mark.parametrize("kind", [TRIP, FUSE])
def test_after_an_event_it_comes_back_half_a_minute_later(kind):
    made = fed(events=[Event(kind=kind)])
    assert not any(served(made) for _ in range(5))
    assert made.record.trips.tolist() == [0, 0, 0, 1] and made.mode[at.TRIPPED] == 0
    made.happen()
    assert [served(made) for _ in range(31)] == [False] * 30 + [True]
    assert made.record.trips.sum() == 1


# After low volts it waits for more than 50 V, after anything else for more than 44 V; never above 58 V.
@pytest.mark.parametrize(
    ("cause", "volts", "back"),
    [
        (at.LOW_TRIP, 50.0, False),
        (at.LOW_TRIP, 50.1, True),
        (at.LOW_TRIP, 58.0, False),
        (at.HIGH_TRIP, 44.0, False),
        (at.HIGH_TRIP, 44.1, True),
        (at.WATTS_TRIP, 57.9, True),
        (at.EVENT_TRIP, 58.0, False),
    ],
)
def test_it_comes_back_only_at_volts_that_suit_it(cause, volts, back):
    made = fed(volts=volts)
    made.mode[at.TRIPPED], made.mode[at.CAUSE] = 0, cause
    assert [served(made) for _ in range(40)][-1] == back
    made.now[at.VOLTS] = LIMITS_BETWEEN
    assert served(made)


# By hand: 300 W over 80 % and 20 W idle are 395 W from the bank, 95 W of them lost.
def test_what_is_taken_at_the_bus():
    made = fed(300.0, siemens=np.arange(1.0, 1.0 + len(OUTPUT_NAMES)))
    made.state.on[1] = 1
    served(made)
    siemens, dc_watts = day_bus.taken_at_bus(made.plan, made.state)
    assert siemens == 2.0 + (1 + OUTPUT_NAMES.index("inverter_enable"))
    assert dc_watts == pytest.approx(395.0) and made.watts[at.INVERTER] == pytest.approx(95.0)
    made.mode[at.INVERTING] = 0
    assert day_bus.taken_at_bus(made.plan, made.state)[1] == made.watts[at.INVERTER] == 0.0


@pytest.mark.parametrize(("volts", "trips"), [(43.9, [1, 0, 0, 0]), (44.0, [0] * 4), (58.0, [0] * 4),
                                              (58.1, [0, 1, 0, 0])])  # fmt: skip
def test_volts_beyond_its_window_trip_it_at_the_end_of_the_second(volts, trips):
    made = fed(volts=volts)
    made.mode[at.INVERTING] = 1
    day_bus.end_of_second(made.plan, made.state, made.record)
    assert made.record.trips.tolist() == trips and made.mode[at.TRIPPED] == (0 if any(trips) else -1)
    made.mode[at.INVERTING], before = 0, made.record.trips.copy()
    day_bus.end_of_second(made.plan, made.state, made.record)
    assert (made.record.trips == before).all()


class Flowing:
    """A bank with a source, a load of 1 Ω and an inverter with 300 W on it."""

    def __init__(self, bank=None, charge=0.5, dc_watts=0.0, siemens=0.0, **state):
        self.made = plan(**{"bank": bank} if bank else {})
        self.moment = Moment(self.made, charge=charge)
        self.moment.plan.siemens[0] = siemens
        self.moment.state.on[0] = siemens > 0.0
        kernel_row = supply_of(self.made).amps[-1]
        self.moment.state.amps_row[:] = kernel_row
        self.moment.state.rpm_row[:] = supply_of(self.made).rpm[-1]
        if dc_watts:
            self.moment.mode[at.INVERTING] = 1
            self.moment.watts[at.HOUSE] = (dc_watts - self.made.inverter.idle_watts) * self.made.inverter.efficiency
        self.siemens, self.dc_watts = siemens, dc_watts
        for name, value in state.items():
            self.moment.now[getattr(at, name)] = value

    def wanted_volts(self):
        """Kirchhoff's current law at the bus, by bisection of a library."""
        now, table, supply = self.moment.now.copy(), self.moment.plan.bank, supply_of(self.made)
        trips = self.moment.plan.inverter[4]

        def off(volts):
            come = np.interp(volts, supply.volts, self.moment.state.amps_row) * (not self.moment.mode[at.STOPPED])
            bank = amps_at_once(volts, now[at.SLOW], now[at.CHARGE], now[at.CELL], table)
            return come - self.siemens * volts - self.dc_watts / max(volts, trips) - bank

        return brentq(off, 1.0, 120.0, xtol=1e-12)

    def flow(self):
        """Let a second flow."""
        day_bus.flow(self.moment.plan, self.moment.faults, self.moment.state)
        return self.moment


FLOWS = [
    {},
    {"siemens": 0.5},
    {"dc_watts": 900.0},
    {"siemens": 0.2, "dc_watts": 400.0, "charge": 0.97},
    {"bank": LEAD_BANK, "dc_watts": 200.0, "charge": 0.9},
    {"siemens": 1.0, "SLOW": 0.3, "CELL": 5.0},
]


# However far off the search begins, its volts and slope are those of the second before, the amps cancel out.
@pytest.mark.parametrize("given", FLOWS)
@pytest.mark.parametrize("begins", [{}, {"BANK": 5.0}, {"BANK": 110.0}, {"SLOPE": 1e-3}, {"SLOPE": 1e7}])
def test_all_amps_at_the_bus_cancel_out(given, begins):
    flowing = Flowing(**given | begins)
    wanted = flowing.wanted_volts()
    made, supply = flowing.flow(), supply_of(flowing.made)
    assert made.now[at.VOLTS] == pytest.approx(wanted, abs=1e-8)
    come = supply.amps_at(1.0, wanted)
    taken = flowing.siemens * wanted + flowing.dc_watts / wanted
    assert made.now[at.AMPS] == pytest.approx(come - taken, abs=1e-6)
    assert made.watts[at.SOURCE] == pytest.approx(wanted * come) and made.watts[at.SPILLED] == 0.0
    assert made.now[at.RPM] == pytest.approx(supply.rpm_at(1.0, wanted))
    assert made.watts[at.DUMPS] == pytest.approx(flowing.siemens * wanted**2)
    assert made.watts[[at.DUMPS + 1, at.DUMPS + 2]].tolist() == [0.0, 0.0]


def test_a_source_that_is_stopped_gives_nothing_and_what_it_could_have_given_is_spilled():
    flowing = Flowing(siemens=0.1)
    flowing.moment.mode[at.STOPPED] = 1
    wanted = flowing.wanted_volts()
    made = flowing.flow()
    assert made.now[at.VOLTS] == pytest.approx(wanted, abs=1e-8)
    assert made.watts[at.SOURCE] == made.now[at.RPM] == 0.0
    assert made.watts[at.SPILLED] == pytest.approx(wanted * supply_of(flowing.made).amps_at(1.0, wanted))
    # A converter that would only draw spills nothing.
    flowing.moment.state.amps_row[:] = -0.1
    assert flowing.flow().watts[at.SPILLED] == 0.0


# A second at 36 V, where the inverter would trip at 44 V: its amps stay, and all that it carries is 36 / 44 of it.
def test_an_inverter_below_its_trip_weakens_in_its_last_second():
    flowing = Flowing(charge=0.0, dc_watts=1600.0, siemens=6.0, CELL=25.0)
    watts = flowing.moment.watts
    watts[at.AIR], watts[at.HOUSE] = 200.0, watts[at.HOUSE] - 200.0
    before = watts.copy()
    wanted = flowing.wanted_volts()
    made, trips = flowing.flow(), flowing.made.inverter.trips_below_volts
    share = made.now[at.VOLTS] / trips
    assert made.now[at.VOLTS] == pytest.approx(wanted, abs=1e-8) and 0.3 < share < 1.0
    for name in ("HOUSE", "AIR", "HOT"):
        assert made.watts[getattr(at, name)] == pytest.approx(share * before[getattr(at, name)])
    assert made.watts[at.UNSERVED] == pytest.approx((1.0 - share) * before[at.HOUSE])
    lost = 1600.0 - before[at.HOUSE] - before[at.AIR]
    assert made.watts[at.INVERTER] == pytest.approx(share * lost)


def test_what_flows_into_the_bank_is_stored_or_lost():
    flowing = Flowing(siemens=0.1, SLOW=0.2)
    table, ah, slow, charge = flowing.moment.plan.bank, flowing.made.bank.capacity_ah, 0.2, 0.5
    volts = flowing.wanted_volts()
    stored, faded = stored_at_once(volts, slow, charge, table), next_slow_volts(volts, slow, charge, 25.0, table)
    made = flowing.flow()
    assert made.now[at.CHARGE] - 0.5 == pytest.approx(stored / 3600.0 / ah, rel=1e-6) and stored > 0.0
    assert made.now[at.SLOW] == pytest.approx(faded) and made.now[at.BANK] == made.now[at.VOLTS]
    # At its rest volts half-way; what the last minutes left in its cells comes and goes: 3600 J are 1 Wh.
    kept = stored * rest_volts_of(0.5 + 0.5 * stored / 3600.0 / ah, table)
    kept += 3600.0 * (slow_wh(faded, table) - slow_wh(slow, table))
    assert made.watts[at.STORED] == pytest.approx(kept, rel=1e-6)
    assert made.watts[at.LOST] == pytest.approx(made.now[at.VOLTS] * made.now[at.AMPS] - kept, rel=1e-6)


# Behind an open fuse the source and a load of 10 Ω are alone: Ohm's law. The bank rests, and what is left in it fades.
def test_behind_an_open_fuse_the_source_is_alone_with_the_loads():
    flowing = Flowing(siemens=0.1, SLOW=0.2)
    flowing.moment.happen(Event(kind=FUSE))
    supply, table = supply_of(flowing.made), flowing.moment.plan.bank
    alone = brentq(lambda volts: supply.amps_at(1.0, volts) - 0.1 * volts, 1.0, supply.volts[-1], xtol=1e-12)
    rests = rest_volts_of(0.5, table) + 0.2
    made = flowing.flow()
    assert made.now[at.VOLTS] == pytest.approx(alone, rel=1e-9) and made.now[at.AMPS] == 0.0
    assert made.now[at.BANK] == pytest.approx(rests) and made.now[at.CHARGE] == 0.5
    assert made.now[at.SLOW] == pytest.approx(next_slow_volts(rests, 0.2, 0.5, 25.0, table))
    faded = slow_wh(made.now[at.SLOW], table) - slow_wh(0.2, table)
    assert made.watts[at.STORED] == pytest.approx(3600.0 * faded) == pytest.approx(-made.watts[at.LOST])
    flowing.moment.mode[at.STOPPED] = 1
    assert flowing.flow().now[at.VOLTS] == 0.0
    flowing.moment.mode[at.STOPPED] = 0
    flowing.moment.state.amps_row[:] = 0.0
    assert flowing.flow().now[at.VOLTS] == 0.0
