"""House and inverter of a job for its charging plan."""

from statorbook.assembly.need import need_from
from statorbook.charging import heater_watts_of, house_day, house_from_rows, usual_house


def house_and_inverter(now, points, part, heated=()):
    """What a house takes, its inverter or None, and what of both is assumed; `heated`: cylinder and room."""
    if not part.has_sockets:
        return (), None, ()
    typed = house_from_rows(now.read_log("house_loads"))
    house = typed or usual_house(_kwh_a_day(now))
    inverter = part.to_inverter(points, house_day(house), now.need, heater_watts=heater_watts_of(*heated))
    return house, inverter, (*(() if typed else ("the appliances of the house",)), *part.assumed_words(inverter))


def _kwh_a_day(now):
    """The mean need of page 04b; None while it is not filled in."""
    need = need_from(now) if now.need else None
    return need.mean_kwh_a_day if need else None
