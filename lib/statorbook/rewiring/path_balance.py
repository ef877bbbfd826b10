"""How far the parallel paths of a wiring differ, from the survey of the coils, and what that drives round in them."""

from dataclasses import dataclass
from math import inf, isfinite

import numpy as np

from statorbook.errors import BadInput
from statorbook.winding import PHASES


@dataclass(frozen=True, kw_only=True)
class PathDifference:
    """One path against the mean of its phase."""

    path: str
    emf_sum: float  # in volts of a typical coil
    ohm_sum: float  # in ohms of a typical coil; infinite when one of its coils is open
    emf_off_percent: float  # from the mean of the phase
    ohm_off_percent: float  # from the mean of the phase's paths that are not open; infinite for an open one
    unread: dict  # under "volts" and "ohms" its teeth without a reading, which count as typical
    sentence: str


def survey_path_differences(survey, wired):
    """Add up the coils of each path as they were read.

    Parameters
    ----------
    survey : Survey
        From `fits.coil_survey.fit_survey`.
    wired : Wiring
        The paths, such as those of a plan, `plan.wired`.

    Returns
    -------
    dict of str to tuple of PathDifference
        Under "A", "B" and "C" its paths in order.

    Notes
    -----
    Equation: volts of a path = Σ share of its coils, ohms likewise; off = sum / mean of the phase − 1.
    Valid: all paths of a phase hold coils at the same angles, which `Wiring` sees to; coils at the edge of a belt
        add a little less than those in its middle, which is left out.
    Source: Kirchhoff's voltage law.
    """
    found = {}
    for phase in PHASES:
        teeth = [[tooth for tooth, _ in path] for path in wired.paths[phase]]
        emf = np.array([sum(_share(survey.emf_share, tooth) for tooth in path) for path in teeth])
        ohm = np.array([sum(_ohm(survey, tooth) for tooth in path) for path in teeth])
        closed = ohm[np.isfinite(ohm)]
        emf_off, ohm_off = _off(emf, emf.mean()), _off(ohm, closed.mean() if len(closed) else 1.0)
        found[phase] = tuple(
            _difference(survey, f"{phase}{k + 1}", path, float(emf[k]), float(ohm[k]), emf_off[k], ohm_off[k])
            for k, path in enumerate(teeth)
        )
    return found


def circulating_amps(path_volts, path_ohms, path_reactance_ohm):
    """Current that parallel paths of different EMF drive round in each other, terminals open.

    Parameters
    ----------
    path_volts : array_like
        EMF of each path, rms, paths along the last axis; complex where the paths differ in phase [V].
    path_ohms : array_like
        Resistance of each path, or one number for all; infinite for an open path [Ω].
    path_reactance_ohm : array_like
        Reactance of each path at the working speed, or one number for all; 0 gives the most that can flow [Ω].

    Returns
    -------
    ndarray
        Current in each path, rms, in the shape of the volts [A].

    Raises
    ------
    BadInput
        When a number is not usable or a path has neither resistance nor reactance.

    Notes
    -----
    Equation: terminal volts U = Σ(E / Z) / Σ(1 / Z), current of path k = |E_k − U| / |Z_k|.
    Valid: paths that are not coupled through the iron; a synchronous reactance is that of the load's current, so
        it is a guess here; in paths of equal impedance, reactance 0 gives the most that can flow.
    Source: Millman's theorem, Bird, Electrical Circuit Theory and Technology (from memory).
    """
    volts = np.atleast_1d(np.asarray(path_volts))
    ohms, reactance = (np.asarray(values, float) for values in (path_ohms, path_reactance_ohm))
    try:
        volts, ohms, reactance = np.broadcast_arrays(volts, ohms, reactance)
    except ValueError:
        raise _refused(
            "numbers of paths that do not agree were given", "one number for each path, or one for all, is allowed"
        ) from None
    if not np.all(np.isfinite(volts)) or np.any(np.isnan(ohms)) or not np.all(np.isfinite(reactance)):
        raise _refused(
            "a number that is not finite was given", "numbers are allowed, and infinite ohms for an open path"
        )
    if np.any(ohms < 0.0) or np.any((ohms == 0.0) & (reactance == 0.0)):
        raise _refused(
            "a path without resistance and reactance, or with ohms below 0, was given", "ohms above 0 are allowed"
        )
    conducting = np.isfinite(ohms)
    admittance = np.where(conducting, 1.0 / (np.where(conducting, ohms, 1.0) + 1j * reactance), 0.0)
    total = admittance.sum(axis=-1, keepdims=True)
    # With every path open there is nothing that a current could go through.
    terminal = (volts * admittance).sum(axis=-1, keepdims=True) / np.where(total == 0.0, 1.0, total)
    return np.abs((volts - terminal) * admittance)


def _share(shares, tooth):
    return shares[tooth].value if tooth in shares else 1.0


def _ohm(survey, tooth):
    return inf if tooth in survey.open_teeth else _share(survey.ohm_share, tooth)


def _off(sums, mean):
    return [100.0 * (float(value) / float(mean) - 1.0) if mean else 0.0 for value in sums]


def _difference(survey, name, teeth, emf, ohm, emf_off, ohm_off):
    unread = {quantity: tuple(sorted(set(teeth) & set(survey.missing[quantity]))) for quantity in ("volts", "ohms")}
    is_open = [tooth for tooth in teeth if tooth in survey.open_teeth]
    ohms = f"ohms {ohm_off:+.1f} %" if isfinite(ohm_off) else f"open at tooth {', '.join(map(str, is_open))}"
    said = f"Path {name}: volts {emf_off:+.1f} % and {ohms} against the mean of its phase".replace("-", "−")
    taken = [f"{quantity} of {len(each)} of its {len(teeth)} coils" for quantity, each in unread.items() if each]
    assumed = f"; {' and '.join(taken)} were not read and count as typical (assumed)" if taken else ""
    return PathDifference(
        path=name,
        emf_sum=emf,
        ohm_sum=ohm,
        emf_off_percent=emf_off,
        ohm_off_percent=ohm_off,
        unread=unread,
        sentence=f"{said}{assumed}.",
    )


def _refused(given, allowed):
    return BadInput(given, allowed, "give the volts, ohms and reactance of each path again", where="parallel paths")
