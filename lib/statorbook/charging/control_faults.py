"""The single faults that a plan is checked against: inputs, contacts, control power and guard, each in words."""

from dataclasses import dataclass

from statorbook.charging.control import MEASURED, OUTPUTS, YES_NO
from statorbook.charging.events import (
    DEAD,
    GUARD_DEAD,
    INPUT_ABSENT,
    INPUT_FROZEN,
    INPUT_HIGH,
    INPUT_LOW,
    NO_CONTROL_POWER,
    WELDED,
    Event,
)

NOTHING = "nothing fails"
_OF_NUMBER = {
    INPUT_HIGH: "the {} read too high, at the top of the sensor",
    INPUT_LOW: "the {} read too low, at the bottom of the sensor",
    INPUT_ABSENT: "the {} cannot be read, a wire is off",
    INPUT_FROZEN: "the {} are frozen at an old reading",
}
_OF_YES_NO = {
    INPUT_HIGH: "“{}” stays on yes",
    INPUT_LOW: "“{}” stays on no, or its wire is off",
    INPUT_FROZEN: "“{}” is frozen at an old reading",
}
_OF_OUTPUT = {WELDED: "the {} stays on, its contact welded", DEAD: "the {} stays off, burnt out or its wire off"}
_OF_ALL = {NO_CONTROL_POWER: "the controller has no power", GUARD_DEAD: "the volts relay is dead"}


@dataclass(frozen=True, kw_only=True)
class ControlFault:
    """One thing that fails, and stays so."""

    kind: str  # of events.KINDS, or NOTHING
    target: str = ""

    @property
    def words(self):
        """It as a clause."""
        if self.kind == NOTHING:
            return NOTHING
        if self.kind in _OF_ALL:
            return _OF_ALL[self.kind]
        if self.kind in _OF_OUTPUT:
            return _OF_OUTPUT[self.kind].format(output_words(self.target))
        if self.target in YES_NO:
            return _OF_YES_NO[self.kind].format(YES_NO[self.target].words)
        said = _OF_NUMBER[self.kind].format(MEASURED[self.target].words)
        return said if MEASURED[self.target].words.endswith("s") or "amps" in said else _singular(said)

    @property
    def is_unseen(self):
        """Whether no rule can tell it from a sound reading: what is frozen looks well."""
        return self.kind == INPUT_FROZEN

    def events(self, from_s=0.0):
        """It as events of simulated days, from a second on."""
        return () if self.kind == NOTHING else (Event(kind=self.kind, target=self.target, from_s=from_s),)


def output_words(name):
    """An output behind an article."""
    return "relay of the inverter" if name == "inverter_enable" else OUTPUTS[name].words


def _singular(said):
    return said.replace(" read too", " reads too").replace(" are frozen", " is frozen")


def outputs_at_work(plan):
    """Names of the outputs that move amps in a plan."""
    there = {dump.output for dump in plan.dumps}
    if plan.inverter:
        there |= {"inverter_enable"} | ({"water_heater"} if plan.cylinder else set())
        there |= {"air_heater"} if plan.room else set()
    there |= {"source_stop"} if plan.stops_source else set()
    return tuple(name for name in OUTPUTS if name in there)


def faults_of(plan):
    """All single faults of a plan, in the order in which they are told; an input that no rule reads cannot fail."""
    found = [ControlFault(kind=NOTHING)]
    for name in plan.rules.inputs_used:
        kinds = _OF_YES_NO if name in YES_NO else _OF_NUMBER
        found += [ControlFault(kind=kind, target=name) for kind in kinds]
    for name in outputs_at_work(plan):
        found += [ControlFault(kind=kind, target=name) for kind in _OF_OUTPUT]
    found.append(ControlFault(kind=NO_CONTROL_POWER))
    return tuple(found + [ControlFault(kind=GUARD_DEAD)] * (plan.guard is not None))
