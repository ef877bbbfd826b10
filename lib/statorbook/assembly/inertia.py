"""The inertia of what turns, from what page 03 holds: coast-down and drill, or the weighed magnet ring."""

from contextlib import suppress

from statorbook.assembly.log_reading import sessions_used
from statorbook.bench import leave_out, read_coast, read_drill, ring_inertia_kgm2
from statorbook.errors import BadInput
from statorbook.fits import INERTIA_SHARE, fit_drill, inertia_from_coast
from statorbook.quantities import Estimate


def inertia_found(job):
    """Inertia of what turns, measured on page 03.

    Parameters
    ----------
    job : Job
        A job with stator and drive filled in.

    Returns
    -------
    Estimate or None
        From coast-down and drill, else of the weighed ring alone; None when neither is there [kg·m²].
    """
    now = job.read()
    if now.stator is None or now.drive is None:
        return None
    with suppress(BadInput):  # page 03 says what is wrong with a log
        return _by_coast(now)
    return _by_weight(now.drive)


def _by_coast(now):
    stator = now.stator.to_stator()
    coast, drill = (
        leave_out(read(now.read_log(log), stator), sessions_used(now, log))
        for log, read in (("coast", read_coast), ("drill", read_drill))
    )
    return inertia_from_coast(coast, fit_drill(drill))


def _by_weight(part):
    if part.rotor_kg is None or part.rotor_ring_mm is None:
        return None
    ring, drive = ring_inertia_kgm2(part.rotor_kg, part.rotor_ring_mm), part.to_drive()
    flywheel = getattr(drive, "flywheel_kg_m2", 0.0)
    how = "the weighed ring" + (" and the flywheel" if flywheel else " alone")
    value = ring + flywheel
    return Estimate(value=value, plus_minus=INERTIA_SHARE.value * value, unit="kg·m²", how=how)
