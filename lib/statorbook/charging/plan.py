"""All that a charging plan is made of: the plant with its dump loads, house, cylinder, and the rules that join them."""

from dataclasses import dataclass

from statorbook.charging.control import RuleSet
from statorbook.protection import Plant


@dataclass(frozen=True, kw_only=True)
class SetPoints:
    """Volts of the whole bank as at 25 °C, and the temperatures between which it may be charged."""

    absorption_volts: float  # to which the bank is charged
    float_volts: float  # at which the bank is then held
    equalise_volts: float | None  # at which the cells of the bank are evened out; None for never
    alarm_high_volts: float  # bank volts from which up there is an alarm
    alarm_low_volts: float  # bank volts from which down there is an alarm
    cut_off_volts: float  # below it nothing may draw from the bank
    return_volts: float  # bank volts above which the inverter may come back
    most_volts: float  # never above, as at 25 °C, bank
    least_volts: float  # never below, bank
    compensation_v_per_k: float  # shift of the whole bank for each kelvin over 25 °C; 0 for LiFePO4
    least_charging_c: float  # colder cells are not charged
    most_charging_c: float  # nor are warmer ones
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

    rated_watts: float  # for hours
    surge_watts: float  # for seconds
    efficiency: float  # aC watts over DC watts
    idle_watts: float  # with nothing plugged in
    trips_below_volts: float  # bank volts below which it switches off
    back_above_volts: float  # bank volts above which it comes back
    trips_above_volts: float  # bank volts above which it switches off


@dataclass(frozen=True, kw_only=True)
class HouseLoad:
    """An appliance: on for the first minutes of every hour between two hours of the day."""

    name: str  # what it is
    watts: float  # while it is on
    surge_watts: float  # in its first second
    from_hour: int  # hour of the day from which it is used
    to_hour: int  # hour up to which it is
    minutes: float  # of each of these hours


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
    """What the source does hour by hour: a setting of the drive, 0 where it stands still.

    Parameters
    ----------
    settings : tuple of float
        At which the machine was solved, the weakest first, as `unit` says.
    drives : tuple of Drive
        The drive at each of them.
    by_hour : tuple of float
        Setting in each hour; between two settings a straight line, in the unit named.
    name : str
        What a setting is, as in "wind at the hub".
    unit : str
        Its unit; empty for none.
    words : str
        Where the hours come from.
    assumed : tuple of str
        What of it is assumed.
    """

    settings: tuple[float, ...]
    drives: tuple
    by_hour: tuple[float, ...]
    name: str
    unit: str
    words: str
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class ChargingPlan:
    """A plant with all that is switched on its bank, and the rules.

    Parameters
    ----------
    plant : Plant
        The plant.
    points : SetPoints
        Of its bank.
    dumps : tuple of DumpElement
        On the bank itself.
    rules : RuleSet
        Of the controller.
    course : Course
        What the source does.
    cylinder : Cylinder or None
        Hot water.
    room : Room or None
        What the air heater warms.
    inverter : Inverter or None
        Between bank and sockets.
    house : tuple of HouseLoad
        What hangs on it.
    guard : VoltsRelay or None
        The volts relay apart from the controller.
    stops_source : bool
        Whether a signal can stop the source, by a deflector or a brake that holds.
    start_charge : float
        Share of the bank's capacity at the first midnight [-].
    assumed : tuple of str
        What of all this is assumed.
    """

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
    stops_source: bool = False
    start_charge: float = 0.7
    assumed: tuple[str, ...] = ()

    @property
    def bank(self):
        """The bank, a `Bank`."""
        return self.plant.bank
