"""The ± of a slope: scatter that more rows average out, and what rows share, which no number of rows does."""

from dataclasses import dataclass

import numpy as np

from statorbook.bench import LAMP_SHARE, NAME_PLATE_SHARE
from statorbook.errors import count_of
from statorbook.fits.fit import random_half_width
from statorbook.fits.line import Slope, lines_by_group, pooled_scatter

# A shared error of more than so many of a row's own sigmas would swell the scatter, or hide in it.
_APART = 6.0
_SAID = {
    "wave": "{rows} read with an averaging meter: a wave that is no sine is assumed to add ± {most:.0f} % "
    "(common practice, no source).",
    "plate": "{rows} with the speed from a drill's name plate, " + f"± {100 * NAME_PLATE_SHARE.value:.0f} % assumed: "
    "a row with the meter's Hz counts far more.",
    "lamps": "{rows} with the volts judged by lamps, " + f"± {100 * LAMP_SHARE.value:.0f} % assumed: "
    "a row read with a meter counts far more.",
}
WEAK = ("plate", "lamps")


@dataclass(frozen=True, kw_only=True)
class Widths:
    """Two parts of the ± of a slope, in its unit."""

    random: float  # 95 % half-width from the scatter, or assumed when there is none to see
    shared: float  # 95 % half-width from what the rows share, such as the meter's class


def slope_widths(readings, line, x, y, sigma):
    """The ± of a slope from readings that share some of their errors."""
    # Slope = Σ g y with g = w x / Σ w x²; a cause that rows share moves it by Σ g y share, causes join in quadrature;
    # own errors by √Σ (g own)², times Student's t and the scatter within rows of the same evidence.
    # Valid: causes independent of each other; each the same in all of its rows.
    # JCGM 100:2008 (GUM), 5.2, correlated input quantities (from memory).
    pull = (x / sigma**2) / np.sum((x / sigma) ** 2)
    causes = sorted({cause for reading in readings for cause in reading.shared})
    moved = [np.sum(pull * y * shares_of(readings, cause)) for cause in causes]
    own = np.abs(y) * np.array([reading.own_share for reading in readings])
    scatter, freedom = _within_evidence(readings, x, y, own)
    alone = Slope(
        value=line.value, meter_error=float(np.sqrt(np.sum((pull * own) ** 2))), scatter=scatter, freedom=freedom
    )
    return Widths(random=float(random_half_width(alone)), shared=float(np.sqrt(np.sum(np.square(moved)))))


def shares_of(readings, cause):
    """What one cause, such as "class", adds to the 95 % ± of each reading, over it; 0 where it plays no part."""
    return np.array([reading.shared.get(cause, 0.0) for reading in readings])


def all_shared(readings):
    """All that each reading shares with others, together, 95 % over the reading."""
    return np.array([float(np.sqrt(sum(share**2 for share in reading.shared.values()))) for reading in readings])


def shared_words(readings):
    """Sentences about what was assumed of many rows, and about evidence that is weak."""
    found = []
    for cause, words in _SAID.items():
        shares = [share for share in shares_of(readings, cause) if share]
        if shares:
            found.append(words.format(rows=count_of(len(shares), "row"), most=100.0 * max(shares)))
    if all(any(cause in reading.shared for cause in WEAK) for reading in readings):
        found.append(
            "No row was measured in both volts and speed, so the ± stays wide however many there are: log one "
            "row with a meter on its volts and on its Hz."
        )
    return found


def _within_evidence(readings, x, y, own):
    """Scatter and degrees of freedom, in own sigmas, of rows around the line of rows of the same evidence."""
    kinds = [
        frozenset(cause for cause, share in r.shared.items() if share > _APART * r.own_share and cause != "class")
        for r in readings
    ]
    return pooled_scatter(lines_by_group(kinds, x, y, own).values())
