"""What the readings of the meter checks say: which agree, which do not, and what must not be joined."""

from dataclasses import dataclass
from math import isfinite, isinf, isnan, log, sqrt
from statistics import fmean, median_high

from statorbook.cautions import Exposure, Instruction, together
from statorbook.fits import BALANCE_SHARE
from statorbook.quantities import filled
from statorbook.rewiring.checks.bands import DRY_IT, HAND_SPEED_SHARE, MeterCheck
from statorbook.rewiring.checks.rows import CheckReading
from statorbook.rewiring.probes import IRON, LEAD_PAIRS
from statorbook.winding import PHASES

_OHM_PER_MEGOHM = 1e6
_TWO_COUNTED = sqrt(2.0) * HAND_SPEED_SHARE.value
_COUNTED = "speeds counted by hand can differ as much: read again with the meter's Hz as the speed"
_MEND_INSULATION = Instruction("look for bare wire at the iron, measure again", (Exposure.STANDING, Exposure.TESTER))


@dataclass(frozen=True, kw_only=True)
class ReadingVerdict:
    """One reading beside the check that it belongs to."""

    reading: CheckReading
    check: MeterCheck
    value: float  # in the check's unit, infinite for OL
    step: float  # worth of its last digit
    scale: float = 1.0  # speed of the reading over the speed of the check; 1 at rest

    @property
    def good(self):
        """True when the reading is that of a healthy machine."""
        return self.check.lies_in_band(self.value, self.step, self.scale)

    @property
    def words(self):
        """Reading and band in words."""
        check, read = self.check, "OL" if isinf(self.value) else f"{self.value:.4g} {self.check.unit}"
        expects = check.expects
        if check.kind == "volts":
            low, high = check.shown_band(self.scale)
            band = f"{low} to {high} V" if low else f"at most {high} V"
            expects = f"{band} at {self.reading.speed_rpm:.4g} rpm"
        when = "as found" if check.step == 0 else f"after step {check.step}"
        return f"{check.name} {when}: {read}, {'as it should be' if self.good else 'but should be'} {expects}"


def compare_readings(checks, readings, hand_rpm, *, checks_by_hz=None):
    """Put each reading beside the check that it belongs to.

    Parameters
    ----------
    checks : tuple of MeterCheck
        From `bench_checks`, in the order of the work.
    readings : tuple of CheckReading
        From `rewiring.checks.rows.read_checks`, in the order in which they were taken.
    hand_rpm : float
        Speed that the checks are worked out for [rpm].
    checks_by_hz : tuple of MeterCheck or None
        The same checks with the speed known from the meter's frequency, for readings of that kind.

    Returns
    -------
    tuple of ReadingVerdict
        Up to two for a row; none for a place that no check asks for.

    Notes
    -----
    Equation: of several checks with one name, never one before what was read already, else the nearest in proportion.
    Valid: readings logged in the order of the work.
    Source: common practice, no source.
    """
    found, reached = [], 0
    for reading in readings:
        asked = checks_by_hz if checks_by_hz and reading.by_hz else checks
        for value, step, kinds in _values(reading):
            scale = reading.speed_rpm / hand_rpm if kinds == ("volts",) else 1.0
            known = [check for check in asked if reading.probe.name == check.name and check.kind in kinds]
            left = [check for check in known if check.step >= reached] or known[-1:]
            if not left:
                continue
            check = min(left, key=lambda check: _far(value, check, scale))
            reached = max(reached, check.step)
            size = _OHM_PER_MEGOHM if check.kind == "megohm" else 1.0
            found.append(
                ReadingVerdict(reading=reading, check=check, value=value / size, step=step / size, scale=scale)
            )
    return tuple(found)


def stops(compared, limit_share):
    """What must not be joined or switched on.

    Parameters
    ----------
    compared : tuple of ReadingVerdict
        From `compare_readings`.
    limit_share : float
        How far paths may differ before they are joined, from `parallel_limit` [-].

    Returns
    -------
    tuple of str or Instruction
        Sentences; empty when no reading forbids to go on.
    """
    latest = latest_of(compared)
    found = [_stop(verdict) for verdict in latest if not verdict.good]
    return (*filter(None, found), *(said for said, sure in _unequal(latest, limit_share) if sure))


def doubts(compared, limit_share):
    """What differs, but no more than speeds counted by hand can make it differ.

    Parameters
    ----------
    compared : tuple of ReadingVerdict
        From `compare_readings`.
    limit_share : float
        How far paths may differ before they are joined, from `parallel_limit` [-].

    Returns
    -------
    tuple of str
        Sentences with what settles the doubt.
    """
    return tuple(said for said, sure in _unequal(latest_of(compared), limit_share) if not sure)


def latest_of(compared):
    """The last reading of each check.

    Parameters
    ----------
    compared : tuple of ReadingVerdict
        From `compare_readings`.

    Returns
    -------
    tuple of ReadingVerdict
        One for each check that was read.
    """
    return tuple({verdict.check.key: verdict for verdict in compared}.values())


def verdict_words(reading, compared):
    """What stands beside a row of the log.

    Parameters
    ----------
    reading : CheckReading
        The row.
    compared : tuple of ReadingVerdict
        From `compare_readings`.

    Returns
    -------
    str
        "good", "odd: …", "bad: …", or a plain sentence when no check asks for it.
    """
    if not reading.usable:
        return f"bad: {reading.refusal}"
    own = [verdict for verdict in compared if verdict.reading is reading]
    notes = " ".join(reading.warnings)
    if not own:
        return f"No check of this plan asks for {reading.probe.name}; the reading is kept. {notes}".strip()
    if all(verdict.good for verdict in own):
        return f"good: {notes}" if notes else "good"
    return f"odd: {'; '.join(verdict.words for verdict in own)}. {notes}".strip()


def _values(reading):
    """What a row holds: value, last digit, and the kinds of check that it answers."""
    if reading.usable and not isnan(reading.ohms):
        kind = "megohm" if reading.probe.name.endswith(IRON) else "ohms"
        yield reading.ohms, reading.ohms_step, (kind,)
    if reading.usable and not isnan(reading.volts):
        yield reading.volts, reading.volts_step, ("volts",)


def _far(value, check, scale):
    """How far a reading is from what a check expects, in proportion."""
    expected = 0.0 if check.expected is None else check.expected * scale
    if not (isfinite(expected) and isfinite(value) and min(expected, value) > 0.0):
        return 0.0 if value == expected else float("inf")
    return abs(log(value / expected))


def _stop(one):
    check = one.check
    if check.kind == "volts" and check.low is None:
        return (
            f"Do not join {check.name.replace('-', ' and ')} ({one.words}): a coil or a whole path is the wrong way "
            "round, short of turns, or of another phase."
        )
    if check.kind == "megohm":
        mend = together(filled(DRY_IT), _MEND_INSULATION, between=", ")
        return mend.within(f"Do not put the bank on ({one.words}): ", ".")
    if check.expected is not None and isinf(check.expected):
        return f"Do not go on ({one.words}): the wire is not parted, or another end was cut."
    return ""


def _unequal(latest, limit_share):
    """Sentences about paths and lead pairs that differ, each with whether it is sure."""
    yield from _unequal_paths(latest, limit_share)
    for kind, what in (("ohms", "ohms"), ("volts", "volts for each rpm")):
        yield from _unequal_leads(latest, kind, what)


def _unequal_paths(latest, limit_share):
    """Volts for each rpm of the paths of a phase against each other; faults make less, so the higher ones are right."""
    volts = {verdict.check.name: verdict for verdict in latest if verdict.check.kind == "volts"}
    paths = {name: verdict for name, verdict in volts.items() if name[1:].isdigit()}
    for phase in PHASES:
        own = {name: verdict.value / verdict.reading.speed_rpm for name, verdict in paths.items() if name[0] == phase}
        usual = median_high(own.values()) if own else 0.0
        for name, per_rpm in own.items():
            off = abs(per_rpm / usual - 1.0) if usual else 0.0
            counted = not all(paths[path].reading.by_hz for path in own)
            said = (
                f"Do not join path {name} in parallel: its volts are {100 * off:.0f} % off those of the other paths of "
                f"phase {phase}, at most {100 * limit_share:.2g} % is allowed"
            )
            if off > limit_share + counted * _TWO_COUNTED:
                yield f"{said}; look for a reversed, shorted or left-out coil in it.", True
            elif off > limit_share:
                yield f"{said}, but {_COUNTED}, or let the volts across the open joint decide.", False


def _unequal_leads(latest, kind, what):
    final = [verdict for verdict in latest if verdict.check.name in LEAD_PAIRS and verdict.check.step > 0]
    own = [verdict for verdict in final if verdict.check.kind == kind and isfinite(verdict.value)]
    if len(own) < len(LEAD_PAIRS):
        return
    mean = fmean(verdict.value / verdict.scale for verdict in own)
    counted = kind == "volts" and not all(verdict.reading.by_hz for verdict in own)
    for verdict in own:
        off = abs(verdict.value / verdict.scale - mean)
        sure_off = off - 0.5 * verdict.step / verdict.scale
        said = (
            f"Do not connect the rectifier: the {what} of {verdict.check.name} are {100 * off / mean:.0f} % off the "
            f"mean of the three pairs, at most {100 * BALANCE_SHARE:.0f} % is allowed"
        )
        if sure_off > (BALANCE_SHARE + counted * HAND_SPEED_SHARE.value) * mean:
            yield f"{said}.", True
        elif sure_off > BALANCE_SHARE * mean:
            yield f"{said}, but {_COUNTED}.", False
