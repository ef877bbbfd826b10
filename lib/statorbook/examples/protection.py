"""Where the plants of the three example jobs stand and what their invented owners have lying there to protect them."""


def protection_parts(name):
    """Place, cable, rectifier, fuse, rotor and heat of an example by part; all of it invented."""
    from statorbook.job.parts import CablePart, FusePart, HeatPart, RectifierPart, RotorPart, SitePart

    made = {
        "site": SitePart,
        "cable": CablePart,
        "rectifier": RectifierPart,
        "fuse": FusePart,
        "rotor": RotorPart,
        "heat": HeatPart,
    }
    return {part: made[part](**fields) for part, fields in _FIELDS[name].items()}


_FIELDS = {
    "spring_pipe": {
        "site": {"place": "wet outdoors", "hottest_c": 30.0, "coldest_c": 0.0},
        "cable": {"length_m": 15.0, "area_mm2": 35.0, "rectifier_at": "at the machine"},
        "rectifier": {"label_amps": 50.0, "reverse_volts": 800.0},
        "fuse": {"amps": 32.0, "dc_volts": 80.0, "breaking_amps": 50_000.0},
        "rotor": {"inertia_kgm2": 0.12},
        "heat": {
            "thermal_class": "F",
            "cold_ohm": 0.28,
            "cold_c": 20.0,
            "hot_ohm": 0.32,
            "hot_air_c": 24.0,
            "run_dc_amps": 9.0,
        },
    },
    "ridge_rotor": {
        "site": {"place": "wet outdoors", "hottest_c": 35.0, "coldest_c": 0.0},
        "cable": {"length_m": 43.0, "area_mm2": 35.0, "rectifier_at": "at the machine"},
        "rectifier": {"label_amps": 100.0, "reverse_volts": 1200.0},
        "fuse": {"amps": 100.0, "dc_volts": 440.0, "breaking_amps": 25_000.0},
        "rotor": {"inertia_kgm2": 2.5},
    },
    "shed_pedals": {
        "site": {"place": "dry indoors", "hottest_c": 30.0, "coldest_c": 0.0},
        "cable": {"length_m": 3.5, "area_mm2": 10.0, "rectifier_at": "at the machine"},
        "rectifier": {"label_amps": 50.0, "reverse_volts": 200.0},
        "fuse": {"amps": 32.0, "dc_volts": 58.0, "breaking_amps": 10_000.0},
        "rotor": {"inertia_kgm2": 0.08},
    },
}
