"""How far a job has come: one plain word for each chapter, what is still missing, and what is out of date."""

from functools import lru_cache
from hashlib import sha256
from json import dumps

from statorbook.errors import BadInput
from statorbook.job.logs import fingerprint_of, load_log
from statorbook.job.parts.year.part import YEAR_KINDS, YearPart
from statorbook.quantities import holds_anything

PARTS_IN_WORDS = {"stator": "stator facts", "coil": "coil constants", "drive": "drive", "bank": "bank"}
# A choice hangs on those too, where there are any.
COMPARED_IN_WORDS = {
    **PARTS_IN_WORDS,
    "converter": "converter",
    "heat": "winding's temperature at work",
    "site": "coldest air",
}
_PROTECTED_IN_WORDS = {
    "choice": "chosen grouping",
    **COMPARED_IN_WORDS,
    "site": "place",
    "cable": "cable",
    "rectifier": "rectifier",
    "fuse": "fuse",
    "rotor": "rotor",
    "guard": "over-voltage load",
}
_PROGRAMMED_IN_WORDS = {
    "choice": "chosen grouping",
    **COMPARED_IN_WORDS,
    "set_points": "set-points",
    "dump": "dump loads",
    "water": "hot water",
    "inverter": "inverter",
    "control": "controller",
    "control_rules": "rules",
    "control_relays": "relays",
}
_YEAR = "year"  # known by its fields or by its log, so it has a mark of its own
# Fields that no number of a comparison hangs on.
_REMARKS = {
    "date",
    "notes",
    "found_wiring",
    "mark_note",
    "insulation_megohm",
    "diameter_mm",
    "rotor_kg",
    "rotor_ring_mm",
    "emf_how",
    "ohm_how",
    "henry_how",
}

_OPTIONAL_CHAPTERS = ("04b_add_up_the_year",)  # no other chapter asks for what they leave in the job
_OPTIONAL = "the other pages do without it"


def inputs_fingerprint(job):
    """A mark for each part that a choice of grouping hangs on, to see later which of them changed.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    str
        Such as "stator=1a2b3c4d coil=… drive=… bank=… year=…", without the parts that are not filled in.
    """
    return _fingerprint(job.folder, job.parts)


def planned_for(parts):
    """A mark of the winding as found and of the grouping wanted, to see later whether a plan is still the right one.

    Parameters
    ----------
    parts : dict of str to Part
        The parts that are filled in, stator facts and choice among them.

    Returns
    -------
    str
        Such as "36/48 1a2b3c4d to 4 in series, 3 paths, star".
    """
    stator = parts["stator"]
    found = f"{stator.to_found_grouping().label} {stator.found_wiring}"
    mark = sha256(found.encode()).hexdigest()[:8]
    return f"{stator.slots}/{stator.poles} {mark} to {parts['choice'].to_grouping().label}"


def protected_for(parts):
    """A mark of everything that the parts of a plant are sized by, to see later which of it changed.

    Parameters
    ----------
    parts : dict of str to Part
        The parts of the job that are filled in.

    Returns
    -------
    str
        Such as "choice=1a2b3c4d stator=… drive=… bank=… site=…", without the parts that are not filled in.
    """
    return _joined(_marks(parts, _PROTECTED_IN_WORDS))


def programmed_for(folder, parts):
    """A mark of everything that the controller's program is written for, to see later which of it changed.

    Parameters
    ----------
    folder : Path
        The job's folder.
    parts : dict of str to Part
        The parts of the job that are filled in.

    Returns
    -------
    str
        Such as "bank=1a2b3c4d dump=… control_rules=…", without the parts and logs that are not filled in.
    """
    marks = _marks(parts, _PROGRAMMED_IN_WORDS)
    for log in ("control_rules", "control_relays"):
        if _Log(folder, log).filled:
            marks[log] = fingerprint_of(folder, log).hex()[:8]
    return _joined(marks)


def chapter_states(folder, parts):
    """By chapter: "done", or "started: …" or "empty: …" with what is missing or damaged, or "out of date: …"."""
    coil = parts.get("coil")
    measured_ohm = coil is not None and not coil.ohm_assumed
    measured_henry = coil is not None and not coil.henry_assumed
    spin, shorted, ohms, run, service = (_Log(folder, log) for log in ("spin", "shorted", "ohms", "run", "service"))
    states = {
        "00_start_here": "done",
        "01_know_your_stator": _state(
            {"the stator facts": "stator" in parts, "the winding ohms": ohms.filled or measured_ohm}, ohms
        ),
        "02_spin_and_log": _state(
            {
                "the volts at known speed": spin.filled,
                "the shorted-lead amps": shorted.filled or measured_henry,
                "the coil constants": coil is not None,
            },
            spin,
            shorted,
        ),
        "03_what_turns_it": _state({"the drive": "drive" in parts}),
        "04_choose_a_grouping": _state({"the bank": "bank" in parts, "the chosen grouping": "choice" in parts}),
        "04b_add_up_the_year": _year_state(folder, parts),
        "05_cut_and_join": _state({"the chosen grouping": "choice" in parts, "the plan": "plan" in parts}),
        "06_protect_it": _protected_state(parts),
        "07_charge_and_dump": _charged_state(parts),
        "08_first_run": _state({"the run log": run.filled, "the service": "service" in parts}, run, service),
    }
    for chapter, words in _out_of_date(folder, parts).items():
        if words and states[chapter] == "done":
            states[chapter] = f"out of date: {words}"
    return states


def counted_states(states):
    """The states that tell how far a job has come: a chapter that none needs counts once it is begun.

    Parameters
    ----------
    states : dict of str to str
        By chapter, from `Job.states`.

    Returns
    -------
    list of str
        In the order of the chapters.
    """
    return [
        state for chapter, state in states.items() if chapter not in _OPTIONAL_CHAPTERS or not state.startswith("empty")
    ]


def _out_of_date(folder, parts):
    stale = "coil" in parts and "stator" in parts and parts["coil"].changes(parts["stator"])[0]
    choice = parts.get("choice")
    changed = _changed(choice.worked_out_for, folder, parts) if choice else []
    plan = parts.get("plan")
    replan = bool(plan and plan.planned_for and choice and "stator" in parts and plan.planned_for != planned_for(parts))
    listed = parts.get("protection")
    altered = _differing(listed.worked_out_for, protected_for(parts), _PROTECTED_IN_WORDS) if listed else []
    program = parts.get("program")
    now = programmed_for(folder, parts) if program else ""
    outdated = _differing(program.worked_out_for, now, _PROGRAMMED_IN_WORDS) if program else []
    return {
        "02_spin_and_log": "the stator facts changed since the coil constants were written" if stale else "",
        "04_choose_a_grouping": _since(changed, "the grouping was chosen"),
        "05_cut_and_join": "the wiring as found or the chosen grouping changed since the plan was saved"
        if replan
        else "",
        "06_protect_it": _since(altered, "the list was saved"),
        "07_charge_and_dump": _since(outdated, "the program was saved"),
    }


def _since(changed, what):
    return f"the {' and the '.join(changed)} changed since {what}" if changed else ""


def _changed(worked_out_for, folder, parts):
    """Titles of the parts that a choice was worked out for and that differ now."""
    return _differing(worked_out_for, _fingerprint(folder, parts), {**COMPARED_IN_WORDS, _YEAR: _YEAR})


def _differing(kept, now, titles):
    """Titles of the parts whose marks differ; none when nothing was kept."""
    if not kept:
        return []
    differing = {mark.split("=")[0] for mark in set(kept.split()) ^ set(now.split())}
    return [words for name, words in titles.items() if name in differing]


def _fingerprint(folder, parts):
    given = {name: parts[name] for name in COMPARED_IN_WORDS if parts.get(name) is not None}
    marks = {name: _mark(part) for name, part in given.items() if not part.says_nothing}
    marks |= {_YEAR: year} if (year := _year_mark(folder, parts)) else {}
    return _joined(marks)


def _year_mark(folder, parts):
    """A mark of the fields and the log that make the year of this kind of drive; empty while there is no year."""
    kind = parts["drive"].kind if parts.get("drive") else ""
    year = parts.get(_YEAR) or YearPart()
    if kind not in YEAR_KINDS or year.missing_for(kind):
        return ""
    log, asked = year.log_for(kind), YearPart.asked(kind, vars(year))
    typed = _Log(folder, log) if log else None
    if typed and not typed.filled and not typed.complaint:
        return ""
    fields = {name: value for name, value in year.as_saved().items() if name in asked and value is not None}
    rows = fingerprint_of(folder, log) if log else b""
    return sha256(dumps(fields, sort_keys=True).encode() + rows).hexdigest()[:8]


def _marks(parts, names):
    """By name: marks of whole parts, and of the choice the grouping alone."""
    given = {name: parts[name] for name in names if parts.get(name) and name != "choice"}
    # All of a place counts, not only the coldest air that a choice hangs on.
    marks = {name: _mark(part, whole=True) for name, part in given.items() if part.compared or not part.says_nothing}
    if parts.get("choice"):
        marks["choice"] = sha256(parts["choice"].to_grouping().label.encode()).hexdigest()[:8]
    return marks


def _joined(marks):
    return " ".join(f"{name}={mark}" for name, mark in marks.items())


def _mark(part, *, whole=False):
    saved, compared = part.as_saved(), None if whole else part.compared
    names = [name for name in saved if name not in _REMARKS] if compared is None else compared
    fields = {name: saved[name] for name in names if saved[name] is not None}
    return sha256(dumps(fields, sort_keys=True).encode()).hexdigest()[:8]


def _year_state(folder, parts):
    """The year goes with the drive: the log that it asks for is filled, or the fields that it cannot do without."""
    log = (parts.get(_YEAR) or YearPart()).log_for(parts["drive"].kind) if parts.get("drive") else ""
    items = {f"the source over the year; {_OPTIONAL}": bool(_year_mark(folder, parts))}
    return _state(items, *([_Log(folder, log)] if log else []))


def _protected_state(parts):
    """Place and cable are known, and the labels of a rectifier and a fuse: a form that is saved empty names none."""
    rectifier, fuse = parts.get("rectifier"), parts.get("fuse")
    return _state(
        {
            "the place": "site" in parts,
            "the cable": "cable" in parts,
            "the rectifier": bool(rectifier and rectifier.to_rectifier().labelled),
            "the fuse": bool(fuse and fuse.to_fuse()),
        }
    )


def _charged_state(parts):
    """Dump loads are typed, not all left as they are assumed, and there is a program for the controller."""
    dump = parts.get("dump")
    typed = dump is not None and dump.as_saved() != type(dump)().as_saved()
    return _state({"the dump loads": typed, "the program": "program" in parts})


class _Log:
    """Whether a log holds anything, and why it cannot be read when it cannot."""

    def __init__(self, folder, log):
        mark = fingerprint_of(folder, log)
        self.filled, self.complaint = _looked_into(folder, log, mark) if mark else _look_into(folder, log)


def _look_into(folder, log):
    try:
        return holds_anything(load_log(folder, log)[0].rows), ""
    except BadInput as complaint:
        return False, str(complaint)


@lru_cache(maxsize=64)
def _looked_into(folder, log, mark):
    """The same for a file with this mark: the list of pages asks often, and a year of hours is long."""
    return _look_into(folder, log)


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
