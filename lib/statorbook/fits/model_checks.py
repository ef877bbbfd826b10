"""Does the model hold for these logs: one line for each thing that a healthy machine and healthy readings must show."""

from dataclasses import dataclass

import numpy as np

from statorbook.bench import day_words
from statorbook.fits.kept import kept_fit
from statorbook.fits.line_groups import bend, levelled, scatter_about, scatter_within, session_gaps, zero_offset
from statorbook.fits.pair_balance import BALANCE_SHARE
from statorbook.quantities import Estimate
from statorbook.winding import resistance_factor

LEAST_SESSION_SHARE = 0.02
_LEAST_BEND, _LEAST_OFFSET = 0.02, 0.01
_FEWEST_ROWS, _FEWEST_SPEEDS, _SPEED_STEP, _LEAST_SPAN = 4, 3, 1.05, 1.5
_MORE_SPEEDS = "log four rows or more at three speeds or more, the fastest at one and a half times the slowest"
_CHANGED = {
    "EMF": "the magnets may be hotter or weaker, two leads mixed up, or another meter used",
    "Resistance": "a joint may have changed, the winding temperature may be wrong, or another meter was used",
    "Inductance": "the joint of the leads may have changed, the copper was hot, or another clamp meter was used",
}


@dataclass(frozen=True, kw_only=True)
class Check:
    """One thing that must hold."""

    name: str
    found: str = ""  # what the rows show, with its ±; empty when they cannot tell
    holds: bool | None = None  # None when the rows cannot tell yet
    words: str = ""  # likely causes when it does not hold, what to log when the rows cannot tell

    @property
    def verdict(self):
        """The verdict in words."""
        if self.holds:
            return "as it should be"
        return f"{'cannot tell yet' if self.holds is None else 'not as it should be'}: {self.words}"


@kept_fit
def spin_checks(readings, fit):
    """Check the spin log against volts that rise in step with speed from zero.

    Parameters
    ----------
    readings : sequence of SpinReading
        The spin log.
    fit : Fit
        From `fit_emf`.

    Returns
    -------
    tuple of Check
        Zero, straightness, pairs, days, scatter.
    """
    usable = [r for r in readings if r.usable]
    days = days_check("EMF", usable, *_numbers(usable))
    used = [r for r in usable if r.row in fit.used_rows]
    rows, pairs, on = _numbers(used), [r.terminals for r in used], [day_words(r.taken_on) for r in used]
    straight = _line_checks(*rows)
    if days.holds is False:
        straight, days = _line_or_days(straight, days, on, rows)
    scatter = _scatter_check(pairs if days.holds is not False else list(zip(pairs, on)), *rows)
    first = next((check for check in straight if check.holds is False), None)
    balanced = pairs_check(
        "The volts of the pairs agree", fit.pair_ratios, "look for shorted turns, a bad joint, or two leads mixed up"
    )
    return (*straight, balanced, days, _in_doubt(scatter, None, first) if first else scatter)


def ohms_checks(readings, fit, *, conductor="copper"):
    """Check the ohms log: three pairs alike, and the days too.

    Parameters
    ----------
    readings : sequence of OhmsReading
        The ohms log.
    fit : Fit
        From `fit_ohms`.
    conductor : str
        "copper" or "aluminium".

    Returns
    -------
    tuple of Check
        Pairs and days.
    """
    usable = [r for r in readings if r.usable]
    warm_c = np.where(np.isnan(_of(usable, "copper_c")), 20.0, _of(usable, "copper_c"))
    warm = resistance_factor(warm_c, conductor=conductor)
    ohm, sigma = (_of(usable, name) / warm for name in ("star_ohm", "star_ohm_sigma"))
    return (
        pairs_check(
            "The ohms of the three pairs are equal",
            fit.pair_ratios,
            "look for a bad joint, a broken wire in hand, or shorted turns",
            all_three=True,
        ),
        days_check("Resistance", usable, np.ones(len(usable)), ohm, sigma),
    )


def pairs_check(name, ratios, causes, *, all_three=False):
    """Check that the pairs of leads agree; with `all_three` only when AB, BC and CA are all there."""
    lacking = [pair for pair in ("AB", "BC", "CA") if pair not in ratios]
    if len(ratios) < 2 or (all_three and lacking):
        return Check(name=name, words=f"log the pair{'s' if len(lacking) > 1 else ''} {', '.join(lacking)} too")
    worst = max(ratios, key=lambda pair: abs(ratios[pair].value - 1.0))
    ratio = ratios[worst]
    found = f"{worst} is {percent_words(ratio.value - 1.0, ratio.plus_minus)} off the mean of the pairs"
    return Check(
        name=name,
        found=found,
        words=causes,
        holds=all(abs(r.value - 1.0) <= max(BALANCE_SHARE, r.plus_minus) for r in ratios.values()),
    )


def days_check(what, usable, x, y, sigma, **ways):
    """Check that the days agree on "EMF", "Resistance" or "Inductance"; `ways` as for `session_gaps`."""
    name = f"{what}: the days agree"
    names = [day_words(r.taken_on) for r in usable]
    gaps = session_gaps(names, x, y, sigma, **ways) if len(set(names)) > 1 else {}
    if not gaps:
        return Check(name=name, words="log some rows on another day, each row with its day")
    off = {day: gap for day, gap in gaps.items() if abs(gap.value) > max(LEAST_SESSION_SHARE, gap.plus_minus)}
    worst = max(off or gaps, key=lambda day: abs(gaps[day].value) / gaps[day].plus_minus)
    found = f"{worst}: {percent_words(gaps[worst].value, gaps[worst].plus_minus)} off the other days"
    doubt = "" if len(gaps) > 2 else "; with two days nobody can say which is right"
    return Check(name=name, found=found, holds=not off, words=f"{_CHANGED[what]}{doubt}")


def session_warnings(checks):
    """The days that are off, in sentences.

    Parameters
    ----------
    checks : sequence of Check
        Any checks.

    Returns
    -------
    tuple of str
        One sentence for each check of the days that does not hold.
    """
    return tuple(
        f"{check.name.split(':')[0]} of {check.found.replace(': ', ' is ', 1)}: {check.words}."
        for check in checks
        if check.name.endswith("the days agree") and check.holds is False
    )


def spread_enough(rpm):
    """Whether rows are at enough different speeds, and far enough apart, to tell a bend from a line."""
    steps = np.diff(np.log(np.sort(rpm))) > np.log(_SPEED_STEP)
    return len(rpm) >= _FEWEST_ROWS and 1 + np.sum(steps) >= _FEWEST_SPEEDS and np.max(rpm) >= _LEAST_SPAN * np.min(rpm)


def _line_checks(rpm, emf, sigma):
    names = ("The volts start from zero", "The volts rise in step with speed")
    if not spread_enough(rpm):
        return tuple(Check(name=name, words=_MORE_SPEEDS) for name in names)
    (offset, offset_pm), (curve, curve_pm) = zero_offset(rpm, emf, sigma), bend(rpm, emf, sigma)
    found = (
        f"{Estimate(value=offset, plus_minus=offset_pm, unit='V', how='')} phase rms at standstill",
        f"volts per rpm change by {percent_words(curve, curve_pm)} from {min(rpm):.0f} to {max(rpm):.0f} rpm",
    )
    causes = (
        "check the meter's zero, its lowest range and the rpm meter",
        "the meter may read too little at high frequency or the speed be wrong at one end; take the fast rows "
        "again with a true-rms meter",
    )
    off = [abs(offset) > max(offset_pm, _LEAST_OFFSET * np.mean(emf)), abs(curve) > max(curve_pm, _LEAST_BEND)]
    if all(off):
        # An offset looks like a bend and the other way round: the one that explains the rows better is named.
        likely = 0 if abs(offset) / offset_pm >= abs(curve) / curve_pm else 1
        made = [Check(name=names[i], found=found[i], holds=False, words=causes[i]) for i in (0, 1)]
        made[1 - likely] = _in_doubt(made[1 - likely], None, made[likely])
        return tuple(made)
    return tuple(Check(name=names[i], found=found[i], holds=not off[i], words=causes[i]) for i in (0, 1))


def _line_or_days(straight, days, on, rows):
    """With slow rows on one day and fast ones on another, a day that is off looks like an offset or a bend."""
    # Whichever of the two leaves less scatter is named; the other one is in doubt, unless it stands by itself.
    first = next((i for i, check in enumerate(straight) if check.holds is False), None)
    if first is None:
        return straight, days
    rpm, emf, sigma = rows
    own_day = [np.where([other == day for other in on], rpm, 0.0) for day in dict.fromkeys(on)]
    curved = scatter_about((rpm, np.ones(len(rpm)) if first == 0 else rpm**2), emf, sigma)
    if curved < scatter_about(own_day, emf, sigma):
        return straight, _in_doubt(days, None, straight[first])
    again = _line_checks(*levelled(on, *rows))
    return tuple(_in_doubt(*both, days) for both in zip(straight, again)), days


def _in_doubt(check, again, cause):
    """A check that does not hold, for which something else that does not hold may be the reason."""
    if check.holds is not False or (again and again.holds is False):
        return check
    words = f"the line “{cause.name}” may be the reason: put that right first, then log again"
    return Check(name=check.name, found=check.found, words=words)


def _numbers(readings):
    return tuple(_of(readings, name) for name in ("speed_rpm", "star_emf_v_rms", "star_emf_sigma_v"))


def _scatter_check(groups, x, y, sigma):
    name = "The rows scatter no more than the meters allow"
    scatter, most, freedom = scatter_within(groups, x, y, sigma)
    if freedom < 2:
        return Check(name=name, words="log each pair of leads at two speeds or more")
    found = f"scatter is {scatter:.1f} of the meters' error; up to {most:.1f} is chance"
    return Check(
        name=name,
        found=found,
        holds=scatter <= most,
        words="hold the speed steady, read volts and speed at the same moment, and log more rows",
    )


def _of(readings, field):
    return np.array([getattr(r, field) for r in readings])


def percent_words(share, plus_minus):
    """A share with its ±, such as "+1.2 ± 0.4 %"."""
    return f"{100 * share:+.1f} ± {100 * plus_minus:.1f} %".replace("-", "−")
