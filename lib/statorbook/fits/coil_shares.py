"""Each coil against the middle of the coils, in volts or in ohms, and what it points at when it does not belong."""

from dataclasses import dataclass
from math import inf, isfinite, sqrt

import numpy as np

from statorbook.bench import ODD_SHARE
from statorbook.cautions import SPUN, STILL, Exposure, Instruction
from statorbook.errors import BadInput, count_of
from statorbook.quantities import NORMAL_95, Estimate, Fact

NOTHING_SHARE = Fact(value=0.1, unit="of the middle coil", source="common practice, no source", low=0.03, high=0.2)
OPEN_TIMES = Fact(value=20.0, unit="times the middle coil", source="common practice, no source", low=5, high=100)
FEWEST = 4
_SIGMAS = 4.0
# Median distance from the median to one sigma of a normal spread, and the error of a median over that of a mean.
_MAD_TO_SIGMA, _MEDIAN_TO_MEAN = 1.4826, 1.2533
_BOTH = (*STILL, *SPUN)
_FEEL = Instruction(
    "spin it for two minutes with open leads behind its guard, stop it, tie the rotor and feel the coils: shorted "
    "turns are warm, and the rotor turns heavily and hums, while a coil with too few turns stays cool",
    (*_BOTH, Exposure.HEAT),
)
_AGAIN = (
    "readings that do not fit together",
    Instruction("clean its two joints and read its volts and its ohms once more", (*_BOTH, Exposure.SHARP)),
)
_OPEN = (
    "open coil",
    Instruction("look for a broken wire at its two ends; a grouping cannot use this coil before it is mended", STILL),
)
_BRIDGED = (
    "bridged coil",
    Instruction(
        "look for a wire or solder that joins its two ends; without one, the insulation of its wire is likely burnt",
        STILL,
    ),
)
_HIGH_OHMS = (
    "bad joint or broken strand",
    Instruction(
        "pull gently at its ends, clean and solder the joint, then read it again",
        (*STILL, Exposure.SOLDER, Exposure.SHARP, Exposure.CHEMICALS),
    ),
)
_FEW_TURNS = ("shorted turns or too few turns", _FEEL)
_SAME_SPEED = Instruction("read it again at the same speed, or type the speed that it had", SPUN)
# By what its volts and its ohms are; what stands for neither is read once more.
_MEANS = {
    ("none", "open"): _OPEN,
    ("unread", "open"): _OPEN,
    ("none", "none"): _BRIDGED,
    ("none", "low"): _BRIDGED,
    ("none", "unread"): (
        "no volts",
        Instruction("read its ohms: OL is an open coil, next to nothing a bridged one", STILL),
    ),
    ("unread", "none"): _BRIDGED,
    ("low", "low"): _FEW_TURNS,
    ("low", "unread"): ("weak volts", Instruction("read its ohms too, and its volts again at the same speed", _BOTH)),
    ("low", "fine"): ("weak volts", _FEEL.within("read it again at the same speed; if it stays weak, ")),
    ("fine", "high"): _HIGH_OHMS,
    ("unread", "high"): _HIGH_OHMS,
    ("unread", "low"): (
        "low ohms",
        Instruction("take the ohms of the touching probes off, and read its volts too", _BOTH),
    ),
    ("high", "high"): (
        "more turns, or two coils between the probes",
        Instruction("see that the probes are on the same coil", STILL),
    ),
    ("high", "fine"): ("strong volts", _SAME_SPEED),
    ("high", "unread"): ("strong volts", _SAME_SPEED),
}


@dataclass(frozen=True, kw_only=True)
class CoilShares:
    """Volts or ohms of all coils against their middle."""

    name: str  # "volts" or "ohms"
    means: dict  # by tooth, all that were read
    shares: dict  # by tooth, the mean over the middle of the coils, for those that did not show OL
    open: tuple[int, ...]  # teeth that showed OL
    spread: float = 0.0  # one robust sigma of the shares
    limits: dict  # by tooth, the share off beyond which it is odd

    def share_off(self, tooth):
        """How far a coil is off the middle, as a share; infinite for OL, 0 when not read."""
        return inf if tooth in self.open else self.shares[tooth].value - 1.0 if tooth in self.shares else 0.0

    def state(self, tooth):
        """A coil is "none", "low", "fine", "high", "open" or, also when too few are read to compare, "unread"."""
        off = self.share_off(tooth)
        if tooth in self.open:
            return "open"
        if tooth not in self.shares or len(self.shares) < FEWEST:
            return "unread"
        if self.name == "ohms" and off >= OPEN_TIMES.value - 1.0:
            return "open"
        if off < NOTHING_SHARE.value - 1.0:
            return "none"
        return "fine" if abs(off) <= self.limits[tooth] else "low" if off < 0.0 else "high"

    def words(self, tooth):
        """The same for a sentence."""
        state, off = self.state(tooth), self.share_off(tooth)
        if state == "unread":
            few = f"of fewer than {FEWEST} coils, so not compared"
            return f"{self.name} {few if tooth in self.means else 'not read'}"
        if state in ("none", "fine"):
            return f"{self.name} {'next to nothing' if state == 'none' else 'as the others'}"
        if state == "open":
            return "OL instead of ohms" if tooth in self.open else f"ohms {1.0 + off:.0f} times the middle"
        return f"{self.name} {100 * abs(off):.0f} % {'below' if off < 0.0 else 'above'} the middle"


def coil_shares(name, means):
    """Hold the volts or the ohms of each coil, a `CoilMean` by tooth, against the middle of the coils."""
    # Share = value / median; spread = 1.4826 × median |share − 1|; limit = the most of the share always let pass, of
    # 4 spreads and of 4 sigmas of rounding, a digit / √12. Valid: fewer than half of the coils bad.
    # Median absolute deviation, Huber and Ronchetti, Robust Statistics (from memory).
    finite = {tooth: mean for tooth, mean in means.items() if isfinite(mean.value)}
    is_open = tuple(tooth for tooth in means if tooth not in finite)
    if len(means) >= FEWEST:
        words = "with the rotor standing press sharp probes through the varnish"
        through = Instruction(words, (*STILL, Exposure.SHARP))
        _require_fewer_than_half(name, len(is_open), len(means), "OL", through)
    if not finite:
        return CoilShares(name=name, means=means, shares={}, open=is_open, limits={})
    value, sigma, step = np.array([(mean.value, mean.sigma, mean.step) for mean in finite.values()]).T
    steadily = Instruction("clip the meter on, then turn the rotor steadily and read AC volts", SPUN)
    next_step = steadily if name == "volts" else Instruction("put the probes on both joints", STILL)
    _require_fewer_than_half(name, int(np.sum(value == 0.0)), len(finite), "0", next_step)
    middle = float(np.median(value))
    spread = _MAD_TO_SIGMA * float(np.median(np.abs(value / middle - 1.0)))
    limits = np.maximum(max(ODD_SHARE[name].value, _SIGMAS * spread), _SIGMAS * step / sqrt(12.0) / middle).tolist()
    of_middle = _MEDIAN_TO_MEAN * float(np.sqrt(np.mean(sigma**2) / len(finite))) / middle
    half = (NORMAL_95 * np.hypot(sigma / middle, value / middle * of_middle)).tolist()
    shares = {}
    for (tooth, mean), plus_minus in zip(finite.items(), half):
        how = f"tooth {tooth}, {name}, {count_of(len(mean.rows), 'row')}"
        share = mean.value / middle
        shares[tooth] = Estimate(value=share, plus_minus=plus_minus, unit="of the middle coil", how=how)
    return CoilShares(
        name=name, means=means, shares=shares, open=is_open, spread=spread, limits=dict(zip(finite, limits))
    )


def meaning(volts, ohms, *, volts_lower=False):
    """What the states of a coil's volts and ohms point at, in a few words, and the next step as an Instruction."""
    # Turns missing by a share lower volts and ohms by that share; a current in shorted turns lowers the volts clearly
    # further, since it works against the magnets: induction, Bird, Electrical Circuit Theory and Technology (from
    # memory); the rest common practice, no source. Valid: one coil between the probes, nothing connected; a reversed
    # coil reads like any other.
    if (volts, ohms) == ("low", "low") and volts_lower:
        return "shorted turns", _FEEL
    return _MEANS.get((volts, ohms), _AGAIN)


def _require_fewer_than_half(name, count, of, shown, next_step):
    if 2 * count >= of:
        raise BadInput(
            f"{shown} is typed as the {name} of {count} of {of} coils",
            "fewer than half may show that, since each coil is compared with the others",
            next_step.within("", " and read again"),
            where="coils log",
        )
