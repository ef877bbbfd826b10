"""Made-up logs with one thing wrong, and the checks that should say so."""

import numpy as np

from samples.made_up_logs import clean_logs, random_machine, shorted_row, shown
from statorbook.bench.readings import read_logs
from statorbook.fits.checks_by_log import log_checks

TWELVE = (60, 80, 110, 140, 180, 220, 260, 310, 360, 410, 450, 480)
DAYS = ("2026-05-02", "2026-05-09", "2026-05-16")
NAMES = (
    "The volts start from zero",
    "The volts rise in step with speed",
    "The volts of the pairs agree",
    "EMF: the days agree",
    "The rows scatter no more than the meters allow",
    "The amps level off as EMF, ohms and inductance say",
    "Inductance: the days agree",
    "The ohms of the three pairs are equal",
    "Resistance: the days agree",
)


def dated_logs(machine, rng):
    """Twelve spin rows, twelve shorted rows and nine of ohms, on two or three days each."""
    rows = clean_logs(machine, TWELVE, rng=rng)
    gain = 1 + 0.01 * rng.normal()
    speeds = np.round(machine.corner_rpm * np.array((0.8, 1.0, 1.2, 1.5, 1.8, 2.1, 2.5, 2.8, 3.2, 3.5, 3.8, 4.0)))
    rows["shorted"] = [
        shorted_row(
            rpm,
            machine.shorted_amps(rpm) * gain * (1 + 0.01 * rng.normal()),
            "ABC"[i % 3],
            connection=machine.connection,
        )
        for i, rpm in enumerate(np.maximum(speeds, 1))
    ]
    # Slow rows come first, so days and speeds hang together in the spin log, as they do on a bench.
    for log, of_row in (("spin", np.arange(12) // 4), ("shorted", np.arange(12) % 2), ("ohms", np.arange(9) // 3)):
        for row, day in zip(rows[log], of_row, strict=True):
            row["taken_on"] = DAYS[day]
    return rows


def meter_zero(rows, machine, rng):
    """A meter that shows 3 % of the mean reading too much, or too little, at every speed."""
    off = 0.03 * machine.line_volts(np.mean(TWELVE)) * rng.choice((-1, 1))
    _each(rows["spin"], "volts", lambda volts, row: volts + off)


def saturating(rows, machine, rng):
    """Volts that fall behind by 8 % at the top speed, all read on one day."""
    for row in rows["spin"]:
        row["taken_on"] = DAYS[0]
    _each(rows["spin"], "volts", lambda volts, row: volts * (1 - 0.08 * float(row["speed_rpm"]) / TWELVE[-1]))


def weak_pair(rows, machine, rng):
    """One pair of leads 6 % low."""
    pair = rng.choice(("AB", "BC", "CA"))
    _each(rows["spin"], "volts", lambda volts, row: volts * (0.94 if row["terminals"] == pair else 1))


def poor_pair(rows, machine, rng):
    """One pair of leads with 8 % more ohms."""
    pair = rng.choice(("AB", "BC", "CA"))
    _each(rows["ohms"], "ohms", lambda ohms, row: ohms * (1.08 if row["terminals"] == pair else 1))


def day_off(log, column):
    """One day 5 % off in one log."""

    def plant(rows, machine, rng):
        day, share = rng.choice(sorted({row["taken_on"] for row in rows[log]})), 1 + 0.05 * rng.choice((-1, 1))
        _each(rows[log], column, lambda value, row: value * (share if row["taken_on"] == day else 1))

    return plant


def swaying(rows, machine, rng):
    """Speed that sways, so that volts scatter by 4 %."""
    _each(rows["spin"], "volts", lambda volts, row: volts * (1 + 0.04 * rng.normal()))


def heating(rows, machine, rng):
    """Amps that fall behind by 15 % from the slowest to the fastest row."""
    top = max(float(row["speed_rpm"]) for row in rows["shorted"])
    _each(
        rows["shorted"],
        "amps",
        lambda amps, row: amps * (1 - 0.15 * np.log(float(row["speed_rpm"]) / top * 5) / np.log(5)),
    )


def alarms(count, seed, plant=None):
    """By check, how often of so many machines it does not hold, and how often it cannot tell."""
    rng = np.random.default_rng(seed)
    off, unknown = dict.fromkeys(NAMES, 0), dict.fromkeys(NAMES, 0)
    for _ in range(count):
        machine = random_machine(rng)
        rows = dated_logs(machine, rng)
        if plant:
            plant(rows, machine, rng)
        logs = read_logs(rows, machine.stator, found_connection=machine.connection)
        for check in log_checks(logs, machine.stator):
            off[check.name] += check.holds is False
            unknown[check.name] += check.holds is None
    return off, unknown


def _each(rows, column, change):
    for row in rows:
        row[column] = shown(change(float(row[column]), row))
