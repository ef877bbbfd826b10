"""The spin log fitted: volts per rpm with ±, odd rows named, offset and balance checked."""

from math import hypot

import numpy as np

from statorbook.cautions import SPUN, Instruction
from statorbook.errors import count_of
from statorbook.fits.fit import UNKNOWN_ROOM_K, Fit, usable_rows
from statorbook.fits.kept import kept_fit
from statorbook.fits.line import slope_through_origin
from statorbook.fits.line_groups import zero_offset
from statorbook.fits.odd_rows import odd_points, odd_row
from statorbook.fits.pair_balance import balance_warnings, pair_balance
from statorbook.fits.shared_errors import shared_words, slope_widths
from statorbook.quantities import MAGNETS, Estimate, Fact, say
from statorbook.winding import magnet_factor

MOST_EMF_V_PER_RPM = Fact(
    value=1.0,
    unit="V/rpm rms, star-equivalent phase, highest usual",
    low=0.5,
    high=3.0,
    source="salvaged many-pole stators as found, common practice, no source",
)
_LEAST_OFFSET_SHARE = 0.02
_SPEED_STEP = 1.05  # speeds closer than this count as one
_LINE_PAIRS, _PHASES = ("AB", "BC", "CA"), ("AN", "BN", "CN")


@kept_fit
def fit_emf(readings, stator, *, machine_c=None, magnet="ferrite", keep_all=False):
    """Fit the star-equivalent phase EMF per rpm.

    Parameters
    ----------
    readings : sequence of SpinReading
        The spin log.
    stator : Stator
        Slots and poles.
    machine_c : float or None
        Temperature of the resting machine, for the magnets; 20 °C ± 10 K when None [°C].
    magnet : str
        "ferrite" or "neodymium".
    keep_all : bool
        True uses every usable row, odd or not.

    Returns
    -------
    Fit
        Its estimate is rms volts of one phase of the equivalent star per rpm, magnets at 20 °C [V/rpm].

    Raises
    ------
    BadInput
        When no row can be used.

    Notes
    -----
    Equation: weighted least squares through the origin; weights from one sigma of 1 % of the reading and the meter's
        digits, and from what rows share of the kind of their evidence; ± as `slope_widths` joins it.
    Valid: EMF near a sine, no load, one meter.
    Source: Draper and Smith (from memory); JCGM 100 for the quadrature (from memory).
    Derivation: `fits.weighted_line`, `fits.slope_share`.
    """
    next_step = Instruction("spin the machine at three speeds or more and log the volts", SPUN)
    used = usable_rows(readings, "spin", next_step)
    rpm, emf, sigma = (
        np.array([getattr(r, name) for r in used]) for name in ("speed_rpm", "star_emf_v_rms", "star_emf_sigma_v")
    )
    pairs = [r.terminals for r in used]
    odd = [] if keep_all else odd_points(rpm, emf, sigma, lambda slope: emf / (slope * rpm) - 1.0, names=pairs)
    kept = [i for i in range(len(used)) if i not in odd]
    line = slope_through_origin(rpm[kept], emf[kept], sigma[kept])
    off = emf / (line.value * rpm) - 1.0
    ratios = _balance(pairs, rpm, emf, sigma, kept)
    (estimate, shared), (estimate_all, _) = (
        _estimate([used[i] for i in rows], rpm[rows], emf[rows], sigma[rows], machine_c, magnet)
        for rows in (kept, list(range(len(used))))
    )
    return Fit(
        estimate=estimate,
        estimate_all_rows=estimate_all,
        shared_share=shared,
        used_rows=tuple(used[i].row for i in kept),
        odd_rows=tuple(odd_row(used[i], off[i], len(kept), _exchange(used[i], line.value)) for i in odd),
        residual_percent={r.row: 100.0 * float(share) for r, share in zip(used, off)},
        pair_ratios=ratios,
        warnings=(
            *_warnings(rpm[kept], emf[kept], sigma[kept], line, stator, machine_c, ratios),
            *shared_words([used[i] for i in kept]),
        ),
    )


def _estimate(readings, rpm, emf, sigma, machine_c, magnet):
    """The estimate, and the part of its ± that all rows share, over the value."""
    line = slope_through_origin(rpm, emf, sigma)
    at_20 = 1.0 / magnet_factor(20.0 if machine_c is None else machine_c, magnet=magnet)
    room_share = UNKNOWN_ROOM_K.value * abs(MAGNETS[magnet].value) if machine_c is None else 0.0
    widths = slope_widths(readings, line, rpm, emf, sigma)
    shared = hypot(widths.shared / line.value, room_share)
    share = hypot(widths.random / line.value, shared)
    spread = "scatter (Student's t)" if len(readings) > 1 else "5 % assumed for a single reading"
    return Estimate(
        value=line.value * at_20,
        plus_minus=share * line.value * at_20,
        unit="V/rpm",
        how=f"phase rms of the equivalent star, magnets at {{20 °C}}, from {count_of(len(readings), 'row')} of "
        f"the spin log; ± 95 % from {spread} and meter class",
    ), shared


def _balance(pairs, rpm, emf, sigma, kept):
    ratios = {}
    for family in (_LINE_PAIRS, _PHASES):
        own = [i for i in kept if pairs[i] in family]
        ratios |= pair_balance([pairs[i] for i in own], rpm[own], emf[own], sigma[own])
    return ratios


def _warnings(rpm, emf, sigma, line, stator, machine_c, ratios):
    found = balance_warnings(ratios, "EMF", "look for shorted turns, a bad joint, or two leads mixed up")
    speeds = _different_speeds(rpm)
    if len(rpm) == 1:
        found.append("The spin log has a single usable row, so its ± is assumed, not found: log more.")
    if speeds < 3:
        found.append(
            f"The spin log has {count_of(speeds, 'different speed')}: three or more are needed "
            "to see whether volts rise in step with speed."
        )
    elif len(rpm) > 3:
        found += _offset_warnings(rpm, emf, sigma)
    if line.scatter > 3.0:
        found.append(
            f"The rows scatter by about {100 * np.std(emf / (line.value * rpm)):.0f} %, more than a meter "
            "should: hold the speed steady and log more rows."
        )
    if line.value > MOST_EMF_V_PER_RPM.value:
        found.append(
            f"{line.value:.3g} V of phase rms per rpm is more than the {MOST_EMF_V_PER_RPM.value:g} V that is "
            "usual for such stators: check that speed and volts are not exchanged and that there are really "
            f"{stator.poles} poles."
        )
    if machine_c is None:
        room = f"{say(20, '°C')} ± {say(10, 'K')}"
        found.append(f"No machine temperature is known, so the magnets are taken as at {room}.")
    return found


def _offset_warnings(rpm, emf, sigma):
    offset, plus_minus = zero_offset(rpm, emf, sigma)
    if abs(offset) <= max(plus_minus, _LEAST_OFFSET_SHARE * np.mean(emf)):
        return []
    return [
        f"Volts do not start from zero at standstill: the line through the rows is off by {offset:+.2g} ± "
        f"{plus_minus:.1g} V phase rms; check the meter's zero, its lowest range and the rpm meter."
    ]


def _different_speeds(rpm):
    count, last = 0, 0.0
    for speed in sorted(rpm):
        if speed > last * _SPEED_STEP:
            count, last = count + 1, speed
    return count


def _exchange(reading, slope):
    """Line volts typed as rpm and rpm as volts would give rpm / (3 emf) volts of phase per rpm."""
    exchanged = reading.speed_rpm / (3.0 * reading.star_emf_v_rms)
    looks_so = reading.terminals in _LINE_PAIRS and abs(exchanged / slope - 1.0) < 0.1
    return "speed and volts look exchanged" if looks_so else ""
