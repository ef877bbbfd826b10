"""Does the shorted log hold: do the amps level off as EMF, ohms and inductance say, and do the days agree."""

from math import hypot

import numpy as np

from statorbook.fits.kept import kept_fit
from statorbook.fits.line import LEAST_SCATTER, students_t
from statorbook.fits.line_groups import FALSE_ALARM, TO_99
from statorbook.fits.model_checks import Check, days_check, percent_words, spread_enough

_LEAST_TREND = 0.03
_MOST_UNSURE = 0.15
_CAUSES = (
    "the iron may saturate, the copper may be hot, the joint may have ohms of its own, or the clamp meter may "
    "be wrong at low amps; let it cool, solder the joint, and take the rows again"
)
_NAME = "The amps level off as EMF, ohms and inductance say"


@kept_fit
def shorted_checks(rows, used_rows):
    """Check the shorted log against I = E / √(R² + (ωL)²).

    Parameters
    ----------
    rows : ShortedRows
        All usable rows.
    used_rows : sequence of int
        Row numbers that the fit uses; none when it had to assume the inductance [-].

    Returns
    -------
    tuple of Check
        Levelling off, and the days.
    """
    kept = [i for i, r in enumerate(rows.readings) if r.row in used_rows]
    excess, sigma = rows.excess()
    shifted = [rows.excess(**shift)[0] for shift in rows.shared_shifts]
    days = days_check("Inductance", rows.readings, rows.omega_squared, excess, sigma, power=0.5, shifted=shifted)
    return _level_check(rows, kept), days


def trend(rows, kept):
    """How far the amps drift off the model from the slowest to the fastest row, as a share, and its 99 % half-width."""
    # Residual share = α ∂ln I/∂ln L + β ln(n / n₁) / ln(n₂ / n₁); drift β; half-width from the scatter, Student's t,
    # and what the ± of EMF, amps and ohms changes, in quadrature. Valid: small drift; inductance from the same rows.
    # Draper and Smith, Applied Regression Analysis, added variable (from memory).
    drift, error = _drift(rows, kept)
    moved = [TO_99 * (_drift(rows, kept, **shift)[0] - drift) for shift in rows.shared_shifts]
    return drift, hypot(students_t(1.0 - FALSE_ALARM / 2.0, len(kept) - 2) * error, *moved)


def _level_check(rows, kept):
    if not kept or not spread_enough(rows.rpm[kept]):
        return Check(name=_NAME, words="log four rows or more, from slow to as fast as the leads stay cool")
    drift, half = trend(rows, kept)
    low, high = min(rows.rpm[kept]), max(rows.rpm[kept])
    found = f"the amps drift by {percent_words(drift, half)} off the curve from {low:.0f} to {high:.0f} rpm"
    holds, words = abs(drift) <= max(half, _LEAST_TREND), _CAUSES
    if holds and half > _MOST_UNSURE:
        holds, words = None, "the ± of EMF and ohms could hide a drift; improve those first, or take faster rows"
    return Check(name=_NAME, found=found, words=words, holds=holds)


def _drift(rows, kept, **shift):
    squared = max(rows.line(kept, **shift).value, 0.0)
    reactance = squared * rows.omega_squared[kept]
    impedance = (rows.ohm.value + shift.get("shift_ohm", 0.0)) ** 2 + reactance
    across = np.log(rows.rpm[kept])
    across = (across - across.min()) / (across.max() - across.min())
    table = np.column_stack([-reactance / impedance, across]) / rows.sigma_share[kept][:, None]
    off = rows.share_off(squared, **shift)[kept] / rows.sigma_share[kept]
    found = np.linalg.lstsq(table, off, rcond=None)[0]
    scatter = np.sqrt(np.sum((off - table @ found) ** 2) / (len(kept) - 2))
    return float(found[1]), float(max(scatter, LEAST_SCATTER) * np.sqrt(np.linalg.inv(table.T @ table)[1, 1]))
