"""The coil's constants refined by a run: bench and run weighed together, each by its own ±."""

from dataclasses import replace

import numpy as np

from statorbook.errors import BadInput, count_of
from statorbook.first_run.flows import Deviation
from statorbook.first_run.misfit import misfit_table, misfits
from statorbook.job.parts import RefinedPart
from statorbook.quantities import NORMAL_95

_FIELDS = {
    "emf_v_per_rpm": ("emf", "emf_share"),
    "ohm": ("resistance", "ohm_share"),
    "henry": ("inductance", "henry_share"),
}
# A ± of nothing would let the run say nothing at all; no bench knows a constant better than this.
_LEAST_SHARE = 0.002
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
    Equation: least of Σ misfit² + Σ ((factor − 1) / sigma)² over factors on EMF, ohms and inductance together; ± 95 %
        from the inverse of JᵀJ at the minimum.
    Valid: what differs is in these three; a worn cable or another diode would be taken for them.
    Source: JCGM 100; Gauss-Newton covariance, Press et al., Numerical Recipes, 15.5 (from memory).
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
    for (name, bench), factor, share in zip(estimates.items(), found.x, width, strict=True):
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
    from scipy.optimize import least_squares

    bench = [getattr(coil_part, part) for part, _ in _FIELDS.values()]
    sigma = np.array([max(constant.sigma_share, _LEAST_SHARE) for constant in bench])

    def deviation(factors):
        return replace(Deviation(), **{key: float(f) for (_, key), f in zip(_FIELDS.values(), factors, strict=True)})

    def off(factors):
        return np.concatenate([misfits(case, deviation(factors), speeds=speeds), (factors - 1.0) / sigma])

    def slopes(factors):
        table = misfit_table(
            case, [deviation(some) for some in (factors, *(factors + _STEP * np.eye(3)))], speeds=speeds
        )
        return np.concatenate([(table[1:] - table[0]).T / _STEP, np.diag(1.0 / sigma)])

    return least_squares(off, np.ones(3), slopes, bounds=(0.3, 3.0), x_scale=sigma)


def _plus_minus(name):
    return "emf_plus_minus_v_per_rpm" if name == "emf_v_per_rpm" else f"{name}_plus_minus"
