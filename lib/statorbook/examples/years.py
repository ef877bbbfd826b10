"""What the sources of the three example jobs do over a year, and what their houses need; all of it invented."""

from statorbook.bench import MONTHS, blank_row

_NOTE = "invented"
_NEED_LOG = "the log of months"
# January first: flow that the spring has for the machine [L/s], mean wind at 10 m [m/s], and what the three houses take
# at their sockets [kWh a day].
_SPRING_L_S = ("3.9", "4.3", "4.9", "5.2", "4.4", "3.6", "2.9", "2.3", "2.1", "2.7", "3.4", "3.8")
_RIDGE_M_S = ("5.9", "5.7", "5.6", "5.1", "4.6", "4.2", "4.0", "4.1", "4.6", "5.2", "5.6", "5.8")
_SPRING_KWH = ("9.5", "9.2", "8.4", "7.6", "7.0", "6.6", "6.5", "6.6", "7.2", "8.2", "9.0", "9.8")
_RIDGE_KWH = ("1.7", "1.7", "1.6", "1.5", "1.4", "1.3", "1.3", "1.3", "1.4", "1.5", "1.6", "1.7")
_SHED_KWH = ("0.04", "0.04", "0.03", "0.03", "0.02", "0.02", "0.02", "0.02", "0.03", "0.03", "0.04", "0.04")
# Effort at the pedals [W], hours a week, who.
_RIDERS = (("60", "3", "reads while riding"), ("100", "2.5", "trains"), ("150", "0.5", "both, one after the other"))


def year_rows(name):
    """The logs of the year of an example, raw rows by log, as an invented reader typed them; the same on every call."""
    return {
        "spring_pipe": _months(water_months=("flow_l_s", _SPRING_L_S), need_months=("need_kwh_a_day", _SPRING_KWH)),
        "ridge_rotor": _months(wind_months=("mean_wind", _RIDGE_M_S), need_months=("need_kwh_a_day", _RIDGE_KWH)),
        "shed_pedals": {"pedal_weeks": _riders()} | _months(need_months=("need_kwh_a_day", _SHED_KWH)),
    }[name]


def year_parts(name):
    """What an example holds of its year by part: the source, the need of the house, and prices where there are any."""
    from statorbook.job.parts import NeedPart, PricesPart, YearPart

    made = {"year": YearPart, "need": NeedPart, "prices": PricesPart}
    return {part: made[part](**fields) for part, fields in _FIELDS[name].items()}


_FIELDS = {
    "spring_pipe": {
        "year": {"nozzles_mm": "10, 12, 14"},
        "need": {"need_from": _NEED_LOG},
        "prices": {"cable_prices": "16: 4.20, 25: 6.80, 35: 9.10, 50: 13.40", "kwh_price": 0.3},
    },
    "ridge_rotor": {
        "year": {"wind_year_from": "mean of each month"},
        "need": {"need_from": _NEED_LOG},
        "prices": {"cable_prices": "16: 4.20, 25: 6.80, 35: 9.10, 50: 13.40", "kwh_price": 0.3},
    },
    # Lamps straight on the bank: no inverter.
    "shed_pedals": {
        "year": {"pedal_year_from": "log of riders"},
        "need": {"need_from": _NEED_LOG, "inverter_efficiency": 1.0, "inverter_idle_watts": 0.0},
    },
}


def _months(**columns):
    return {
        log: [
            blank_row(log) | {"month": month, column: value, "note": _NOTE}
            for month, value in zip(MONTHS, values, strict=True)
        ]
        for log, (column, values) in columns.items()
    }


def _riders():
    names = ("rider_watts", "week_hours", "rider")
    return [blank_row("pedal_weeks") | dict(zip(names, cells, strict=True)) | {"note": _NOTE} for cells in _RIDERS]
