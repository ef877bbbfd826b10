"""What the panel of chapter 04 shows of a comparison: the table of all groupings and words about the chosen row."""

from statorbook.assembly import year_promise_words
from statorbook.choice import ABOVE, CHOSEN, NEEDS_A_GUARD, REJECTED, WORKABLE, watts_range
from statorbook.panels.choice.year_columns import HOURS_COLUMNS, KWH_COLUMN, MONTH_COLUMNS, of_year
from statorbook.widgets import Table

_FIRST = {
    "grouping": lambda row: row.grouping.label,
    "verdict": lambda row: row.verdict,
    # Danger and reason stand before the numbers: on a small page what follows is reached by scrolling sideways.
    "danger": lambda row: row.runaway.word,
    "why": lambda row: row.reason,
    "bank gone, run away [V DC peak / V AC line rms]": lambda row: (
        f"{row.runaway.dc_volts_peak:.0f} / {row.runaway.line_volts_rms:.0f}{_unguarded(row)}"
    ),
}
# Of the setting shown.
_REST = {
    "empty / half full / charging [W]": lambda row: " / ".join(f"{point.bank_watts:.0f}" for point in row.points),
    "half full, DC [A]": lambda row: f"{row.point.dc_amps:.1f}",
    "most amps, to size by, DC [A]": lambda row: f"{row.most.dc_amps:.1f}",
    "speed [rpm]": lambda row: round(row.point.speed_rpm),
    "cut-in [rpm]": lambda row: round(row.cut_in_rpm),
    "cold [W]": lambda row: round(row.cold_point.bank_watts),
    "coil [A rms] (A/mm²)": lambda row: f"{row.coil_amps_rms:.2f} ({_density(row.amps_per_mm2)})",
    "at work, open [V AC line rms]": lambda row: round(row.working.line_volts_rms),
}


def all_groupings(found, picked, over_year=None):
    """Every grouping as a table: within the accepted volts, a line, above them, the rejected; with a year's hours."""
    rows = sorted(found.rows, key=lambda row: _part(row.verdict))
    marks = tuple("chosen" if row is picked else "quiet" if row.verdict == REJECTED else "" for row in rows)
    inside = sum(_part(row.verdict) == 0 for row in rows)
    beyond = any(row.verdict in (NEEDS_A_GUARD, ABOVE) for row in rows)
    columns = _FIRST | (_year_columns(over_year) if over_year else {}) | _REST
    return Table(
        columns=tuple(columns),
        rows=tuple(tuple(cell(row) for cell in columns.values()) for row in rows),
        marks=marks,
        caption=f"All legal groupings, most {found.most_words} first on each side of the line; watts and amps with the "
        "machine warm.",
        wall=(inside, above_words(found.setting.limit_dc_volts)) if beyond else (),
    )


def _year_columns(over_year):
    months = MONTH_COLUMNS if over_year.months_known else {}
    return of_year(over_year, KWH_COLUMN | HOURS_COLUMNS | months)


def above_words(limit_dc_volts):
    """What stands on the line in a table that parts what stays within the accepted volts from what does not."""
    return f"Below this line: above the {limit_dc_volts:.0f} V DC that you accept with the bank gone"


def _part(verdict):
    """Within the accepted volts, above them, rejected."""
    return {CHOSEN: 0, WORKABLE: 0, NEEDS_A_GUARD: 1, ABOVE: 1, REJECTED: 2}[verdict]


def _unguarded(row):
    more = row.unguarded.dc_volts_peak > row.runaway.dc_volts_peak
    return f" (guard fails: {row.unguarded.dc_volts_peak:.0f} / {row.unguarded.line_volts_rms:.0f})" if more else ""


def written_words(job):
    """What grouping the job holds.

    Parameters
    ----------
    job : Job
        The reader's job.

    Returns
    -------
    str
        A sentence.
    """
    now = job.read()
    kept = now.choice
    if kept is None:
        return f"No grouping is written to the job {job.name} yet."
    state = now.states()["04_choose_a_grouping"]
    doubt = "" if state == "done" else f" Chapter 04 is {state}."
    year = year_promise_words(kept)
    volts = f"{kept.runaway_dc_volts_peak:.0f} V DC peak with the bank gone"
    return (
        f"Written to the job {job.name}{f' on {kept.date}' if kept.date else ''}: {kept.to_grouping().label}, {volts}, "
        f"promised {kept.dc_watts:.0f} W ({kept.dc_amps:.1f} A) at {kept.speed_rpm:.0f} rpm"
        f"{f' and {year} over the year' if year else ''}{kept.size_words}.{doubt}"
    )


def plus_minus_words(machine, grouping, spread):
    """What the ± leaves open, in parts: the coil constants alone, and with everything that is assumed."""
    first = [spread["worth"].both] if "worth" in spread else []
    both = [*first, *(spread[name].both for name in ("bank_watts", "dc_amps"))]
    gone, most = (spread[name].both for name in ("runaway_dc_volts_peak", "most_dc_amps"))
    said = (
        f"± from the constants alone and with what is assumed: {'; '.join(both)}; bank gone {gone}; most amps {most}."
    )
    guessed = [words for words in machine.assumed if words.endswith("of a coil")]
    if not guessed:
        return said
    least, most = watts_range(machine, grouping)
    return (
        f"Assumed, not measured: {' and '.join(guessed)}; within that band alone it may give "
        f"{least:.0f} to {most:.0f} W, so measure before you cut. {said}"
    )


def _density(amps_per_mm2):
    return f"{amps_per_mm2:.1f}" if amps_per_mm2 == amps_per_mm2 else "wire not measured"
