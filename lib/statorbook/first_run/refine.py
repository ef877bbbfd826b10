"""The coil's constants refined by a run: bench and run weighed together, each by its own ±."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.errors import BadInput, count_of
from statorbook.first_run.flows import Deviation
from statorbook.first_run.misfit import meter_pulls, misfit_table, misfits
from statorbook.job.parts import RefinedPart
from statorbook.quantities import NORMAL_95

_FIELDS = {
    "emf_v_per_rpm": ("emf", "emf_share"),
    "ohm": ("resistance", "ohm_share"),
    "henry": ("inductance", "henry_share"),
}
# A ± of nothing would let the run say nothing at all; no bench knows a constant better than this.
_LEAST_SHARE = 0.002
_AS_IT_IS = np.array([1.0, 1.0, 1.0, 0.0, 0.0])
_STEP = 1e-3  # of a factor, for differences in place of derivatives


def refined(case, coil_part, today):
    """Weigh the run's readings against the bench's constants.

    Parameters
    ----------
    case : RunCase
        Machine and rows; the drive's speeds are left out, for they hang on the drive.
    coil_part : CoilPart
        The bench's constants with their ±.
    today : date
        The date that is kept.

    Returns
    -------
    RefinedPart
        To be kept beside the bench's constants.

    Raises
    ------
    BadInput
        When the coil part is not the one the case was made with.

    Notes
    -----
    Equation: least of Σ misfit² + (v − v₀)ᵀ C⁻¹ (v − v₀) over v, factors on EMF, ohms and inductance with the error of
        ammeter and voltmeter, the same in all rows; C the bench's covariance; ± 95 % from the inverse of JᵀJ there.
    Valid: what differs is in these; a worn cable or another diode would be taken for them; bench and run read with the
        same meters.
    Source: JCGM 100:2008 (GUM), 5.2; Gauss-Newton covariance, Press et al., Numerical Recipes, 15.5 (from memory).
    """
    if coil_part.emf_v_per_rpm != case.machine.coil.emf_v_per_rpm:
        raise BadInput(
            "constants of another machine were given",
            "those that the promise was worked out with are needed",
            "run the page again",
            where="refined constants",
        )
    estimates = {name: getattr(coil_part, part) for name, (part, _) in _FIELDS.items()}
    found = _weighed(case, coil_part, speeds=False)
    width = NORMAL_95 * np.sqrt(np.diag(np.linalg.inv(found.jac.T @ found.jac)))
    made = {}
    for (name, bench), factor, share in zip(estimates.items(), found.x[:3], width[:3], strict=True):
        made[name] = float(bench.value * factor)
        made[_plus_minus(name)] = float(bench.value * share)
    rows = count_of(len(case.charging) + len(case.open_leads), "row")
    how = f"bench constants and {rows} of the run log, each by its ±"
    return RefinedPart(date=today.isoformat(), how=how, **made)


def least_misfit(case, coil_part=None):
    """What is left over when the constants may move within their ± at its price."""
    if coil_part is None:
        off = misfits(case)
        return float(off @ off)
    return 2.0 * float(_weighed(case, coil_part, speeds=True).cost)


def _weighed(case, coil_part, *, speeds):
    """Factors on the three constants, then the error of ammeter and voltmeter in sigmas, by least squares."""
    from scipy.optimize import least_squares

    prior, pulls = _Prior.of(case, coil_part), meter_pulls(case)
    pulls = np.pad(pulls, ((0, 0), (0, len(case.driven) if speeds else 0)))

    def deviation(factors):
        return replace(Deviation(), **{key: float(f) for (_, key), f in zip(_FIELDS.values(), factors, strict=True)})

    def off(values):
        (table,) = misfit_table(case, [deviation(values[:3])], speeds=speeds, own=True)
        return np.concatenate([table - values[3:] @ pulls, prior.root @ (values - _AS_IT_IS)])

    def slopes(values):
        stepped = [deviation(some) for some in (values[:3], *(values[:3] + _STEP * np.eye(3)))]
        table = misfit_table(case, stepped, speeds=speeds, own=True)
        return np.concatenate([np.hstack([(table[1:] - table[0]).T / _STEP, -pulls.T]), prior.root])

    bounds = [0.3] * 3 + [-np.inf] * 2, [3.0] * 3 + [np.inf] * 2
    return least_squares(off, _AS_IT_IS, slopes, bounds=bounds, x_scale=prior.sigma)


@dataclass(frozen=True, kw_only=True)
class _Prior:
    """What the bench says of the three constants and of the two meters that it was read with, too."""

    root: np.ndarray  # of the inverse of its covariance, shape (5, 5)
    sigma: np.ndarray  # of each by itself, shape (5,)

    @classmethod
    def of(cls, case, coil_part):
        """Constants as shares of the bench's, meters in their sigmas."""
        # A voltmeter that shows too much made the EMF too large, an ammeter made the henries too small: the factor
        # that sets it right is as much below and above 1. Valid: the same meters at the bench and at the run; one that
        # the bench's ± has no room for was another one. Correlated input quantities, JCGM 100:2008 (GUM), 5.2 and
        # F.1.2 (from memory).
        emf, ohm, henry = (getattr(coil_part, part) for part, _ in _FIELDS.values())
        sigma = np.array([max(constant.sigma_share, _LEAST_SHARE) for constant in (emf, ohm, henry)])
        amps, volts = _meter_sigmas(case)
        by_emf, by_ohm = (_gain(henry, band, name) for name, band in (("emf", emf), ("ohm", ohm)))
        loads = np.zeros((5, 5))  # of each value on causes that are independent of each other
        loads[0, [0, 4]] = _parted(sigma[0], volts)
        loads[1, 1] = sigma[1]
        own = max(henry.own_plus_minus / NORMAL_95 / henry.value, _LEAST_SHARE)
        loads[2] = by_emf * loads[0] + by_ohm * loads[1]
        rest, moved = _parted(own, by_emf * amps)
        loads[2, [2, 3]] += rest, -moved
        loads[3, 3] = loads[4, 4] = 1.0
        return cls(root=np.linalg.inv(loads), sigma=np.linalg.norm(loads, axis=1))


def _parted(whole, shared):
    """A sigma parted in what is left of it and, signed as a factor that corrects it, what comes from a meter."""
    return (np.sqrt(whole**2 - shared**2), -shared) if shared < whole else (whole, 0.0)


def _gain(henry, band, name):
    """By how many shares the henries move when EMF or ohms move by one."""
    return henry.moved_by.get(name, 0.0) / henry.value / (band.plus_minus / band.value) if band.plus_minus else 0.0


def _meter_sigmas(case):
    """One sigma of ammeter and voltmeter, over their readings; 0 where a meter was not used."""
    amps = [row.dc_amps_shared / row.dc_amps for row in case.charging]
    volts = [row.line_volts_shared / row.line_volts for row in case.open_leads]
    return tuple(float(np.mean(shares)) if shares else 0.0 for shares in (amps, volts))


def _plus_minus(name):
    return "emf_plus_minus_v_per_rpm" if name == "emf_v_per_rpm" else f"{name}_plus_minus"
