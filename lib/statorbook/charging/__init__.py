"""What is switched on the bank: set-points, dump loads, rules, their check, days of it, and the controller's text."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "days": ["simulate"],
        "control": ["INPUT_NAMES", "MEASURED", "OUTPUTS", "OUTPUT_NAMES", "YES_NO", "Relay", "Rule", "RuleSet"],
        "events": ["Event", "KINDS"],
        "cylinder": ["loss_w_per_k"],
        "dump_loads": ["judged_dumps", "usual_dumps", "usual_guard"],
        "heater_elements": ["AIR", "HOT_OVER_COLD", "element_groups"],
        "autonomy": ["autonomy_of"],
        "house": ["house_day", "house_from_rows", "read_house_loads", "usual_house"],
        "house_words": ["balance_words", "beyond_words", "days_words", "peak_words"],
        "inverter": ["heater_watts_of", "usual_inverter"],
        "contacts": ["contact_labels", "judged_contacts", "typical_dc_amps"],
        "contact_words": ["contact_words"],
        "dump_steps": ["dump_steps"],
        "dump_words": ["dump_words", "water_words"],
        "ready_rules": ["ready_rules"],
        "point_words": ["point_cautions", "point_words"],
        "rule_rows": ["INPUT_WORDS", "read_control", "rows_of_relays", "rows_of_rules", "rules_of"],
        "set_points": ["POINT_NAMES", "point_facts", "usual_points"],
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
