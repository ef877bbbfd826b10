"""What the panel of chapter 04 shows of a comparison: the table of all groupings and words about the chosen row."""

from statorbook.panels.table import Table
from statorbook.uncertainty import watts_range, with_plus_minus

_COLUMNS = {
    "grouping": lambda row: row.grouping.label,
    "verdict": lambda row: row.verdict,
    "cut-in [rpm]": lambda row: round(row.cut_in_rpm),
    "speed [rpm]": lambda row: round(row.point.speed_rpm),
    "DC [A]": lambda row: f"{row.point.dc_amps:.1f}",
    "empty / half full / charging [W]": lambda row: " / ".join(f"{point.bank_watts:.0f}" for point in row.points),
    "cold [W]": lambda row: round(row.cold_point.bank_watts),
    "coil [A rms] (A/mm²)": lambda row: f"{row.coil_amps_rms:.2f} ({_density(row.amps_per_mm2)})",
    "at work, open [V AC line rms]": lambda row: round(row.working.line_volts_rms),
    "runaway [V AC line rms / V DC peak]": lambda row: (
        f"{row.runaway.line_volts_rms:.0f} / {row.runaway.dc_volts_peak:.0f}"
    ),
    "danger": lambda row: row.runaway.word,
    "why": lambda row: row.reason,
}


def all_groupings(found, picked):
    """Every grouping as a table for the page.

    Parameters
    ----------
    found : Comparison
        The comparison.
    picked : Row
        The row to mark.

    Returns
    -------
    Table
        One line per grouping, none left out.
    """
    marks = tuple("chosen" if row is picked else "quiet" if row.verdict == "rejected" else "" for row in found.rows)
    words = "All legal groupings, most watts first; watts with the machine warm unless said."
    return Table(columns=tuple(_COLUMNS), rows=tuple(map(_line, found.rows)), marks=marks, caption=words)


def _line(row):
    return tuple(cell(row) for cell in _COLUMNS.values())


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
    kept = job.choice
    if kept is None:
        return f"No grouping is written to the job {job.name} yet."
    state = job.states()["04_choose_a_grouping"]
    doubt = "" if state == "done" else f" Out of date? Chapter 04 is {state}."
    return (
        f"Written to the job {job.name}{f' on {kept.date}' if kept.date else ''}: {kept.to_grouping().label}, "
        f"promised {kept.dc_watts:.0f} W ({kept.dc_amps:.1f} A) at {kept.speed_rpm:.0f} rpm.{doubt}"
    )


def plus_minus_words(machine, grouping):
    """What the ± of the coil constants leaves open.

    Parameters
    ----------
    machine : Machine
        As shown.
    grouping : Grouping
        As shown.

    Returns
    -------
    str
        A sentence.
    """
    guessed = [words for words in machine.assumed if words.endswith("of a coil")]
    if guessed:
        least, most = watts_range(machine, grouping)
        return (
            f"Assumed, not measured: {' and '.join(guessed)}; within that band it may give "
            f"{least:.0f} to {most:.0f} W, "
            "so measure before you cut."
        )
    found = with_plus_minus(machine, grouping)
    watts, amps, speed, volts = (
        found[name] for name in ("bank_watts", "dc_amps", "speed_rpm", "runaway_dc_volts_peak")
    )
    return (
        f"The ± of your coil constants alone makes ± {watts.plus_minus:.2g} W, ± {amps.plus_minus:.2g} A, "
        f"± {speed.plus_minus:.2g} rpm and ± {volts.plus_minus:.2g} V in the runaway peak."
    )


def _density(amps_per_mm2):
    return f"{amps_per_mm2:.1f}" if amps_per_mm2 == amps_per_mm2 else "wire not measured"
