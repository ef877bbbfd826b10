"""The controller's text and tables for a job: its rules, its volts input, and what is said at the top."""

from dataclasses import dataclass

from statorbook.charging import (
    Program,
    VoltsInput,
    control_inputs,
    control_outputs,
    most_read_volts,
    without_processor,
    write_program,
)
from statorbook.job.parts import ControlPart


@dataclass(frozen=True, kw_only=True)
class ControlText:
    """Everything that is written for a controller."""

    program: Program
    volts_input: VoltsInput
    inputs: tuple
    outputs: tuple
    steps: tuple  # the same rules built of relays, without a processor
    lost: tuple[str, ...]  # what cannot be built so, a sentence each


def control_text_from(job, plan, control=None):
    """Write the controller's text and tables.

    Parameters
    ----------
    job : Job
        The job that the plan was made of.
    plan : ChargingPlan
        The plan.
    control : ControlPart or None
        As it is typed; the job's, or an assumed one, when None.

    Returns
    -------
    ControlText
        Text and tables.

    Raises
    ------
    BadInput
        When the volts input ends below a limit of the rules.
    """
    most_volts, bank = most_read_volts(plan), plan.bank
    volts_input = (control or job.control or ControlPart()).to_volts_input(most_volts)
    volts_input.require_room(most_volts)
    about = (
        f"Job {job.name}. Bank: {bank.cells} cells of {bank.chemistry}, {bank.capacity_ah:g} Ah. Coils: "
        f"{plan.plant.grouping.label}.",
        plan.rules.words,
    )
    steps, lost = without_processor(plan.rules)
    return ControlText(
        program=write_program(plan.rules, volts_input, tuple(filter(None, about))),
        volts_input=volts_input,
        inputs=control_inputs(plan.rules, volts_input),
        outputs=control_outputs(plan.rules),
        steps=steps,
        lost=lost,
    )
