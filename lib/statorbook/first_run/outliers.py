"""Rows of the run log that no believable cause explains."""

import numpy as np

from statorbook.first_run.causes import causes_for
from statorbook.first_run.misfit import amps_at, labels, line_volts_at, speeds_off
from statorbook.first_run.solver import fit_causes, joint_deviation, linearise_at
from statorbook.fits import beyond_luck, odd_among, odd_row

_PASSES = 4
_TINY = 1e-12
_METERS_COUNT = 6.0  # degrees of freedom
_SLIP = {"speed": "speed or source looks misread"}


def odd_rows(case, coil_part=None):
    """Rows that do not belong to the others, whatever has become of the machine.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    coil_part : CoilPart or None
        Its ± widen what is no surprise.

    Returns
    -------
    tuple of OddRow
        By row number; at most a third of the rows, none of fewer than four.

    Notes
    -----
    Equation: all causes fitted together, each at its price; a row's readings against the fit through the others,
        studentised by the scatter of their own kind (amps, volts, speeds) pooled with the meters' own errors, by
        `fits.odd_among`.
    Valid: as there.
    Source: as there.
    """
    causes = [cause for cause in causes_for(case, coil_part) if cause.low < cause.high]
    if not causes:
        return ()
    odd = set()
    for _ in range(_PASSES):
        # What belongs is looked for anew from the fit without the odd ones, near which slopes are straight.
        look = RowsSeen(case, causes, odd)
        found = look.strangers()
        if found == odd:
            break
        odd = found
    return tuple(look.named(row, len(case.readings) - len(odd)) for row in sorted(odd))


class RowsSeen:
    """The readings as seen from the fit of all causes together through the rows that are not odd."""

    def __init__(self, case, causes, odd):
        sets = [tuple(causes)]
        values = fit_causes(case.without(odd), sets).values
        seen, sigma = linearise_at(case, sets, values), np.array([cause.sigma for cause in causes])
        self.case, self.labels = case, labels(case)
        self.rows = np.array([row.row for _, row in self.labels])
        self.kinds = np.array([kind for kind, _ in self.labels])
        self.off, self.slopes = seen.misfits[0], seen.slopes[0]
        self.price, self.pull = np.diag(sigma**-2.0), (values[0] - [cause.rest for cause in causes]) / sigma**2
        self.shares = _shares_off(case, joint_deviation(causes, values[0]))

    def strangers(self):
        """Row numbers that do not belong."""
        return set(odd_among([row.row for row in self.case.readings], self.least_beyond))

    def least_beyond(self, group, kept, chances):
        """How many sigma each row of a group is beyond luck, seen from the fit through the rest; the least."""
        rest = np.isin(self.rows, kept) & ~np.isin(self.rows, group)
        spread = np.linalg.inv(self.slopes[rest].T @ self.slopes[rest] + self.price)
        move = spread @ -(self.slopes[rest].T @ self.off[rest] + self.pull)
        off, lever = self.off + self.slopes @ move, np.einsum("rk,kl,rl->r", self.slopes, spread, self.slopes)
        worst = []
        for row in group:
            own = np.flatnonzero(self.rows == row)
            beyond = [self._reading_beyond(at, off, lever, rest, chances * len(own)) for at in own]
            worst.append(max(beyond, default=-np.inf))
        return min(worst)

    def _reading_beyond(self, at, off, lever, rest, chances):
        like = rest & (self.kinds == self.kinds[at])
        # Few readings say little of how they scatter: the meters' own errors count as some readings more.
        freedom = _METERS_COUNT + max(float(np.sum(1.0 - lever[like])), 0.0)
        scatter = np.sqrt((_METERS_COUNT + np.sum(off[like] ** 2)) / freedom)
        share = self.shares[at] * off[at] / self.off[at] if abs(self.off[at]) > _TINY else 0.0
        return beyond_luck(abs(off[at]) / np.sqrt(1.0 + lever[at]), scatter, share, chances=chances, freedom=freedom)

    def named(self, row, others):
        """A row that does not belong, in words."""
        at = max(np.flatnonzero(self.rows == row), key=lambda i: abs(self.off[i]))
        kind, reading = self.labels[at]
        share, hint = float(self.shares[at]), _SLIP.get(kind, "")
        return odd_row(reading, share, others, hint, alternating=kind == "volts")


def _shares_off(case, deviation):
    """How far each reading is off, as a share of what it should be."""
    speed, read = np.array([row.speed_rpm for row in case.driven]), np.array([r.line_volts for r in case.open_leads])
    amps = case.readings_of("dc_amps") / np.maximum(amps_at(case, deviation), _TINY) - 1.0 if case.charging else ()
    speeds = speeds_off(case, deviation) / speed if len(speed) else ()
    return np.concatenate([amps, read / line_volts_at(case, deviation) - 1.0, speeds])
