"""What the coil-by-coil survey of a job says about the parallel paths of a plan, before they are joined."""

from statorbook.bench import read_coils
from statorbook.errors import BadInput
from statorbook.fits import fit_survey
from statorbook.rewiring import circulating_amps, survey_path_differences

_LEAST_AMPS = 0.01
NOT_READ = (
    "The coils were not read one by one on page 01, so only the volts of each path, read before it is joined, tell "
    "whether the paths are alike."
)


def survey_words(job, plan, speed_rpm, limit_share):
    """Say how far the paths of a plan differ by the survey, and what current that drives round at work.

    Parameters
    ----------
    job : Job
        With stator facts and coil constants.
    plan : Plan
        The work.
    speed_rpm : float
        Working speed [rpm].
    limit_share : float
        How far a path's volts may be off those of its phase [-].

    Returns
    -------
    str
        Sentences; empty when nothing is joined in parallel.

    Notes
    -----
    Equation: sums of the coils' shares by path; current by `rewiring.path_balance.circulating_amps` without reactance.
    Valid: an upper bound, since inductance chokes what goes round.
    Source: Millman's theorem, Bird, Electrical Circuit Theory and Technology (from memory).
    """
    if plan.grouping.parallel == 1:
        return ""
    now = job.read()
    try:
        readings = read_coils(now.read_log("coils"), now.stator.to_stator())
        survey = fit_survey(readings, now.stator.to_stator(), found=now.stator.to_found_grouping())
    except BadInput:  # nothing read yet, or nothing that can be used: page 01 says why, row by row
        return NOT_READ
    differences = survey_path_differences(survey, plan.wired)
    coil, amps = now.coil.to_coil(now.stator), 0.0
    for paths in differences.values():
        volts = [path.emf_sum * coil.emf_v_per_rpm * speed_rpm for path in paths]
        amps = max(amps, *circulating_amps(volts, [path.ohm_sum * coil.ohm for path in paths], 0.0).tolist())
    every = [path for paths in differences.values() for path in paths]
    worst = max(every, key=lambda path: abs(path.emf_off_percent))
    words = (
        f"By the survey of page 01: {worst.sentence} No path is further off. With the leads open at "
        f"{speed_rpm:.0f} rpm it drives "
        f"{f'at most {amps:.2g}' if amps >= _LEAST_AMPS else f'less than {_LEAST_AMPS:g}'} A round between the paths."
    )
    if abs(worst.emf_off_percent) > 100.0 * limit_share:
        words += f" Do not join {worst.path} in parallel: more than {100.0 * limit_share:.2g} % is too much."
    return words
