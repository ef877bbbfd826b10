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
        "cable": {"length_m": 15.0, "area_mm2": 35.0, "laid": "in a duct in the ground", "insulation": "PVC"},
        "rectifier": {
            "label_amps": 50.0,
            "reverse_volts": 800.0,
            "drop_v": 0.85,
            "slope_ohm": 0.006,
            "junction_case_k_per_w": 1.2,
            "max_junction_c": 150.0,
            "heat_sink_k_per_w": 0.9,
        },
        "fuse": {
            "amps": 32.0,
            "dc_volts": 80.0,
            "breaking_amps": 50_000.0,
            "switch_amps": 40.0,
            "switch_dc_volts": 150.0,
        },
        "rotor": {"mass_kg": 6.0, "diameter_mm": 250.0, "shape": "magnet ring or rim"},
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
        "cable": {"length_m": 45.0, "area_mm2": 35.0, "laid": "in conduit or trunking", "insulation": "PVC"},
        "rectifier": {
            "label_amps": 130.0,
            "reverse_volts": 1200.0,
            "drop_v": 0.8,
            "slope_ohm": 0.002,
            "junction_case_k_per_w": 0.5,
            "max_junction_c": 150.0,
            "heat_sink_k_per_w": 0.25,
        },
        "fuse": {"amps": 100.0, "dc_volts": 440.0, "breaking_amps": 25_000.0},
        "rotor": {"mass_kg": 8.0, "diameter_mm": 2200.0, "shape": "blades"},
    },
    "shed_pedals": {
        "site": {"place": "dry indoors", "hottest_c": 30.0, "coldest_c": 0.0},
        "cable": {"length_m": 3.3, "area_mm2": 10.0, "laid": "clipped to a wall, in free air", "insulation": "PVC"},
        "rectifier": {"label_amps": 50.0, "reverse_volts": 200.0},
        "fuse": {"amps": 32.0, "dc_volts": 58.0, "breaking_amps": 10_000.0},
        "rotor": {"inertia_kgm2": 0.08},
    },
}
