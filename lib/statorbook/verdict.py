"""Verdicts on groupings: which are rejected, which one is chosen, and why, in words."""

from dataclasses import replace
from math import isnan

# Current density that a wound coil stands for hours. Common practice, no source.
MOST_AMPS_PER_MM2 = 10.0
WARM_AMPS_PER_MM2 = 6.0
# Among groupings that give nearly the most watts, the one with the lowest runaway volts is chosen.
NEARLY_THE_MOST = 0.95
_SLIGHT = 0.05
_NOT_WORTH_A_WORD = 0.005
_LEAST_WATTS = 1e-9  # keeps shares of nothing from being divided by 0


def describe(row):
    """One row in a sentence: what to join, what it gives, what it does with the bank gone.

    Parameters
    ----------
    row : Row
        The row.

    Returns
    -------
    str
        The sentence.
    """
    at = row.point
    # Without a source in the chain the drive is a speed that holds, whatever it costs.
    held = at.chain_watts[0][0] == "shaft"
    shaft = dict(at.chain_watts)["shaft"]
    price = f", which takes {shaft:.0f} W from whatever turns it" if held else ""
    return (
        f"{row.grouping.label}: {at.bank_watts:.0f} W ({at.dc_amps:.1f} A) into the half-full bank "
        f"at {at.speed_rpm:.0f} rpm{price}, "
        f"charging from {row.cut_in_rpm:.0f} rpm; with the bank gone it can run away to "
        f"{row.runaway.line_volts_rms:.0f} V AC line rms, {row.runaway.dc_volts_peak:.0f} V DC peak: "
        f"{row.runaway.word}."
    )


def fault_of(row):
    """Why a row must be rejected.

    Parameters
    ----------
    row : Row
        A row without verdict.

    Returns
    -------
    str
        One sentence, or an empty text when nothing speaks against it.
    """
    half, charging = row.points[1:]
    if half.speed_rpm == 0.0:
        return "the drive cannot turn it against its drag."
    if not half.charges:
        return f"it would charge only above {row.cut_in_rpm:.0f} rpm and turns at {half.speed_rpm:.0f} rpm."
    if not charging.charges:
        return "it stops charging before the bank is full."
    if row.amps_per_mm2 > MOST_AMPS_PER_MM2:
        most = f"{MOST_AMPS_PER_MM2:g} that copper stands for hours"
        return f"its coils would carry {row.amps_per_mm2:.1f} A/mm², more than the {most}{_circulating(row)}."
    if row.runaway.level > 3:
        return f"running away it makes {row.runaway.dc_volts_peak:.0f} V DC peak, {row.runaway.word}."
    return ""


def choose(rows):
    """Mark the chosen row and say of every other why not.

    Parameters
    ----------
    rows : list of Row
        Most watts first; the rejected ones already carry their verdict.

    Returns
    -------
    list of Row
        The same rows with verdict and reason.
    """
    sound = [row for row in rows if row.verdict == "workable"]
    if not sound:
        return rows
    most = max(_net_watts(row) for row in sound)
    near = [row for row in sound if _net_watts(row) >= NEARLY_THE_MOST * most]
    chosen = min(near, key=lambda row: (row.runaway.dc_volts_peak, row.grouping.connection != "star"))
    return [
        row
        if row.verdict == "rejected"
        else replace(row, verdict="chosen" if row is chosen else "workable", reason=_reason(row, chosen, most))
        for row in rows
    ]


def _net_watts(row):
    """Watts into the bank less what may circulate in the delta, so that a delta is chosen only when it surely wins."""
    lost = 0.0 if isnan(row.circulating_watts) else row.circulating_watts
    return max(row.point.bank_watts - lost, _LEAST_WATTS)


def _reason(row, chosen, most):
    share = _net_watts(row) / most
    if row is chosen:
        near = f"with the lowest runaway volts of all that give at least {NEARLY_THE_MOST:.0%}"
        text = f"{share:.0%} of the most watts, {near}"
    elif share >= NEARLY_THE_MOST:
        text = f"as many watts, but {row.runaway.dc_volts_peak:.0f} V DC peak when it runs away"
    else:
        text = f"{share:.0%} of the most watts"
    if row.amps_per_mm2 > WARM_AMPS_PER_MM2:
        text += f"; coils at {row.amps_per_mm2:.1f} A/mm² need moving air"
    return text + _unmeasured(row) + _circulating(row) + "."


def _unmeasured(row):
    """A warning for a delta that may carry a third harmonic and was not measured."""
    delta, doubtful = row.grouping.connection == "delta", row.winding.stator.third_harmonic_factor > _SLIGHT
    if not (delta and doubtful and isnan(row.circulating_watts)):
        return ""
    return "; measure the open delta corner first, third-harmonic volts there would heat the coils"


def _circulating(row):
    """What a measured third harmonic does inside a delta."""
    if isnan(row.circulating_watts) or row.circulating_watts <= _NOT_WORTH_A_WORD * row.point.bank_watts:
        return ""
    return f"; third-harmonic current round the delta heats its coils with up to {row.circulating_watts:.0f} W"
