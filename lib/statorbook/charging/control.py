"""The rules of a small controller as plain data: what it reads, what it switches, and from when to when."""

from dataclasses import dataclass, field

OPEN_AT_REST, CLOSED_AT_REST = "normally open", "normally closed"
ABOVE, BELOW, TRUE, FALSE = "at or above", "at or below", "yes", "no"
ON, OFF = "on", "off"
NOT = "not "
_BANK_VOLTS, _COMPENSATED = "bank_volts", "bank_volts_25"
_ALL_CODES = (-(2**31), 2**31 - 1)  # of a whole number of 32 bits


@dataclass(frozen=True)
class MeasuredInput:
    """A number that the controller reads, and how it holds it: a whole number of small units."""

    name: str
    words: str  # as a noun phrase
    unit: str  # that a reader types
    code_unit: str  # that the controller holds
    per_unit: int  # code units in one of the reader's
    prefix: str  # of its variable's end, such as "mv"

    def code(self, value):
        """The whole number that the controller holds for a reader's number."""
        return round(value * self.per_unit)


@dataclass(frozen=True, kw_only=True)
class YesNoInput:
    """A contact that the controller reads."""

    name: str
    words: str  # what it says while it is closed
    not_words: str  # and while it is open


@dataclass(frozen=True, kw_only=True)
class Output:
    """What the controller switches."""

    name: str
    words: str  # as a noun phrase
    kind: str  # "dump", "heater", "inverter", "source" or "alarm"


_KINDS = {"V": ("mV", 1000, "mv"), "A": ("mA", 1000, "ma"), "°C": ("0.1 °C", 10, "dc"), "rpm": ("rpm", 1, "rpm")}
_READ = {
    _BANK_VOLTS: ("bank volts", "V"),
    _COMPENSATED: ("bank volts as at 25 °C", "V"),
    "bank_amps": ("amps into the bank", "A"),
    "cell_c": ("cell temperature", "°C"),
    "water_c": ("water temperature", "°C"),
    "air_c": ("air temperature", "°C"),
    "speed_rpm": ("shaft speed", "rpm"),
}
MEASURED = {name: MeasuredInput(name, words, unit, *_KINDS[unit]) for name, (words, unit) in _READ.items()}
YES_NO = {
    y.name: y
    for y in (
        YesNoInput(
            name="inverter_healthy",
            words="the inverter says that it is well",
            not_words="the inverter does not say that it is well",
        ),
        YesNoInput(name="control_power", words="control power is there", not_words="control power is gone"),
    )
}
VALID = "_valid"  # behind a measured name: yes while its reading lies within what its sensor can give
OUTPUTS = {
    o.name: o
    for o in (
        Output(name="dump_1", words="first dump load", kind="dump"),
        Output(name="dump_2", words="second dump load", kind="dump"),
        Output(name="dump_3", words="third dump load", kind="dump"),
        Output(name="water_heater", words="water heater", kind="heater"),
        Output(name="air_heater", words="air heater", kind="heater"),
        Output(name="inverter_enable", words="inverter", kind="inverter"),
        Output(name="source_stop", words="brake or deflector", kind="source"),
        Output(name="alarm_high", words="high alarm", kind="alarm"),
        Output(name="alarm_low", words="low alarm", kind="alarm"),
    )
}
OUTPUT_NAMES = tuple(OUTPUTS)  # their places in every array of the simulation
INPUT_NAMES = (*MEASURED, *YES_NO)  # likewise
MEASURED_NAMES = tuple(MEASURED)
SENSORS = tuple(name for name in MEASURED if name != _COMPENSATED)  # that a wire can fall off


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One latch: it takes hold when its limit is met for long enough, and lets go past the other one."""

    # Rules stand in the order in which they are worked through, once a scan, top to bottom. A rule holds while all of
    # `only_if` is so, and (its limit has been met for `on_delay_s`, or it held in the scan before and has not yet been
    # at `off_at` or past it for `off_delay_s` or not yet held for `least_on_s`). What `only_if` names acts at once. A
    # yes or no lets go when its input says the other. Of the rules for an output that hold, the one with the highest
    # priority says on or off; none: off. A number is looked at as it is read, valid or not.
    name: str  # a word of letters, digits and single underscores
    output: str  # a name of OUTPUTS
    action: str = ON  # or OFF: keeps the output off, whatever a lower priority asks
    input: str  # a name of MEASURED or of YES_NO, or a measured name with VALID behind it
    side: str  # ABOVE or BELOW for a number, TRUE or FALSE for a yes or no
    on_at: float | None = None  # in the reader's unit of the input; None for a yes or no
    off_at: float | None = None
    on_delay_s: float = 0.0
    off_delay_s: float = 0.0
    least_on_s: float = 0.0
    only_if: tuple[str, ...] = ()  # of YES_NO, a measured name with VALID, or rules above; NOT before it: is not so
    priority: int = 1
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Relay:
    """A relay of the controller and its contact."""

    number: int  # on the controller, from 1
    output: str  # a name of OUTPUTS
    contact: str = OPEN_AT_REST  # CLOSED_AT_REST: the output is on while the coil has no current


@dataclass(frozen=True, kw_only=True)
class RuleSet:
    """Rules, relays and what the program needs beside them; `check_rules` refuses what cannot work.

    Parameters
    ----------
    rules : tuple of Rule
        In the order in which they are worked through.
    relays : tuple of Relay
        One for each output that is switched.
    scan_ms : int
        At least once in this time the controller works through all rules [ms].
    compensation_mv_per_k : float
        Of the whole bank, such as -30 for six lead-acid cells, for the volts as at 25 °C [mV/K].
    valid : dict of str to tuple of float
        By measured name, least and most that its sensor can give, in the reader's units.
    words : str
        What this set is for.
    """

    rules: tuple[Rule, ...]
    relays: tuple[Relay, ...]
    scan_ms: int = 100
    compensation_mv_per_k: float = 0.0
    valid: dict = field(default_factory=dict, hash=False)  # so that a plan can be a key
    words: str = ""

    def relay_of(self, output):
        """The relay of an output.

        Parameters
        ----------
        output : str
            A name of `OUTPUTS`.

        Returns
        -------
        Relay or None
            None where no relay switches it.
        """
        return next((relay for relay in self.relays if relay.output == output), None)

    def said_range(self, name):
        """What the sensor of an input can give.

        Parameters
        ----------
        name : str
            A name of `MEASURED`; the volts as at 25 °C have the sensor of the bank's volts.

        Returns
        -------
        tuple of float or None
            Least and most in the reader's unit; None while nobody said it.
        """
        return self.valid.get(_BANK_VOLTS if name == _COMPENSATED else name)

    def range_codes(self, name):
        """What the sensor of an input can give, as the controller holds it.

        Parameters
        ----------
        name : str
            A name of `MEASURED`.

        Returns
        -------
        tuple of int
            Least and most; all that fits while nobody said it [code units].
        """
        said = self.said_range(name)
        return tuple(MEASURED[name].code(value) for value in said) if said else _ALL_CODES

    @property
    def compensation_code(self):
        """By which the volts as at 25 °C are reckoned, whole mV/K [code units]."""
        return round(self.compensation_mv_per_k)

    @property
    def inputs_used(self):
        """Names of SENSORS and YES_NO that the rules read, in the order of INPUT_NAMES."""
        named = {name.removeprefix(NOT).removesuffix(VALID) for r in self.rules for name in (r.input, *r.only_if)}
        if _COMPENSATED in named:
            named |= {_BANK_VOLTS} | ({"cell_c"} if self.compensation_code else set())
        return tuple(name for name in INPUT_NAMES if name in named and name != _COMPENSATED)
