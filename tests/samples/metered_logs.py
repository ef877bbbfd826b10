"""Logs of made-up machines read with meters of any class, digits, kind and band, some rows by weaker evidence."""

from math import sqrt

from samples.made_up_logs import ohms_row, shorted_row, shown, spin_row
from statorbook.job.parts.meters import MetersPart

PLATE, LAMPS = 0.15, 0.20  # 95 % shares: common practice, no source
WAVE = 0.01  # 5 % of fifth harmonic moves a rectified mean by 5 % / 5, Fourier series


def random_meters(rng):
    """A MetersPart from a poor to a good meter, every field typed."""
    fields = {}
    for name in ("volts", "amps"):
        fields |= {
            f"{name}_percent": float(rng.uniform(0.3, 3.0)),
            f"{name}_digits": float(rng.integers(1, 6)),
            f"{name}_kind": str(rng.choice(("averaging", "true rms"))),
            f"{name}_band_hz": float(rng.choice((100, 200, 400, 1000))),
        }
    return MetersPart(**fields, ohms_percent=float(rng.uniform(0.3, 3.0)), ohms_digits=float(rng.integers(1, 4)))


def beyond_the_band(hz, band_hz, class_share):
    """First-order fall written out: the gain is 1 − class at the band's end, and what is lost beyond counts extra."""
    if hz <= band_hz:
        return 0.0
    corner_hz = band_hz / sqrt((1.0 - class_share) ** -2 - 1.0)
    return 1.0 - (1.0 + (hz / corner_hz) ** 2) ** -0.5 - class_share


class Reads:
    """One meter with a gain of its own; each shared error drawn once for the whole log."""

    def __init__(self, rng, part, name, *, wave=0.0, digits=1.0):
        self.rng, self.name = rng, name
        self.share, self.digits = getattr(part, f"{name}_percent") / 100.0, digits * getattr(part, f"{name}_digits")
        self.band_hz = getattr(part, f"{name}_band_hz", None)
        averaging = getattr(part, f"{name}_kind", "") == "averaging"
        self.gain, self.wave, self.fall = (rng.normal() / 1.96 for _ in range(3))
        self.wave *= wave * averaging

    def __call__(self, true, hz=0.0, noise=0.008):
        fall = beyond_the_band(hz, self.band_hz, self.share) if self.band_hz else 0.0
        value = true * (1.0 + self.gain * self.share + self.wave + self.fall * fall + noise * self.rng.normal())
        text = shown(value)
        step = 10.0 ** -len(text.partition(".")[2])
        return max(value + self.digits * step / 2.0 * self.rng.normal(), step)


def meters_read(rng, part):
    """Volts, amps and ohms, each with its gain; digits of the ohms are the same in all rows, so the log adds them."""
    return Reads(rng, part, "volts", wave=WAVE), Reads(rng, part, "amps"), Reads(rng, part, "ohms", digits=0.0)


def metered_logs(machine, rng, part, *, weak, meters=None):
    """The three logs; `weak` is the share of spin rows by name plate or lamps."""
    volts, amps, ohms = meters or meters_read(rng, part)
    plate, lamps = PLATE / 1.96 * rng.normal(), LAMPS / 1.96 * rng.normal()
    same, hz_per_rpm = {"connection": machine.connection, "meter": "unknown"}, machine.stator.poles / 120
    spin = []
    for i, rpm in enumerate((80, 120, 180, 240, 300, 360, 420, 470)):
        pair, true = ("AB", "BC", "CA")[i % 3], machine.line_volts(rpm)
        by = rng.choice(("plate", "lamps")) if rng.random() < weak else ""
        if by == "lamps":
            seen = true * (1.0 + lamps + 0.008 * rng.normal())
            spin.append(spin_row(rpm, seen, pair, **same, volts_by="lamps"))
        else:
            typed = rpm * (1.0 + plate) if by else rpm
            row = spin_row(typed, volts(true, rpm * hz_per_rpm), pair, **same)
            spin.append(row | ({"speed_by": "name plate"} if by else {}))
    slow = [max(1, round(r * machine.corner_rpm)) for r in (0.8, 1.2, 1.8, 2.5, 3.2, 4.0)]
    shorted = [
        shorted_row(r, amps(machine.shorted_amps(r), r * hz_per_rpm, 0.01), "ABC"[i % 3], **same)
        for i, r in enumerate(slow)
    ]
    # Of the ohms the digits stay what they are from row to row, in the reading and in that of the probes alone.
    step = 10.0 ** -len(shown(2 * machine.warm_ohm + 0.2).partition(".")[2])
    digits = [part.ohms_digits * each / 2.0 * rng.normal() for each in (step, 0.01)]
    cold = f"{machine.copper_c:g}"
    ohm_rows = [
        ohms_row(ohms(2 * machine.warm_ohm) + 0.2 + sum(digits), pair, copper_c=cold) for pair in ("AB", "BC", "CA") * 3
    ]
    return {"spin": spin, "shorted": shorted, "ohms": ohm_rows}
