"""How long the bearing beside the runner lasts at best, and whether it bears load and speed, in words."""

from statorbook.quantities import say
from statorbook.service.life import bearing_named, equivalent_load_n, l10_hours, turning_force_n, weight_n
from statorbook.service.limits import STATIC_SAFETY, limiting_rpm, static_load_n

WATER_WARNING = (
    "Water kills salvaged bearings in months, whatever the sum says (common practice, no source): keep splash off with "
    "a slinger ring, let it drain, and look on the date below."
)
_LONGEST_YEARS = 50  # beyond it the sum says only that the load is not what ends it


def life_words(part, torque_nm, speed_rpm):
    """How long the bearing beside the runner lasts at best.

    Parameters
    ----------
    part : ServicePart
        What the bearing is and carries.
    torque_nm : float
        Torque at work [N·m].
    speed_rpm : float
        Speed at work [rpm].

    Returns
    -------
    str
        Sentences with load, hours and the warning; what is missing when something is.
    """
    missing = [
        words
        for words, value in (("the bearing's number", part.bearing_size), ("the weight that turns", part.turning_kg))
        if value is None
    ]
    if missing:
        return f"Type {' and '.join(missing)} to see here how long the bearing lasts at best. {WATER_WARNING}"
    size, (across, along) = bearing_named(part.bearing_size), _loads_n(part, torque_nm)
    load = equivalent_load_n(across, along, size.static_rating_n)
    if load == 0.0 or speed_rpm == 0.0:
        return f"No load or no speed, so this sum shows no wear. {WATER_WARNING}"
    hours = l10_hours(size.dynamic_rating_n, load, speed_rpm)
    years = hours / (365.25 * part.hours_per_day)
    long = f"{years:.1f}" if years <= _LONGEST_YEARS else f"more than {_LONGEST_YEARS}"
    return (
        f"A {part.bearing_size} that carries {say(load, 'N', form='.0f')} at {speed_rpm:.0f} rpm lasts at best "
        f"{_rounded(hours)} h ({long} years at {part.hours_per_day:g} h a day) in nine of ten cases: "
        f"clean, dry, greased, aligned (L10 of ISO 281, from memory, an upper bound). {WATER_WARNING}"
    )


def limit_words(part, torque_nm, runaway_rpm):
    """Whether the bearing bears the load at rest and the speed with the bank gone.

    Parameters
    ----------
    part : ServicePart
        What the bearing is and carries.
    torque_nm : float
        Torque at work [N·m].
    runaway_rpm : float
        Speed with the bank gone [rpm].

    Returns
    -------
    str
        Two sentences; empty while bearing or weight is not typed.
    """
    if part.bearing_size is None or part.turning_kg is None:
        return ""
    size, load = bearing_named(part.bearing_size), static_load_n(*_loads_n(part, torque_nm))
    most_n, most_rpm = size.static_rating_n / STATIC_SAFETY.value, limiting_rpm(size)
    said = f"At rest and under knocks it carries {say(load, 'N', form='.0f')}; "
    said += f"up to {say(most_n, 'N', form='.0f')} leave it undamaged"
    if load > most_n:
        said += ": too much, the balls dent the rings; take a larger bearing"
    fast = (
        f"When the rotor runs away it turns at {runaway_rpm:.0f} rpm; sealed and greased it is good for about "
        f"{most_rpm:.0f} rpm"
    )
    if runaway_rpm > most_rpm:
        fast += ": too fast, it may run hot and seize; fit one made for that speed, and a brake"
    return f"{said} (ISO 76 with a safety of {STATIC_SAFETY.value:g}, from memory). {fast} (from memory)."


def _loads_n(part, torque_nm):
    """Load across and along the shaft at the bearing beside the runner."""
    weight = weight_n(part.turning_kg)
    pull = turning_force_n(torque_nm, part.pull_radius_mm, part.pull_factor) if part.pull_radius_mm else 0.0
    across = part.overhang * (pull + part.magnet_pull_n + (weight if part.shaft == "lying" else 0.0))
    return across, (weight if part.shaft == "standing" else 0.0)


def _rounded(hours):
    """Two figures are more than such a sum can promise."""
    return f"{float(f'{hours:.2g}'):,.0f}".replace(",", " ")
