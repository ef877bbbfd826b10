"""How well one reading is known: its own error, what it shares with others, and what is to be said about it."""

from dataclasses import dataclass, field, replace
from math import hypot

from statorbook.errors import BadInput
from statorbook.quantities import NORMAL_95


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """How far a reading may be off, and why."""

    own_share: float = 0.0  # likely error of the row by itself, one sigma over the reading
    shared: dict = field(default_factory=dict)  # by its cause, what all rows of that cause share, 95 % over the reading
    warnings: tuple = ()  # sentences for the row

    def and_(self, other):
        """What evidence of another cause says as well."""
        return Evidence(
            own_share=hypot(self.own_share, other.own_share),
            shared=self.shared | other.shared,
            warnings=(*self.warnings, *other.warnings),
        )

    def by(self, share):
        """One more error of the row's own, one sigma over the reading."""
        return replace(self, own_share=hypot(self.own_share, share))

    @property
    def sigma_share(self):
        """One sigma over the reading, all but the meter's class, which weighs no row more than another [-]."""
        others = (share / NORMAL_95 for cause, share in self.shared.items() if cause != "class")
        return hypot(self.own_share, *others)


def half_step(number):
    """Half of the last digit of a typed number, over the number."""
    return 0.5 * number.step / number.value


def above_band(hz, kind, meter, where):
    """What a reading of alternating volts or amps above the meter's band may be off; nothing within the band."""
    share = meter.band_share(hz, kind)
    if not share:
        return Evidence()
    named = {"averaging": "an averaging meter", "true rms": "a true-rms meter"}.get(kind, "a meter of unknown kind")
    band = f"{meter.band_of(kind):g} Hz" + ("" if meter.band_hz else " assumed")
    said = (
        f"{where}: read at {hz:.0f} Hz with {named}, above its band ({band}); it may show too little, so "
        f"{100 * share:.2g} % are added to its ± (a steady fall-off is assumed, common practice, no source): turn "
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
