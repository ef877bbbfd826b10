"""What is said of each kind of drive: its full source, what ends and comes back, what turns, and how it is stopped."""

from dataclasses import dataclass

from statorbook.drives import Engine, Pedals, PipedJet, WaterJet, WindRotor


@dataclass(frozen=True, kw_only=True)
class DriveWords:
    """Words about a drive; those of any other where nothing is given."""

    full: str = "power"  # what its source has at its full
    ends: str = "source stops and comes back"  # what happens to it, after "the"
    turns: str = "rotor"  # the part that turns
    shut: str = "source shut off and the rotor tied"  # what is done before hands go in
    stop: str = "whatever shuts off its source"  # what really stops it, and what must not be done in a hurry


_JET = DriveWords(
    full="flow",
    ends="nozzle is blocked",
    turns="runner",
    shut="valve shut and the rotor tied",
    stop="a deflector that throws the jet off the runner at once, and then the valve, shut slowly",
)
_WORDS = {
    WaterJet: _JET,
    PipedJet: _JET,
    WindRotor: DriveWords(
        full="wind",
        ends="wind drops and comes back",
        shut="furled and the rotor tied",
        stop="furling out of the wind, or a brake that grips the shaft",
    ),
    Pedals: DriveWords(
        ends="rider stops",
        turns="flywheel",
        shut="nobody on the pedals and the wheel tied",
        stop="the rider, who stops pedalling",
    ),
    Engine: DriveWords(
        ends="engine stalls",
        shut="engine off and cold, ignition out",
        stop="the engine's stop switch, and its fuel shut",
    ),
}


def words_of(drive):
    """What is said of a drive, a `DriveWords`."""
    return _WORDS.get(type(drive), DriveWords())
