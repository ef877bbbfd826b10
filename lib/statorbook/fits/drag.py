"""Drag of the unloaded rotor from a coast-down or from a drill's wattmeter, with its ± and odd rows named."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from math import hypot

import numpy as np

from statorbook.bench import coast_speed_rpm
from statorbook.cautions import SPUN, Exposure, Instruction
from statorbook.errors import BadInput, count_of
from statorbook.fits.fit import Fit, usable_rows
from statorbook.fits.kept import kept_fit
from statorbook.fits.line import LEAST_SCATTER, curve_through, students_t
from statorbook.fits.odd_rows import odd_in_fit, odd_row
from statorbook.quantities import RAD_S_PER_RPM, Estimate, Fact, require_number, say

INERTIA_SHARE = Fact(
    value=0.1,
    unit="of the inertia, 95 %",
    source="ring taken as thin, hub and spokes left out; common practice, no source",
    low=0.05,
    high=0.3,
)
DRILL_EFFICIENCY = Fact(
    value=0.6, unit="-", source="mains drill with gears, added load; common practice, no source", low=0.45, high=0.75
)
_PER_1000_RPM = "N·m per 1000 rpm"
_FEWEST = {"coast": 4, "drill": 3}
_LEAST_SPEEDS_APART = 1.2


@dataclass(frozen=True, kw_only=True)
class Drag(Fit):
    """What it takes to turn the unloaded rotor; the estimate is the drag extrapolated to rest [N·m]."""

    drag_nm_per_1000rpm: Estimate
    curve: tuple[float, ...]  # parameters of the curve through the rows used

    @property
    def drag_nm(self):
        """Drag extrapolated to rest, an `Estimate` [N·m]."""
        return self.estimate


@kept_fit
def fit_coast(readings, inertia_kgm2, *, inertia_share=0.0, keep_all=False):
    """Drag from how the speed falls, by J dΩ/dt = −(T0 + c Ω).

    Parameters
    ----------
    readings : sequence of CoastReading
        One coast-down, in the order of time.
    inertia_kgm2 : float
        Moment of inertia of all that turns [kg·m²].
    inertia_share : float
        How far it may be off, 95 %, as a share of it [-].
    keep_all : bool
        True to use odd rows as well.

    Returns
    -------
    Drag
        Drag at rest and its rise with speed; neither below 0.

    Raises
    ------
    BadInput
        When fewer than four rows are usable, the time does not rise or the speed does not fall.

    Notes
    -----
    Equation: n(t) of `bench.coast_speed_rpm` by least squares, errors of time turned into speed by the slope;
        T0 = J a, c = J k; half-width by Student's t.
    Valid: leads open, nothing driving or touching; one or two bad rows among eight or more are found.
    Source: retardation test, IEC 60034-2-1 and -2-2 (from memory).
    """
    require_number(inertia_kgm2, "inertia", "kg·m²", above=0, at_most=1000)
    usable = _enough(readings, "coast", Instruction("let the rotor coast and log its speed every few seconds", SPUN))
    _require_time_rises(usable)
    time_s, rpm = (np.array([getattr(r, name) for r in usable]) for name in ("time_s", "speed_rpm"))
    rows = _coast_rows(usable, time_s - time_s[0], rpm)
    torque, how = inertia_kgm2 * RAD_S_PER_RPM, f"coast-down of {inertia_kgm2:.3g} kg·m²"
    drag = _drag(usable, rows, (torque, 1000.0 * torque), inertia_share, how, keep_all)
    if rpm[-1] <= rpm[0] / 2.0:
        return drag
    said = (
        f"The log ends at {rpm[-1]:.0f} rpm, more than half of the first speed, so the drag near rest is a guess; "
        "let it coast further down and log that too."
    )
    return replace(drag, warnings=(*drag.warnings, said))


@kept_fit
def fit_drill(readings, *, drill_efficiency=DRILL_EFFICIENCY.value, efficiency_plus_minus=0.15, keep_all=False):
    """Drag from what the coupled rotor adds to a drill's watts, by T = η (P1 − P0) / Ω.

    Parameters
    ----------
    readings : sequence of DrillReading
        Rows at two or more clearly different speeds.
    drill_efficiency : float
        Power at the chuck over power from the mains, for the added load; assumed [-].
    efficiency_plus_minus : float
        Its 95 % half-width [-].
    keep_all : bool
        True to use odd rows as well.

    Returns
    -------
    Drag
        Drag at rest and its rise with speed; neither below 0.

    Raises
    ------
    BadInput
        When fewer than three rows are usable, their speeds are alike or the efficiency is out of range.

    Notes
    -----
    Equation: T = T0 + c n by least squares; half-width by Student's t, joined with that of the efficiency.
    Valid: the same drill, gear and speed coupled and alone; the efficiency is a guess and sets the ±.
    Source: input-output difference, common practice, no source.
    """
    eta = require_number(drill_efficiency, "drill efficiency", "-", above=0.1, at_most=1)
    half = require_number(efficiency_plus_minus, "± of the drill efficiency", "-", at_least=0, at_most=eta)
    usable = _enough(readings, "drill", "read the wattmeter at three speeds, coupled and alone")
    rpm = np.array([r.speed_rpm for r in usable])
    if rpm.max() < _LEAST_SPEEDS_APART * rpm.min():
        raise BadInput(
            f"all rows lie between {rpm.min():.0f} and {rpm.max():.0f} rpm",
            f"speeds that differ by {_LEAST_SPEEDS_APART:g} times or more are needed",
            "read the wattmeter at a clearly slower or faster speed too",
            where="drill log",
        )
    per_watt = eta / (rpm * RAD_S_PER_RPM)
    watts, sigma = (np.array([getattr(r, name) for r in usable]) for name in ("added_watts", "added_watts_sigma"))
    rows = _Rows(lambda n, rest, rise: rest + rise * n, rpm, watts * per_watt, sigma * per_watt, (1.0, 0.0)).settled()
    drag = _drag(usable, rows, (1.0, 1000.0), half / eta, "drill's wattmeter", keep_all)
    said = f"The drill is assumed to pass on {eta:g} ± {half:g} of its added watts; that is in the ±."
    return replace(drag, warnings=(*drag.warnings, said))


def _enough(readings, log, next_step):
    usable = usable_rows(readings, log, next_step)
    if len(usable) < _FEWEST[log]:
        raise BadInput(
            f"{count_of(len(usable), 'row')} can be used",
            f"at least {_FEWEST[log]} are needed",
            next_step,
            where=f"{log} log",
        )
    return usable


def _require_time_rises(usable):
    for before, after in pairwise(usable):
        if after.time_s <= before.time_s:
            raise BadInput(
                f"{after.time_s:g} s comes after {before.time_s:g} s",
                "the time must rise from row to row of one coast-down",
                "correct the time, or keep only one of two coast-downs",
                where=after.where,
            )


def _coast_rows(usable, time_s, rpm):
    """Rows with the errors of time turned into speed by the slope of a curve that wild rows hardly move."""
    first, last = np.triu_indices(len(rpm), 1)
    fall = -np.median((rpm[last] - rpm[first]) / (time_s[last] - time_s[first]))
    if fall <= 0.0:
        raise BadInput(
            f"the speed does not fall from {rpm[0]:.0f} to {rpm[-1]:.0f} rpm",
            "a rotor that nothing drives slows down",
            Instruction("open the leads, take the drive off and let it coast", (Exposure.BANK, *SPUN)),
            where="coast log",
        )
    by_meter, by_hand = (np.array([getattr(r, name) for r in usable]) for name in ("speed_sigma_rpm", "time_sigma_s"))
    guess = (np.median(rpm + fall * time_s), 0.5 * fall, 0.5 * fall / np.median(rpm))
    rough = _Rows(coast_speed_rpm, time_s, rpm, np.hypot(by_meter, fall * by_hand), guess).settled()
    slope = rough.guess[1] + rough.guess[2] * coast_speed_rpm(time_s, *rough.guess)
    return _Rows(coast_speed_rpm, time_s, rpm, np.hypot(by_meter, slope * by_hand), rough.guess).settled()


@dataclass(frozen=True)
class _Rows:
    """Rows that should lie on one curve, and parameters near the right ones."""

    shape: Callable
    x: np.ndarray
    y: np.ndarray
    sigma: np.ndarray
    guess: tuple

    def settled(self):
        """The same with a guess that a few wild rows hardly move; weights after Huber and Ronchetti (from memory)."""
        wild = {"method": "trf", "loss": "cauchy", "f_scale": 1.5, "x_scale": "jac"}
        return replace(self, guess=tuple(curve_through(self.shape, self.x, self.y, self.sigma, self.guess, **wild)[0]))

    def through(self, kept, *, zero=None):
        return curve_through(self.shape, self.x[kept], self.y[kept], self.sigma[kept], self.guess, zero=zero)

    def share_off(self, values):
        return self.y / self.shape(self.x, *values) - 1.0

    def odd(self):
        def pair_in(kept):
            off = np.abs(self.y - self.shape(self.x, *self.guess)) / self.sigma
            return sorted(kept, key=lambda i: off[i])[-2:]

        def through(kept):  # parameters and squares, without the covariance
            return self.through(kept)[::2]

        return sorted(odd_in_fit(len(self.x), through, self.share_off, pair_in, parameters=len(self.guess)))


def _drag(usable, rows, scales, share, how, keep_all):
    """The result from the rows that belong; `scales` turn the last two parameters into N·m and N·m per 1000 rpm."""
    everyone = list(range(len(usable)))
    odd = [] if keep_all else rows.odd()
    kept = [i for i in everyone if i not in odd]
    curve, (rest, rise) = _estimates(rows, kept, scales, share, how)
    off, hint = rows.share_off(curve), "time or speed looks misread" if len(rows.guess) == 3 else ""
    unclear = f"A rise with the speed does not show clearly; it may be up to {say(rise.high, rise.unit, form='.2g')}."
    warnings = () if rise.low > 0.0 else (unclear,)
    return Drag(
        estimate=rest,
        drag_nm_per_1000rpm=rise,
        curve=tuple(map(float, curve)),
        estimate_all_rows=_estimates(rows, everyone, scales, share, how)[1][0],
        used_rows=tuple(usable[i].row for i in kept),
        warnings=warnings,
        odd_rows=tuple(odd_row(usable[i], off[i], len(kept), hint) for i in odd),
        residual_percent={r.row: 100.0 * float(share) for r, share in zip(usable, off)},
    )


def _estimates(rows, kept, scales, share, how):
    """The curve with no parameter of the drag below 0, and both estimates; their ± is that of the free curve."""
    values, covariance, squares = rows.through(kept)
    freedom = len(kept) - len(values)
    reach = students_t(0.975, freedom) * max((squares / freedom) ** 0.5, LEAST_SCATTER)
    below = [i for i in (-2, -1) if values[i] < 0.0]
    if below:
        values = rows.through(kept, zero=len(values) + below[0])[0]
    found, said = [], f"{how}, {count_of(len(kept), 'row')}"
    for i, scale, unit in zip((-2, -1), scales, ("N·m", _PER_1000_RPM)):
        value, random = max(float(values[i]), 0.0) * scale, reach * covariance[i, i] ** 0.5 * scale
        found.append(Estimate(value=value, plus_minus=float(hypot(random, share * value)), unit=unit, how=said))
    return values, found
