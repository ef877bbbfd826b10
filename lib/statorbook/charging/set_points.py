"""Set-points of a bank: usual ones for its chemistry, what is typed in their place, and what may not cross."""

from dataclasses import replace

from statorbook.bank import table_facts
from statorbook.charging.plan import SetPoints
from statorbook.errors import BadInput, count_of
from statorbook.quantities import limits_in_words, say, say_pair

REFERENCE_C = 25.0
_OF_CHEMISTRY = {
    "most_volts": "highest_volts",
    "absorption_volts": "charging_volts",
    "float_volts": "float_volts",
    "least_volts": "lowest_volts",
    "compensation_v_per_k": "temperature_volts",
    "least_charging_c": "least_charging_c",
    "most_charging_c": "most_charging_c",
}  # field: its row in tables/bank_chemistry.csv; the others stand in tables/set_points.csv
POINT_NAMES = {
    "most_volts": "never above",
    "alarm_high_volts": "alarm, bank high",
    "equalise_volts": "equalise",
    "absorption_volts": "absorption",
    "balance_volts": "cells balanced from",
    "float_volts": "float",
    "return_volts": "return",
    "alarm_low_volts": "alarm, bank low",
    "cut_off_volts": "cut-off",
    "least_volts": "never below",
}  # from the highest down
# Each has to lie below the next one that there is; balancing may lie on either side of float.
_RISING = tuple(name for name in reversed(POINT_NAMES) if name != "balance_volts")
_BALANCED = ("return_volts", "balance_volts", "absorption_volts")
_TENTHS_FROM_CELLS = 4
_EQUALISED = ("flooded lead-acid",)  # any other only where it is typed
_LIMITS = {
    "most_volts": (POINT_NAMES["most_volts"], "V", "at_most"),
    "least_volts": (POINT_NAMES["least_volts"], "V", "at_least"),
    "least_charging_c": ("no charging below", "°C", "at_least"),
    "most_charging_c": ("no charging above", "°C", "at_most"),
}  # what a bank does not stand beyond the range of its chemistry: in words, unit, and which end


def point_facts(bank):
    """Usual set-points of one cell of a bank, each with its source and range.

    Parameters
    ----------
    bank : Bank
        The bank.

    Returns
    -------
    dict
        Field of `SetPoints` to `Fact`, per cell; without those that its chemistry does not have.
    """
    own = table_facts("set_points", bank.chemistry)
    known = table_facts("bank_chemistry", bank.chemistry)
    return {name: known[row] for name, row in _OF_CHEMISTRY.items()} | {
        name: fact for name, fact in own.items() if name in POINT_NAMES
    }


def usual_points(bank, **typed):
    """Set-points of a bank: usual for its chemistry where nothing is typed.

    Parameters
    ----------
    bank : Bank
        The bank.
    **typed : dict
        Fields of `SetPoints` for the whole bank, as at 25 °C; None for the usual one, 0 V where it is never equalised.

    Returns
    -------
    SetPoints
        As at 25 °C.

    Raises
    ------
    BadInput
        When two of them cross, or one is more than its chemistry stands.
    """
    facts = point_facts(bank)
    usual = {name: _usual(name, fact, bank) for name, fact in facts.items()}
    if bank.chemistry not in _EQUALISED:
        usual["equalise_volts"] = None
    given = {name: value for name, value in typed.items() if value is not None}
    points = SetPoints(**{"equalise_volts": None} | usual | given)
    points = replace(points, equalise_volts=points.equalise_volts or None)
    _require_chemistry(points, bank, facts)
    _require_rising(points, _RISING)
    _require_rising(points, _BALANCED)
    if points.least_charging_c >= points.most_charging_c:
        raise BadInput(
            f"charging from {say_pair(points.least_charging_c, points.most_charging_c, '°C', form='g')} was given",
            "the coldest has to lie below the warmest",
            "exchange the two temperatures",
            where="set-points",
        )
    return points


def of_bank(name, value, bank):
    """A set-point of the whole bank from that of a cell; a temperature is the same for both."""
    return value if name.endswith("_c") else round(bank.cells * value, 6)


def _usual(name, fact, bank):
    """A usual set-point of the whole bank, to what a regulator can be set to where its cells leave room for that."""
    whole, low, high = (of_bank(name, value, bank) for value in (fact.value, fact.low, fact.high))
    if not name.endswith("_volts"):
        return whole
    # What is rounded must not leave the range: 15 cells of at most 3.65 V stand 54.75 V.
    return min(max(round(whole, 1 if bank.cells >= _TENTHS_FROM_CELLS else 2), low), high)


def volts_at(volts, points, cell_c):
    """A set-point as it has to be with the cells at a temperature."""
    return volts + points.compensation_v_per_k * (cell_c - REFERENCE_C)


def outside_usual(points, bank):
    """Set-points in volts that lie outside what is usual for the bank, as (name, volts, the usual two ends)."""
    found = []
    for name, fact in point_facts(bank).items():
        value, ends = getattr(points, name), tuple(of_bank(name, end, bank) for end in (fact.low, fact.high))
        if name in POINT_NAMES and value is not None and not ends[0] - 1e-9 <= value <= ends[1] + 1e-9:
            found.append((POINT_NAMES[name], value, ends))
    return tuple(found)


def _require_rising(points, names):
    """Refuse set-points of which one does not lie below the next."""
    there = [(name, getattr(points, name)) for name in names if getattr(points, name) is not None]
    for (low, low_volts), (high, high_volts) in zip(there[:-1], there[1:], strict=True):
        if low_volts >= high_volts:
            raise BadInput(
                f"“{POINT_NAMES[low]}” at {low_volts:.4g} V and “{POINT_NAMES[high]}” at {high_volts:.4g} V were given",
                f"“{POINT_NAMES[low]}” has to lie below “{POINT_NAMES[high]}”",
                "change one of the two, for the whole bank and as at 25 °C",
                where="set-points",
            )


def _require_chemistry(points, bank, facts):
    """Refuse what no such bank stands: limits beyond the range of its chemistry, and what it must not be given."""
    for name, (words, unit, end) in _LIMITS.items():
        value = getattr(points, name)
        edge = of_bank(name, facts[name].low if end == "at_least" else facts[name].high, bank)
        beyond = edge - value if end == "at_least" else value - edge
        if beyond > 1e-9:
            raise BadInput(
                f"“{words}” {say(value, unit, form='.4g')} was given",
                f"{limits_in_words(unit, **{end: edge})} for {count_of(bank.cells, 'cell')} {bank.chemistry}",
                "read it in the sheet of the bank's maker, or leave it empty",
                where="set-points",
            )
    if points.equalise_volts is not None and "equalise_volts" not in facts:
        raise _never(bank, f"equalising at {points.equalise_volts:.4g} V", "never equalised", "leave it empty")
    if points.balance_volts is not None and "balance_volts" not in facts:
        raise _never(bank, f"balancing from {points.balance_volts:.4g} V", "without such electronics", "leave it empty")
    if points.compensation_v_per_k and not facts["compensation_v_per_k"].value:
        raise _never(
            bank, "a compensation", "charged to the same volts at every temperature", "leave it empty or type 0"
        )


def _never(bank, given, words, next_step):
    return BadInput(f"{given} was given", f"a {bank.chemistry} bank is {words}", next_step, where="set-points")
