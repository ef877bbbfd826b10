"""One check with the meter, and the band in which a healthy machine reads."""

from dataclasses import dataclass
from itertools import count
from math import ceil, floor, hypot, inf, isinf, sqrt

from statorbook.bench import HZ_SHARE, METER_CLASS, READING_SHARE
from statorbook.cautions import Exposure, Instruction, require_instruction
from statorbook.errors import BadInput
from statorbook.quantities import ELV_AC_VOLTS, LV_AC_VOLTS, NORMAL_95, Fact

KINDS = ("ohms", "volts", "megohm", "look")
DRY_IT = Instruction(
    "dry the stator for a day at {60 to 80 °C}, never hotter, with the rotor out", (Exposure.HEAT, Exposure.STANDING)
)
HAND_SPEED_SHARE = Fact(
    value=0.05,
    unit="of the speed, 95 %",
    source="turns against a watch, common practice, no source",
    low=0.02,
    high=0.1,
)
LAST_DIGIT_OHM = Fact(
    value=0.1, unit="Ω", source="lowest range of a plain multimeter, common practice, no source", low=0.01, high=0.1
)
# A last digit of 0.1 Ω on the reading and on the probes is ±8 % of this.
LOW_OHM = Fact(
    value=1.0, unit="Ω", source="where a plain multimeter is too coarse, common practice, no source", low=0.3, high=3.0
)
OPEN_OHM = Fact(
    value=100_000.0,
    unit="Ω",
    source="above any winding, below wet fingers on the probes; common practice, no source",
    low=20_000,
    high=1_000_000,
)
# Highest working volts (AC rms), volts of the insulation tester (DC), least insulation: IEC 60364-6, table of 6.4.3.3.
INSULATION = (
    (
        ELV_AC_VOLTS,
        250.0,
        Fact(value=0.5, unit="MΩ", source="IEC 60364-6, SELV and PELV (from memory)", low=0.5, high=0.5),
    ),
    (
        Fact(value=500.0, unit="V AC rms", source="IEC 60364-6 (from memory)", low=500, high=500),
        500.0,
        Fact(value=1.0, unit="MΩ", source="IEC 60364-6, up to 500 V (from memory)", low=1.0, high=1.0),
    ),
    (
        LV_AC_VOLTS,
        1000.0,
        Fact(value=1.0, unit="MΩ", source="IEC 60364-6, above 500 V (from memory)", low=1.0, high=1.0),
    ),
)


@dataclass(frozen=True, kw_only=True)
class MeterCheck:
    """One thing to look at or to measure, and what a healthy machine shows."""

    name: str  # as `probes.probe_named` takes it: "A1", "A-B", "A-star", "1F-4S", "A-iron"; empty for a look
    kind: str  # one of KINDS; volts are AC rms
    step: int  # of the plan, after which it is taken; 0 before the first one
    words: Instruction  # the same for all checks that are taken alike
    group: str = ""  # the checks that it is read with, such as "Paths, ohms"
    expected: float | None = None  # in its unit, as low and high; infinite where nothing may lead across
    low: float | None = None
    high: float | None = None
    unit: str = ""

    def __post_init__(self):
        require_instruction(self.words, "check")
        if self.kind not in KINDS:
            raise BadInput(
                f"{self.kind!r} was given", f"allowed are {', '.join(KINDS)}", "choose one of them", where="check"
            )

    @property
    def key(self):
        """What tells it from every other check of a plan."""
        return self.name, self.kind, self.step

    @property
    def expects(self):
        """What the meter should say, such as "3.9 to 4.1 Ω", rounded outward to what it can show."""
        if self.kind == "look":
            return "no reading"
        if self.expected is not None and isinf(self.expected):
            return "OL (open)"
        if self.high is None:
            return f"at least {self.low:g} {self.unit}"
        low, high = self.shown_band()
        return f"at most {high} {self.unit}" if self.low is None else f"{low} to {high} {self.unit}"

    def shown_band(self, scale=1.0):
        """Low (empty for none) and high as the meter would show them, rounded outward, at so many times the speed."""
        coarse = self.expected >= LOW_OHM.value if self.kind == "ohms" else self.high * scale >= 10.0
        places = 1 if coarse else 3 if self.kind == "ohms" else 2
        digit = 10.0**-places
        low = "" if self.low is None else f"{max(0.0, floor(self.low * scale / digit) * digit):.{places}f}"
        return low, f"{ceil(self.high * scale / digit) * digit:.{places}f}"

    def lies_in_band(self, value, step=0.0, scale=1.0):
        """Whether a reading is that of a healthy machine; a number typed stands for all that round to it."""
        low = -inf if self.low is None else self.low * scale
        high = inf if self.high is None else self.high * scale
        return value + 0.5 * step >= low and value - 0.5 * step <= high


def ohm_band(ohm, coil_ohm):
    """Low and high of a reading of so many ohms, 95 %, before its last digit [Ω]."""
    # Equation: half-width = √((share of coil ± ² + meter class ² + reading ²) R² + zero²); zero = 1.96 × 0.1 Ω / √12,
    #     the last digit of what the probes touching read.
    # Valid: probes' reading taken off; below 1 Ω a known current and millivolts, whose two meters then count instead.
    # Source: JCGM 100 (from memory).
    low_ohm = ohm < LOW_OHM.value
    meter = hypot(METER_CLASS["amps"].value, METER_CLASS["volts"].value) if low_ohm else METER_CLASS["ohms"].value
    share = hypot(coil_ohm.plus_minus / coil_ohm.value, meter, NORMAL_95 * READING_SHARE.value)
    half = hypot(share * ohm, 0.0 if low_ohm else NORMAL_95 * LAST_DIGIT_OHM.value / sqrt(12.0))
    return max(0.0, ohm - half), ohm + half


def volt_band(volts, coil_emf, *, speed_from_hz=False):
    """Low and high of a reading of so many AC volts at a speed, rms, line or phase as measured, 95 % [V]."""
    # Equation: half-width = U √(share of coil ± ² + meter class ² + reading ² + speed ²).
    # Valid: errors independent; no load but the meter.
    # Source: JCGM 100 (from memory).
    speed = HZ_SHARE.value if speed_from_hz else HAND_SPEED_SHARE.value
    parts = (METER_CLASS["volts"].value, NORMAL_95 * READING_SHARE.value, speed)
    half = volts * hypot(coil_emf.plus_minus / coil_emf.value, *parts)
    return max(0.0, volts - half), volts + half


def insulation_row(highest_volts_rms=None):
    """DC volts of the insulation tester and least insulation [V, MΩ]; up to 500 V AC when the volts are not known."""
    volts = INSULATION[1][0].value if highest_volts_rms is None else highest_volts_rms
    row = next((row for row in INSULATION if volts <= row[0].value), INSULATION[-1])
    return row[1], row[2].value


def numbered(checks):
    """Number the checks that ask for a reading, the same on the page and on the sheets; a look has no number.

    Parameters
    ----------
    checks : sequence of MeterCheck
        Of one plan.

    Returns
    -------
    tuple of tuple
        Number and check in the order of the work; None instead of the number of a look.
    """
    number = count(1)
    in_order = sorted(checks, key=lambda check: check.step)
    return tuple((None if check.kind == "look" else next(number), check) for check in in_order)


def numbers_in_words(numbers):
    """Some numbers of checks that follow each other.

    Parameters
    ----------
    numbers : sequence of int
        From `numbered`; None for a look [-].

    Returns
    -------
    str
        Such as "4" or "4 to 15"; empty for looks alone.
    """
    given = [number for number in numbers if number]
    return " to ".join(dict.fromkeys((f"{given[0]}", f"{given[-1]}"))) if given else ""
