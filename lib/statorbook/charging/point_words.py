"""What a reader is told of set-points: what to set, what a bank still takes there, and what it must never see."""

from statorbook.bank import bank_amps, bank_table, rest_volts_of, table_facts
from statorbook.cautions import together
from statorbook.charging.dump_loads import GUARD_SPARE_K, usual_guard
from statorbook.charging.set_points import REFERENCE_C, outside_usual, volts_at
from statorbook.errors import count_of
from statorbook.protection import makes_gas
from statorbook.quantities import say, say_pair

MAKER_FIRST = (
    "Computed, not approved: the sheet of the bank's maker goes first, and local electrical codes and a licensed "
    "electrician decide."
)
_GAS = (
    "Lead-acid gives off hydrogen while it is charged, most of all while it is equalised: fresh air (page 06 says how "
    "much), no sparks, no flames, and nobody equalises it and walks away."
)
_EACH_CELL = (
    "LiFePO4 needs its own electronics that watch every cell and can stop the charge: volts of the whole bank do not "
    "protect a single cell."
)
_ALMOST_FULL = (0.7, 0.9, 1.0)


def volts_text(volts):
    """Volts of a bank as they are set, with as many figures as a regulator has."""
    return f"{round(volts, 2):g} V"


def point_words(bank, points):
    """What to set, and what a bank takes and shows there.

    Parameters
    ----------
    bank : Bank
        The bank.
    points : SetPoints
        Its set-points.

    Returns
    -------
    str
        A line for each.
    """
    parts = (_charged, _drawn, _guarded, _takes, _rests, _unusual)
    return together(*(part(bank, points) for part in parts), between="\n")


def point_cautions(bank):
    """What can hurt at these volts.

    Parameters
    ----------
    bank : Bank
        The bank.

    Returns
    -------
    str
        Two sentences.
    """
    return f"{MAKER_FIRST}\n{_GAS if makes_gas(bank) else _EACH_CELL}"


def _charged(bank, points):
    whole = f"{count_of(bank.cells, 'cell')} {bank.chemistry}"
    cell = f"{points.absorption_volts / bank.cells:.2f} V a cell"
    lines = [
        f"Charge its {whole} to {volts_text(points.absorption_volts)} ({cell}), then hold "
        f"{volts_text(points.float_volts)}."
    ]
    if points.equalise_volts:
        lines.append(f"Equalise at {volts_text(points.equalise_volts)}, for two hours at most.")
    if points.balance_volts:
        lines.append(f"Its own electronics even the cells out from {volts_text(points.balance_volts)} on.")
    return " ".join([*lines, _temperature(bank, points)])


def _temperature(bank, points):
    """How the volts go with the cells' temperature, and whether they may be charged as they are now."""
    now_c, window = bank.temperature_c, (points.least_charging_c, points.most_charging_c)
    said = f"It is charged only while its cells are at {say_pair(*window, '°C', form='g')}"
    if not window[0] <= now_c <= window[1]:
        said += f": not now, at {say(now_c, '°C', form='g')}"
    if not points.compensation_v_per_k:
        return f"{said}."
    step = -10.0 * points.compensation_v_per_k
    said += (
        f", and all volts for charging are as at {say(REFERENCE_C, '°C', form='g')}: "
        f"{step:.2g} V more for each {say(10.0, 'K', form='g')} colder, as much less for each warmer"
    )
    if abs(now_c - REFERENCE_C) < 0.5 or not window[0] <= now_c <= window[1]:
        return f"{said}."
    now_v = volts_text(round(volts_at(points.absorption_volts, points, now_c), 1))
    return f"{said}; at its {say(now_c, '°C', form='g')} now charge to {now_v}."


def _drawn(bank, points):
    now_c = bank.temperature_c
    most_now = volts_text(round(volts_at(points.most_volts, points, now_c), 1))
    moved = points.compensation_v_per_k and abs(now_c - REFERENCE_C) >= 0.5
    now = f" ({most_now} at its {say(now_c, '°C', form='g')} now)" if moved else ""
    return (
        f"At {volts_text(points.cut_off_volts)} all that draws from it goes off, and the inverter may come back from "
        f"{volts_text(points.return_volts)}. Alarms: low at "
        f"{volts_text(points.alarm_low_volts)}, high at {volts_text(points.alarm_high_volts)}; at work it has to stay "
        f"between {volts_text(points.least_volts)} and {volts_text(points.most_volts)}{now}."
    )


def _guarded(bank, points):
    """What the guard is set to, which knows no temperature."""
    guard = usual_guard(points, cell_c=bank.temperature_c)
    said = (
        f"Set the guard, a volts relay of its own, to put all dump loads on and stop the source at "
        f"{volts_text(round(guard.high_on_volts, 1))} until {volts_text(round(guard.high_off_volts, 1))}, and to take "
        f"everything off at {volts_text(round(guard.low_off_volts, 1))} until "
        f"{volts_text(round(guard.low_on_volts, 1))}"
    )
    if not points.compensation_v_per_k:
        return f"{said}."
    warmest_c = max(bank.temperature_c, min(bank.temperature_c + GUARD_SPARE_K, points.most_charging_c))
    return (
        f"{said}: right for cells at {say_pair(bank.temperature_c, warmest_c, '°C', form='.0f')}, so type the bank's "
        "temperature on page 04 anew with the season."
    )


def _takes(bank, points):
    """What a nearly full bank still takes: the rest is what dump loads are for."""
    table = bank_table(bank)
    amps = [bank_amps(points.absorption_volts, charge, REFERENCE_C, table) for charge in _ALMOST_FULL]
    if amps[1] > table_facts("bank_chemistry", bank.chemistry)["most_charging_share"].value * bank.capacity_ah:
        return (
            "At those volts it takes all that its maker allows until it is nearly full, then nothing within minutes: "
            "the dump loads have to take the whole source at once."
        )
    first, second, full = (f"{amp:.1g}" if amp < 1.0 else f"{amp:.2g}" for amp in amps)
    return (
        f"At those volts it takes about {first} A at 70 % of charge, {second} A at 90 % and {full} A full: what the "
        "source makes beyond that has to go into dump loads long before the bank is full."
    )


def _rests(bank, points):
    table = bank_table(bank)
    full, half, tenth = (volts_text(round(rest_volts_of(charge, table), 1)) for charge in (1.0, 0.5, 0.1))
    said = f"After hours at rest it shows about {full} full, {half} half full and {tenth} nearly empty"
    if makes_gas(bank):
        return f"{said}."
    slope = (rest_volts_of(0.8, table) - rest_volts_of(0.2, table)) / bank.cells
    return (
        f"{said}; between 20 and 80 % a cell moves by {slope:.2f} V only, most of it below 40 %: volts do not tell the "
        "charge, so count amp-hours."
    )


def _unusual(bank, points):
    """What was typed that lies outside the usual range."""
    found = [
        f"“{name}” {volts_text(volts)} (usual {low:.1f} to {high:.1f} V)"
        for name, volts, (low, high) in outside_usual(points, bank)
    ]
    return f"Outside the usual: {', '.join(found)}; keep it only if the maker's sheet says so." if found else ""
