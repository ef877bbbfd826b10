"""How far a job has come: one plain word for each chapter, and what is still missing."""

from statorbook.cells import cell_text
from statorbook.errors import BadInput
from statorbook.job_logs import load_log


def chapter_states(folder, parts):
    """Say for each chapter whether it is done.

    Parameters
    ----------
    folder : Path
        The job's folder, for its logs.
    parts : dict of str to Part
        The parts that are filled in.

    Returns
    -------
    dict of str to str
        By chapter: "done", or "started: …" or "empty: …" with what is missing or damaged.
    """
    coil = parts.get("coil")
    measured_ohm = coil is not None and not coil.ohm_assumed
    measured_henry = coil is not None and not coil.henry_assumed
    spin, shorted, ohms = (_Log(folder, log) for log in ("spin", "shorted", "ohms"))
    return {
        "00_start_here": "done",
        "01_know_your_stator": _state({"the stator facts": "stator" in parts,
                                       "the winding ohms": ohms.filled or measured_ohm}, ohms),
        "02_spin_and_log": _state({"the volts at known speed": spin.filled,
                                   "the shorted-lead amps": shorted.filled or measured_henry,
                                   "the coil constants": coil is not None}, spin, shorted),
        "03_what_turns_it": _state({"the drive": "drive" in parts}),
        "04_choose_a_grouping": _state({"the bank": "bank" in parts, "the chosen grouping": "choice" in parts}),
    }


class _Log:
    """Whether a log holds anything, and why it cannot be read when it cannot."""

    def __init__(self, folder, log):
        self.filled, self.complaint = False, ""
        try:
            self.filled = any(cell_text(cell) for row in load_log(folder, log)[0].rows for cell in row.values())
        except BadInput as complaint:
            self.complaint = str(complaint)


def _state(items, *logs):
    """A damaged log is work begun, never work done or work not there."""
    missing = [name for name, there in items.items() if not there]
    damage = next((log.complaint for log in logs if log.complaint), "")
    if damage:
        return f"started: {damage}"
    if not missing:
        return "done"
    word = "empty" if len(missing) == len(items) else "started"
    return f"{word}: still missing {', '.join(missing)}"
