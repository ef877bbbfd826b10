"""Two versions of a job's file side by side: what was changed, in plain words."""

from difflib import SequenceMatcher

from statorbook.bench import ALL_LOGS, HEADINGS, parse_log
from statorbook.job.document import parse_document
from statorbook.job.files import DOCUMENT
from statorbook.job.parts.fields import facts_of
from statorbook.job.parts.registry import PARTS
from statorbook.quantities import cell_text, to_shown

# Every file that a job may hold, its older versions and the like apart.
JOB_FILES = (DOCUMENT, *(f"{log}.csv" for log in ALL_LOGS))
DAMAGED = "this version is damaged"
_FEW = 3
_MANY_ROWS = 2_000  # a log brought in as a whole, from a logger; nobody changes a cell of it


def parsed_file(file, data):
    """What "job.json" holds, the parts by name, or a log's file such as "spin.csv", its rows; refused when damaged."""
    if file == DOCUMENT:
        return parse_document(data, file).parts
    return parse_log(file.removesuffix(".csv"), data, file).rows


def change_in_words(file, before, after):
    """What was changed between two `parsed_file`s, the first few changes named; None is one damaged or gone."""
    if before is None or after is None:
        return f"{file}: {DAMAGED}" if before is None else f"{file}: what came after it is damaged or gone"
    said = _parts_changed(before, after) if file == DOCUMENT else _rows_changed(before, after)
    what = "the job" if file == DOCUMENT else f"{file.removesuffix('.csv')} log"
    return f"{what}: {_listed(said)}"


def _listed(said):
    more = f" and {len(said) - _FEW} more" if len(said) > _FEW else ""
    return f"{'; '.join(said[:_FEW])}{more}" if said else "nothing that counts was changed"


def _parts_changed(before, after):
    said = []
    for name, model in PARTS.items():
        old, new = before.get(name), after.get(name)
        if old == new:
            continue
        if old is None or new is None:
            said.append(f"{model.part_title} {'added' if old is None else 'taken out'}")
            continue
        said += [
            f"{facts.title} {_in_readers(facts, old)} → {_in_readers(facts, new)}"
            for facts in facts_of(model)
            if facts.name != "assumed" and getattr(old, facts.name) != getattr(new, facts.name)
        ]
    return said


def _in_readers(facts, part):
    value = getattr(part, facts.name)
    known = facts.kind == "number" and value is not None
    return _shown(to_shown(value, facts.unit_alone, name=facts.name_alone) if known else value)


def _rows_changed(before, after):
    """What happened to the rows; a row that only moved up or down did not change."""
    if max(len(before), len(after)) > _MANY_ROWS:
        return [f"{len(after)} rows in place of the {len(before)} before"] if before != after else []
    marks = [[tuple((name, cell_text(cell)) for name, cell in row.items()) for row in rows] for rows in (before, after)]
    said = []
    for kind, i, i_end, j, j_end in SequenceMatcher(None, *marks, autojunk=False).get_opcodes():
        if kind == "equal":
            continue
        both = min(i_end - i, j_end - j)
        for n in range(both):
            said += _cells_changed(before[i + n], after[j + n], j + n + 1)
        said += [f"row {n} taken out" for n in range(i + both + 1, i_end + 1)]
        said += [f"row {n} added" for n in range(j + both + 1, j_end + 1)]
    return said


def _cells_changed(old, new, number):
    return [
        f"row {number}, {HEADINGS.get(name, name)} {_shown(old.get(name, ''))} → {_shown(cell)}"
        for name, cell in new.items()
        if name is not None and cell_text(old.get(name, "")) != cell_text(cell)
    ]


def _shown(value):
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return f"“{text[:30]}{'…' if len(text) > 30 else ''}”" if text and value is not None else "nothing"
