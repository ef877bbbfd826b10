"""All that a charging plan is made of: the plant with its dump loads, house, cylinder, and the rules that join them."""

from dataclasses import dataclass

from statorbook.charging.control import RuleSet
from statorbook.protection import Plant


@dataclass(frozen=True, kw_only=True)
class SetPoints:
    """Volts of the whole bank as at 25 °C, and the temperatures between which it may be charged.

    Parameters
    ----------
    absorption_volts : float
        To which the bank is charged [V].
    float_volts : float
        At which the bank is then held [V].
    equalise_volts : float or None
        At which the cells of the bank are evened out; None for never [V].
    alarm_high_volts : float
        Bank volts from which up there is an alarm [V].
    alarm_low_volts : float
        Bank volts from which down there is an alarm [V].
    cut_off_volts : float
        Below it nothing may draw from the bank [V].
    return_volts : float
        Bank volts above which the inverter may come back [V].
    most_volts : float
        Never above, as at 25 °C, bank [V].
    least_volts : float
        Never below, bank [V].
    compensation_v_per_k : float
        Shift of the whole bank for each kelvin over 25 °C; 0 for LiFePO4 [V/K].
    least_charging_c : float
        Colder cells are not charged [°C].
    most_charging_c : float
        Nor are warmer ones [°C].
    balance_volts : float or None
        Bank volts from which the cells' own electronics even them out; None: there are none [V].
    """

    absorption_volts: float
    float_volts: float
    equalise_volts: float | None
    alarm_high_volts: float
    alarm_low_volts: float
    cut_off_volts: float
    return_volts: float
    most_volts: float
    least_volts: float
    compensation_v_per_k: float
    least_charging_c: float
    most_charging_c: float
    balance_volts: float | None = None


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
    """Between bank and sockets; None in the plan where there is none.

    Parameters
    ----------
    rated_watts : float
        For hours [W].
    surge_watts : float
        For seconds [W].
    efficiency : float
        AC watts over DC watts [-].
    idle_watts : float
        With nothing plugged in [W].
    trips_below_volts : float
        Bank volts below which it switches off [V].
    back_above_volts : float
        Bank volts above which it comes back [V].
    trips_above_volts : float
        Bank volts above which it switches off [V].
    """

    rated_watts: float
    surge_watts: float
    efficiency: float
    idle_watts: float
    trips_below_volts: float
    back_above_volts: float
    trips_above_volts: float


@dataclass(frozen=True, kw_only=True)
class HouseLoad:
    """An appliance: on for the first minutes of every hour between two hours of the day.

    Parameters
    ----------
    name : str
        What it is.
    watts : float
        While it is on [W].
    surge_watts : float
        In its first second [W].
    from_hour : int
        Hour of the day from which it is used [-].
    to_hour : int
        Hour up to which it is [-].
    minutes : float
        Of each of these hours [min].
    """

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
