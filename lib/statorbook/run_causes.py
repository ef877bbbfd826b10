"""Which single cause explains best how the finished machine differs from its promise, and what would tell two apart."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.constants import Fact
from statorbook.first_run import Moved, misfits
from statorbook.run_refine import least_misfit

_TRADE = "common practice, no source"
MAGNET_SHARE = Fact(
    value=0.10, unit="of the EMF, one sigma", source=f"heat, age and knocks, {_TRADE}", low=0.03, high=0.3
)
OHM_SHARE = Fact(
    value=0.15, unit="of the ohms, one sigma", source=f"35 K warmer, bad joints, {_TRADE}", low=0.05, high=0.4
)
HENRY_SHARE = Fact(value=0.10, unit="of the inductance, one sigma", source=f"saturation, {_TRADE}", low=0.05, high=0.3)
DIODE_V = Fact(value=0.4, unit="V each, one sigma", source=f"other diodes, warmth, {_TRADE}", low=0.1, high=0.5)
CABLE_OHM = Fact(value=0.2, unit="Ω, one sigma", source=f"joints and a longer cable, {_TRADE}", low=0.02, high=0.5)
SOURCE_SHARE = Fact(
    value=0.10, unit="of the source, one sigma", source=f"gauge, cup wheel, {_TRADE}", low=0.03, high=0.3
)
_AS_PROMISED = 0.05  # a healthy machine is told so at least this often by chance alone
_CLOSE = {"xatol": 1e-3}
_ALIKE = 4.0  # two sigma, squared


@dataclass(frozen=True, kw_only=True)
class Cause:
    """One thing that may be different from what was promised.

    Parameters
    ----------
    name : str
        In few words.
    field : str
        What of `Moved` it moves.
    rest : float
        The value of that field when nothing is different, in its unit [unit].
    low : float
        Lowest value that is plausible, in the field's unit [unit].
    high : float
        Highest value that is plausible, in the field's unit [unit].
    sigma : float
        How far it may be off without surprise, one sigma, in the field's unit [unit].
    tell : str
        The one reading that proves or clears it.
    fewer_paths : bool
        Whether ohms and inductance move together, as with an open path.
    """

    name: str
    field: str
    rest: float
    low: float
    high: float
    sigma: float
    tell: str
    fewer_paths: bool = False

    def moved(self, value):
        """The difference from the promise when this is what moved.

        Parameters
        ----------
        value : float
            In the field's unit [unit].

        Returns
        -------
        Moved
            For `first_run.misfits`.
        """
        if self.fewer_paths:
            return Moved(ohm_share=value, henry_share=value)
        return replace(Moved(), **{self.field: value})


@dataclass(frozen=True, kw_only=True)
class Ranked:
    """A cause as the readings see it.

    Parameters
    ----------
    cause : Cause
        The cause.
    value : float
        Where it fits best, in the unit of the cause's field [unit].
    misfit : float
        Sum of squares of reading minus predicted over sigma there [-].
    total : float
        The same with what the move itself costs [-].
    sigmas : ndarray
        How many sigma each reading is off there, shape (rows,) [-].
    """

    cause: Cause
    value: float
    misfit: float
    total: float
    sigmas: object

    @property
    def words(self):
        """The cause with its size, in words."""
        cause = self.cause
        if cause.fewer_paths:
            return cause.name
        if cause.rest == 1.0:
            change = 100.0 * (self.value - 1.0)
            return f"{cause.name}: {abs(change):.0f} % {'more' if change > 0 else 'less'}"
        unit = {"diode_v": "V each", "cable_ohm": "Ω", "drag_nm": "N·m"}[cause.field]
        return f"{cause.name}: {abs(self.value):.2g} {unit} {'more' if self.value > 0 else 'less'}"


def causes_for(case, coil_part=None):
    """The causes that can be told from the rows at hand.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    coil_part : CoilPart or None
        Its ± widen what is no surprise.

    Returns
    -------
    tuple of Cause
        Drag and source only where the source was read; an open path only where there are several.
    """
    found = [*_of_the_coil(coil_part), *_beyond_the_coil(case.machine.setting.conditions)]
    if case.grouping.parallel > 1:
        found.append(_open_path(case.grouping.parallel))
    if case.driven:
        found += _of_the_drive(case.machine.setting.conditions)
    return tuple(found)


def _of_the_coil(coil_part):
    wide = (0.0, 0.0, 0.0)
    if coil_part is not None:
        wide = tuple(each.sigma_share for each in (coil_part.emf, coil_part.resistance, coil_part.inductance))
    facts = (MAGNET_SHARE, OHM_SHARE, HENRY_SHARE)
    magnets, ohms, henries = (float(np.hypot(fact.value, share)) for fact, share in zip(facts, wide, strict=True))
    return [
        _share("EMF of the magnets", "emf_share", magnets, "the volts at open leads at one known speed"),
        _share(
            "ohms of the coils (hotter copper, a bad joint)",
            "ohm_share",
            ohms,
            "the ohms between the leads, right after stopping",
        ),
        _share("inductance of the coils", "henry_share", henries, "the amps with all leads joined, at a low speed"),
    ]


def _beyond_the_coil(at):
    wires = "the volts from rectifier to bank along each wire"
    return [
        _added(
            "drop of the diodes",
            "diode_v",
            -at.diode_drop_v,
            1.5,
            DIODE_V,
            "the DC volts across one diode at full amps",
        ),
        _added("ohms of the cable", "cable_ohm", -at.cable_ohm, 1.0, CABLE_OHM, wires),
    ]


def _open_path(paths):
    """One phase of three has one path less: a/(a − 1) times the ohms and henries, averaged over the phases."""
    share = 1.0 + 1.0 / (3.0 * (paths - 1))
    tell = "the ohms of the three pairs of leads: with one path open they are not alike"
    name = "one path of one phase open"
    same = {"low": share, "high": share, "rest": 1.0, "sigma": 0.1}
    return Cause(name=name, field="ohm_share", tell=tell, fewer_paths=True, **same)


def _of_the_drive(at):
    about = Fact(value=2.0 * max(at.drag_nm, 0.1), unit="N·m", source=_TRADE, low=0.0, high=100.0)
    coast, gauge = "a coast-down, page 03_what_turns_it", "the gauge once more, close to it"
    return [
        _added("drag", "drag_nm", -at.drag_nm, 10.0 * about.value, about, coast),
        _share("what the source gives", "source_share", SOURCE_SHARE.value, gauge),
    ]


def _share(name, field, sigma, tell):
    return Cause(name=name, field=field, rest=1.0, low=0.4, high=1.8, sigma=sigma, tell=tell)


def _added(name, field, low, high, fact, tell):
    return Cause(name=name, field=field, rest=0.0, low=low, high=high, sigma=fact.value, tell=tell)


def as_promised(case, coil_part=None):
    """Whether the readings lie within their own errors and the ± of the coil constants of the promise.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    coil_part : CoilPart or None
        The bench's constants with their ±; taken as exact when None.

    Returns
    -------
    bool
        True when a machine exactly as promised would give readings this far off at least once in twenty.

    Notes
    -----
    Equation: chi-square of the misfits, the constants free within their ± at its price, against its 95 % point.
    Valid: errors as in `first_run.misfits`.
    Source: JCGM 100 (from memory).
    """
    from scipy.special import chdtri

    rows = len(misfits(case))
    return least_misfit(case, coil_part) <= chdtri(rows, _AS_PROMISED)


def rank_causes(case, coil_part=None):
    """Fit each cause alone and put the best first.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    coil_part : CoilPart or None
        Its ± widen what is no surprise.

    Returns
    -------
    tuple of Ranked
        Best first.

    Notes
    -----
    Equation: least of Σ misfit² + ((value − rest) / sigma)² over the plausible values, one cause at a time.
    Valid: one cause; two together need more readings.
    Source: maximum a posteriori, Sivia and Skilling, Data Analysis: A Bayesian Tutorial (from memory).
    """
    found = [_fitted(case, cause) for cause in causes_for(case, coil_part)]
    return tuple(sorted(found, key=lambda each: each.total))


def _fitted(case, cause):
    from scipy.optimize import minimize_scalar

    def total(value):
        off = misfits(case, cause.moved(value))
        return float(off @ off) + ((value - cause.rest) / cause.sigma) ** 2

    if cause.low == cause.high:
        # An open path either is or is not; before any reading it is taken to be rare, as two sigma are.
        value, cost = cause.low, 4.0
    else:
        value = float(minimize_scalar(total, bounds=(cause.low, cause.high), method="bounded", options=_CLOSE).x)
        cost = ((value - cause.rest) / cause.sigma) ** 2
    off = misfits(case, cause.moved(value))
    misfit = float(off @ off)
    return Ranked(cause=cause, value=value, misfit=misfit, total=misfit + cost, sigmas=off)


def alike(ranked):
    """The causes that these readings cannot tell from the best one.

    Parameters
    ----------
    ranked : tuple of Ranked
        From `rank_causes`.

    Returns
    -------
    tuple of Ranked
        The best and those that fit less than two sigma worse.
    """
    return tuple(each for each in ranked if each.total - ranked[0].total < _ALIKE)
