"""From the quick look to the reader's own job: as drafts that its pages show and mark, never over what stands there."""

from statorbook.errors import BadInput
from statorbook.job import EXAMPLES, QUICK_LOOK, Drafts

_PAGES = {"stator": "01_know_your_stator", "bank": "04_choose_a_grouping"}
_LEFT = "Volts, ohms and speed are not carried: they are read again there, with meter and leads"


def carry_quick_look(job, controls):
    """Leave controls, by part and field, as marked drafts in a job's forms, and say what became of them."""
    if job is None or job.notice or job.name in EXAMPLES:
        raise BadInput(
            "no job of your own is open" if job is None else f"the job {job.name} is open, an invented example",
            "numbers are carried only to a job of your own",
            "create or open yours at the top of this page, then press again",
            where="quick look",
        )
    parts, carried = job.parts, []
    for part, fields in controls.items():
        if part in parts:
            continue
        drafts = Drafts(job.folder, part, by=QUICK_LOOK)
        kept = drafts.found(fields)
        free = [name for name in fields if not _others(kept.get(name, ()))]
        for name in free:
            drafts.keep(name, str(fields[name].value))
        if free:
            carried.append(f"{len(free)} of {len(fields)} {part} fields (page {_PAGES[part]})")
    if not carried:
        return f"Nothing was carried: the job {job.name} holds its own numbers already. {_LEFT}."
    return (
        f"Carried to the job {job.name}: {' and '.join(carried)}. They stand there marked as from the quick look "
        f"until you save them. {_LEFT}."
    )


def _others(drafts):
    """Whether something stands there that was typed on its own page."""
    return any(not draft.is_carried for draft in drafts)
