"""Sessions of readings: the day of each row, which days a log holds, and which of them go into a fit."""

import re
from collections import Counter
from dataclasses import replace
from datetime import date

from statorbook.bench.columns import DAY
from statorbook.errors import BadInput, count_of
from statorbook.quantities import cell_text, day_of, typed_day

ALL_SESSIONS = "all"
NO_DAY = "without a day"
_ALL_BUT = "all but "
_FEWEST_FOR_ALL_BUT = 3
_CHOICE = re.compile(rf"(?:{_ALL_BUT})?(.+)")


def day_in(row, where):
    """The day of a row, None when the reader did not say, or `BadInput` for what is no day or can mean two."""
    if not cell_text(row.get("taken_on")):
        return None
    return typed_day(
        row["taken_on"], where=f"{where}, {DAY.heading}", next_step="type the day again, or leave it empty"
    )


def day_questions(day, where, today=None):
    """One sentence, in a list, when the day of a row is still to come by the clock, or by the day given."""
    if day is None or day <= (today or date.today()):
        return []
    return [
        f"{where}: dated {day}, a day still to come; the reading is used, but type the day again if it was mistyped."
    ]


def day_words(day):
    """A session's name.

    Parameters
    ----------
    day : date or None
        The day of its rows; None when none was typed.

    Returns
    -------
    str
        Such as "2026-05-31" or "without a day".
    """
    return NO_DAY if day is None else day.isoformat()


def sessions_of(readings):
    """Rows by session, earliest day first, rows without a day last."""
    return dict(sorted(Counter(day_words(reading.taken_on) for reading in readings).items()))


def sessions_words(readings):
    """The sessions of a log in a sentence.

    Parameters
    ----------
    readings : sequence of Reading
        All rows of one log.

    Returns
    -------
    str
        Such as "2 sessions: 2026-05-02 (8 rows), 2026-05-09 (6 rows)."; empty while no row has a day.
    """
    found = sessions_of(readings)
    if not found or set(found) == {NO_DAY}:
        return ""
    listed = ", ".join(f"{name} ({count_of(rows, 'row')})" for name, rows in found.items())
    return f"{count_of(len(found), 'session')}: {listed}."


def session_options(readings):
    """What the reader can choose for the sessions of a fit.

    Parameters
    ----------
    readings : sequence of Reading
        All rows of one log.

    Returns
    -------
    list of str
        "all", each session alone, and from three sessions on each one left out.
    """
    names = list(sessions_of(readings))
    if len(names) < 2:
        return [ALL_SESSIONS]
    but = [f"{_ALL_BUT}{name}" for name in names] if len(names) >= _FEWEST_FOR_ALL_BUT else []
    return [ALL_SESSIONS, *names, *but]


def require_choice(chosen, where):
    """Check a choice of sessions.

    Parameters
    ----------
    chosen : str
        "all", a day, "without a day", or "all but" and one of the two.
    where : str
        What is chosen, for the sentence.

    Returns
    -------
    str
        The choice.

    Raises
    ------
    BadInput
        When it is none of them.
    """
    name = _CHOICE.fullmatch(chosen)
    if chosen != ALL_SESSIONS and not (name and (name[1] == NO_DAY or day_of(name[1]))):
        allowed = f'"{ALL_SESSIONS}", a day, "{NO_DAY}", or "{_ALL_BUT.strip()}" one of them is allowed'
        raise BadInput(f'"{chosen[:40]}" was given', allowed, "choose again on the page of that log", where=where)
    return chosen


def leave_out(readings, chosen):
    """Mark the rows of sessions that the reader does not want in the fit; nothing is deleted.

    Parameters
    ----------
    readings : sequence of Reading
        All rows of one log.
    chosen : str
        From `session_options`.

    Returns
    -------
    tuple of Reading
        The same rows, those of other sessions not usable.
    """
    return tuple(
        reading
        if _is_used(day_words(reading.taken_on), chosen)
        else replace(reading, left_out=_left_out_words(reading))
        for reading in readings
    )


def _is_used(name, chosen):
    if chosen.startswith(_ALL_BUT):
        return name != chosen.removeprefix(_ALL_BUT)
    return chosen in (ALL_SESSIONS, name)


def _left_out_words(reading):
    return (
        f"Not used: the session {day_words(reading.taken_on)} is left out, as chosen under “Sessions used”; the "
        "reading is kept."
    )
