"""Verdicts on groupings: the volts with the bank gone first, then the watts; which one is chosen, and why, in words."""

from dataclasses import dataclass, replace
from math import isnan

from statorbook.operation import CONVERTER
from statorbook.quantities import ELV_DC_VOLTS

# Current density that a wound coil stands for hours. Common practice, no source.
MOST_AMPS_PER_MM2 = 10.0
WARM_AMPS_PER_MM2 = 6.0
NEARLY_THE_MOST = 0.95
# Shares of the most watts for which the least volts are named when nothing stays within the accepted volts.
GOOD_SHARE, FAIR_SHARE = 0.8, 0.5
CHOSEN, WORKABLE, NEEDS_A_GUARD, ABOVE, REJECTED = "chosen", "workable", "needs a guard", "above the limit", "rejected"
VERDICTS = (CHOSEN, NEEDS_A_GUARD, WORKABLE, ABOVE, REJECTED)
_ALIKE = 0.99  # no meter tells such watts apart, so the lower volts are taken
_SLIGHT = 0.05
_NOT_WORTH_A_WORD = 0.005
_LEAST = 1e-9  # keeps shares of nothing from being divided by 0


@dataclass(frozen=True, kw_only=True)
class Worth:
    """What one grouping is ranked by instead of the watts of one setting, such as its kWh of a year.

    Parameters
    ----------
    value : float
        What it is ranked by [unit].
    given : float
        What it gives, before what may be lost inside it is taken off [unit].
    unit : str
        As in "the most kWh a year".
    fault : str
        Why it is worth nothing, a sentence; empty when nothing speaks against it.
    note : str
        What has to be minded when it is built; no full stop.
    """

    value: float
    given: float
    unit: str
    fault: str = ""
    note: str = ""

    @property
    def words(self):
        """What it gives, as in "640 kWh a year"."""
        return f"{self.given:.0f} {self.unit}"


def accepted_volts(given_dc_volts=None, device_max_volts=None):
    """What the reader accepts with the bank gone, DC peak; else the lower of the device's limit and 120 V DC [V]."""
    if given_dc_volts is not None:
        return given_dc_volts
    return min(ELV_DC_VOLTS.value, device_max_volts or ELV_DC_VOLTS.value)


def describe(row, spread=None):
    """One row in a sentence: what to join, its volts with the bank gone, its guard, what it gives, what to size for."""
    at = row.point
    # Without a source in the chain the drive is a speed that holds, whatever it costs.
    held = at.chain_watts[0][0] == "shaft"
    price = f", which takes {dict(at.chain_watts)['shaft']:.0f} W from whatever turns it" if held else ""
    said = {
        "bank_watts": f"{at.bank_watts:.0f} W",
        "dc_amps": f"{at.dc_amps:.1f} A",
        "speed_rpm": f"{at.speed_rpm:.0f} rpm",
    }
    said |= {name: str(spread[name]) for name in said if spread}
    return (
        f"{row.grouping.label}: {gone_words(row)}; it gives {_worth_words(row, spread)}{said['bank_watts']} "
        f"({said['dc_amps']}) into the half-full bank at {said['speed_rpm']}{price}, charging from "
        f"{row.cut_in_rpm:.0f} rpm; its most amps, for which bridge, cable and fuse are sized, are "
        f"{row.most.dc_amps:.1f} A{_open_corner(row)}."
    )


def _worth_words(row, spread):
    """What it is ranked by, before the watts of the one setting; empty where those are what it is ranked by."""
    if row.worth is None:
        return ""
    return f"{(spread or {}).get('worth', row.worth.words)}, and at the one setting "


def given_words(row):
    """What it gives, in short: what it is ranked by."""
    return row.worth.words if row.worth else f"{row.point.bank_watts:.0f} W"


def gone_words(row):
    """The volts with the bank gone, with what guards them and without.

    Parameters
    ----------
    row : Row
        From a comparison, or anything else with its `runaway`, `unguarded` and `guard_words`.

    Returns
    -------
    str
        No full stop.
    """
    gone, bare = row.runaway, row.unguarded
    # A converter that only the drive's guard saves needs one of its own as well.
    needs = bare.guard if converter_words(row) else gone.guard
    guard = f", so it needs {needs}" if needs else ""
    fails = ""
    if bare.dc_volts_peak > gone.dc_volts_peak:
        fails = f" ({bare.dc_volts_peak:.0f} V DC peak, {bare.word}, if {row.guard_words} fails)"
    return (
        f"with the bank gone it can run away to {gone.dc_volts_peak:.0f} V DC peak, {gone.line_volts_rms:.0f} V AC "
        f"line rms: {gone.word}{_with_and(converter_words(row))}{fails}{guard}"
    )


def converter_words(row):
    """That running away would destroy the converter, with its guard or when that fails; empty when neither does."""
    gone, bare = row.runaway, row.unguarded
    if gone.device != CONVERTER or not bare.destroys_device:
        return ""
    said = f"destroys the converter, which survives {gone.device_max_volts:g} V DC"
    return said if gone.destroys_device else f"{said}, if {row.guard_words} fails"


def _with_and(words):
    return f", and {words}" if words else ""


def _open_corner(row):
    """Said of every delta whose open corner nobody has measured."""
    if row.grouping.connection != "delta" or not isnan(row.circulating_watts):
        return ""
    return "; the open corner of this delta was never measured"


def fault_of(row):
    """Why a row must be rejected, in a sentence; empty when nothing speaks against it."""
    return want_of_charge(row) or danger_of(row)


def want_of_charge(row):
    """Why it does not fill the bank at the one setting, in a sentence; empty when it does."""
    half, charging = row.points[1:]
    if half.speed_rpm == 0.0:
        return "the drive cannot turn it against its drag."
    if not half.charges:
        return f"it would charge only above {row.cut_in_rpm:.0f} rpm and turns at {half.speed_rpm:.0f} rpm."
    if not charging.charges:
        return "it stops charging before the bank is full."
    return ""


def danger_of(row):
    """What it does to its coils or with the bank gone that no watts make good, in a sentence; empty when nothing."""
    if row.amps_per_mm2 > MOST_AMPS_PER_MM2:
        most = f"{MOST_AMPS_PER_MM2:g} that copper stands for hours"
        told = f"its coils would carry {row.amps_per_mm2:.1f} A/mm², more than the {most}"
        return f"{'; '.join(filter(None, (told, _circulating(row))))}."
    if row.runaway.level > 3:
        return f"running away it makes {row.runaway.dc_volts_peak:.0f} V DC peak, {row.runaway.word}."
    return ""


def choose(rows, limit_dc_volts=ELV_DC_VOLTS.value, *, most_words="watts"):
    """The rows, best first, with verdict and reason: one is `recommend`ed, of every other is said why not."""
    sound = [row for row in rows if row.verdict == WORKABLE]
    if not sound:
        return rows
    top, picked = max(map(worth_of, sound)), recommend(sound, limit_dc_volts)

    def judged(row):
        share = f"{worth_of(row) / top:.0%} of the most {most_words}"
        return _with_verdict(row, row is picked, share, limit_dc_volts, most_words)

    return [row if row.verdict == REJECTED else judged(row) for row in rows]


def recommend(sound, limit_dc_volts):
    """The most within the accepted volts, DC peak; where no row stays within, least volts for 80 % of the most."""
    inside = [row for row in sound if _within(row, limit_dc_volts)]
    return the_most(inside) if inside else least_volts(sound, GOOD_SHARE)


def _within(row, limit_dc_volts):
    return row.runaway.dc_volts_peak <= limit_dc_volts


def the_most(rows):
    """The row that gives most; among those that no meter tells apart the one with the lowest volts, star first."""
    top = max(map(worth_of, rows))
    return _lowest([row for row in rows if worth_of(row) >= _ALIKE * top])


def least_volts(rows, share):
    """The row with the lowest volts with the bank gone among those that give a share of the most."""
    top = max(map(worth_of, rows))
    return _lowest([row for row in rows if worth_of(row) >= share * top])


def _lowest(rows):
    return min(rows, key=lambda row: (row.runaway.dc_volts_peak, row.grouping.connection != "star"))


def worth_of(row):
    """What a row is ranked by: its worth where one is known, else its net watts; above 0."""
    return max(net_watts(row) if row.worth is None else row.worth.value, _LEAST)


def net_watts(row):
    """Watts into the bank less what may circulate in the delta, so that a delta is chosen only when it surely wins."""
    return row.point.bank_watts - (0.0 if isnan(row.circulating_watts) else row.circulating_watts)


def _with_verdict(row, picked, share, limit_dc_volts, most_words):
    inside = _within(row, limit_dc_volts)
    accepted = f"the {limit_dc_volts:.0f} V that you accept with the bank gone"
    if picked and inside:
        verdict, reason = CHOSEN, f"it gives the most {most_words} within {accepted}, {share} whatever the volts"
    elif picked:
        verdict = NEEDS_A_GUARD
        reason = f"{share}, with the least volts of all that give at least {GOOD_SHARE:.0%}, but above {accepted}"
    elif inside:
        verdict, reason = WORKABLE, share
    else:
        verdict, reason = ABOVE, f"{share}, but above the {limit_dc_volts:.0f} V that you accept"
    burns = f"running away it {converter_words(row)}" if converter_words(row) else ""
    return replace(row, verdict=verdict, reason=f"{'; '.join(filter(None, (reason, burns, remarks(row))))}.")


def remarks(row):
    """What else has to be minded when a row is built; no full stop, empty when there is nothing."""
    warm = row.amps_per_mm2 > WARM_AMPS_PER_MM2
    air = f"coils at {row.amps_per_mm2:.1f} A/mm² need moving air" if warm else ""
    note = row.worth.note if row.worth else ""
    return "; ".join(filter(None, (air, note, _unmeasured(row), _circulating(row))))


def _unmeasured(row):
    """A warning for a delta that may carry a third harmonic and was not measured."""
    delta, doubtful = row.grouping.connection == "delta", row.winding.stator.third_harmonic_factor > _SLIGHT
    if not (delta and doubtful and isnan(row.circulating_watts)):
        return ""
    return "measure the open delta corner first, third-harmonic volts there would heat the coils"


def _circulating(row):
    """What a measured third harmonic does inside a delta."""
    if isnan(row.circulating_watts) or row.circulating_watts <= _NOT_WORTH_A_WORD * max(row.point.bank_watts, 0.0):
        return ""
    return f"third-harmonic current round the delta heats its coils with up to {row.circulating_watts:.0f} W"
