"""The table of how often the truth lies within each ±."""

from dataclasses import dataclass, replace

import numpy as np
from scipy.stats import binom

AIM = 93.0, 97.0  # percent
# Where something else is counted, by the name of the quantity, and why.
UNLIKE_95 = {"first run: all as promised": "no ±, but a machine as promised is to be told so as often"}
# Half of normal errors lie within so much of a 95 % half-width: Φ⁻¹(0.75) / Φ⁻¹(0.975), any table of it.
_MIDDLE = 0.6745 / 1.96
_HALF = 0.42, 0.58  # about a half: not every error is normal
_RISK = 1e-4  # that a right ± is complained of, for each quantity


@dataclass(frozen=True, kw_only=True)
class Row:
    """One quantity over all machines."""

    quantity: str
    machines: int
    inside: int
    halfway: int  # within the part of the ± that holds half of normal errors
    median_share: float  # of ± over value

    @property
    def percent(self):
        """How often the truth lay within."""
        return 100.0 * self.inside / self.machines


def rows_of(tries):
    """One row a quantity, in the order in which they came first."""
    by_name = {}
    for each in tries:
        by_name.setdefault(each.quantity, []).append(each)
    return [
        Row(
            quantity=name,
            machines=len(some),
            inside=sum(each.inside for each in some),
            halfway=sum(replace(each, plus_minus=_MIDDLE * each.plus_minus).inside for each in some),
            median_share=float(np.nanmedian([each.share for each in some])),
        )
        for name, some in by_name.items()
    ]


def complaints(rows):
    """Quantities whose ± is too narrow or too wide for chance: by what lies within it, and within its middle."""
    found = []
    for row in rows:
        if row.quantity in UNLIKE_95:
            continue
        low, high = binom.ppf(_RISK, row.machines, AIM[0] / 100.0), binom.isf(_RISK, row.machines, AIM[1] / 100.0)
        least, most = binom.ppf(_RISK, row.machines, _HALF[0]), binom.isf(_RISK, row.machines, _HALF[1])
        if not (low <= row.inside <= high and least <= row.halfway <= most):
            found.append(f"{row.quantity}: {row.inside} within, {row.halfway} within its middle, of {row.machines}")
    return found


def words_of(rows):
    """The table as text."""
    lines = [f"{'quantity':<42}{'times':>7}{'inside':>8}{'%':>7}{'± [%]':>8}"]
    for row in rows:
        told = "" if AIM[0] <= row.percent <= AIM[1] else f"  {UNLIKE_95.get(row.quantity, 'outside')}"
        lines.append(
            f"{row.quantity:<42}{row.machines:>7}{row.inside:>8}{row.percent:>7.1f}{100 * row.median_share:>8.2g}{told}"
        )
    return "\n".join(lines)
