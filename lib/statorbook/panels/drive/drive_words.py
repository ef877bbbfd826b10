"""What there is to say about a drive, in the reader's units."""

from math import isfinite

from statorbook.drives import (
    PipedJet,
    best_nozzle_mm,
    bucket_count,
    least_bucket_width_mm,
    shaft_watts,
    tail_water_opening,
)
from statorbook.quantities import say

_OPENING_PER_PITCH = 0.8  # width of the opening that the tail water is worked out for, over the runner's pitch diameter


def describe_drive(drive):
    """A drive in a few sentences: speeds, power, for water the runner that goes with it, limits of the model."""
    said = [drive.describe()]
    if isinstance(drive, PipedJet):
        said.append(f"Most power comes from a nozzle of {say(best_nozzle_mm(drive), 'mm')}.")
    if hasattr(drive, "total_flow_l_s"):
        said.append(runner_words(drive))
    return " ".join((*said, drive.limits))


def drive_headline(drive):
    """The leading numbers of the description by name, as said; power only where it is known."""
    watts = float(shaft_watts(drive, drive.best_speed_rpm))
    power = {"shaft power": f"{watts:.0f} W"} if isfinite(watts) else {}
    speeds = {"best speed": drive.best_speed_rpm, "runaway": drive.unguarded_runaway_speed_rpm}
    return power | {name: f"{speed_rpm:.0f} rpm" for name, speed_rpm in speeds.items()}


def runner_words(drive):
    """What runner and casing go with a jet: buckets, their width, and the opening for the used water."""
    width = _OPENING_PER_PITCH * drive.pitch_diameter_mm
    tail = tail_water_opening(drive.total_flow_l_s, width)
    return (
        f"This jet needs about {bucket_count(drive.pitch_diameter_mm, drive.jet_mm)} buckets at least "
        f"{say(least_bucket_width_mm(drive.jet_mm), 'mm')} wide, and an opening below the runner "
        f"{say(width, 'mm')} wide and {say(tail.opening_height_mm, 'mm')} high for the used water."
    )


def drive_cautions(part, drive):
    """What can hurt with a drive: runaway first, then what belongs to its kind and to what was typed for it."""
    runaway = (
        f"Runaway: with the load gone it turns at up to {_runaway(drive)}. Guard the rotor, and keep "
        "a way to stop the source that needs nobody near it."
    )
    return " ".join(filter(None, (runaway, *part.cautions(drive))))


def _runaway(drive):
    """The runaway speed with its guard, and with the guard failed."""
    free = f"{drive.unguarded_runaway_speed_rpm:.0f} rpm"
    if not drive.guard_words:
        return free
    return f"{drive.runaway_speed_rpm:.0f} rpm with {drive.guard_words}, and at up to {free} should that fail"
