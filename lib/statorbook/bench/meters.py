"""The reader's meters: accuracy, kind and band, typed or assumed, and what they do to the ± of a reading."""

from dataclasses import dataclass
from math import sqrt

from statorbook.errors import BadInput
from statorbook.quantities import CHEAP_METER_HZ, Fact, require_number

_SHARE, _TRADE = "of the value, 95 %", "common practice, no source"
METER_CLASS = {
    "volts": Fact(value=0.01, unit=_SHARE, source=f"low-cost multimeter, {_TRADE}", low=0.003, high=0.03),
    "amps": Fact(value=0.02, unit=_SHARE, source=f"low-cost clamp meter, {_TRADE}", low=0.01, high=0.05),
    "ohms": Fact(value=0.01, unit=_SHARE, source=f"low-cost multimeter, {_TRADE}", low=0.003, high=0.03),
}
# The ohms of the probes alone are taken off each reading, and with them what the range does not show at zero.
METER_DIGITS = {
    "volts": Fact(value=1.0, unit="last digits, 95 %", source=f"low-cost multimeter, {_TRADE}", low=0.5, high=10),
    "amps": Fact(value=1.0, unit="last digits, 95 %", source=f"low-cost clamp meter, {_TRADE}", low=0.5, high=10),
    "ohms": Fact(value=0.5, unit="last digits, 95 %", source=f"rounding alone, {_TRADE}", low=0.5, high=5),
}
READING_SHARE = Fact(
    value=0.01,
    unit="of the reading, one sigma",
    low=0.003,
    high=0.03,
    source=f"low-cost multimeter and hand-held rpm meter, {_TRADE}",
)
HZ_SHARE = Fact(value=0.005, unit="of the reading, 95 %", source=f"low-cost multimeter, {_TRADE}", low=0.001, high=0.01)
TRUE_RMS_HZ = Fact(
    value=1000.0, unit="Hz", source=f"usual AC band of true-rms multimeters, {_TRADE}", low=400, high=20_000
)
# A harmonic of order h and share a moves the mean of the rectified wave by a / h at most (Fourier series).
WAVE_SHARE = {
    "AC line rms": Fact(
        value=0.01, unit=_SHARE, source=f"averaging meter, 5th harmonic of 5 %, {_TRADE}", low=0.0, high=0.03
    ),
    "AC phase rms": Fact(
        value=0.05, unit=_SHARE, source=f"averaging meter, 3rd harmonic of 15 %, {_TRADE}", low=0.0, high=0.1
    ),
}
NAME_PLATE_SHARE = Fact(
    value=0.15, unit=_SHARE, source=f"drill's no-load speed, trigger full, {_TRADE}", low=0.05, high=0.3
)
LAMP_SHARE = Fact(
    value=0.20, unit=_SHARE, source=f"glow of filament lamps against their usual glow, {_TRADE}", low=0.1, high=0.4
)
MOST_VOLTS = Fact(
    value=600.0, unit="V", source=f"low-cost multimeter and probes, CAT III 600 V, {_TRADE}", low=250, high=1000
)
METER_KINDS = ("averaging", "true rms", "unknown")


@dataclass(frozen=True, kw_only=True)
class Meter:
    """One meter on one quantity; what its reader did not type is assumed.

    Parameters
    ----------
    quantity : str
        "volts", "amps" or "ohms".
    percent : float or None
        Accuracy, of the reading; assumed when None [%].
    digits : float or None
        Accuracy, counts of the last digit on top of that; assumed when None [-].
    kind : str
        "averaging", "true rms" or "unknown".
    band_hz : float or None
        Highest frequency that the accuracy holds for; assumed when None [Hz].
    limit_volts : float or None
        Highest volts that meter and probes are made for; assumed when None [V].

    Raises
    ------
    BadInput
        When a word or a number is not allowed.
    """

    quantity: str
    percent: float | None = None
    digits: float | None = None
    kind: str = "unknown"
    band_hz: float | None = None
    limit_volts: float | None = None

    def __post_init__(self):
        for word, allowed in ((self.quantity, tuple(METER_CLASS)), (self.kind, METER_KINDS)):
            if word not in allowed:
                raise BadInput(
                    f"{word!r} was given", f"allowed are {', '.join(allowed)}", "choose one of them", where="meter"
                )
        if self.percent is not None:
            require_number(self.percent, "accuracy", "%", above=0, at_most=20)
        if self.digits is not None:
            require_number(self.digits, "digits", "", at_least=0, at_most=100)
        if self.band_hz is not None:
            require_number(self.band_hz, "band", "Hz", at_least=40, at_most=1e6)
        if self.limit_volts is not None:
            require_number(self.limit_volts, "highest volts", "V", at_least=10, at_most=2_000)

    @property
    def class_share(self):
        """What the meter may be off in every reading alike, 95 %, over the reading [-]."""
        return METER_CLASS[self.quantity].value if self.percent is None else self.percent / 100.0

    @property
    def counts(self):
        """Counts of the last digit that a reading may be off besides, 95 % [-]."""
        return METER_DIGITS[self.quantity].value if self.digits is None else self.digits

    @property
    def most_volts(self):
        """Highest volts that meter and probes are taken to stand, AC rms or DC [V]."""
        return MOST_VOLTS.value if self.limit_volts is None else self.limit_volts

    @property
    def most_volts_words(self):
        """The same with its unit, marked when it is assumed."""
        return f"{self.most_volts:g} V" + (" (assumed)" if self.limit_volts is None else "")

    def digits_sigma(self, step):
        """Likely error of a reading from the meter's digits.

        Parameters
        ----------
        step : float
            One count of the last digit typed, in the unit of the reading [unit].

        Returns
        -------
        float
            One sigma, same unit [unit].

        Notes
        -----
        Equation: digits × step / 2, never less than the rounding, step / √12.
        Valid: a reading typed with every digit that the range shows; with fewer, the ± is wider.
        Source: JCGM 100:2008 (GUM), 4.3.7 and coverage factor 2 (from memory).
        Derivation: `fits.ohm_share`.
        """
        return step * max(self.counts / 2.0, 1.0 / sqrt(12.0))

    def kind_in(self, typed):
        """The kind of meter that a row was read with.

        Parameters
        ----------
        typed : str
            What the row says; "unknown" leaves it to the description of the meter.

        Returns
        -------
        str
            "averaging", "true rms" or "unknown".
        """
        return self.kind if typed == "unknown" else typed

    def band_of(self, kind):
        """Highest frequency that the accuracy is taken to hold for.

        Parameters
        ----------
        kind : str
            From `kind_in`.

        Returns
        -------
        float
            As typed, or assumed by the kind [Hz].
        """
        return self.band_hz or (TRUE_RMS_HZ if kind == "true rms" else CHEAP_METER_HZ).value

    def band_share(self, hz, kind):
        """What a reading above the band may be off besides the meter's class.

        Parameters
        ----------
        hz : float
            Frequency of the reading [Hz].
        kind : str
            From `kind_in`.

        Returns
        -------
        float
            95 %, over the reading; 0 within the band [-].

        Notes
        -----
        Equation: loss(f) − class, loss(f) = 1 − 1 / √(1 + k (f / band)²), k such that loss(band) = class.
        Valid: a meter whose sensitivity falls off as a first-order low-pass that uses up its class at the band's end.
        Source: first-order low-pass, Bird, Electrical Circuit Theory and Technology (from memory); that meters fall off
            so is common practice, no source.
        """
        band_hz = self.band_of(kind)
        if hz <= band_hz:
            return 0.0
        bend = 1.0 / (1.0 - self.class_share) ** 2 - 1.0
        return 1.0 - 1.0 / sqrt(1.0 + bend * (hz / band_hz) ** 2) - self.class_share


@dataclass(frozen=True, kw_only=True)
class Meters:
    """What the bench logs were read with.

    Parameters
    ----------
    volts : Meter
        For volts.
    amps : Meter
        For amps.
    ohms : Meter
        For ohms.
    star_point : str
        "reachable", "not reachable", or empty when not said.
    """

    volts: Meter = Meter(quantity="volts")
    amps: Meter = Meter(quantity="amps")
    ohms: Meter = Meter(quantity="ohms")
    star_point: str = ""
