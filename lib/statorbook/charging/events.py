"""What goes wrong or comes along on a simulated day."""

from dataclasses import dataclass
from math import inf

INPUT_HIGH, INPUT_LOW, INPUT_ABSENT, INPUT_FROZEN = (
    "input stuck high",
    "input stuck low",
    "input absent",
    "input frozen",
)
WELDED, DEAD = "output welded", "output dead"
TRIP, FUSE, NO_SOURCE, COLD, NO_CONTROL_POWER, GUARD_DEAD = (
    "inverter trips",
    "bank fuse opens",
    "no source",
    "cold spell",
    "control power fails",
    "volts relay dead",
)
KINDS = (
    *(INPUT_HIGH, INPUT_LOW, INPUT_ABSENT, INPUT_FROZEN, WELDED, DEAD),
    *(TRIP, FUSE, NO_SOURCE, COLD, NO_CONTROL_POWER, GUARD_DEAD),
)  # the place of a kind is its code in the simulation
NEED_INPUT, NEED_OUTPUT = KINDS[:4], (WELDED, DEAD)  # kinds that name an input, an output


@dataclass(frozen=True, kw_only=True)
class Event:
    """Something that is so from one second of the simulation to another.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    target : str
        An input's name for the first four kinds, an output's for welded and dead; else empty.
    from_s : float
        Since the first midnight [s].
    until_s : float
        Likewise [s].
    amount : float
        How much, in the unit of its kind: kelvin colder of a cold spell; else 0.
    """

    kind: str
    target: str = ""
    from_s: float = 0.0
    until_s: float = inf
    amount: float = 0.0
