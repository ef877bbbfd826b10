"""The meter checks of a job's plan, worked out the same for the page and for the sheets."""

from dataclasses import dataclass

from statorbook.rewiring import ParallelLimit, parallel_limit, steps
from statorbook.rewiring.checks import bench_checks

BENCH_C, HAND_RPM = 20.0, 60.0


@dataclass(frozen=True, kw_only=True)
class JobChecks:
    """What the meter should say, and how alike paths have to be."""

    checks: tuple = ()  # in the order of the work, for a speed counted by hand
    by_hz: tuple = ()  # the same for a speed from the meter's Hz, with narrower bands
    limit: ParallelLimit = ParallelLimit()  # how much paths may differ that are joined in parallel


def checks_for(job, plan, copper_c=BENCH_C, hand_rpm=HAND_RPM):
    """Work out the meter checks of a plan.

    Parameters
    ----------
    job : Job
        With stator facts and coil constants; its chosen grouping, if it is the plan's, sets limit and highest volts.
    plan : Plan
        The work.
    copper_c : float
        Winding temperature at the bench [°C].
    hand_rpm : float
        Speed at which volts are read by hand [rpm].

    Returns
    -------
    JobChecks
        Without checks when stator facts or coil constants are missing.

    Raises
    ------
    BadInput
        When temperature or speed is out of range.
    """
    now, made = job.read(), steps(plan)
    facts, choice = now.stator, now.choice
    if now.coil is None or facts is None:
        return JobChecks()
    limit, volts = ParallelLimit(), None
    if choice is not None and choice.to_grouping() == plan.grouping:
        coil, volts = now.coil.to_coil(facts), choice.runaway_line_volts_rms
        limit = parallel_limit(plan.wired, coil, speed_rpm=choice.speed_rpm, dc_amps=choice.dc_amps)
    given = (plan, made, now.coil, facts, copper_c, hand_rpm)
    same = {"limit_share": limit.share, "highest_volts_rms": volts}
    checks, by_hz = (bench_checks(*given, speed_from_hz=from_hz, **same) for from_hz in (False, True))
    return JobChecks(checks=checks, by_hz=by_hz, limit=limit)
