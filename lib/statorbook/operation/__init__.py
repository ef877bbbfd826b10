"""A winding with a drive and a bank: sweep, operating point, start, hazards."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "best_volts": ["best_dc_volts", "volts_to_hold"],
        "converter": ["Converter"],
        "derivations": ["converter_optimum"],
        "hazards": [
            "CONVERTER",
            "DEVICE",
            "Hazard",
            "first_kept",
            "grade",
            "grade_dc",
            "highest_touch_rpm",
            "open_circuit_volts",
        ],
        "largest_amps": ["MostAmps", "most_amps"],
        "operating_point": ["OperatingPoint", "operating_points", "point_at", "points_from"],
        "pedalling": ["pedal_feel"],
        "power_curve": ["one_curve"],
        "settling": ["SETTLED", "settled", "settled_at", "settled_in", "sweep_to_settle"],
        "speed_sweep": ["Conditions", "cut_in_rpm", "sweep", "winding_waveforms"],
        "starting": ["start_up", "torque_curves"],
        "survival": ["DESTROYED", "LETS_GO", "Survival", "survival"],
    },
)
