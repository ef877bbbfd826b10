"""The ohms log fitted: star-equivalent phase ohms at 20 °C with ±, and the balance of the pairs."""

from math import hypot, isnan

import numpy as np

from statorbook.errors import count_of
from statorbook.fits.fit import UNKNOWN_ROOM_K, Fit, random_half_width, usable_rows
from statorbook.fits.kept import kept_fit
from statorbook.fits.line import slope_through_origin
from statorbook.fits.odd_rows import odd_points, odd_row
from statorbook.fits.pair_balance import balance_warnings, pair_balance
from statorbook.fits.shared_errors import shares_of
from statorbook.quantities import CONDUCTORS, NORMAL_95, Estimate
from statorbook.winding import resistance_factor


@kept_fit
def fit_ohms(readings, *, conductor="copper", keep_all=False):
    """Fit the star-equivalent phase ohms at 20 °C.

    Parameters
    ----------
    readings : sequence of OhmsReading
        The ohms log.
    conductor : str
        "copper" or "aluminium".
    keep_all : bool
        True uses every usable row, odd or not.

    Returns
    -------
    Fit
        Its estimate is the resistance of one phase of the equivalent star at 20 °C [Ω].

    Raises
    ------
    BadInput
        When no row can be used or the conductor is unknown.

    Notes
    -----
    Equation: weighted mean of (reading − probes) / 2 × (k + 20) / (k + θ); ± from the scatter (Student's t, 95 %), the
        meter's class, the last digits, which all rows share, and 10 K for rows without temperature, in quadrature.
    Valid: direct-current ohms, machine at rest at one temperature throughout.
    Source: IEC 60034-1, resistance method (from memory); JCGM 100 for the quadrature (from memory).
    Derivation: `fits.weighted_line`, `fits.ohm_share`.
    """
    used = usable_rows(readings, "ohms", "read the ohms between the leads, machine at rest")
    warm_c = np.array([20.0 if isnan(r.copper_c) else r.copper_c for r in used])
    to_20 = 1.0 / resistance_factor(warm_c, conductor=conductor)
    ohm, sigma, rounding = (
        np.array([getattr(r, name) for r in used]) * to_20 for name in ("star_ohm", "star_ohm_sigma", "rounding_ohm")
    )
    ones, pairs = np.ones(len(used)), [r.terminals for r in used]
    odd = [] if keep_all else odd_points(ones, ohm, sigma, lambda slope: ohm / slope - 1.0, names=pairs)
    kept = [i for i in range(len(used)) if i not in odd]
    everyone = list(range(len(used)))
    (estimate, shared), (estimate_all, _) = (
        _estimate(used, rows, ohm, sigma, rounding, conductor) for rows in (kept, everyone)
    )
    off = ohm / estimate.value - 1.0
    ratios = pair_balance([pairs[i] for i in kept], ones[kept], ohm[kept], sigma[kept])
    return Fit(
        estimate=estimate,
        estimate_all_rows=estimate_all,
        shared_share=shared,
        used_rows=tuple(used[i].row for i in kept),
        odd_rows=tuple(odd_row(used[i], off[i], len(kept)) for i in odd),
        pair_ratios=ratios,
        residual_percent={r.row: 100.0 * float(share) for r, share in zip(used, off)},
        warnings=tuple(_warnings(len(kept), ratios)),
    )


def _estimate(used, rows, ohm, sigma, rounding, conductor):
    line = slope_through_origin(np.ones(len(rows)), ohm[rows], sigma[rows])
    unknown_c = sum(isnan(used[i].copper_c) for i in rows) / len(rows)
    room = unknown_c * UNKNOWN_ROOM_K.value / (CONDUCTORS[conductor].value + 20.0) * line.value
    meter = float(np.mean(shares_of([used[i] for i in rows], "class"))) * line.value
    shared = hypot(meter, NORMAL_95 * np.mean(rounding[rows]), room)
    half_width = hypot(random_half_width(line), shared)
    spread = "scatter (Student's t)" if len(rows) > 1 else "5 % assumed for a single reading"
    return Estimate(
        value=line.value,
        plus_minus=float(half_width),
        unit="Ω",
        how=f"one phase of the equivalent star at {{20 °C}} from {count_of(len(rows), 'row')} of the ohms log; "
        f"± 95 % from {spread}, meter class and last digits",
    ), float(shared / line.value)


def _warnings(rows, ratios):
    found = balance_warnings(ratios, "Resistance", "look for a bad joint, a broken wire in hand, or shorted turns")
    if rows == 1:
        found.append("The ohms log has a single usable row, so its ± is assumed, not found: read all three pairs.")
    return found
