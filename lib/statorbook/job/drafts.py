"""What was typed into a job's fields and is no part of the job yet: on the disk from the moment a field is left."""

import json
import secrets
from dataclasses import asdict, dataclass

from statorbook.errors import BadInput
from statorbook.job.files import file_label, locked, put_aside, read_file, replace_file

DRAFTS = ".drafts.json"
QUICK_LOOK = "quick look"  # as the page that a draft was typed on: carried over from the start page
_VERSION = 1
_VALUES = (str, bool, type(None))


@dataclass(frozen=True, kw_only=True)
class Draft:
    """One field as it was left."""

    form: str  # the form that it stands in, such as "stator"
    field: str
    text: str | bool | None  # what stands in it: a text however half-typed, a tick, or None when nothing is chosen
    system: str  # "metric" or "US": the units in which it was typed
    by: str  # the page that it was typed on; each opening of a page is another one

    @property
    def is_carried(self):
        """True when it comes from the quick look of the start page."""
        return self.by == QUICK_LOOK


class Drafts:
    """The drafts of one form on one page; it replaces only its own and those that it has shown.

    Parameters
    ----------
    folder : Path
        The job's folder.
    form : str
        The form's name, such as "stator".
    by : str
        The page that types them; each opening of a page is another one when empty.
    """

    def __init__(self, folder, form, by=""):
        self._folder, self._form, self._by, self._seen = folder, form, by or secrets.token_hex(8), set()

    def found(self, fields):
        """What was typed and is not used yet, on whatever page; from now on this page may replace it.

        Parameters
        ----------
        fields : collection of str
            The fields that are shown.

        Returns
        -------
        dict of str to tuple of Draft
            By field, the newest last.

        Raises
        ------
        BadInput
            When the file is damaged or cannot be read.
        """
        mine = [draft for draft in load_drafts(self._folder) if draft.form == self._form and draft.field in fields]
        self._seen.update(mine)
        return {name: tuple(draft for draft in mine if draft.field == name) for name in {draft.field for draft in mine}}

    def keep(self, field, text, system="metric"):
        """Keep a field as it was left.

        Parameters
        ----------
        field : str
            Its name.
        text : str or bool or None
            What stands in it.
        system : str
            "metric" or "US".

        Raises
        ------
        BadInput
            When the disk refuses; what was kept before is then untouched.
        """
        fresh = Draft(form=self._form, field=field, text=text, system=system, by=self._by)
        self._replace({field}, [fresh])

    def forget(self, fields):
        """Take drafts away, because they are now part of the job or were discarded.

        Parameters
        ----------
        fields : collection of str
            The fields; what another page typed since this one looked stays.

        Raises
        ------
        BadInput
            When the disk refuses; what was kept before is then untouched.
        """
        self._replace(set(fields), [])

    def _replace(self, fields, fresh):
        with locked(self._folder):
            try:
                before = load_drafts(self._folder)
            except BadInput:
                if not fresh:
                    return
                put_aside(self._folder / DRAFTS)  # damaged: nothing can be added to it, and nothing of it is lost
                before = ()
            left = [draft for draft in before if not self._may_replace(draft, fields)]
            if fresh or len(left) < len(before):
                replace_file(self._folder / DRAFTS, _formatted([*left, *fresh]), keep_previous=False)

    def _may_replace(self, draft, fields):
        return draft.form == self._form and draft.field in fields and (draft.by == self._by or draft in self._seen)


def load_drafts(folder):
    """All drafts of a job as they are on the disk now, the oldest first, as a tuple of `Draft`."""
    data = read_file(folder / DRAFTS)
    return () if data is None else parse_drafts(data, file_label(folder / DRAFTS))


def parse_drafts(data, where):
    """The bytes of a drafts file as a tuple of `Draft`; refused with its name when it is no such file."""
    try:
        keys = json.loads(data.decode("utf-8"))
        return tuple(_checked(Draft(**fields), keys["schema_version"]) for fields in keys["drafts"])
    except (ValueError, TypeError, KeyError, RecursionError):
        raise BadInput(
            "what was typed and not used yet cannot be read",
            "the file is allowed as the workbook writes it",
            "type it again; the damaged file is kept beside the job",
            where=where,
        ) from None


def discard_drafts(folder):
    """Begin without drafts, those of before kept among the older versions; hold `locked` on the folder."""
    if read_file(folder / DRAFTS) is not None:
        replace_file(folder / DRAFTS, _formatted([]))


def _checked(draft, version):
    words = (draft.form, draft.field, draft.system, draft.by)
    if not all(isinstance(word, str) for word in words) or not isinstance(draft.text, _VALUES):
        raise ValueError("not as the workbook writes it")
    if draft.system not in ("metric", "US") or version != _VERSION:
        raise ValueError("unknown units or another version")
    return draft


def _formatted(drafts):
    # Letters beyond ASCII as escapes: half of a letter, as some keyboards send it, is kept as well.
    keys = {"schema_version": _VERSION, "drafts": [asdict(draft) for draft in drafts]}
    return (json.dumps(keys, indent=1) + "\n").encode("ascii")
