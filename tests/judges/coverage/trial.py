"""Machines planted, measured, compared and run, one after the other or in several processes."""

from multiprocessing import get_context

import numpy as np

from judges.coverage.at_work import charging_plant, of_groupings
from judges.coverage.bench import constants, of_constants, of_counts, of_drag, of_other_ways
from judges.coverage.first_run import of_first_run
from judges.coverage.planted import planted
from statorbook.errors import BadInput
from statorbook.job.parts.results import CoilPart

_ALL_WAYS_EVERY = 4  # a loaded reading takes longer than all the rest


def of_one(seed):
    """Everything that one machine has to say, as a list of `Tried`."""
    rng = np.random.default_rng(seed)
    machine = planted(rng)
    found, coil = constants(rng, machine)
    tries = [
        *of_constants(machine, found, coil),
        *of_other_ways(rng, machine, found, loaded=seed[-1] % _ALL_WAYS_EVERY == 0),
        *of_drag(rng, machine.leads.stator),
        *of_counts(rng, machine.leads.stator),
    ]
    part = CoilPart(**coil.fields)  # as the job keeps it
    plant = charging_plant(rng, machine, part)
    if plant:
        tries += of_groupings(rng, machine, *plant)
        tries += of_first_run(rng, machine, *plant, part)
    return tries


def _of_one(seed):
    try:
        return of_one(seed)
    except BadInput as refusal:  # which does not pass between processes
        raise RuntimeError(f"machine {seed}: {refusal}") from None


def tried_of(machines, *, seed=1, processes=1):
    """All that so many machines have to say; the same for a seed, however many processes there are."""
    seeds = [(seed, number) for number in range(machines)]
    if processes == 1:
        found = map(_of_one, seeds)
    else:
        with get_context("spawn").Pool(processes) as pool:
            found = pool.map(_of_one, seeds, chunksize=5)
    return [each for tries in found for each in tries]
