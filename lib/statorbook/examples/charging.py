"""What the invented owners of the three example jobs switch on their banks, and what their houses take by the hour."""

from statorbook.bench import blank_row

_NOTE = "invented"


def charging_parts(name):
    """Set-points, dump loads, hot water, inverter and controller of an example by part; all of it invented."""
    from statorbook.job.parts import ControlPart, DumpPart, InverterPart, SetPointsPart, WaterPart

    made = {
        "set_points": SetPointsPart,
        "dump": DumpPart,
        "water": WaterPart,
        "inverter": InverterPart,
        "control": ControlPart,
    }
    return {part: made[part](**fields) for part, fields in _FIELDS[name].items()}


def charging_rows(name):
    """The appliances of an example's house as typed, raw rows by log; the same on every call."""
    columns = ("appliance", "watts", "surge_watts", "from_hour", "to_hour", "minutes")
    rows = [dict(zip(columns, row.split(", "), strict=True)) for row in _HOUSES[name]]
    return {"house_loads": [blank_row("house_loads") | row | {"note": _NOTE} for row in rows]}


# Appliance, watts, watts at the start, from and to which hour, minutes in each of them. They come to a day of the need
# in `examples.years`.
_HOUSES = {
    "spring_pipe": (
        "fridge, 90, 500, 0, 24, 20",
        "freezer, 110, 600, 0, 24, 25",
        "computers and network, 60, , 0, 24, 60",
        "pump, 400, 1200, 6, 22, 6",
        "kettle in the morning, 1800, , 7, 8, 8",
        "washing machine, 600, 1800, 10, 12, 40",
        "cooking plate at noon, 1200, , 12, 13, 40",
        "tools, 900, 2700, 14, 16, 20",
        "kettle in the evening, 1800, , 17, 18, 8",
        "lamps, 80, , 17, 23, 60",
        "cooking plate in the evening, 1200, , 18, 19, 45",
    ),
    "ridge_rotor": (
        "fridge, 60, 300, 0, 24, 20",
        "network, 12, , 0, 24, 60",
        "pump, 250, 750, 8, 20, 3",
        "kettle, 600, , 7, 8, 12",
        "laptop, 50, , 9, 12, 60",
        "lamps, 40, , 17, 23, 60",
    ),
    "shed_pedals": ("lamp, 8, , 19, 22, 60", "radio, 3, , 18, 20, 60"),
}
_FIELDS = {
    "spring_pipe": {
        "set_points": {"absorption_volts": 56.0, "float_volts": 53.6},
        "dump": {
            "dump_1_ohm": 2.4,
            "dump_1_watts": 1500.0,
            "dump_2_ohm": 2.4,
            "dump_2_watts": 1500.0,
            "stops_source": True,
        },
        "water": {
            "litres": 120.0,
            "heater_watts": 750.0,
            "air_heater_watts": 500.0,
            "insulation_mm": 50.0,
            "litres_a_day": 80.0,
        },
        "inverter": {"rated_watts": 4000.0, "surge_watts": 8000.0},
        "control": {"scan_ms": 50, "volts_relay": "there"},
    },
    "ridge_rotor": {
        "set_points": {"absorption_volts": 29.0, "float_volts": 27.2},
        "dump": {
            "dump_1_ohm": 0.39,
            "dump_1_watts": 3200.0,
            "dump_2_ohm": 0.39,
            "dump_2_watts": 3200.0,
            "stops_source": True,
        },
        "water": {"litres": 60.0, "heater_watts": 400.0, "insulation_mm": 35.0, "litres_a_day": 40.0},
        "inverter": {"rated_watts": 1500.0, "surge_watts": 3000.0},
        "control": {"scan_ms": 100, "volts_relay": "there"},
    },
    # One load that is there only while somebody rides; no hot water, and lamp and radio on the bank itself.
    "shed_pedals": {
        "dump": {"dump_1_ohm": 0.39, "dump_1_watts": 800.0},
        "inverter": {"house_on": "the bank itself, DC", "rated_watts": 60.0},
    },
}
