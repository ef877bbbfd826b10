"""How well one reading is known: its own error, what it shares with others, and what is to be said about it."""

from dataclasses import dataclass, field, replace
from math import hypot, sqrt

from statorbook.bench.columns import HEADINGS
from statorbook.bench.meters import LAMP_SHARE, NAME_PLATE_SHARE, WAVE_SHARE
from statorbook.errors import BadInput
from statorbook.quantities import METER_DIODE_DROP_V, NORMAL_95

# One sigma of two diode drops anywhere within their plausible range.
_TWO_DROPS_SIGMA_V = 2.0 * (METER_DIODE_DROP_V.high - METER_DIODE_DROP_V.low) / sqrt(12.0)


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """How far a reading may be off, and why.

    Parameters
    ----------
    own_share : float
        Likely error of the row by itself, one sigma over the reading [-].
    shared : dict of str to float
        By its cause, an error that all rows of that cause share, 95 % over the reading [-].
    warnings : tuple of str
        Sentences for the row.
    """

    own_share: float = 0.0
    shared: dict = field(default_factory=dict)
    warnings: tuple = ()

    def and_(self, other):
        """Join what speed and reading say.

        Parameters
        ----------
        other : Evidence
            Of another cause.

        Returns
        -------
        Evidence
            Both together.
        """
        return Evidence(
            own_share=hypot(self.own_share, other.own_share),
            shared=self.shared | other.shared,
            warnings=(*self.warnings, *other.warnings),
        )

    def by(self, share):
        """Add one more error of the row's own.

        Parameters
        ----------
        share : float
            One sigma over the reading [-].

        Returns
        -------
        Evidence
            With it.
        """
        return replace(self, own_share=hypot(self.own_share, share))

    @property
    def sigma_share(self):
        """One sigma over the reading, all but the meter's class, which weighs no row more than another [-]."""
        others = (share / NORMAL_95 for cause, share in self.shared.items() if cause != "class")
        return hypot(self.own_share, *others)


def above_band(hz, kind, meter, where):
    """What a reading of alternating volts or amps above the meter's band may be off.

    Parameters
    ----------
    hz : float
        Its frequency [Hz].
    kind : str
        "averaging", "true rms" or "unknown".
    meter : Meter
        What it was read with.
    where : str
        Log and row, for the sentence.

    Returns
    -------
    Evidence
        Empty within the band.
    """
    share = meter.band_share(hz, kind)
    if not share:
        return Evidence()
    named = {"averaging": "an averaging meter", "true rms": "a true-rms meter"}.get(kind, "a meter of unknown kind")
    band = f"{meter.band_of(kind):g} Hz" + ("" if meter.band_hz else " assumed")
    said = (
        f"{where}: read at {hz:.0f} Hz with {named}, above its band ({band}); it may show too little, so "
        f"{_percent(share)} are added to its ± (a steady fall-off is assumed, common practice, no source): turn "
        "slower, or use a meter that reaches higher."
    )
    return Evidence(shared={"band": share}, warnings=(said,))


def require_meter_volts(volts, speed_rpm, stator, meter, where):
    """Refuse volts above what meter and probes are made for.

    Parameters
    ----------
    volts : float
        As read, AC rms or DC [V].
    speed_rpm : float
        Speed of the reading [rpm].
    stator : Stator
        Slots and poles, for the Hz of that speed.
    meter : Meter
        What it was read with.
    where : str
        Log, row and column, for the sentence.

    Raises
    ------
    BadInput
        When they are above `Meter.most_volts`.
    """
    if volts <= meter.most_volts:
        return
    slower_rpm = speed_rpm * meter.most_volts / volts
    at = f"{slower_rpm:.0f} rpm ({stator.electrical_hz(slower_rpm):.0f} Hz)"
    raise BadInput(
        f"{volts:g} V was given",
        f"your meter and its probes stand {meter.most_volts_words}",
        f"stop the rotor before you touch meter or leads, then read again below {at}, where that limit "
        "comes; if their marks say more, type it under the meters on page 02_spin_and_log",
        where=where,
    )


def alternating_volts(quantity, hz, kind, meters, where):
    """How well alternating volts are known from the meter's class, its band and its kind.

    Parameters
    ----------
    quantity : str
        "AC line rms" or "AC phase rms".
    hz : float
        Their frequency [Hz].
    kind : str
        "averaging", "true rms" or "unknown".
    meters : Meters
        What was read with.
    where : str
        Log and row, for the sentence.

    Returns
    -------
    Evidence
        With a question when a star point was said to be out of reach.
    """
    shared = {"class": meters.volts.class_share}
    if kind != "true rms":
        shared["wave"] = WAVE_SHARE[quantity].value
    said = ()
    if quantity == "AC phase rms" and meters.star_point == "not reachable":
        said = (
            f"{where}, {HEADINGS['quantity']}: the star point was said to be out of reach, so was this not read "
            "between two leads? Correct the row, or what is said of the star point.",
        )
    return Evidence(shared=shared, warnings=said).and_(above_band(hz, kind, meters.volts, where))


def direct_volts(volts, meters, where):
    """How well volts behind a bridge are known.

    Parameters
    ----------
    volts : float
        DC, as read [V].
    meters : Meters
        What was read with.
    where : str
        Log and row, for the sentence.

    Returns
    -------
    Evidence
        The drop of two diodes is assumed, the same in all such rows.
    """
    drop = METER_DIODE_DROP_V
    said = (
        f"{where}: DC turned into AC rms with an assumed {drop.value:g} V per diode "
        f"at meter current ({drop.low:g} to {drop.high:g} V is usual)."
    )
    share = NORMAL_95 * _TWO_DROPS_SIGMA_V / (volts + 2.0 * drop.value)
    return Evidence(shared={"class": meters.volts.class_share, "diodes": share}, warnings=(said,))


def by_lamps(quantity, where):
    """How well volts are known from the glow of lamps.

    Parameters
    ----------
    quantity : str
        What the lamps hung across.
    where : str
        Log and row, for the sentence.

    Returns
    -------
    Evidence
        Weak.

    Raises
    ------
    BadInput
        When they are said to hang behind a bridge.
    """
    if quantity.startswith("DC"):
        raise BadInput(
            "volts judged by lamps behind a bridge were given",
            "lamps across two leads, or from a lead to the star point, are allowed",
            "choose AC line rms or AC phase rms",
            where=f"{where}, {HEADINGS['volts_by']}",
        )
    said = (
        f"{where}: volts judged by the glow of lamps, so ± {_percent(LAMP_SHARE.value)} is assumed (common "
        "practice, no source); a meter would count far more."
    )
    return Evidence(shared={"lamps": LAMP_SHARE.value}, warnings=(said,))


def by_name_plate(where):
    """How well a speed is known from what is printed on a drill.

    Parameters
    ----------
    where : str
        Log and row, for the sentence.

    Returns
    -------
    Evidence
        Weak.
    """
    said = (
        f"{where}: speed from a drill's name plate, so ± {_percent(NAME_PLATE_SHARE.value)} is assumed (common "
        "practice, no source); the meter's Hz on the same leads would count far more."
    )
    return Evidence(shared={"plate": NAME_PLATE_SHARE.value}, warnings=(said,))


def _percent(share):
    return f"{100.0 * share:.2g} %"
