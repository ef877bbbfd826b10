"""The ± of the kilowatt-hours of a year, and whether a plausible step turns the year's choice over."""

import numpy as np

from statorbook.choice import (
    CONSTANTS,
    Spread,
    choices_at_ends,
    half_width,
    reach,
    shares_in_squares,
    variations,
    windings_at_ends,
)
from statorbook.operation import settled_at
from statorbook.year.carried import misread, thinned
from statorbook.year.energy import grouping_years
from statorbook.year.verdict import KWH_A_YEAR

_WORTH_TELLING = 0.01
_SPEEDS_LOOKED_AT = np.linspace(0.1, 1.0, 9)  # of the free speed, to see whether two drives work alike


def kwh_spread(machine, source, grouping, *, kwh=None):
    """Kilowatt-hours a year of one grouping with their ±.

    Parameters
    ----------
    machine : Machine
        Constants with ends, drive, bank, setting, what is assumed.
    source : SourceYear
        Its year.
    grouping : Grouping
        How the coils are joined.
    kwh : float or None
        Its energy over the year when that is known already, else it is worked out [kWh].

    Returns
    -------
    Spread
        From the constants, and from what is assumed of winding, bank, drive and hours; every reading of the source is
        off by the same share. How single years differ is not in it, see `spread_words`.

    Notes
    -----
    Equation: `choice.half_width` over the coil constants, `choice.reach` over `choice.variations`.
    Valid: one thing at a time; each in a few settings of the year, held against the same few.
    Source: see `choice.half_width`.
    """
    if kwh is None:
        kwh = grouping_years(machine, source, windings_at_ends(machine, grouping)[:1])[0].kwh
    constants, assumed = kwh_at_all_ends(machine, source, grouping)
    if not constants[0] > 0.0:
        return Spread(value=kwh, constants=0.0, assumed=0.0, unit=KWH_A_YEAR)
    return Spread(
        value=kwh,
        constants=kwh * float(half_width(constants / constants[0])),
        assumed=kwh * float(reach(assumed / assumed[0])),
        unit=KWH_A_YEAR,
    )


def kwh_at_all_ends(machine, source, grouping):
    """Energy in a few settings of the year, as `half_width` takes it over the constants, as `reach` what is assumed."""
    windings, few = windings_at_ends(machine, grouping), thinned(source)
    around = machine.bank.states[1], machine.setting.conditions
    constants = _kwh(few, _watts([few.drives], windings, [around] * len(windings)))[0]
    return constants, kwh_at_ends(machine, few, windings[:1], [now for _, now in _ends(machine)])[:, 0]


def kwh_shares(machine, source, grouping):
    """What makes up the ± of `kwh_spread`.

    Parameters
    ----------
    machine : Machine
        As it stands.
    source : SourceYear
        Its year.
    grouping : Grouping
        How the coils are joined.

    Returns
    -------
    dict of str to float
        Name of the thing to its share in the square of the ±: those of `choice.shares_of`, then "hours" where the
        spread of the hours is assumed [-].

    Notes
    -----
    Equation: `choice.shares_in_squares`.
    Valid: as `kwh_spread`.
    Source: as `choice.shares_in_squares`.
    """
    hours = ("hours",) if source.other_hours else ()
    names = (*CONSTANTS, *(variation.name for variation in variations(machine)), *hours)
    return dict(zip(names, shares_in_squares(*kwh_at_all_ends(machine, source, grouping)).tolist(), strict=True))


def single_years_words(source):
    """How single years differ from the one that was added up.

    Parameters
    ----------
    source : SourceYear
        The year.

    Returns
    -------
    str
        As in "single years differ from this one by ± 15%, common practice"; no full stop, empty when nothing is known.
    """
    return (
        f"single years differ from this one by ± {source.year_share:.0%}, common practice" if source.year_share else ""
    )


def spread_words(spread, source):
    """The ± in words, told apart: from the constants, from what is assumed, and from year to year.

    Parameters
    ----------
    spread : Spread
        From `kwh_spread`.
    source : SourceYear
        The year.

    Returns
    -------
    str
        No full stop.
    """
    return "; ".join(filter(None, (spread.in_parts, single_years_words(source))))


def largest_steps(machine, source, grouping, *, most=4):
    """What of all that is assumed moves the kilowatt-hours of a grouping most: what to measure first.

    Parameters
    ----------
    machine : Machine
        As it stands.
    source : SourceYear
        Its year.
    grouping : Grouping
        How the coils are joined.
    most : int
        How many to name [-].

    Returns
    -------
    tuple of str
        Both ends of each in words with their share more or less, the largest first; what moves it by less than 1 % is
        left out.

    Notes
    -----
    Equation: energy at that end over the energy as it stands, less 1.
    Valid: as `kwh_spread`.
    Source: sensitivity analysis, one at a time.
    """
    few = thinned(source)
    ends = _ends(machine)
    kwh = kwh_at_ends(machine, few, windings_at_ends(machine, grouping)[:1], [now for _, now in ends])[:, 0]
    if not kwh[0] > 0.0:
        return ()
    words = [*(words for words, _ in ends), *(words for words, _ in few.other_hours)]
    steps = [*zip(words[::2], words[1::2], (kwh[1:] / kwh[0] - 1.0).reshape(-1, 2), strict=True)]
    steps.sort(key=lambda step: -np.abs(step[2]).max())
    told = [step for step in steps if np.abs(step[2]).max() >= _WORTH_TELLING]
    return tuple(f"{low}: {shares[0]:+.0%}; {high}: {shares[1]:+.0%}" for low, high, shares in told[:most])


def firm_over_year(machine, source, found):
    """Which other groupings the year would choose after a plausible step of what is assumed.

    Parameters
    ----------
    machine : Machine
        As it stands.
    source : SourceYear
        Its year.
    found : Comparison
        Ranked by the kilowatt-hours of that year.

    Returns
    -------
    tuple of OtherChoice
        Empty when the choice holds throughout; in words by `choice.firmness_words`.

    Notes
    -----
    Equation: `choice.choices_at_ends` with the energy of each changed machine over that of the machine as it stands.
    Valid: as `kwh_spread`.
    Source: sensitivity analysis, one at a time.
    """
    if found.recommended is None:
        return ()
    ends = _ends(machine)
    kwh = kwh_at_ends(machine, thinned(source), [row.winding for row in found.sound], [now for _, now in ends])
    ends += [(words, machine) for words, _ in source.other_hours]
    shares = np.divide(kwh[1:], kwh[0], out=np.zeros_like(kwh[1:]), where=kwh[0] > 0.0)
    return choices_at_ends(found, ends, shares)


def kwh_at_ends(machine, source, windings, ends):
    """Kilowatt-hours as it stands, at each end of a variation and with the other hours of the year, one row each."""
    around = machine.bank.states[1], machine.setting.conditions
    alike = [_works_alike(machine.drive, end.drive) for end in ends]
    surroundings = [around, *((end.bank.states[1], end.setting.conditions) for end in _only(ends, alike))]
    columns = [(winding, each) for each in surroundings for winding in windings]
    watts = _watts([source.drives], *zip(*columns, strict=True))
    found = np.empty((1 + len(ends), len(windings)))
    found[[0, *_places(alike)]] = _kwh(source, watts).reshape(-1, len(windings))
    changed = [not same for same in alike]
    turned = [misread(source, machine.drive, end.drive).drives for end in _only(ends, changed)]
    if turned:
        kwh = _kwh(source, _watts([source.drives, *turned], windings, [around] * len(windings)))
        # Held against the same sweep, so that its coarseness drops out.
        shares = np.divide(kwh[1:], kwh[0], out=np.zeros_like(kwh[1:]), where=kwh[0] > 0.0)
        found[_places(changed)] = shares * found[0]
    now = watts[0, :, : len(windings)]
    return np.vstack([found, *(hours.sum(axis=0) @ now / 1000.0 for _, hours in source.other_hours)])


def _ends(machine):
    """Words and machine of both ends of all that is assumed; the reading of the source is off by a share all year."""
    *rest, read = variations(machine)
    source = machine.drive.quantities[0]
    shares = [getattr(end.drive, source.field) / source.value - 1.0 for _, end in read.ends]
    words = [
        f"{source.label.lower()} {abs(share):.0%} {'less' if share < 0.0 else 'more'} all year" for share in shares
    ]
    return [*(end for each in rest for end in each.ends), *zip(words, (read.low, read.high), strict=True)]


def _only(ends, wanted):
    return [end for end, yes in zip(ends, wanted, strict=True) if yes]


def _places(wanted):
    """Rows of those ends; the first row is the machine as it stands."""
    return [1 + number for number, yes in enumerate(wanted) if yes]


def _works_alike(before, after):
    """Whether two drives differ at most in how they run away."""
    if before == after:
        return True
    if before.quantities[0].value != after.quantities[0].value or before.best_speed_rpm != after.best_speed_rpm:
        return False
    speeds = before.free_speed_rpm * _SPEEDS_LOOKED_AT
    return np.array_equal(before.torque_nm(speeds), after.torque_nm(speeds))


def _watts(years, windings, surroundings):
    """Watts into the bank for several lists of k drives, shape (lists, k, windings)."""
    states, conditions = (list(column) for column in zip(*surroundings, strict=True))
    drives = [drive for each in years for drive in each]
    watts = settled_at(drives, list(windings), states, conditions)["bank_watts"]
    return watts.reshape(len(years), -1, len(states))


def _kwh(source, watts):
    """Kilowatt-hours over the hours of a source, shape (lists, windings)."""
    return source.hours_by_setting @ watts / 1000.0
