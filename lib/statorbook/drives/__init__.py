"""What turns the machine: one module a drive; what each of them has stands in `drive`."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "air": ["SHEAR_EXPONENT", "air_kg_per_m3"],
        "derivations": [
            "bent_jet_torque",
            "best_jet_speed",
            "flywheel_swing",
            "governed_torque",
            "most_of_the_wind",
            "pedal_torque",
            "piped_flow",
            "rotor_torque",
            "thinner_air",
            "third_of_the_head",
            "torque_of_power",
        ],
        "drive": ["Drive", "shaft_watts"],
        "engine": ["Engine", "FUEL_G_PER_KWH", "belt_caution", "ratio_of_pulleys"],
        "known_speed": ["KnownSpeed"],
        "nozzle_choice": ["best_nozzle_mm", "nozzle_for_power_mm", "nozzle_sweep", "usable_nozzles_mm"],
        "pedals": ["Pedals", "sustained_watts"],
        "pipe": ["MeasuredLoss", "Pipe"],
        "pipe_parts": ["MATERIALS", "VALVES"],
        "piped_jet": ["PipedJet"],
        "quantity": ["with_quantities"],
        "runner": [
            "bucket_caution",
            "bucket_count",
            "least_bucket_width_mm",
            "pitch_diameter_for_speed_mm",
            "require_bucket_width",
            "tail_water_opening",
        ],
        "water_jet": ["WaterJet"],
        "wind_rotor": ["POWER_COEFFICIENT", "STORM_M_S", "TIP_SPEED_RATIO", "WindRotor"],
        "wind_words": ["tip_caution", "year_words"],
    },
)
