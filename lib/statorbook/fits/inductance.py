"""The shorted-lead log fitted: star-equivalent phase henries with ±, or a band that is marked as assumed."""

from statorbook.cautions import SPUN_HOT, Instruction
from statorbook.errors import count_of
from statorbook.fits.fit import Fit, usable_rows
from statorbook.fits.kept import kept_fit
from statorbook.fits.odd_rows import OddRow, odd_row
from statorbook.fits.shorted import ShortedRows
from statorbook.quantities import Estimate, Fact

USUAL_TIME_CONSTANT_S = Fact(
    value=0.006,
    unit="s, inductance over resistance at 20 °C",
    low=0.003,
    high=0.009,
    source="salvaged many-pole tooth-coil stators, common practice, no source",
)


@kept_fit
def fit_inductance(readings, emf, ohm, stator, *, machine_c=None, conductor="copper", magnet="ferrite", keep_all=False):
    """Fit the star-equivalent phase henries from amps with all leads joined, or assume a band when they show none."""
    # I = E / √(R² + (ωL)²), so (E/I)² − R² = L² ω²: weighted least squares through the origin gives L²; ± from the
    # scatter (Student's t, 95 %), the meter's class and band, and the ± of EMF and ohms, in quadrature.
    # Valid: sinusoidal EMF, iron not saturated, copper not yet heated by the short.
    # Fitzgerald, Kingsley, Umans, Electric Machinery, short-circuit test (from memory).
    next_step = Instruction("join all three leads, turn steadily and log the amps of one lead", SPUN_HOT)
    used = usable_rows(readings, "shorted", next_step)
    rows = ShortedRows.at(used, emf, ohm, stator, machine_c=machine_c, conductor=conductor, magnet=magnet)
    impossible = [] if keep_all else rows.impossible()
    possible = [i for i in range(len(used)) if i not in impossible]
    odd = [] if keep_all or not possible else rows.odd_among(possible)
    kept = [i for i in possible if i not in odd]
    by_others = rows.share_off(rows.line(kept).value) if odd else []
    named = [_impossible_row(rows, i) for i in impossible] + [odd_row(used[i], by_others[i], len(kept)) for i in odd]
    estimate, warnings = _judge(rows, kept, assumed_inductance(ohm))
    off = rows.share_off(estimate.value**2)
    return Fit(
        estimate=estimate,
        estimate_all_rows=rows.estimate(range(len(used))),
        used_rows=() if estimate.assumed else tuple(used[i].row for i in kept),
        odd_rows=tuple(sorted(named, key=lambda odd: odd.row)),
        warnings=tuple(warnings),
        residual_percent={r.row: 100.0 * float(share) for r, share in zip(used, off)},
    )


def assumed_inductance(ohm):
    """A band for the inductance when the shorted leads were never read.

    Parameters
    ----------
    ohm : Estimate
        Star-equivalent phase resistance at 20 °C [Ω].

    Returns
    -------
    Estimate
        Henries of one phase of the equivalent star, marked as assumed [H].

    Notes
    -----
    Equation: L = τ R with τ from 3 ms to 9 ms.
    Valid: salvaged many-pole stators with a coil on every tooth; a factor of three from end to end, no measurement.
    Source: common practice, no source.
    """
    usual = USUAL_TIME_CONSTANT_S
    half_band = (usual.high - usual.low) / 2.0
    return Estimate(
        value=usual.value * ohm.value,
        plus_minus=half_band * ohm.value,
        unit="H",
        assumed=True,
        how=f"assumed, not measured: {1000 * usual.low:g} to {1000 * usual.high:g} ms times the "
        "resistance, a factor of three from end to end (common practice, no source)",
    )


def _impossible_row(rows, place):
    reading, share = rows.readings[place], float(rows.share_off(0.0)[place])
    sentence = (
        f"{reading.where}: {reading.line_amps_rms:g} A are {100 * share:.0f} % more than EMF and "
        f"resistance alone allow at {reading.speed_rpm:.0f} rpm; it is set aside, not deleted; check "
        "amps, range and speed, and take that reading again."
    )
    return OddRow(row=reading.row, percent_off=100.0 * share, sentence=sentence)


def _judge(rows, kept, band):
    """The estimate that the rows kept allow, with warnings; the assumed band when they show no inductance."""
    estimate = rows.estimate(kept) if kept else None
    if estimate is None or estimate.low <= 0.0:
        return _at_most(rows, kept, band), [_nothing_shown(rows, kept, rows.telling_rpm(band.value))]
    warnings = []
    if len(kept) < 3:
        warnings.append(f"The shorted log has only {count_of(len(kept), 'row')} in the fit: log three speeds or more.")
    if rows.highest_rpm(kept) < rows.telling_rpm(estimate.value):
        warnings.append(
            f"All shorted rows are below {rows.telling_rpm(estimate.value):.0f} rpm, where resistance "
            "still rules the amps and hides the inductance: take rows at higher speed, if the leads stay "
            "cool."
        )
    return estimate, warnings


def _at_most(rows, kept, band):
    """The assumed band, or from nothing to what the rows allow when that is less."""
    most = rows.estimate(kept).high if kept else band.high
    if most >= band.high:
        return band
    return Estimate(
        value=most / 2.0,
        plus_minus=most / 2.0,
        unit="H",
        assumed=True,
        how="assumed between nothing and the most that the shorted log allows",
    )


def _nothing_shown(rows, kept, telling_rpm):
    if kept and rows.highest_rpm(kept) < telling_rpm:
        return (
            f"The shorted rows show no inductance, since at such low speed the resistance rules the amps, so a "
            f"band is assumed: take rows up to {telling_rpm:.0f} rpm or more, if the leads stay cool."
        )
    return (
        "The shorted rows show no inductance, since the amps are as high as EMF and resistance alone allow, so "
        "a band is assumed: check the clamp meter's range, the ohms and the volts per rpm."
    )
