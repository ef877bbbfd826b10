"""Which nozzle runs on how much water: never one that draws more than there is."""

from dataclasses import replace
from functools import lru_cache
from math import floor

from statorbook.bench import MONTH_NAMES
from statorbook.drives import PipedJet
from statorbook.errors import BadInput
from statorbook.quantities import say

_FULL = 1.0 + 1e-9  # a nozzle that draws just the water that there is runs full


def at_head(drive, head_m):
    """The jet at another head: the static one of a pipe, the net one without."""
    return replace(drive, **{"gross_head_m" if isinstance(drive, PipedJet) else "head_m": head_m})


def with_outlet(drive, nozzle_mm, jets, *, where):
    """The jet with other nozzles; one that pipe or runner cannot use is refused by its bore."""
    try:
        return replace(drive, nozzle_mm=nozzle_mm, flow_l_s=None, jets=jets)
    except BadInput as refusal:
        raise BadInput(refusal.given, refusal.allowed, refusal.next_step, where=where) from None


@lru_cache(maxsize=24)  # most months have the same head, and each nozzle's flow through a pipe is searched for
def outlets(drive, nozzles_mm, jets_open=0):
    """The jet with each nozzle of a tuple and each number of them open, or with just so many."""
    bores = [(bore, f"nozzle of {say(bore, 'mm')}") for bore in nozzles_mm] or [(drive.jet_mm, "nozzle")]
    counts = [jets_open] if jets_open else range(1, drive.jets + 1)
    return [with_outlet(drive, bore, jets, where=where) for bore, where in bores for jets in counts]


def best_outlet(drives, flow_l_s):
    """The one of most shaft power that does not draw more than there is; None when each does."""
    enough = [drive for drive in drives if drive.total_flow_l_s <= flow_l_s * _FULL]
    return max(enough, key=lambda drive: (drive.best_shaft_watts, -drive.total_flow_l_s), default=None)


def widest_mm(drive, flow_l_s, jets):
    """Widest bore, rounded down, with which so many jets draw no more; None when pipe or runner cannot use it [mm]."""
    try:
        wish = {"nozzle_mm": None, "flow_l_s": flow_l_s, "jets": jets, "largest_nozzle_mm": None}
        return floor(10.0 * replace(drive, **wish).jet_mm) / 10.0
    except BadInput:
        return None


def require_enough(drive, flow_l_s, month, *, where):
    """Refuse a nozzle that was typed for a month and draws more than there is."""
    if drive.total_flow_l_s <= flow_l_s * _FULL:
        return
    widest = widest_mm(drive, flow_l_s, drive.jets)
    raise BadInput(
        f"this nozzle draws {say(drive.total_flow_l_s, 'L/s')} and {MONTH_NAMES[month]} has {say(flow_l_s, 'L/s')}, so "
        "the pipe would not stay full",
        f"at most {say(widest, 'mm')} is allowed" if widest else "no nozzle for this runner runs on so little",
        "type a smaller nozzle, or empty the cell and let the month take one of yours",
        where=where,
    )
