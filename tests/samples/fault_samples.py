"""Windings with known coils, put on the judge's bench, and a person who measures what the fault finder asks for."""

from math import nan, pi

from judges.fault_circuit import Bench
from statorbook.rewiring.circuit import coil_values
from statorbook.rewiring.faults.finder import Measured, find_faults, first_readings
from statorbook.rewiring.faults.table import places_to_measure
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import CoilEnd, found_wiring

RPM = 60.0
# 3 V and 1 Ω for each coil at 60 rpm.
COIL = CoilConstants(emf_v_per_rpm=0.05, ohm=1.0, henry=0.006)
LARGE = [(12, 1, "star"), (4, 3, "star"), (3, 4, "delta")]
SMALL = [(4, 1, "star"), (4, 1, "delta"), (2, 2, "star"), (2, 2, "delta")]
FLOORS = {"floor_ohm": 0.002, "floor_volts_rms": 0.005}


def winding(slots, poles, series, parallel, connection):
    """The usual wiring of a grouping."""
    stator = Stator(slots=slots, poles=poles)
    return found_wiring(stator, Grouping(series=series, parallel=parallel, connection=connection))


def coils_at(wired):
    """Coils for a speed, as the fault finder wants them."""
    return lambda speed_rpm: coil_values(wired.stator, COIL, speed_rpm)


def bench(wired, *faults, **how):
    """The judge's circuit; 6 mH at 60 rpm is 2π × pole pairs × 6 mH of reactance."""
    return Bench(wired, (3.0, 1.0, 2.0 * pi * wired.stator.pole_pairs * 0.006), faults, **how)


def label(place):
    """A place as the judge names it."""
    return place.label if isinstance(place, CoilEnd) else place


class Person:
    """Measures on a bench: each reading 1 % off by chance, the hand speed 3 % off for all volts alike."""

    def __init__(self, wired, bench, rng=None):
        self.wired, self.bench, self.rng = wired, bench, rng
        self.places = places_to_measure(wired)
        self.speed = 1.0 if rng is None else 1.0 + 0.03 * rng.standard_normal()
        self.taken, self.asked = [], []

    def take(self, name, kind):
        ohms, volts = self.bench.read(*map(label, self.places[name].places))
        value = ohms if kind == "ohms" else volts * self.speed
        value = abs(value if self.rng is None else value * (1.0 + 0.01 * self.rng.standard_normal()))
        self.taken.append(Measured(name=name, kind=kind, value=value, speed_rpm=RPM if kind == "volts" else nan))

    def ask(self, **how):
        return find_faults(self.wired, coils_at(self.wired), self.taken, **(FLOORS | how))

    def first(self, readings=None):
        for name, kind in first_readings(self.wired) if readings is None else readings:
            self.take(name, kind)
        return self.ask()

    def follow(self, found, most):
        """Measure where the finder sends, at most so many times; every finding on the way."""
        findings = [found]
        while findings[-1].next_probe and len(self.asked) < most:
            self.asked.append(findings[-1].next_probe)
            for kind in findings[-1].next_kinds:
                self.take(findings[-1].next_probe, kind)
            findings.append(self.ask())
        return findings
