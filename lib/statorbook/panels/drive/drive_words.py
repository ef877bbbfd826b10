"""What there is to say about a drive, in the reader's units."""

from statorbook.drives import (
    Pipe,
    PipedJet,
    belt_caution,
    best_nozzle_mm,
    bucket_caution,
    bucket_count,
    least_bucket_width_mm,
    tail_water_opening,
    tip_caution,
)
from statorbook.quantities import retold, say

_OPENING_PER_PITCH = 0.8  # width of the opening that the tail water is worked out for, over the runner's pitch diameter

_ASK_FOR_GUARD = (
    "What turns this rotor out of the wind, or brakes it, by itself? Fill in “Furls from a wind of” or “Brake grips "
    "from”: until then speed and volts with the load gone are those of the strongest gust."
)


def describe_drive(drive, system="metric"):
    """A drive in a few sentences: speeds, power, for water the runner that goes with it, limits of the model."""
    said = [drive.describe(system)]
    if isinstance(drive, PipedJet):
        said.append(f"Most power comes from a nozzle of {say(best_nozzle_mm(drive), 'mm', system)}.")
    if hasattr(drive, "total_flow_l_s"):
        said.append(runner_words(drive, system))
    return " ".join((*said, drive.limits))


def runner_words(drive, system="metric"):
    """What runner and casing go with a jet: buckets, their width, and the opening for the used water."""
    width = _OPENING_PER_PITCH * drive.pitch_diameter_mm
    tail = tail_water_opening(drive.total_flow_l_s, width)
    return (
        f"This jet needs about {bucket_count(drive.pitch_diameter_mm, drive.jet_mm)} buckets at least "
        f"{say(least_bucket_width_mm(drive.jet_mm), 'mm', system)} wide, and an opening below the runner "
        f"{say(width, 'mm', system)} wide and {say(tail.opening_height_mm, 'mm', system)} high for the used water."
    )


def drive_cautions(part, drive, system="metric"):
    """What can hurt with a drive: runaway first, then what belongs to its kind and to what was typed for it."""
    said = [
        f"Runaway: with the load gone it turns at up to {_runaway(drive, system)}. Guard the rotor, and keep "
        "a way to stop the source that needs nobody near it."
    ]
    if part.kind == "wind rotor":
        said += ["" if drive.guard_words else _ASK_FOR_GUARD, tip_caution(drive, system)]
    if isinstance(drive, PipedJet) and isinstance(drive.pipe, Pipe):
        said.append(drive.pipe.closing_caution(drive.total_flow_l_s, system))
    if part.engine_pulley_mm is not None and part.kind == "engine":
        fastest = drive.runaway_speed_rpm / drive.pulley_ratio
        said.append(belt_caution(part.engine_pulley_mm, fastest, system))
    if part.bucket_width_mm is not None and part.kind == "water jet":
        said.append(bucket_caution(drive.jet_mm, part.bucket_width_mm, system))
    return " ".join(filter(None, said))


def _runaway(drive, system):
    """The runaway speed with its guard, and with the guard failed."""
    free = f"{drive.unguarded_runaway_speed_rpm:.0f} rpm"
    if not drive.guard_words:
        return free
    guard = retold(drive.guard_words, system)
    return f"{drive.runaway_speed_rpm:.0f} rpm with {guard}, and at up to {free} should that fail"
