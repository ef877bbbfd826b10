"""Whether a converter survives what a winding makes when nothing loads it."""

from dataclasses import dataclass

from statorbook.operation.hazards import open_circuit_volts
from statorbook.quantities import Fact

SPARE = Fact(
    value=0.10,
    unit="of what the converter survives",
    source="gusts, colder magnets, a meter that reads low; common practice, no source",
    low=0.05,
    high=0.25,
)
SAFE, GUARDED, DESTROYED = "survives", "survives while the guard works", "destroyed"
LETS_GO = (
    "A converter lets go of the rotor whenever the bank is full, or when it is hot, off or broken: these volts come in "
    "everyday work, not only after a fault."
)


@dataclass(frozen=True, kw_only=True)
class Survival:
    """What becomes of a converter when the rotor runs away with cold magnets.

    Parameters
    ----------
    dc_volts_peak : float
        At its input, the drive's guard acting [V].
    unguarded_dc_volts_peak : float
        The same with that guard failed, or without one [V].
    survives_dc_volts : float
        What the converter survives [V].
    guard_words : str
        The drive's guard as a noun phrase; empty without one.
    """

    dc_volts_peak: float
    unguarded_dc_volts_peak: float
    survives_dc_volts: float
    guard_words: str

    @property
    def most_dc_volts(self):
        """Volts up to which it counts as safe: what it survives less what is kept to spare [V]."""
        return (1.0 - SPARE.value) * self.survives_dc_volts

    @property
    def outcome(self):
        """`SAFE`, `GUARDED` or `DESTROYED`; too near to what it survives counts as destroyed."""
        if self.unguarded_dc_volts_peak <= self.most_dc_volts:
            return SAFE
        return GUARDED if self.dc_volts_peak <= self.most_dc_volts else DESTROYED

    @property
    def sentence(self):
        """What happens, and which guard it needs."""
        volts, bare = (f"{volts:.0f} V DC peak" for volts in (self.dc_volts_peak, self.unguarded_dc_volts_peak))
        if self.outcome == SAFE:
            return f"Running away it makes at most {bare}, below the {self.survives_dc_volts:g} V that it survives."
        load = "an over-voltage load at the rectifier that acts by itself within milliseconds"
        if self.outcome == GUARDED:
            ends = f"{bare} when that fails, {self._beyond(self.unguarded_dc_volts_peak)}"
            return f"Running away it makes {volts} while {self.guard_words} works, and {ends}: it needs {load} as well."
        only = f"only {load} could save it, so choose another grouping or another converter"
        return f"Running away it makes {volts}, {self._beyond(self.dc_volts_peak)}: {only}."

    def _beyond(self, dc_volts):
        if dc_volts > self.survives_dc_volts:
            return f"which destroys the converter, as it survives {self.survives_dc_volts:g} V"
        return f"too near to the {self.survives_dc_volts:g} V that the converter survives"


def survival(winding, drive, converter, cold_c):
    """Whether a converter survives a winding that runs away.

    Parameters
    ----------
    winding : Winding
        The winding.
    drive : Drive
        What turns it, at the setting that is worst or that it was described for.
    converter : Converter
        The converter.
    cold_c : float
        Lowest temperature of the magnets [°C].

    Returns
    -------
    Survival
        The volts and what they do.

    Notes
    -----
    Equation: √2 × line volts rms at the runaway speeds, magnets cold.
    Valid: volts without spikes; a contact that opens under current adds some of its own.
    Source: as `open_circuit_volts`.
    """
    speeds = drive.runaway_speed_rpm, drive.unguarded_runaway_speed_rpm
    gone, bare = (float(open_circuit_volts(winding, speed, cold_c)[1]) for speed in speeds)
    return Survival(
        dc_volts_peak=gone,
        unguarded_dc_volts_peak=max(gone, bare),
        survives_dc_volts=converter.survives_dc_volts,
        guard_words=drive.guard_words,
    )
