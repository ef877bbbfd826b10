"""Pole pairs from a meter's Hz and an rpm meter: what the count would have to be, and what it can be."""

from dataclasses import dataclass
from math import hypot

from statorbook.bench.meters import HZ_SHARE, READING_SHARE
from statorbook.errors import BadInput
from statorbook.quantities import NORMAL_95, Estimate, require_number
from statorbook.winding import Stator

_AGREEMENT = 0.03  # rpm and Hz of one row may differ by this share
_MOST_POLES = 144
_NEAREST = 3
_SLIPS = {
    2.0: "twice the count: the meter counts both halves of a wave, or the rpm meter misses every second mark",
    0.5: "half the count: the rpm meter sees two marks a turn, or the meter misses every second wave",
}
# An rpm meter that sees a blade or a second strip, and a meter on its last digit, are the usual culprits.
_READ_AGAIN = "put one strip on the rotor, spin again steadily and read both at the same moment"


@dataclass(frozen=True, kw_only=True)
class PoleCount:
    """What one spin with Hz and rpm says about the magnets."""

    pairs: Estimate  # pole pairs, 95 % ±
    possible: tuple  # counts within the ± that make three equal phases with the slots; all even ones when unknown
    nearest: tuple  # counts that these slots allow, nearest to the reading first

    @property
    def poles(self):
        """The nearest whole number of pole pairs, as poles [-]."""
        return 2 * max(1, round(self.pairs.value))


def count_poles(hz, speed_rpm, slots=None):
    """Pole pairs from Hz and rpm of one and the same spin.

    Parameters
    ----------
    hz : float
        On the meter's Hz range, between two leads [Hz].
    speed_rpm : float
        On the rpm meter [rpm].
    slots : int or None
        Slots, to say which counts are possible; none are ruled out when None [-].

    Returns
    -------
    PoleCount
        Pairs, and the counts that they leave.

    Raises
    ------
    BadInput
        When a number is out of range or no whole count of pairs comes near.

    Notes
    -----
    Equation: pairs = 60 f / n; ± 95 % from 0.5 % of the Hz and 2 % of the rpm, in quadrature.
    Valid: both read at the same moment, one mark on the rotor.
    Source: IEC 60034-1, synchronous speed (from memory); the shares common practice, no source.
    """
    require_number(hz, "meter's Hz", "Hz", at_least=0.05, at_most=20_000)
    require_number(speed_rpm, "speed", "rpm", at_least=1, at_most=20_000)
    value = 60.0 * hz / speed_rpm
    if not 0.4 <= value <= _MOST_POLES / 2 * 2.1:
        raise BadInput(
            f"{hz:g} Hz at {speed_rpm:g} rpm make {value:.3g} pole pairs",
            f"one to {_MOST_POLES // 2} pairs are allowed",
            "see whether Hz and rpm were swapped",
            where="pole count",
        )
    share = hypot(HZ_SHARE.value, NORMAL_95 * READING_SHARE.value)
    pairs = Estimate(value=value, plus_minus=share * value, unit="pole pairs", how="60 × Hz / rpm of one spin")
    counts = [poles for poles in range(2, _MOST_POLES + 1, 2) if slots is None or likely(slots, poles)]
    within = tuple(poles for poles in counts if _fits(pairs, poles))
    near = sorted(counts, key=lambda poles: (abs(poles / 2 - value), poles))
    return PoleCount(pairs=pairs, possible=within, nearest=tuple(near[:_NEAREST]))


def pole_count_words(count, stator=None):
    """What the reading says about the magnets counted, and what to do.

    Parameters
    ----------
    count : PoleCount
        From `count_poles`.
    stator : Stator or None
        As counted by hand; None when not counted yet.

    Returns
    -------
    str
        Two or three sentences.
    """
    said = f"One spin says {count.pairs}, so {count.poles} magnet poles are nearest."
    listed = " or ".join(str(poles) for poles in count.possible)
    if stator is None:
        return f"{said} Within the ±: {listed or 'no even count'}. Count the magnets on page 01_know_your_stator."
    slots = f"{stator.slots} slots"
    if _fits(count.pairs, stator.poles):
        others = [str(poles) for poles in count.possible if poles != stator.poles]
        doubt = (
            f" It cannot tell {stator.poles} from {' or '.join(others)}, which {slots} allow too: your count by "
            "hand decides."
            if others
            else f" No other count within the ± goes with {slots}."
        )
        return f"{said} The {stator.poles} that you counted agree.{doubt}"
    return f"{said} You counted {stator.poles}, which does not agree: {_advice(count, stator, listed, slots)}"


def _advice(count, stator, listed, slots):
    for ratio, words in _SLIPS.items():
        if _fits(count.pairs.times(1.0 / ratio), stator.poles):
            return f"the reading is {words}; {_READ_AGAIN}."
    if listed:
        return (
            f"{slots} allow {listed} within the ±, so count the magnets again with a loose magnet; if the count "
            f"stands, {_READ_AGAIN}."
        )
    near = ", ".join(str(poles) for poles in count.nearest)
    return (
        f"nothing within the ± goes with {slots} (nearest are {near}): {_READ_AGAIN}, and count slots and magnets "
        "again."
    )


def disagreement(speed_rpm, hz, where, stator):
    """One sentence, in a list, when rpm and Hz of one row do not belong together, with what may be behind it."""
    expected_hz = stator.electrical_hz(speed_rpm)
    if abs(off := hz / expected_hz - 1.0) <= _AGREEMENT:
        return []
    poles = 2 * round(60.0 * hz / speed_rpm)
    slip = next((words for ratio, words in _SLIPS.items() if abs(hz / expected_hz / ratio - 1.0) <= _AGREEMENT), "")
    if abs(stator.electrical_hz(hz) / speed_rpm - 1.0) <= _AGREEMENT:
        advice = "they look exchanged"
    elif slip:
        advice = f"that is {slip}"
    elif poles and abs(120.0 * hz / speed_rpm / poles - 1.0) <= _AGREEMENT and likely(stator.slots, poles):
        advice = f"{poles} poles would agree, so count the magnet poles again or check both readings"
    else:
        advice = f"no likely pole count for {stator.slots} slots would agree, so check both readings"
    return [
        f"{where}: {speed_rpm:g} rpm with {stator.poles} poles makes {expected_hz:.4g} Hz but {hz:g} Hz was "
        f"logged ({100 * off:+.0f} %); {advice}; the rpm is used."
    ]


def likely(slots, poles):
    """Whether a pole count makes three equal phases with the slots, and no weak winding."""
    try:
        return not Stator(slots=slots, poles=poles).doubt
    except BadInput:
        return False


def _fits(pairs, poles):
    return pairs.low <= poles / 2 <= pairs.high
