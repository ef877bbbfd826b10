"""How well each single fault explains the readings, a common error of speed and of temperature allowed for."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from statorbook.rewiring.faults.table import FaultTable

# One reading in ten thousand finds a way where there is none, or none where there is one: a probe that slipped.
_SLIP = 1e-4
# A voltmeter on ends that nothing ties together may show anything small.
_FLOATING = 0.05
# The share of dead turns lies anywhere between those of the table: its effect is known to this part of itself.
_SHORT_SPREAD = 0.25
# Chance that a winding is sound before it was measured: an assumption, so that noise alone accuses no coil.
_SOUND = 0.7
# Volts that cancel do not cancel better than this part of what a healthy winding shows there.
_CANCEL_SHARE = 0.3


@dataclass(frozen=True, kw_only=True)
class FaultEvidence:
    """Readings beside what every fault would make of them."""

    table: FaultTable
    measured: tuple  # of Measured
    probes: tuple  # where each was taken, as the table names it
    speed_rpm: float  # of the table's volts
    hand_rpm: float  # at which the rotor is turned by hand
    sigma_share: float  # standard deviation of one reading as a share of it
    floors: dict  # for "ohms" and "volts" the least standard deviation
    scale_share: float  # standard deviation of the factor common to all readings of a kind

    @cached_property
    def by_voltmeter(self):
        """Which readings are volts, as an array of bool."""
        return np.array([reading.kind == "volts" for reading in self.measured], dtype=bool)

    @cached_property
    def expected(self):
        """One row a fault, one column a reading; inf for OL and for volts that float."""
        shape = len(self.table.faults), len(self.measured)
        found = np.empty(shape)
        for column, (reading, name) in enumerate(zip(self.measured, self.probes, strict=True)):
            place = self.table.columns[name]
            if reading.kind == "ohms":
                found[:, column] = self.table.ohms[:, place]
            else:
                found[:, column] = self.table.line_volts_rms[:, place] * reading.speed_rpm / self.speed_rpm
        return np.where(np.isnan(found), np.inf, found)

    @cached_property
    def values(self):
        """The readings; inf for OL and for volts that float."""
        values = np.array([reading.value for reading in self.measured], dtype=float)
        return np.where(np.isnan(values), np.inf, values)

    @cached_property
    def sigma(self):
        """Standard deviation of each reading, from its own size and from what a healthy winding shows there."""
        floor = np.array([self.floors[reading.kind] for reading in self.measured])
        healthy = np.where(np.isfinite(self.expected[0]), self.expected[0], 0.0)
        size = np.where(np.isfinite(self.values), self.values, healthy)
        return np.hypot(self.sigma_share * np.maximum(size, _CANCEL_SHARE * healthy), floor)


@dataclass(frozen=True, kw_only=True)
class Weighed:
    """What the readings make of each fault."""

    chance: np.ndarray  # all together 1
    misfit: np.ndarray  # sum of squares of reading minus expected over sigma
    sigmas: np.ndarray  # expected readings over sigma, scaled for each fault as it fits best; inf for OL


def weigh(evidence):
    """Chance and misfit of every fault."""
    # Equation: −2 ln L = Σ (r/σ)² − b²/a + Σ ln σ² + ln(a τ²) with r = reading − E, a = Σ E²/σ² + 1/τ², b = Σ r E/σ².
    # Valid: a factor 1 + g common to all readings of a kind, g ~ N(0, τ).
    # Source: Gaussian integral over g; Sivia and Skilling, ch. 3 (from memory).
    seen, expected = np.isfinite(evidence.values), np.isfinite(evidence.expected)
    both = seen & expected
    deviation = _sigma_of_faults(evidence, both)
    misfit, logs = _of_slips(evidence, seen, expected)
    scaled = np.where(expected, evidence.expected, np.inf)
    for volts in (False, True):
        use = both & (evidence.by_voltmeter == volts)
        weight = np.where(use, deviation**-2.0, 0.0)
        model = np.where(use, evidence.expected, 0.0)
        rest = np.where(use, np.where(seen, evidence.values, 0.0) - model, 0.0)
        a = (weight * model**2).sum(axis=1) + evidence.scale_share**-2.0
        b = (weight * rest * model).sum(axis=1)
        part = (weight * rest**2).sum(axis=1) - b**2 / a
        misfit, logs = misfit + part, logs + part + np.log(a * evidence.scale_share**2)
        column = evidence.by_voltmeter == volts
        scaled[:, column] *= (1.0 + b / a)[:, None]
    logs += 2.0 * np.where(both, np.log(deviation / evidence.sigma), 0.0).sum(axis=1)
    weight = prior(evidence.table) * np.exp(-0.5 * (logs - logs.min()))
    return Weighed(chance=weight / weight.sum(), misfit=misfit, sigmas=scaled / evidence.sigma)


def prior(table):
    """Chance of each fault before the first reading: most of it for a machine that can run, the rest alike [-]."""
    # Two paths are exchanged in many pairs, but each path is a slip only once.
    pairs = np.array([fault.where.count(" with ") for fault in table.faults])
    weight = 1.0 / np.where(pairs > 0, np.sqrt(max(pairs.sum() / 3.0, 1.0)), 1.0)
    total = weight[~table.is_harmless].sum()
    return np.where(table.is_harmless, _SOUND / table.is_harmless.sum(), (1.0 - _SOUND) * weight / max(total, 1e-300))


def _sigma_of_faults(evidence, both):
    """Sigma of each reading for each fault: with shorted turns the expected value is itself not sharp."""
    healthy = np.where(np.isfinite(evidence.expected[0]), evidence.expected[0], 0.0)
    effect = np.where(both, evidence.expected, 0.0) - healthy
    spread = np.where(both & evidence.table.is_short[:, None], _SHORT_SPREAD * np.abs(effect), 0.0)
    return np.hypot(evidence.sigma, spread)


def _of_slips(evidence, seen, expected):
    """Misfit, and −2 ln likelihood, of numbers where OL was expected and of OL where a number was."""
    cost = -2.0 * np.log(_SLIP)
    floating = seen & ~expected & evidence.by_voltmeter
    slipped = (seen != expected) & ~floating
    misfit = cost * slipped.sum(axis=1) - 2.0 * np.log(_FLOATING) * floating.sum(axis=1)
    return misfit, misfit.copy()
