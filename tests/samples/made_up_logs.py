"""Logs of made-up machines: physics written out once more, so that the library is not its own judge."""

from math import floor, log10, pi, sqrt

from statorbook.winding.stator import Stator

STATOR = Stator(slots=36, poles=48)
COUNTS = ((36, 48), (36, 42), (42, 56), (27, 30), (12, 14), (24, 28))


class Machine:
    """A machine by its three leads: star-equivalent phase EMF rms per rpm, ohms and henries at 20 °C."""

    def __init__(self, stator, emf_v_per_rpm, ohm, henry, *, copper_c=20.0, connection="star"):
        self.stator, self.emf, self.ohm, self.henry = stator, emf_v_per_rpm, ohm, henry
        self.copper_c, self.connection = copper_c, connection

    @property
    def warm_emf(self):
        return self.emf * (1 - 0.002 * (self.copper_c - 20))

    @property
    def warm_ohm(self):
        return self.ohm * (235 + self.copper_c) / 255

    def line_volts(self, rpm):
        return sqrt(3) * self.warm_emf * rpm

    def shorted_amps(self, rpm):
        reactance = 2 * pi * self.stator.poles / 2 * rpm / 60 * self.henry
        return self.warm_emf * rpm / sqrt(self.warm_ohm**2 + reactance**2)

    @property
    def corner_rpm(self):
        """Where reactance equals resistance."""
        return self.warm_ohm / self.henry / (2 * pi * self.stator.poles / 2 / 60)


MACHINE = Machine(STATOR, 0.23, 6.7, 0.037)


def random_machine(rng):
    """A plausible salvaged machine as found: up to two paths, star or delta."""
    slots, poles = COUNTS[rng.integers(len(COUNTS))]
    stator = Stator(slots=slots, poles=poles)
    paths, delta = 1 + rng.integers(2), rng.integers(2)
    coils = stator.coils_per_phase
    ohm = rng.uniform(0.3, 1.5) * coils / paths**2 / (3 if delta else 1)
    emf = rng.uniform(0.01, 0.03) * coils / paths / (sqrt(3) if delta else 1)
    return Machine(
        stator,
        emf,
        ohm,
        ohm * rng.uniform(0.003, 0.009),
        copper_c=float(rng.integers(5, 31)),
        connection="delta" if delta else "star",
    )


def shown(value, counts=4, most=3):
    """Rounded as a display of so many digits shows it."""
    return f"{value:.{min(most, max(0, counts - 1 - floor(log10(abs(value)))))}f}"


def spin_row(rpm, volts, pair="AB", **changes):
    return {
        "speed_rpm": f"{rpm:.0f}",
        "electrical_hz": "",
        "volts": shown(volts),
        "terminals": pair,
        "connection": "star",
        "quantity": "AC line rms",
        "meter": "true rms",
        "speed_by": "",
        "volts_by": "",
        "taken_on": "",
        "note": "",
    } | changes


def shorted_row(rpm, amps, lead="A", **changes):
    return {
        "speed_rpm": f"{rpm:.0f}",
        "electrical_hz": "",
        "amps": shown(amps),
        "lead": lead,
        "connection": "star",
        "meter": "true rms",
        "taken_on": "",
        "note": "",
    } | changes


def ohms_row(ohms, pair="AB", **changes):
    return {
        "terminals": pair,
        "ohms": shown(ohms),
        "lead_zero_ohm": "0.20",
        "copper_c": "20",
        "taken_on": "",
        "note": "",
    } | changes


def clean_logs(machine, rpms=(80, 120, 180, 240, 300, 360, 420, 470), *, rng=None):
    """The three logs; with a random generator noisy as low-cost meters make them, each with a gain error of its own.

    One sigma: 0.8 % (volts, ohms) and 1 % (amps) from row to row; 0.5 % and 1 % for the whole meter, which is its class
    of 1 % and 2 % at 95 %. Common practice, no source.
    """
    gains, noise = (1, 1, 1), (lambda share: 1)
    if rng is not None:
        gains, noise = 1 + rng.normal(0, [0.005, 0.01, 0.005]), (lambda share: 1 + share * rng.normal())
    speeds = [round(r) for r in rpms]
    slow = [max(1, round(r * machine.corner_rpm)) for r in (0.8, 1.2, 1.8, 2.5, 3.2, 4.0)]
    same = {"connection": machine.connection}
    return {
        "spin": [
            spin_row(r, machine.line_volts(r) * gains[0] * noise(0.008), ("AB", "BC", "CA")[i % 3], **same)
            for i, r in enumerate(speeds)
        ],
        "shorted": [
            shorted_row(r, machine.shorted_amps(r) * gains[1] * noise(0.01), "ABC"[i % 3], **same)
            for i, r in enumerate(slow)
        ],
        "ohms": [
            ohms_row(2 * machine.warm_ohm * gains[2] * noise(0.008) + 0.2, pair, copper_c=f"{machine.copper_c:g}")
            for pair in ("AB", "BC", "CA") * 3
        ],
    }


def said(fit, words):
    """The sentences of a fit that hold some words."""
    return [sentence for sentence in fit.sentences if words in sentence]
