"""How firm a recommendation is: which plausible step of an assumption, or nearby setting of the source, changes it."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.choice.assumed_ranges import source_words, variations
from statorbook.choice.verdict import recommend
from statorbook.drives import WindRotor, with_quantities, year_words
from statorbook.operation import open_circuit_volts, settled_in
from statorbook.winding import Grouping

# Settings beside the one asked about. A wind blows above its mean for a good third of the time and carries most of its
# power there; any other source moves less. Common practice, no source.
_SPEEDS = 120  # each result is held against the same sweep, so that its coarseness drops out
_WIND_FACTORS, _OTHER_FACTORS = (1.3, 1.6), (0.8, 1.25)
ONE_SETTING = "One setting of the source is not a year: add up the year on page 04b_add_up_the_year."


@dataclass(frozen=True, kw_only=True)
class OtherChoice:
    """A grouping that would be recommended instead, and what would have to be so."""

    grouping: Grouping
    when: tuple  # what makes it the recommended one, as in "magnets at 30 °C at work"; any one of them is enough


def nearby_settings(machine):
    """(words, Machine) of the source as it stands, then of wind 1.3 and 1.6 times, of others 0.8 and 1.25 times."""
    source = machine.drive.quantities[0]
    factors = _WIND_FACTORS if isinstance(machine.drive, WindRotor) else _OTHER_FACTORS
    beside = (
        (f"{source_words(source, factor * source.value)}, {factor:g} times", {source.field: factor * source.value})
        for factor in factors
    )
    return (
        (source_words(source, source.value), machine),
        *((words, replace(machine, drive=with_quantities(machine.drive, values))) for words, values in beside),
    )


def source_warning(machine):
    """What one setting of this source does not say about a year.

    Parameters
    ----------
    machine : Machine
        Whose drive it is.

    Returns
    -------
    str
        One sentence.
    """
    return year_words() if isinstance(machine.drive, WindRotor) else ONE_SETTING


def at_settings(machine):
    """Compare the groupings at the source as it stands and beside it.

    Parameters
    ----------
    machine : Machine
        Whose source is turned: wind to 1.3 and 1.6 times, others to 0.8 and 1.25 times.

    Returns
    -------
    tuple of (str, Comparison)
        The setting in words and what is found there, as it stands first.
    """
    return tuple((words, now.compared()) for words, now in nearby_settings(machine))


def settings_words(settings):
    """What is recommended at each setting.

    Parameters
    ----------
    settings : sequence of (str, Comparison)
        From `at_settings`.

    Returns
    -------
    tuple of str
        A sentence each.
    """
    return tuple(f"{words[:1].upper()}{words[1:]}: {_in_short(found)}." for words, found in settings)


def _in_short(found):
    row = found.recommended
    if row is None:
        return "no grouping suits"
    return (
        f"{row.grouping.label}, {row.point.bank_watts:.0f} W at {row.point.speed_rpm:.0f} rpm, "
        f"{row.runaway.dc_volts_peak:.0f} V DC peak with the bank gone"
    )


def other_choices(machine, found):
    """Which other groupings would be recommended after a plausible step of an assumption or at a nearby setting.

    Parameters
    ----------
    machine : Machine
        As it stands.
    found : Comparison
        Its comparison.

    Returns
    -------
    tuple of OtherChoice
        Empty when the recommendation holds throughout.

    Notes
    -----
    Equation: `choice.verdict.recommend` again with the watts and volts of each changed machine.
    Valid: one thing changed at a time; what a plausible step is stands in `assumed_ranges`.
    Source: sensitivity analysis, one at a time.
    """
    if found.recommended is None:
        return ()
    ends = [end for variation in variations(machine) for end in variation.ends]
    machines = [machine, *(now for _, now in ends)]
    watts = settled_in(machines, [row.winding for row in found.sound], speeds=_SPEEDS)["bank_watts"]
    shares = np.divide(watts[1:], watts[0], out=np.zeros_like(watts[1:]), where=watts[0] > 0.0)
    beside = [(words, now.compared().recommended) for words, now in nearby_settings(machine)[1:]]
    picked = [(words, row.grouping) for words, row in beside if row is not None]
    return _others(found, [*_recommended(found, ends, shares), *picked])


def choices_at_ends(found, ends, shares):
    """Which other groupings would be recommended at the ends of what is assumed.

    Parameters
    ----------
    found : Comparison
        As it stands, something recommended in it.
    ends : sequence of (str, Machine)
        Each end in words, and the machine with it.
    shares : ndarray
        What each of the rows that are not rejected is worth then, over what it is worth now, shape (ends, rows) [-].

    Returns
    -------
    tuple of OtherChoice
        Empty when the recommendation holds throughout.

    Notes
    -----
    Equation: `choice.verdict.recommend` again with the worth and the volts of each changed machine.
    Valid: see `other_choices`.
    Source: see `other_choices`.
    """
    return _others(found, _recommended(found, ends, shares))


def _others(found, picked):
    """What is picked under which words, without the grouping that is recommended anyway."""
    when = {}
    for words, grouping in picked:
        if grouping != found.recommended.grouping:
            when.setdefault(grouping, []).append(words)
    return tuple(OtherChoice(grouping=grouping, when=tuple(words)) for grouping, words in when.items())


def _recommended(found, ends, shares):
    """The words of each end, and the grouping that is recommended there."""
    for (words, now), row_shares in zip(ends, shares, strict=True):
        changed = [_changed(row, now, share) for row, share in zip(found.sound, row_shares, strict=True)]
        yield words, recommend(changed, now.setting.limit_dc_volts).grouping


def _changed(row, now, share):
    at, top = row.point, now.drive.runaway_speed_rpm
    volts = float(open_circuit_volts(row.winding, top, now.setting.cold_c)[1])
    point = replace(at, bank_watts=share * at.bank_watts)
    worth = replace(row.worth, value=share * row.worth.value) if row.worth else None
    gone = replace(row.runaway, dc_volts_peak=volts)
    return replace(row, points=(row.points[0], point, row.points[2]), runaway=gone, worth=worth)


def firmness_words(found, choices):
    """Whether the recommendation holds, in a sentence.

    Parameters
    ----------
    found : Comparison
        The comparison.
    choices : sequence of OtherChoice
        From `other_choices`.

    Returns
    -------
    str
        The sentence; each other grouping with what would make it the recommended one.
    """
    if found.recommended is None:
        return "No grouping is recommended, so there is nothing that a step could turn over."
    if not choices:
        beside = ", and no nearby setting of the source," if found.rows[0].worth is None else ""
        return f"No plausible step of anything assumed{beside} would recommend another grouping."
    told = "; ".join(f"{other.grouping.label} with {' or '.join(other.when)}" for other in choices)
    return f"Not settled: another grouping would be recommended, namely {told}. Measure that first."
