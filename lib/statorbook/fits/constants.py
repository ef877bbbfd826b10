"""The three fits together: what the leads of the machine as found do, and what one coil does."""

from dataclasses import dataclass
from math import isnan

from statorbook.fits.emf import fit_emf
from statorbook.fits.fit import Fit, unusable_words
from statorbook.fits.inductance import assumed_inductance, fit_inductance
from statorbook.fits.ohms import fit_ohms
from statorbook.quantities import Estimate, filled, reader_units, say
from statorbook.winding import CoilConstants, StarEquivalent, coil_from_star


@dataclass(frozen=True, kw_only=True)
class TerminalConstants:
    """What the three leads show: one phase of the equivalent star, at 20 °C."""

    emf_v_per_rpm: Estimate  # phase, rms
    ohm: Estimate
    henry: Estimate  # synchronous
    emf_fit: Fit
    ohms_fit: Fit
    inductance_fit: Fit | None  # None when the shorted log had no usable row
    sentences: tuple[str, ...]  # everything there is to say about rows and fits


@dataclass(frozen=True, kw_only=True)
class CoilEstimates:
    """What one coil does at 20 °C, each number with its 95 % ±."""

    emf_v_per_rpm: Estimate  # rms
    ohm: Estimate
    henry: Estimate  # synchronous, per coil share
    conductor: str = "copper"
    magnet: str = "ferrite"

    @property
    def constants(self):
        """The best values as `CoilConstants`."""
        return CoilConstants(
            emf_v_per_rpm=self.emf_v_per_rpm.value,
            ohm=self.ohm.value,
            henry=self.henry.value,
            conductor=self.conductor,
            magnet=self.magnet,
        )

    @property
    def fields(self):
        """Plain numbers, to six digits, and words, under the names that the job keeps them by."""
        parts = {"emf": (self.emf_v_per_rpm, "_v_per_rpm"), "ohm": (self.ohm, ""), "henry": (self.henry, "")}
        found = {}
        for name, (estimate, unit) in parts.items():
            with reader_units("metric"):  # the file is the same whoever reads it
                how = filled(estimate.how)
            found |= {
                f"{name}{unit}": float(f"{estimate.value:.6g}"),
                f"{name}_how": how,
                f"{name}_plus_minus{unit}": float(f"{estimate.plus_minus:.6g}"),
                f"{name}_assumed": estimate.assumed,
            }
        moved = {f"henry_by_{name}": float(f"{by:.6g}") for name, by in self.henry.moved_by.items()}
        return found | moved


def terminal_constants(logs, stator, *, conductor="copper", magnet="ferrite", keep_all=False):
    """Fit the spin, shorted and ohms logs of the machine as found.

    Parameters
    ----------
    logs : Logs
        The readings.
    stator : Stator
        Slots and poles.
    conductor : str
        "copper" or "aluminium".
    magnet : str
        "ferrite" or "neodymium".
    keep_all : bool
        True uses every usable row, odd or not.

    Returns
    -------
    TerminalConstants
        EMF, ohms and henries of one phase of the equivalent star at 20 °C; henries assumed when none were measured.

    Raises
    ------
    BadInput
        When the spin log or the ohms log has no usable row.

    Notes
    -----
    Equation: those of `fit_emf`, `fit_ohms`, `fit_inductance`.
    Valid: the machine spun as cold as it was when its ohms were read; their mean temperature is the magnets' too.
    Source: as named there.
    Derivation: `fits.slope_share`, `fits.henry_share`.
    """
    machine_c = resting_c(logs.ohms)
    ohms = fit_ohms(logs.ohms, conductor=conductor, keep_all=keep_all)
    ways = {"machine_c": machine_c, "magnet": magnet, "keep_all": keep_all}
    emf = fit_emf(logs.spin, stator, **ways)
    if any(r.usable for r in logs.shorted):
        shorted = fit_inductance(logs.shorted, emf.estimate, ohms.estimate, stator, conductor=conductor, **ways)
        henry, said = shorted.estimate, shorted.sentences
    else:
        shorted, henry = None, assumed_inductance(ohms.estimate)
        why = unusable_words(logs.shorted, "the shorted log")
        said = (
            f"{why[:1].upper()}{why[1:]}, so the inductance is {filled(henry.how)}; it decides the amps, so join "
            "the leads and log them, or without AC amps read the volts on three resistors (page 02_spin_and_log).",
        )
    return TerminalConstants(
        emf_v_per_rpm=emf.estimate,
        ohm=ohms.estimate,
        henry=henry,
        emf_fit=emf,
        ohms_fit=ohms,
        inductance_fit=shorted,
        sentences=logs.sentences + emf.sentences + ohms.sentences + said,
    )


def warmth_words(ohms):
    """Say that the fits take the machine's temperature from the ohms log, and what another one would do.

    Parameters
    ----------
    ohms : sequence of OhmsReading
        The ohms log.

    Returns
    -------
    str
        A sentence; empty when no temperature was logged, which the fit says by itself.
    """
    at_c = resting_c(ohms)
    if at_c is None:
        return ""
    return (
        f"The magnets are taken to be at {say(at_c, '°C', form='.3g')}, as the winding was in the ohms log of page "
        "01_know_your_stator; if they were warmer while it turned, the volts come out too low."
    )


def resting_c(ohms):
    """Temperature of the machine when its ohms were read, mean of the usable rows; None when none was logged [°C]."""
    logged_c = [r.copper_c for r in ohms if r.usable and not isnan(r.copper_c)]
    return sum(logged_c) / len(logged_c) if logged_c else None


def coil_estimates(stator, found_grouping, constants, *, conductor="copper", magnet="ferrite"):
    """What one coil does, from what the leads show in the wiring as found.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    found_grouping : Grouping
        The wiring as found.
    constants : TerminalConstants
        What the leads show.
    conductor : str
        "copper" or "aluminium".
    magnet : str
        "ferrite" or "neodymium".

    Returns
    -------
    CoilEstimates
        Value and ± of one coil at 20 °C.

    Raises
    ------
    BadInput
        When the stator cannot carry the grouping.

    Notes
    -----
    Equation: value and ± times the factors of `coil_from_star`.
    Valid: all coils alike.
    Source: regrouping algebra.
    """
    one = coil_from_star(stator, found_grouping, StarEquivalent(emf_v_per_rpm=1.0, ohm=1.0, henry=1.0))
    found = {}
    for name in ("emf_v_per_rpm", "ohm", "henry"):
        star = getattr(constants, name)
        found[name] = star.times(getattr(one, name), how=f"one coil, worked out from {star.how}")
    return CoilEstimates(**found, conductor=conductor, magnet=magnet)
