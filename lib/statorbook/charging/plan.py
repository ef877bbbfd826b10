"""All that a charging plan is made of: the plant with its dump loads, house, cylinder, and the rules that join them."""

from dataclasses import dataclass

from statorbook.charging.control import RuleSet
from statorbook.protection import Plant


@dataclass(frozen=True, kw_only=True)
class SetPoints:
    """Volts of the whole bank as at 25 °C, and the temperatures between which it may be charged."""

    absorption_volts: float
    float_volts: float
    equalise_volts: float | None  # None: never
    alarm_high_volts: float
    alarm_low_volts: float
    cut_off_volts: float  # below it nothing may draw from the bank
    return_volts: float  # above it the inverter may come back
    most_volts: float  # never above, as at 25 °C
    least_volts: float  # never below
    compensation_v_per_k: float  # whole bank, 0 for LiFePO4
    least_charging_c: float
    most_charging_c: float
    balance_volts: float | None = None  # from which the cells' own electronics even them out; None: there are none


@dataclass(frozen=True, kw_only=True)
class DumpElement:
    """A heating element on the bank itself, switched by one output.

    Parameters
    ----------
    output : str
        "dump_1", "dump_2" or "dump_3".
    ohm : float
        Hot [Ω].
    cold_ohm : float
        At switch-on [Ω].
    standing_watts : float
        What it stands for hours [W].
    """

    output: str
    ohm: float
    cold_ohm: float
    standing_watts: float


@dataclass(frozen=True, kw_only=True)
class Cylinder:
    """Hot water with a heater on the inverter; None in the plan where there is none.

    Parameters
    ----------
    litres : float
        What it holds [L].
    heater_watts : float
        Of its heater [W].
    inlet_c : float
        Cold water [°C].
    thermostat_c : float
        Its own thermostat opens above [°C].
    insulation_mm : float
        Foam round it [mm].
    litres_a_day : float
        Drawn in a day [L].
    loss_w_per_k : float
        Lost for each kelvin over the air round it [W/K].
    """

    litres: float
    heater_watts: float
    inlet_c: float
    thermostat_c: float
    insulation_mm: float
    litres_a_day: float
    loss_w_per_k: float


@dataclass(frozen=True, kw_only=True)
class Room:
    """What the air heater warms; None in the plan where there is none.

    Parameters
    ----------
    heater_watts : float
        Of its heater [W].
    loss_w_per_k : float
        Lost for each kelvin over the air outside [W/K].
    heat_wh_per_k : float
        Held for each kelvin [Wh/K].
    outside_c : float
        Outside, mean of a day [°C].
    outside_swing_k : float
        Half of warmest less coldest of a day [K].
    """

    heater_watts: float
    loss_w_per_k: float
    heat_wh_per_k: float
    outside_c: float
    outside_swing_k: float


@dataclass(frozen=True, kw_only=True)
class Inverter:
    """Between bank and sockets; None in the plan where there is none."""

    rated_watts: float
    surge_watts: float
    efficiency: float
    idle_watts: float
    trips_below_volts: float
    back_above_volts: float
    trips_above_volts: float


@dataclass(frozen=True, kw_only=True)
class HouseLoad:
    """An appliance: on for the first minutes of every hour between two hours of the day."""

    name: str
    watts: float
    surge_watts: float
    from_hour: int
    to_hour: int
    minutes: float


@dataclass(frozen=True, kw_only=True)
class VoltsRelay:
    """A volt-sensing relay of its own, apart from the controller, with its own wires to the bank: the guard.

    From `high_on_volts` up it puts every dump load on; from `low_off_volts` down it takes every dump load and the
    inverter off, whatever the controller says, until `low_on_volts`.

    Parameters
    ----------
    high_on_volts : float
        Bank volts from which every dump load is on [V].
    high_off_volts : float
        Bank volts down to which they stay on [V].
    low_off_volts : float
        Bank volts from which down every dump load, every heater and the inverter is off [V].
    low_on_volts : float
        Bank volts up to which they stay off [V].
    """

    high_on_volts: float
    high_off_volts: float
    low_off_volts: float
    low_on_volts: float


@dataclass(frozen=True, kw_only=True)
class Course:
    """What the source does hour by hour: a setting of the drive, 0 where it stands still."""

    settings: tuple[float, ...]  # at which the machine was solved, the weakest first
    drives: tuple  # the drive at each of them
    by_hour: tuple[float, ...]  # setting in each hour of the days simulated; between two settings a straight line
    name: str  # what a setting is, as in "wind at the hub"
    unit: str  # "" for none
    words: str  # where the hours come from
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class ChargingPlan:
    """A plant with all that is switched on its bank, and the rules."""

    plant: Plant
    points: SetPoints
    dumps: tuple[DumpElement, ...]
    rules: RuleSet
    course: Course
    cylinder: Cylinder | None = None
    room: Room | None = None
    inverter: Inverter | None = None
    house: tuple[HouseLoad, ...] = ()
    guard: VoltsRelay | None = None
    stops_source: bool = False  # whether something can stop the source by a signal: a deflector, a brake that holds
    start_charge: float = 0.7  # share of the bank's capacity at the first midnight
    assumed: tuple[str, ...] = ()

    @property
    def bank(self):
        """The bank, a `Bank`."""
        return self.plant.bank
