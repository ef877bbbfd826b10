"""What is switched on the bank: set-points, dump loads, rules, their check, days of it, and the controller's text."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "control": ["INPUT_NAMES", "MEASURED", "OUTPUTS", "OUTPUT_NAMES", "YES_NO", "Relay", "Rule", "RuleSet"],
        "events": ["Event", "KINDS"],
        "cylinder": ["loss_w_per_k"],
        "dump_loads": ["usual_dumps", "usual_guard"],
        "heater_elements": ["AIR", "HOT_OVER_COLD"],
        "house": ["usual_house"],
        "ready_rules": ["ready_rules"],
        "set_points": ["point_facts", "usual_points"],
        "plan": [
            "ChargingPlan",
            "Course",
            "Cylinder",
            "DumpElement",
            "HouseLoad",
            "Inverter",
            "Room",
            "SetPoints",
            "VoltsRelay",
        ],
    },
)
